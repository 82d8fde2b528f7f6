"""What the learner wants changed about the lesson, said in plain words at any moment."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Final

from coach.language.en.besides.of_sequence import asks_hand, from_start
from coach.language.en.reader.network import Network
from coach.language.en.reader.normalise import HARD, SOFT, normalise
from coach.language.en.reader.reader import named_step
from coach.language.meaning import Change, Question, Scene, Wished

_NUMBERS: Final = {
    "one": 1.0, "two": 2.0, "three": 3.0, "four": 4.0, "five": 5.0, "six": 6.0, "seven": 7.0, "eight": 8.0,
    "nine": 9.0, "ten": 10.0, "eleven": 11.0, "twelve": 12.0, "fifteen": 15.0, "twenty": 20.0,
}  # fmt: skip
_STYLES: Final = {
    "letters": r"\b(?:use|with|say|in|call \w+(?: with| in| by)?|want|prefer) (?:the )?letters\b|^letters(?: please)?$",
    "clock": r"\b(?:use|say|call (?:them|it|the turns)|want|prefer) (?:clockwise|clock words)\b",
    "plain": r"\b(?:use|with|say|want|prefer) plain words\b|^plain words(?: please)?$",
}
_MANNERS: Final = {
    "brief": r"\b(?:be brief|be short|keep it (?:short|brief)|the short way|just the (?:turns|moves))\b",
    "teach": r"\b(?:explain more|teach me|tell me more about it)\b",
}
def _hand(hand: str, more: str = r"\Z.") -> str:
    """How to say that this hand turns better; `more` ways are of this hand alone."""
    return (
        rf"\b{hand} handed\b"
        rf"|\b(?:use|prefer|with|for) (?:my|the) {hand} hand(?: \w+)*(?: instead| more| mostly| most| better| rather)\b"
        rf"|\b(?:use|prefer|take) (?:my|the) {hand} hand(?: from now(?: on)?| now| please| always| from here(?: on)?)*$"
        rf"|\b(?:mostly|mainly|rather|better|more|best) (?:with|use|using) (?:my|the) {hand} hand\b"
        rf"|\bmy {hand} hand is (?:\w+ )*(?:better|stronger|quicker|faster|good one|strong one|main one)\b|{more}"
    )


_HANDS: Final[Mapping[str, str]] = {
    "right": _hand("right"), "left": _hand("left", r"\bi am (?:a )?(?:lefty|southpaw)\b"),
}  # fmt: skip
_COUNT: Final = f"({'|'.join(_NUMBERS)}) seconds?"
_PAUSE: Final = re.compile(
    rf"\b{_COUNT} (?:between|after each|after every|per turn|for each turn)\b"
    rf"|\b(?:between|after each|after every) (?:the )?(?:turns?|moves?|calls?) {_COUNT}\b"
    rf"|\b(?:wait|leave me|leave|pause|pauses of|a pause of) (?:for )?{_COUNT}\b"
)
_DO: Final = "(?:do|practise|practice|work on|go to|have|try)"
_GO: Final = re.compile(
    rf"\b(?:let (?:me|us) {_DO}|go (?:on |back )?to|take me to|jump to|skip to|switch to"
    rf"|(?:want|would like|prefer) to {_DO}|(?:would )?rather {_DO}|practise|practice|something (?:else|different))"
    r" (.+)"
    r"|\b(?:want|like|prefer|rather have|give me|do) (.+) instead\b"
)
_WANTS: Final = re.compile(r"\b(?:i|we) (?:only |just )?(?:want|would like) (?:only |just )?(?!to\b|you\b)(.+)")
"""How somebody who practises wishes for a step without saying what they want to do with it."""
_ELSE: Final = r"(?:(?:something|anything) (?:else|different)|a different (?:one|exercise|question|sequence|case))"
_PLEASE: Final = "(?:(?:again|no|please|okay|oh|well|um|now|and|then|instead) ?)*"
_THIS: Final = r"(?:(?:this|that|it)(?: (?:one|exercise|question|sequence|case))?|(?:the|this) (?:exercise|question))"
_EXERCISES: Final[Mapping[Wished, re.Pattern[str]]] = {
    "hold": re.compile(r"\b(?:ask|quiz|test|question) me (?:\w+ )*?(?:cases?|which (?:one )?it is)\b"),
    "recite": re.compile(
        r"\b(?:ask|quiz|test|question) me (?:\w+ )*?(?:turns|sequences?)\b"
        r"|\b(?:say|saying|recite|reciting|tell you|name)\b.* (?:from memory|by heart|without (?:you|help|the cube))\b"
    ),
    "words": re.compile(
        r"\b(?:back|over|go|on|again|start|begin|continue|switch|do|practi[sc]e)(?: again)? (?:with|to|on)"
        r" (?:the |only |just )*words\b"
        r"|\b(?:start|begin|do|have|practi[sc]e|only|just) (?:the |only |just )*words"
        r"(?: (?:again|over|once more|now|please|instead|part|exercises))*$"
    ),
    "do": re.compile(
        r"\b(?:do|try|practise|practice) (?:\w+ ){0,3}(?:on|with) (?:the|my|a) cube\b|\bback to the cube\b"
    ),
    "other": re.compile(
        r"\b(?:(?:give|ask|show|quiz|test) (?:me )?"
        r"|(?:want|like|rather|prefer|let us|let me|(?:can|could|may|shall) (?:we|i)"
        rf"|how about|what about)(?: \w+){{0,3}} ){_ELSE}|^{_PLEASE}{_ELSE} ?{_PLEASE}$"
        rf"|\b(?:skip|leave out|pass over) {_THIS}(?: {_PLEASE})?$"
        r"|\b(?:i am|i am getting|this is|it is|getting) (?:\w+ ){0,2}?(?:bored|boring)\b"
    ),
}
"""Wishes for the kind of exercise that comes next."""
_NOT_THIS: Final = re.compile(
    rf"\b(?:want|rather|prefer|like)\b(?: \w+)*? ?\bnot {_THIS} ?{_PLEASE}$|\bnot want {_THIS}$"
)
_AT_EXERCISES: Final = ("recite", "hold", "do", "turn", "ready")
_MARKS: Final = re.compile(
    r"\b(?:want|use|change|choose)(?: to)?(?: use| have| change)?(?: (?:to|my|the|some|other|different|new))* "
    r"(?:marks|colours|colour words|names)\b"
)
_OTHER: Final = re.compile(r"\b(?:change|other|different|new)\b")


_UP_TO: Final = re.compile(
    r"(?:(?:oh|so|now|wait|well|right|okay|sorry|remind me|tell me) )*"
    r"(?:where|what(?: (?:number|turn|row|step))?|which (?:one|turn|row|step)) "
    r"(?:(?:was|were|am|are|is) (?:i|we|it)|(?:i|we) (?:was|were|am|are)) (?:up to|on|at)"
    r"(?: (?:now|again|then|please))*"
    r"|(?:(?:oh|so|wait|sorry|tell me) )*where (?:am i|are we|i am|we are)"
    r"(?: (?:now|again|at|please|in (?:it|this|all this)))*"
)


_STEPS: Final = re.compile(r"\b(?:what|which|list|name|tell|say|explain|remind|order|how many)\b.*\bsteps\b")
_OWN: Final = re.compile(
    r"\b(?:more|left|back|wrong|skip\w*|miss\w*|forgot\w*|did|done|start|restart|repeat|lost|mistake|slower"
    r"|remain\w*|to go|still|these|those|last|previous)\b"
)


def asks_steps(words: Sequence[str]) -> bool:
    """Whether it asks which steps there are."""
    said = " ".join(word for word in words if word not in (HARD, SOFT))
    return bool(_STEPS.search(said)) and not _OWN.search(said)


def asks_where(words: Sequence[str]) -> bool:
    """Whether it only asks where we are in the lesson: a learner who asks that is not lost."""
    return bool(_UP_TO.fullmatch(" ".join(word for word in words if word not in (HARD, SOFT))))


def wish(network: Network, words: Sequence[str], asked: Question, scene: Scene) -> Change | None:
    """What the learner wants changed, if anything, when they were `asked` that."""
    said = " ".join(word for word in words if word not in (HARD, SOFT))
    if pair := _confused(said, scene):
        return Change(confuse=pair)
    if "not" in words:
        return Change(exercise="other") if asked in _AT_EXERCISES and _NOT_THIS.search(said) else None
    if style := _chosen(_STYLES, said):
        return Change(style=style)
    if manner := _chosen(_MANNERS, said):
        return Change(manner=manner)
    if not asks_hand(words) and (hand := _chosen(_HANDS, said)):
        return Change(hand="left" if hand == "left" else "right")
    if found := _PAUSE.search(said):
        seconds = _NUMBERS[next(filter(None, found.groups()))]
        # "Wait two seconds" means no more than "wait".
        return None if found.group(3) and seconds < 3 else Change(pause=seconds)
    if (marks := _MARKS.search(said)) and _OTHER.search(marks.group()):
        return Change(colours=True)
    going = _GO.search(said) or (_WANTS.search(said) if asked in _AT_EXERCISES else None)
    there = next(filter(None, going.groups())) if going else ""
    last = " ".join(words).split(SOFT)[-1].strip()  # it may be named once more: "the last layer, the cross on top"
    if going and "first" not in there:
        steps = (named_step(network, part, scene) for part in (there, last) if part in there)
        if step := next(filter(None, steps), None):
            return Change(step=step)
    kind = next((kind for kind, way in _EXERCISES.items() if way.search(said)), None)
    if kind == "words" and asked == "recite" and from_start(words):  # those that they are saying
        return None
    return Change(exercise=kind) if kind and asked in _AT_EXERCISES else None


def _chosen(table: Mapping[str, str], said: str) -> str | None:
    """The choice whose words are in the text."""
    return next((choice for choice, pattern in table.items() if re.search(pattern, said)), None)


def _confused(said: str, scene: Scene) -> tuple[str, ...]:
    """Two of the learner's words that cannot be told apart."""
    names = {" ".join(normalise(name)): name for name in scene.names}
    one = f"(?:the )?({'|'.join(map(re.escape, names))})"
    apart = (
        rf"\b(?:not|hard to|never|difficult to) (?:tell|distinguish|see) (?:apart )?{one} (?:from|and) {one}\b",
        rf"\b{one} and {one} (?:all |both )?(?:look|are|feel|seem) (?:just |exactly |so |very |too )?"
        r"(?:the same|alike|similar)\b",
        rf"\b(?:mix up|confuse|mixing up|confusing) {one} (?:and|with) {one}\b",
    )
    for pattern in apart:
        if (found := re.search(pattern, said)) and found.group(1) != found.group(2):
            return names[found.group(1)], names[found.group(2)]
    return ()
