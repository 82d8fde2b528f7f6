"""What is said of a class at any time, by whoever answers for it: the bell, who lost it, that they are ready."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Final

from coach.language.en.reader.normalise import HARD, SOFT, normalise
from coach.language.meaning import Command, Question, Scene

_BELL: Final = r"(?:(?:the|our|that|school) )*(?:bell|buzzer|gong)"
_NOT_NOW: Final = re.compile(
    r"\b(?:not|never|before|until|till|when|if|after|soon|nearly|almost|about to|going to|will|in (?:a|one|two|three"
    r"|four|five"
    r"|ten|number)|minutes?|did|does|was that|false|wrong|fire|keep|ignore|door)\b"
)
_CLASS: Final = r"(?:(?:the |my )?(?:whole )?(?:lesson|class|period|hour|session|time|day)|we)"
_WAYS: Final[Mapping[Command, str]] = {
    "stop": (
        rf"\b{_BELL} (?:has |is |just |have )*(?:rang|rung|rings|ringing|gone|went|goes|going|there)\b"
        rf"|\b(?:that|there|it) (?:is|was|goes|has gone)(?: just)? {_BELL}$|\b(?:there|here) goes {_BELL}\b"
        rf"|^{_BELL}(?: (?:now|class|please))*$"
        rf"|\b(?:our |the |your |my )?(?:time|lesson|period|hour|class|session) (?:is|has) (?:now |all )?(?:up|over"
        rf"|out|ended|finished|run out)\b"
        r"|\b(?:we|i|they|the (?:kids|children|class)) (?:have to|must|need to|have got to|should|better) (?:now "
        r"|all )?"
        r"(?:stop|finish|end|pack (?:it )?up|tidy up|clear up|leave|go|wrap (?:it )?up)(?! (?:on|back|over|again"
        r"|round|counting|asking"
        r"|talking|calling))\b"
        r"|\bout of time\b|\b(?:home|break|lunch|dinner|play) ?time\b|\b(?:it is|time for) (?:break|lunch|recess"
        r"|assembly)\b"
        r"|\bpack(?:ing)? (?:it |things |your things |everything )?(?:up|away)\b|\bthat is (?:it|all|enough) for"
        r" (?:today|this week)\b"
        r"|\b(?:end|finish|stop) (?:of )?(?:the|this|our) (?:lesson|class|period|session)\b|\bclass dismissed\b"
        r"|\bnext week\b"
    ),
    "lost": (
        r"\b(?:they|some(?:body|one)?|many|most|half|several|everybody|everyone|all|a few|two|three|one|kids"
        r"|children|pupils|we|class"
        r"|he|she)\b(?: \w+)? (?:of (?:them|us|you|the \w+) )?"
        r"(?:has |have |are |is |got |just |all |both |completely |now |already )*"
        r"(?:lost|forgotten|mixed up|muddled|confused|turned (?:it|them) round|let go)"
        r"(?: (?:it|the|their|his|her|hold|place|track|count|cubes?|cube|thread|again|now|which|how|who)\b.*|$)"
    ),
}  # fmt: skip
_HEARS_BELL: Final = re.compile(rf"\b{_BELL}\b")
_PATTERNS: Final = {command: re.compile(ways) for command, ways in _WAYS.items()}
_HOLD: Final = re.compile(
    r"\b(?:say|tell|repeat|give|explain|read|what (?:is|was)|how (?:is|was)|which (?:is|was)|once more"
    r"|again)\b.*\bhold\b(?! on| up)"
    r"|^(?:(?:the|that) )?hold (?:again|once more|please)\b"
    r"|\bhow (?:do|should|must|are|did|to|is|was) (?:\w+ ){0,3}?(?:hold|holding|held)\b(?! on)"
    r"|\b(?:forgot|forgotten|lost|not know|not got) (?:how (?:to|they|we) (?:should )?hold|the hold|their hold)\b"
)
_FELL: Final = re.compile(
    r"\b(?:dropped|drops|knocked|let go of)\b.*\b(?:theirs|his|hers|mine|their|her|cubes?|it|one|them)\b"
    r"|\b(?:cubes?|one|theirs|his|hers|it)\b (?:has |have |just |is |are )*(?:fell|fallen|dropped|come apart|on the"
    r" floor|rolled)\b"
)
_SOON: Final = r"(?:just )?(?:for )?(?:a |one |half a |just )*(?:sec|second|moment|minute|bit|mo|tick)s?\b"
_WAIT: Final = re.compile(r"\b(?:hang on|hold on|wait|one moment|just a (?:sec|second|moment|minute))\b")
_QUIET: Final = re.compile(rf"\b(?:(?:be|stay|keep) (?:quiet|silent|still)|hush|shush|silence) {_SOON}")
"""This is no wish for a softer voice."""
_IN_OTHER_WORDS: Final = re.compile(
    r"\b(?:say|put|tell|explain|repeat)\b.*\b(?:easier|simpler|simply|plainer|other words"
    r"|another way|a different way)\b"
    r"|\b(?:the (?:bit|one|part)) with .*\b(?:again|once more)\b"
)
_EXPLAINED: Final[Mapping[str, str]] = {
    "class.excused": (
        r"\b(?:need|needs|want|wants|have|has|got) (?:to go to |to use )?(?:the |a )?"
        r"(?:toilet|loo|bathroom|restroom|wee)\b(?! break)"
    ),
    "class.counted": r"\bhow many (?:are we|of us are there|are there of us|have you (?:got|down|counted))\b",
    "class.left-handed": r"\b(?:is|are|\w+'?s) (?:a |all |both )?left (?:handed|handers?)\b",
    "class.which-place": r"\b(?:which|what|where)\b(?: \w+)* \b(?:back|front|left|right) (?:edge|corner)s?\b",
}
"""What is asked or told besides, by the key of the sentence that answers it."""
_NOBODY: Final = r"(?:nobody|no one|none|not one|none of (?:them|us)|not one of (?:them|us))"
_SPARES: Final = re.compile(
    rf"{_NOBODY}|(?:.* )?{_NOBODY} (?:needs?|wants?|is (?:doing|turning))(?: (?:this|that|it|to|one|any more))*"
    rf"|(?:.* )?{_NOBODY} (?:has|have)(?: got)?"
    r" (?:this|that|one|(?:a|the|any) (?:line|corner|cross|dot|one|case)s?)\b.*"
    rf"|(?:.* )?{_NOBODY} can (?:get|hold) (?:it|this|that|theirs)(?: (?:like|so) .*)?"
    r"|(?:.* )?(?<!not )skip (?:it|this|that)(?: (?:one|run|please))*"
)
_ALL: Final = (
    r"(?:(?:they|everybody|everyone|every one|all of (?:them|us|you)|all|the (?:whole )?(?:class|group|lot|kids"
    r"|children|others)"
    r"|my (?:lot|class|kids)) (?:(?:now|all|both) )*)"
)
_READY: Final = re.compile(
    rf"(?:(?:yes|okay|right|so|well|now) )*{_ALL}(?:(?:are|is) )?(?:all |now )?(?:ready|waiting)\b.*"
)
_AS_ONE: Final[Sequence[tuple[re.Pattern[str], str]]] = (
    (re.compile(rf"\b{_ALL}(?:are|is)\b"), "i am"), (re.compile(rf"\b{_ALL}(?:have|has)\b"), "i have"),
    (re.compile(rf"\b{_ALL}(?:can|do|does)\b"), "i can"), (re.compile(r"\ball (?=ready|done|finished|there)"), "i am "),
)  # fmt: skip


def settles(words: Sequence[str]) -> tuple[Command | None] | None:
    """What is plainly said of the class, as a command, or None in its place if it is for nobody to act on; just None if
    that is for the reader."""
    if asks_hold(words):
        return ("explain",)
    said = _plain(words)
    if fell(words):
        return ("wait",) if _WAIT.search(said) else ("lost",)
    if explained(words):
        return ("explain",)
    if _QUIET.search(said):
        return ("wait",)
    if _IN_OTHER_WORDS.search(said):
        return ("repeat",)
    for clause in " ".join(words).replace(SOFT, HARD).split(HARD):
        later = bool(_NOT_NOW.search(clause))
        for command, ways in _PATTERNS.items():
            if ways.search(clause.strip()) and not (command == "stop" and later):
                return (command,)
        if later and _HEARS_BELL.search(clause):
            return (None,)
    return None


def asks_hold(words: Sequence[str]) -> bool:
    """Whether the hold is asked for once more."""
    return bool(_HOLD.search(_plain(words)))


def fell(words: Sequence[str]) -> bool:
    """Whether somebody's cube fell."""
    return bool(_FELL.search(_plain(words)))


def explained(words: Sequence[str]) -> str | None:
    """The key of the sentence that answers what is asked or told of the class besides."""
    said = _plain(words)
    return next((key for key, ways in _EXPLAINED.items() if re.search(ways, said)), None)


def spares(words: Sequence[str]) -> bool:
    """Whether nobody is said to need what is being done."""
    clauses = " ".join(words).replace(SOFT, HARD).split(HARD)
    return any(_SPARES.fullmatch(clause.strip()) for clause in clauses)


def onward(words: Sequence[str]) -> bool:
    """Whether they are said to be ready."""
    return bool(_READY.fullmatch(_plain(words)))


def as_one(text: str) -> str:
    """The same as one learner would say it of themselves: "everybody is ready" is "i am ready"; just `text` if it is
    not said of all."""
    said = " ".join(normalise(text))
    for way, instead in _AS_ONE:
        said, found = way.subn(instead, said)
        if found:
            return said
    return text


def is_led(asked: Question, scene: Scene) -> bool:
    """Whether a class is led, not one learner."""
    return asked == "hands" or scene.size is not None


def _plain(words: Sequence[str]) -> str:
    return " ".join(word for word in words if word not in (HARD, SOFT))
