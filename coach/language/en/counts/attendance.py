"""Who has come or gone in a class, said beside anything: "two have just come in", "Ben is late", "we are 26 now"."""

from __future__ import annotations

import re
from typing import Final

from coach.language.aside import Attendance
from coach.language.en.counts import names
from coach.language.en.counts.numerals import figured

_WHO: Final = (
    r"(?:^|(?<=[|,] ))(?:(?:and|so|oh|but|sorry|okay|wait|well|here|look|there|i think|now|because|miss) )*"
    r"(?P<{0}>(?:another )?\d+|another|some(?:body|one)|(?!(?:the bell|time|bell|it|that|this|what|who|we|they|he|she|i"
    r"|you|no ?body|no|none|not|all|every|theirs|his|hers|mine|ours|which|where|how|(?:(?:the|my|our|a|their|his"
    r"|her) )?(?:front|back|top|bottom|left|right|white|yellow|red|blue|green|orange|cubes?|sides?|layers?|corners?"
    r"|edges?|rows?|pieces?|turns?|faces?|middle|hands?))\b)"
    r"(?:(?:the|my|our|a) )?[a-z]+(?: and (?:the |my )?[a-z]+)?)"
    r"(?: (?:more|new|late|other))?(?: (?:kids?|children|child|pupils?|students?|boys?|girls?|people|latecomers?"
    r"|ones?|of them))?"
)
_LATELY: Final = r"(?: (?:has|have|is|are|was|were|just|now|only|finally|also|all|both|got|already))*"
_CAME: Final = re.compile(
    rf"{_WHO.format('who')}{_LATELY} (?:(?:come|came|coming|walked|walking|running|ran|wandered|rushed|burst)"
    rf" in\b"
    r"|arrived\b|arriving\b|turned up\b|shown up\b|showed up\b|joined(?: us)?\b|got here\b|here now\b|(?:come|came)"
    r" back(?: in)?\b|late\b|here late\b)"
)
_LEFT: Final = re.compile(
    rf"{_WHO.format('who')}{_LATELY} (?:(?:gone|went|going|goes|off|out|run) (?:home|out|to the|off|away|to"
    rf" \w+$|for \w+)"
    r"|(?:had|has|have|needs?|needed|got|must)(?: to)? (?:leave|go(?= home| now| out| to| [|,]|$))|left(?= early| us"
    r"| already| just| now| the (?:room|class)| [|,]|$))"
)
_NO_LEFT: Final = re.compile(
    r"\b(?:the|my|its|on|to|from|back|front|right|and|top|bottom|go|went|goes|turned) left\b|\bleft (?:one|out|it|a"
    r"|hand)\b"
)
_SIZE: Final = re.compile(
    r"(?<!\S)(?:we|they|there) are (?:now |only |all |still )?(?P<n>\d+)(?: of (?:us|them)| here| in the class| pupils|"
    r" kids| children)*(?: (?:now|altogether|again))+\b"
    r"|\b(?:makes|make) (?:us )?(?P<m>\d+) of us\b|\b(?P<k>\d+) of us now\b|\b(?:now|then) (?:we|there) are"
    r" (?P<l>\d+)(?: of us)?(?= [|,]|$)"
    r"|\bwe are (?:all )?still (?:just |only )?(?P<i>\d+)(?: of us)?(?= [|,]|$)"
    r"|^(?:(?:no|yes) [|,]? ?)?still (?P<h>\d+)(?: of us)?$"
    r"|\b(?P<g>\d+) of us (?:altogether|in all|in total)\b|^(?:no [|,]? ?)?(?P<f>\d+) (?:altogether|in all"
    r"|in total)$"
    r"|\bwe have (?:got )?(?P<j>\d+) (?:kids|pupils|children|people|students) now\b"
)
_CLAUSES: Final = re.compile(r"[.,;:!?\n]+\s*")


def attendance(text: str, of_hands: bool = False) -> Attendance | None:
    """What `text` says about who has come or gone; None if it says nothing of it. `of_hands`: hands are being counted,
    of which a bare "eleven altogether" is told."""
    said = figured(text)
    size = _SIZE.search(said)
    size = None if size and of_hands and (size["h"] or size["f"]) else size
    if size:
        return Attendance(size=int(next(number for number in size.groups() if number)))
    for came, way in ((1, _CAME), (-1, _LEFT)):
        found = way.search(said)
        if found and not (came < 0 and _NO_LEFT.search(said)):
            number = _many(found["who"])
            # who is late may still be missing
            late = found[0].endswith(" late") and not found["who"][-1].isdigit()
            return Attendance(change=None if number is None or late else came * number)
    return None


def without(said: str) -> str:
    """The words in figures without what is told of who has come or gone."""
    for way in (_CAME, _LEFT):
        said = way.sub(" other ", said)
    return " ".join(said.split())


def leaving_out(text: str) -> str:
    """The clauses of `text` that tell something else; "" if none does."""
    clauses = _CLAUSES.split(text)
    rest = [clause for clause in clauses if attendance(clause) is None]
    return text if len(rest) == len(clauses) else ", ".join(rest)


def _many(who: str) -> int | None:
    if found := re.search(r"\d+", who):
        return int(found[0])
    return 1 if who in ("another", "somebody", "someone") else names.people(who)
