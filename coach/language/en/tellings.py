"""Plain words for a turn that went wrong: "I went to the right instead of left", "I missed the one before"."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final, cast

from coach.language.telling import How, Part, Telling, Way

_NOT_WAYS: Final = re.compile(
    r"\b(?:messed|mixed|mucked|screwed|ended|give|gave|picked|hurry|sped|caught|mess|fed) up\b|\bupside down\b"
    r"|\b(?:all|that's|it's|is|was|not|[a-z]+n't) right\b(?! side| layer)"
    r"|\bright (?:now|after|away|then|before|okay|so)\b"
    r"|\bthe right (?:one|turn|way|direction|thing|move|place)\b|\b(?:slow|slowed|fell|put it) down\b"
)
_VAGUE: Final = re.compile(
    r"\b(?:one of|some|somewhere|earlier|ahead|maybe|mixed|confused|not sure|don't know|last (?:two|three|few|couple)"
    r"|(?:a|one|two|three) turns? (?:more|too|that)|(?:skipped|missed) (?:one|a turn)|left (?:one|a turn) out"
    r"|(?:first|second|third|fourth|fifth|sixth|seventh) (?:turn|one|move|call)|at the (?:start|beginning))\b"
)
"""Tells of no turn that could be named."""
_DOING: Final = re.compile(
    r"\b(?:turned|did|moved|twisted|rotated|spun|went)(?: (?:it|that|this|just|only|the|all|to))* ?$"
)
_DONE: Final = re.compile(r"\b(?:turned|did|moved|twisted|rotated|spun|went|made)\b(?! you)")
_BACK: Final = (
    (2, r"three (?:turns |moves )?ago|(?:third|three) (?:to |from )?last|two before(?: that| this)?"),
    (1, r"(?:two|couple of) (?:turns|moves) ago|two ago|second (?:to|from)(?: the)? last|last but one|next to last"
        r"|penultimate|previous|before(?: the)? (?:last|that|this|it|now)|(?:one|turn|move|call) (?:just )?before"),
    (0, r"(?:last|latest) (?:one|turn|move|call)|th(?:is|at) (?:one|turn|move)|just now"),
)  # fmt: skip
_SIDE: Final = r"(?: hand)? (?:side|layer|face|slice|half|row|part)"
_TOKENS: Final = re.compile(
    r"\b(?:(?P<called>instead of|rather than|in place of|(?:and|but) not|not"
    r"|(?:when |what )?you (?:said|say|called|wanted)|should(?:'ve| have)?|supposed to|meant to|wanted to|was to)"
    r"|(?P<skipped>skip(?:ped)?|(?:missed|miss|forgot|forgotten|omitted)(?! wh| how)"
    r"|left (?:it|that|this|the \w+(?: \w+)?) out|left out"
    r"|never (?:did|turned|made|moved)|(?:didn't|did not) (?:do|turn|make|move))"
    r"|(?P<other_way>(?:wrong|other|opposite|contrary) (?:way|direction)|in reverse|reversed|backwards?)"
    r"|(?P<twice>twice|two times|double|doubled|too far|overshot|half a turn|two (?:quarter )?(?:turns|moves)(?! ago)"
    r"|(?<=of )two$)"
    r"|(?P<once>once|(?:only|just) one|one (?:quarter )?turn(?= instead| only)|(?<=of )one$)"
    r"|(?P<way>(?:to the|to your|to my|towards the|went|go|goes|gone|going|it|them) (?:left|right)"
    r"|to the (?:top|bottom)|leftwards?|rightwards?|up|upwards?|down|downwards?"
    r"|anti ?clockwise|counter ?clockwise|clockwise)"
    rf"|(?P<face>top|upper|uppermost|bottom|lower|underneath|front|left{_SIDE}|right{_SIDE}|back{_SIDE}"
    r"|the left(?: one)?|the right)"
    r"|(?P<either>left|right)"
    r"|(?P<did>i|but|and|so|then|it went))\b"
)
_FACES: Final[Mapping[str, str]] = {
    "top": "U", "upper": "U", "uppermost": "U", "bottom": "D", "lower": "D", "underneath": "D", "front": "F",
    "left": "L", "right": "R", "back": "B",
}  # fmt: skip
_WAYS: Final[Mapping[str, Way]] = {
    "leftward": "left", "rightward": "right", "upward": "up", "downward": "down", "top": "up", "bottom": "down",
    "anti clockwise": "anticlockwise", "counterclockwise": "anticlockwise", "counter clockwise": "anticlockwise",
}  # fmt: skip


def telling(text: str) -> Telling:
    """What `text` tells of a turn that went wrong; an empty one where it tells nothing that could be of use."""
    plain = " ".join(re.findall(r"[a-z]+(?:'[a-z]+)*", text.lower().replace("\u2019", "'")))
    if _VAGUE.search(plain):
        return Telling()
    back, words = None, _NOT_WAYS.sub(" ", plain)
    for number, which in _BACK:
        if re.search(rf"\b(?:{which})\b", words):
            back, words = number, re.sub(rf"\b(?:the )?(?:{which})\b", " ", words)
            break
    return _parsed(words, back)


def _parsed(words: str, back: int | None) -> Telling:
    hows: dict[str, How] = {}
    parts: dict[str, dict[str, str]] = {"did": {}, "called": {}}
    role, told_plainly = "did", False
    for token in _TOKENS.finditer(words):
        kind, said = token.lastgroup or "", token.group()
        if kind in parts:
            role = kind
        elif kind in ("face", "way", "either"):
            parts[role].setdefault(kind, _named(kind, said))
            doing = bool(_DOING.search(words[: token.start()])) or said.startswith("went")
            told_plainly |= kind != "either" and not said.endswith("it right") and doing
        else:
            hows.setdefault(role, cast(How, kind.replace("_", "-")))
            told_plainly |= kind == "twice" and bool(_DONE.search(words[: token.start()]))
    return Telling(_how(hows), _part(parts["did"]), _part(parts["called"]), back, told_plainly)


def _how(hows: Mapping[str, How]) -> How:
    """How it was done; of what was not done, and should have been, the opposite."""
    if "did" in hows:
        return hows["did"]
    opposite: Mapping[str, How] = {"twice": "once", "once": "twice"}
    return opposite.get(hows.get("called", ""), "")


def _named(kind: str, said: str) -> str:
    if kind == "way":
        last = said if "clockwise" in said else said.split()[-1].removesuffix("s")
        return _WAYS.get(last, last)
    return _FACES[said.removeprefix("the ").split()[0]] if kind == "face" else said


def _part(named: Mapping[str, str]) -> Part:
    return Part(named.get("face", ""), cast(Way, named.get("way", "")), cast(Way, named.get("either", "")))
