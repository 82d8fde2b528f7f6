"""What is said about the sequence at hand: not to do it again, what it is called, for which hand it is, whether a turn
may just be taken back."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from coach.language.aside import Remark
from coach.language.en.reader.normalise import HARD, SOFT
from coach.language.meaning import Command, Meaning

_AGAIN: Final = (
    r"(?:again|once more|anew|afresh|repeat(?:ed|ing|s)?|redo|repetition|(?:a second|a third|another"
    r"|(?:one|two|some) more) (?:time|round|go|run|try)s?)\b"
)
_UNSAID: Final = r"(?:get|got|catch|hear|understand|know|remember|see|follow|have|sure|right|quite|yet|say)\b"
"""What follows a "not" that is no wish: "I don't get it, once more"."""
_NOT: Final = (
    rf"(?<!did )(?<!have )(?<!has )(?<!had )(?<!why )(?<!can )(?<!could )\b(?:not|never)\b(?! (?:\w+ )?{_UNSAID})"
    r"|\b(?:without|cancel|skip|forget|drop|scrap|leave out|call off|no need|no more|enough of)\b"
)
_DENIES: Final = re.compile(rf"(?:{_NOT})(?: \w+){{0,6}}? {_AGAIN}")
_LETS_BE: Final = re.compile(
    r"(?:(?:oh|ah|no|nah|okay|well|sorry|actually|please|just|let us) )*(?:never ?mind|forget (?:it|about it|that)"
    r"|cancel(?: it| that)?|drop it|scrap (?:it|that)|leave it|no need|i (?:have )?changed my mind)"
    r"(?: (?:then|now|please|that|about it|after all))*"
)
_THIS: Final = r"(?:this|that|it|these|them)"
_ONE: Final = r"(?:one|ones|sequence|run|row|turns|version|kind|lift|flip|twist|insert|swap|cycle)"
_NAME: Final = (
    rf"\bwhat (?:do|would|did|should) (?:you|we|i|people) call {_THIS}(?: {_ONE})?(?: again| then| now)?$"
    rf"|\bwhat (?:is|are|was) (?:{_THIS}|the)(?: {_ONE})?(?: again)? (?:called|named)\b"
    rf"|\bwhat is (?:the name (?:of|for) (?:{_THIS}|the)(?: {_ONE})?|(?:its|this ones|this one s) name)\b"
    rf"|\b(?:does|has|did) {_THIS}(?: {_ONE})? (?:have|got|get) a name\b"
    rf"|\b(?:which|what) (?:one|sequence|run|of (?:them|these|those)) (?:is|was) {_THIS}(?: one| now| again)?$"
    r"|\b(?:which|what) (?:one|sequence|run) (?:am i|are we) (?:doing|turning|making)\b"
    rf"|\b(?:am i|are we) (?:doing|turning|making|in) (?:the|a) (?!last|first|next|second|third)(?:\w+ )*{_ONE}\b"
)
_HAND: Final = (
    r"\b(?:which|what) hand\b"
    r"|\b(?:am i|are we|is (?:this|that|it)|are these|was (?:this|that)|do i|do we|should i|must i|shall i)\b.*"
    r"\b(?:left|right|other) (?:handed|hand(?! side| face| layer| corner| edge))\b"
)
_UNDOES: Final = (
    r"\b(?:can|could|may|why (?:can|do)) (?:not )?(?:i|we) (?:not )?(?:\w+ ){0,2}?"
    r"(?:turn|move|put|bring|twist|undo|take)\b(?! back (?:what|my))"
    r"(?:.* back\b(?! (?:side|layer|face|one|row|left|right))|.*(?<=undo) .*)"
)
_REMINDS: Final = (
    r"\b(?:i thought|you said|(?:did|were|are|was|is) (?:not )?(?:we|it|you|this)|we (?:wanted|were going)|i asked)\b"
    rf".*\b{_AGAIN}"
)
_NEXT: Final = re.compile(
    r"(?:(?:so|and|oh|well|now|but|sorry|wait|please|hey|coach|tell me|say|can you tell me|could you tell me"
    r"|i wonder) )*"
    r"(?:what|which(?: (?:one|turn|move))?)"
    r"(?: (?:is|was|comes|will|does|do|would|should|i|we|it|be|come|coming|up|the|my|your|there|to))*"
    r" (?:next|after(?: (?:this|that|it)(?: one)?)?|following|follows(?: (?:this|that|it)(?: one)?)?)"
    r"(?: (?:one|turn|move|call|thing|step|again|then|now|please|is|be|coming|come|comes|up|that|will|coach|to do"
    r"|i do))*"
)
_FROM_START: Final = re.compile(
    r"\b(?:start|begin|go|say|do|try|have|take)(?: \w+){0,3}? (?:again|over|anew|afresh|once more)\b"
    r"(?: \w+){0,2} (?:words|saying|reciting|turns|them|it|sequence)\b"
    r"|\b(?:start|begin|do|say)(?: \w+){0,2}? (?:words|saying|reciting|turns)(?: \w+){0,2}?"
    r" (?:again|over|anew|once more)\b"
)
_WAYS: Final[Mapping[Remark, re.Pattern[str]]] = {
    "its-hand": re.compile(_HAND), "its-name": re.compile(_NAME), "just-undo": re.compile(_UNDOES),
    "reminds": re.compile(_REMINDS), "what-next": re.compile(rf"^(?:{_NEXT.pattern})$"),
}  # fmt: skip
_HINT: Final = re.compile(
    r"(?:(?:please|i|we|need|want|would like|give me|may i have|can i have|okay|no|then|just) )*"
    r"(?:another|(?:one|some) more|a (?:second|further|new)|more|the next) (?:hint|clue|tip|pointer)s?"
    r"(?: please| then)*"
)
_OTHER: Final = re.compile(r"\b(?:another|one more|some more|a further|the next) (?:question|word|thing)s?\b")
_PLAINLY: Final = re.compile(
    rf"\b(?:{_AGAIN}|another (?:one|shot)|one more|same|practi[sc]e|practi[sc]ing|through|go"
    r"|from the (?:start|beginning|top))\b"
)


def remark_of(words: Sequence[str]) -> Remark | None:
    """What is remarked about the sequence at hand, if anything."""
    said = _said(words)
    if denies(words) or _LETS_BE.fullmatch(said):
        return "not-again"
    return next((remark for remark, way in _WAYS.items() if way.search(said)), None)


def denies(words: Sequence[str]) -> bool:
    """Whether it says that something is not to be done again."""
    return any(_DENIES.search(clause) for clause in _clauses(words))


def asks_hand(words: Sequence[str]) -> bool:
    """Whether it asks which hand it is for: that is no wish for one."""
    return bool(_WAYS["its-hand"].search(_said(words)))


def from_start(words: Sequence[str]) -> bool:
    """Whether the turns are to be said once more from the first one."""
    return bool(_FROM_START.search(_said(words)))


def settles(words: Sequence[str], busy: bool, reciting: bool = False) -> tuple[Meaning | None] | None:
    """What it plainly means about more of something, in a tuple; just None if that is for the reader. While the learner
    is `busy` with turns, what is not wanted again is nothing to do; who is `reciting` them and asks for the next one
    needs a hint, and may begin anew."""
    said = _said(words)
    if reciting and _NEXT.fullmatch(said):
        return (Meaning(command="hint"),)
    if reciting and from_start(words):
        return (Meaning(command="restart-run"),)
    if _HINT.fullmatch(said):
        return (Meaning(command="hint"),)
    return (None,) if busy and (_OTHER.search(said) or denies(words)) else None


def plainly_asked(words: Sequence[str], meaning: Meaning | None) -> Meaning | None:
    """The meaning; but it must be asked for plainly that something is done once more."""
    once: Command = "once-more"
    if meaning is None or meaning.command != once:
        return meaning
    return meaning if _PLAINLY.search(_said(words)) and not denies(words) else None


def _said(words: Sequence[str]) -> str:
    return " ".join(word for word in words if word not in (HARD, SOFT))


def _clauses(words: Sequence[str]) -> Iterator[str]:
    """The parts of a sentence between its marks."""
    text = " ".join(words)
    yield from (part.strip() for part in re.split(f"[{re.escape(HARD)}{re.escape(SOFT)}]", text))
