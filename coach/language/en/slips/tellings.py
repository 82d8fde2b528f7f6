"""Reads descriptions of a wrong turn: "I went to the right instead of left", "I missed the first front one"."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Final, cast

from coach.language.en.reader.normalise import plain
from coach.language.telling import EARLIER, How, NamedTurn, Telling, Way

_NOT_WAYS: Final = re.compile(
    r"\b(?:messed|mixed|mucked|screwed|ended|give|gave|picked|hurry|sped|caught|mess|fed) up\b|\bupside down\b"
    r"|\b(?:all|that's|it's|is|was|not|[a-z]+n't) right\b(?! side| layer)"
    r"|\bright (?:now|after|away|then|before|okay|so)\b"
    r"|\bthe right (?:turn|way|direction|thing|move|place)\b"
    r"|(?<!do )(?<!done )(?<!skipped )(?<!missed )(?<!forgot )\bthe right one\b"
    r"(?! (?:should|was to|goes|went|up|down)\b)"
    r"|\bleft it\b(?! out)"
    r"|\b(?:slow|slowed|fell|put it) down\b"
)
_VAGUE: Final = re.compile(
    r"\b(?:one of|some|somewhere|ahead|maybe|mixed|confused|not sure|don't know|last (?:two|three|few|couple)"
    r"|(?:a|two|three) turns? (?:more|too|that)|(?:skipped|missed) (?:one|a turn)|left (?:one|a turn) out"
    r"|first (?:two|three|few|couple)|at the (?:start|beginning))\b"
)
"""The turn is too vague to be identified."""
_EARLIER: Final = re.compile(r"\b(?:earlier|a while ago|some (?:turns|moves) ago|before(?=$| i\b| it\b))\b")
_ORDINALS: Final = (
    "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth", "eleventh",
    "twelfth", "thirteenth", "fourteenth", "fifteenth",
)  # fmt: skip
_SIDED: Final = r"(?:front|top|right|left|bottom|upper|lower|back)(?: hand)?(?: side| layer| face)?"
_NTH: Final = re.compile(
    rf"\b(?:(?:very|whole|entire|complete|all of the|of the) )*(?P<nth>{'|'.join(_ORDINALS)}|last|final)"
    r"(?P<whole>(?: (?:whole|entire|complete))?)(?: of)?"
    rf"(?P<side>(?: (?:the )?(?:{_SIDED}|clockwise|anti ?clockwise|counter ?clockwise))*)"
    r" (?:(?P<part>part|group|bit|half|section|stretch|piece|sequence)|turns?|ones?|moves?|calls?)\b(?! (?:ago|before))"
)
"""Which turn, or which part, it was by its number."""
_WHOLE: Final = re.compile(r"\b(?:the )?(?:whole|entire) cube\b|\b(?:turned|rotated|turn|rotate|spun) the cube\b")
_ORDER: Final = re.compile(
    r"\border\b|\b(?:swapped|exchanged)\b|\b(?:changed|switched) (?:them|places|the (?:last )?two)\b"
    r"|\b(?:this|that)(?: one)? first\b"
)
"""Two turns were done in the other order."""
_SEQUENCE: Final = re.compile(r"\bfirst\b|\band then\b")
"""In a sentence with this, two turns were swapped if the one called last is named first."""
_ADDED: Final = re.compile(
    r"\b(?:one (?:turn )?more(?! time)|extra|added|already (?:did|done|turned|moved|made)"
    r"|(?:put|did|done|turned|moved|made|spun) also|also (?:put|did|done|turned|moved|made|spun)"
    r"|as well(?: after)?|more than (?:this|that|you)|nobody asked"
    r"|too(?! far| many| much| fast| slow| quick| early| late))\b"
)
"""Something was done in addition to what was called."""
_DOING: Final = re.compile(
    r"\b(?:turned|did|moved|twisted|rotated|spun|went)(?: (?:it|that|this|just|only|the|all|to))* ?$"
)
_DONE: Final = re.compile(r"\b(?:turned|did|moved|twisted|rotated|spun|went|made)\b(?! you)")
_BACK: Final = (
    (2, r"three (?:turns |moves )?ago|two (?:turns|moves) before"
        r"|(?:third|three) (?:to |from )?last|two before(?: that| this)?"),
    (1, r"(?:two|couple of) (?:turns|moves) ago|two ago|second (?:to|from)(?: the)? last|last but one|next to last"
        r"|penultimate|previous|before(?: the)? (?:last|that|this|it|now)|(?:one|turn|move|call) (?:just )?before"),
    (0, r"(?:last|latest) (?:one|turn|move|call)|th(?:is|at) (?:one|turn|move)|just now"),
)  # fmt: skip
_SIDE: Final = r"(?: hand)? (?:side|layer|face|slice|half|row|part)"
_TOKENS: Final = re.compile(
    r"\b(?:(?P<called>instead of|rather than|in place of|(?:and|but) not|not"
    r"|(?:when |what )?you (?:clearly )?(?:said|say|called|wanted)|wants? to|wanted|must be|need(?:ed)? (?:was|to)"
    r"|should(?:'ve| have)?|supposed to|meant to|wanted to|was to)"
    r"|(?P<skipped>skip(?:ped)?|(?:missed|miss|forgot|forgotten|omitted)(?! wh| how)"
    r"|left (?:it|that|this|the \w+(?: \w+)?) out|left out"
    r"|never (?:did|turned|made|moved)(?! finish)|never happened|nothing (?:got |was )?turned"
    r"|(?:didn't|did not|haven't|have not|hadn't|not) (?:do|turn|make|move|done|turned|made|moved))"
    r"|(?P<other_way>(?:wrong|other|opposite|contrary) (?:way|direction)|in reverse|reversed|backwards?)"
    r"|(?P<twice>twice|two times|(?:did|turned|moved|done) it again|hundred (?:and )?eighty"
    r"|double|doubled|too far|overshot|half a turn|two (?:quarter )?(?:turns|moves)(?! ago)"
    r"|(?<=of )two$)"
    r"|(?P<once>(?:only|just) once|(?<!i )once|one time|(?:only|just)(?: had)?(?: the)? one"
    r"|one (?:quarter )?turn(?= instead| only)|(?<=of )one$)"
    r"|(?P<way>(?:to the|to your|to my|towards the|went|go|goes|gone|going|it|them) (?:left|right)"
    r"|to the (?:top|bottom)|leftwards?|rightwards?|up|upwards?|down|downwards?"
    r"|anti(?: ?clockwise)?|counter ?clockwise|clockwise|(?:against|with|by)(?: the)? clock)"
    rf"|(?P<face>top|upper|uppermost|bottom|lower|underneath|front|left{_SIDE}|right{_SIDE}|back{_SIDE}"
    r"|below|above|the left(?: one)?|the right(?: one)?)"
    r"|(?P<either>left|right)"
    r"|(?P<did>i|mine|but|and|so|then|it went))\b"
)
_FACES: Final[Mapping[str, str]] = {
    "top": "U", "upper": "U", "uppermost": "U", "above": "U", "bottom": "D", "lower": "D",
    "underneath": "D", "below": "D", "front": "F",
    "left": "L", "right": "R", "back": "B",
}  # fmt: skip
_WAYS: Final[Mapping[str, Way]] = {
    "leftward": "left", "rightward": "right", "upward": "up", "downward": "down", "top": "up", "bottom": "down",
    "anti": "anticlockwise", "against": "anticlockwise", "with": "clockwise", "by": "clockwise",
    "anti clockwise": "anticlockwise", "counterclockwise": "anticlockwise", "counter clockwise": "anticlockwise",
}  # fmt: skip


def telling(text: str) -> Telling:
    """What `text` says about a wrong turn; an empty Telling if nothing in it is of use."""
    words = _NOT_WAYS.sub(" ", said := plain(text))
    if numbered := _numbered(words):
        return Telling() if _VAGUE.search(said) else numbered
    if order := _swapped(words):
        return order
    if _WHOLE.search(said):
        return _of_whole_cube(words)
    if _VAGUE.search(said):
        return Telling()
    back = EARLIER if _EARLIER.search(words) else None
    for number, which in _BACK:
        if re.search(rf"\b(?:{which})\b", words):
            back, words = number, re.sub(rf"\b(?:the )?(?:{which})\b", " ", words)
            break
    told = _parsed(words, back)
    if _ADDED.search(words) and told.how in ("", "once") and not told.called.face:
        return Telling("added", replace(told.did, way=told.did.way or told.did.either), plain=bool(told.did.face))
    return told


def _numbered(words: str) -> Telling | None:
    """What is told of a turn, or of a part, that is counted: "the first front one", "the whole last part"."""
    found = _NTH.search(words)
    if not found or (found["nth"] == "last" and not (found["side"] or found["part"])):
        return None  # the last turn is the one called just now
    last = found["nth"] in ("last", "final")
    nth = -1 if last else _ORDINALS.index(found["nth"]) + 1
    side = re.sub(r"(?<=\bleft)$|(?<=\bright)$", " side", found["side"])
    told = _parsed(f"{words[: found.start()]} {side} {words[found.end() :]}", None)
    if not found["part"]:
        return replace(told, nth=nth)
    return Telling("skipped", nth=nth, of_parts=True, plain=True) if told.how == "skipped" else Telling()


def _of_whole_cube(words: str) -> Telling:
    """A turn of the whole cube that was left out, or went the other way."""
    hows = (token.lastgroup for token in _TOKENS.finditer(words) if token.lastgroup in ("skipped", "other_way"))
    how = next(hows, None)
    return Telling(cast(How, how.replace("_", "-")), whole=True) if how else Telling()


def _swapped(words: str) -> Telling | None:
    """Two turns done in the other order, by the sides that are named in the order of doing."""
    tokens = [token for token in _TOKENS.finditer(words) if token.lastgroup in ("face", "either", "skipped")]
    if any(token.lastgroup == "skipped" for token in tokens):
        return None
    named = [*dict.fromkeys(_FACES[token.group().removeprefix("the ").split()[0]] for token in tokens)]
    if _ORDER.search(words) and len(named) < 2:
        return Telling("swapped", plain=True)
    if (_ORDER.search(words) or _SEQUENCE.search(words)) and len(named) == 2:
        return Telling("swapped", NamedTurn(named[0]), NamedTurn(named[1]), plain=True)
    return None


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
            told_plainly |= said.startswith(("only", "just"))
            told_plainly |= kind == "twice" and bool(_DONE.search(words[: token.start()] + said))
    did = _part(parts["did"])
    told_plainly |= hows.get("did") == "skipped" and bool(did.face or back)
    return Telling(_how(hows), did, _part(parts["called"]), back, plain=told_plainly)


def _how(hows: Mapping[str, How]) -> How:
    """How the turn was done; if only the called turn has a "once" or "twice", the opposite."""
    if "did" in hows:
        return hows["did"]
    opposite: Mapping[str, How] = {"twice": "once", "once": "twice"}
    return opposite.get(hows.get("called", ""), "")


def _named(kind: str, said: str) -> str:
    if kind == "way":
        last = said.split()[0] if "clock" in said else said.split()[-1].removesuffix("s")
        return _WAYS.get(said, _WAYS.get(last, last))
    return _FACES[said.removeprefix("the ").split()[0]] if kind == "face" else said


def _part(named: Mapping[str, str]) -> NamedTurn:
    return NamedTurn(named.get("face", ""), cast(Way, named.get("way", "")), cast(Way, named.get("either", "")))
