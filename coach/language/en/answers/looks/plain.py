"""The commonest answers to the two looks: the places, a pair by its side, a shape and its direction, in few words."""

from __future__ import annotations

from collections.abc import Mapping
from random import Random
from typing import Final

from coach.language.en.answers.looks.lists import Speaker
from coach.language.en.answers.looks.top import ACROSS, EDGE_LOOK, SIDE, SIDES, Clause, LookKind, Top
from coach.language.en.answers.phrasing import pick

_WAYS: Final = ("plain",) * 7 + ("far", "far", "page", "page", "rear", "self")
_NONE: Final = (
    "none|none of them|no yellow|nothing|zero|not one|no {n}s|no yellow {n}s|none of the {n}s|there are none"
    "|no, none"
    "|I see none|there aren't any|all four are not yellow|no {n} is yellow|not a single one|nothing on top"
    "|none at all"
    "|no yellow on any {n}|no {n}s at all|there is no yellow {n}|I don't see any"
)
_ALL: Final = (
    "all|all four|all of them|four|all [the way] round|everywhere|yes, all|all four {n}s|every one"
    "|they're all yellow|they all are|all {n}s"
    "|all yellow"
    "|everything is yellow|every {n}|all the {n}s are yellow|all four of them|all {n}s have yellow|every one of them"
    "|each one is yellow|yes, all four|all four are yellow"
)
_DOT: Final = (
    "a dot|dot|[it's] just a dot|only the (middle|centre|center)|just the (middle|centre|center) [one]|just one dot"
    "|only the middle is yellow|it's a dot|it is just the dot in the middle"
)
_CROSS: Final = "a cross|cross|it's a cross|[I have] a [yellow] cross|plus|a plus [sign]|a full cross|the whole cross"
_ACROSS: Final = (
    "left to right|from left to right|right to left|horizontal|sideways|across|from side to side|horizontally"
    "|across the middle|in the middle row"
)
_AWAY: Final = (
    "front to back|from front to back|back to front|vertical|up and down|away from me|top to bottom|vertically"
    "|down the middle|in the middle column|from top to bottom|from bottom to top"
)
_LINE: Final = (
    "(a|) line[,] {way}|(a|) {way} line|it's a line[,] {way}|line, {way}|(a|the) (bar|stripe|line|row) {way}"
    "|it goes {way}"
    "|a line from {sa} to {sb}|line {sa} to {sb}|a straight line {way}|line {way}|{way}"
)
_CORNER: Final = (
    "(a|) corner[,] {sa} [and] {sb}|(an|) L[,] {sa} [and] {sb}|(a corner|an L) (at|in|on) the {d} {s}"
    "|(corner|L|L shape|the corner) {d} {s}|it's a corner[,] {sa} and {sb}|{sa} and {sb}, a corner"
    "|a corner with {na} and {nb}|(a corner|an L) from {sa} to {sb}|a {d} {s} corner|corner in the {d} {s}"
    "|the {d} {s} makes a corner"
)
_BOTH: Final = (
    "{sa} and {sb}|{sa} and {sb}|{sa} {sb}|{sa}, {sb}|(only|just) {sa} and {sb}|(only|just) {na} and {nb}"
    "|{na} and {nb}"
    "|(two|2)[,|:] {sa} and {sb}|[just|only] two [of them|{n}s], {na} and {nb}|{ata} and {atb}"
    "|(one|one's|one is) {ata}[,] [and] (one|one's|the other [one]) {atb}|there are two yellow {n}s, {na} and {nb}"
    "|{na} and {nb} (are yellow|have yellow|have it|are|show yellow)|yellow (at|on|is|:) {sa} and {sb}"
    "|{na} is yellow and (so is {nb}|{nb} is too|{nb} too|{nb})|yellow {ata} and {atb}|there's yellow {ata} and {atb}"
    "|(it's|I see|I have|that's|they're) {na} and {nb}|the yellow (ones|{n}s) are {na} and {nb}|{sa} plus {sb}"
    "|{sa} then {sb}"
    "|{sa} {n} and {sb} {n}|both {na} and {nb}|{sa} yes[,] {sb} yes[,] {sc} no[,] {sd} no"
    "|{na} and {nb} yes[,] {nc} and {nd} no|not {nc} (and|or) {nd}[, but|,|] {na} and {nb}"
    "|{na} and {nb}[, but|,] not {nc} (or|and|nor) {nd}|{na} and {nb}[,] [but] not the (others|other two|rest)"
    "|{na} and {nb} are yellow[,] [but|and] {nc} and {nd} (aren't|are not|are different|are other colours)"
    "|{na} and {nb} are yellow[,] [but|and] the (others|other two|rest) (aren't|are not)"
    "|{nc} and {nd} (aren't|are not) [yellow][,] [but] {na} and {nb} are"
)
_SIDES: Final = (
    "the sides|both sides|the two sides|the two at the sides|one on (each|either) side|the left and right sides"
    "|left and right, so both sides|(the|both) sides are yellow|(the|both) sides[,] not (the front or the back"
    "|front and back)|on both sides, left and right|the side ones|both side (edges|ones)"
)
_NOT_SIDES: Final = (
    "(the|both) sides (aren't|are not) [yellow][,] [but] (the other two|the other ones|front and back) (are|have it)"
    "|not (the|on the) sides[,] [but] (the other two|front and back)|nothing (on the|at the|on either) (sides"
    "|side), {sa} and"
    " {sb}|(at|on) both ends, {sa} and {sb}|both ends[,] {sa} and {sb}|one at either end, {sa} and {sb}"
    "|everything (but|except) the sides|the front and back ones[,] not the (sides|side ones)"
)
_PAIR: Final = (
    "(both|the two|two|both of them|both corners|the two corners|the pair|two corners|two yellow corners) {at}"
    "|[the|both] {short} (two|pair|ones|corners)|two[,|.] {at}|two[,|] [on] the {short} side"
    "|both [the] {short} [ones]"
    "|{at} (two|both|two corners|both corners)|[on|at] [the] {short} side [has] (both|two|two corners"
    "|two yellow corners)"
    "|{at} two corners (have|are) yellow|{at} are two [yellow] [corners]|{at} there are two [corners]"
    "|both ends of the {short} {line}|the corners (of|on|along) the {short} (side|edge)|two {at}, none {oat}"
    "|[on] [the] {short} side two corners are yellow"
    "|corners of [the] {short} side[, two]"
    "|the {short} side has (two yellow corners|two|both corners|both)|{short} side two|the two {short} corners"
    "|(two|both|two corners) {at}[,|.] (none|nothing) (on the other side|on the other|{oat})|(only"
    "|just) the {short} two"
    "|the {short} ones [are yellow|have it|have yellow]|(only|just) the {short} ones|two, both {at}"
    "|{at}, both of them"
    "|(two|both|both corners) {at}, the other side has (none|nothing)|the {short} ones, not the {other} ones"
    "|not [the] {other} [ones][,] [but] [the] {short} [ones]"
    "|not the {other} (pair|two|ones|corners)[,] [but] the {short} (pair|two|ones|corners)"
    "|yellow {n}s? two, {at}|two yellow {n}s and they're both {at}|the {short} side [corners]|[the] {short} {line}"
)
_ONE: Final = (
    "{s}|{s}|just {s}|only {s}|{np}|only {np}|just {np}|one[,] {s}|one[,] {at}|[just|only] one [corner], {np}"
    "|{np} is yellow"
    "|only one and (it is|it's) {s}|{at}|the yellow one is {np}|{s} (corner|one|corner only|only)|(only"
    "|just) one {at}"
    "|(it's|I see|that's) [just|only] {np}|there's (one|only one|just one)[,] {at}|{np}, the (others|rest"
    "|other three) aren't"
    "|{np} is the only one|{np} and (that's it|nothing else|no other)|one yellow corner[,] {at}|{np} only|one, {at}"
    "|{s} yes, the (others|rest) no|{np} has yellow[, the others (don't|haven't)]|three aren't, {np} is"
)


def plain_speaker(random: Random) -> Speaker:
    """A speaker who uses few common words and does not slip."""
    speaker = Speaker(random)
    speaker.frame, speaker.loose, speaker.slips, speaker.way = "words", False, 0, pick(random, _WAYS)
    speaker.manner = pick(random, ("plain", "plain", "foreign", "clipped"))
    return speaker


def plain(speaker: Speaker, top: Top, kind: LookKind) -> Clause:
    """All four places, told in few words."""
    up = top.up(kind)
    if len(up) in (0, 4):
        text = _none_or_all(speaker, kind, bool(up))
    elif len(up) == 1:
        (cell,) = up
        text = speaker.say(_ONE, s=speaker.short(cell), np=speaker.np(cell), at=speaker.at(cell))
    else:
        text = _two(speaker, top, kind)
    return Clause(text, top.cells(kind))


def _none_or_all(speaker: Speaker, kind: LookKind, everything: bool) -> str:
    if kind is EDGE_LOOK and speaker.chance(0.4):
        return speaker.say(_CROSS if everything else _DOT)
    return speaker.say(_ALL if everything else _NONE, n=kind.noun)


def _two(speaker: Speaker, top: Top, kind: LookKind) -> str:
    a, b = speaker.mixed(top.up(kind))
    c, d = speaker.mixed(top.down(kind))
    lists = speaker.say(
        _BOTH, sa=speaker.short(a), sb=speaker.short(b), na=speaker.np(a), nb=speaker.np(b), ata=speaker.at(a),
        atb=speaker.at(b), sc=speaker.short(c), sd=speaker.short(d), nc=speaker.np(c), nd=speaker.np(d), n=kind.noun,
    )  # fmt: skip
    if speaker.chance(0.5):
        return lists
    if kind is EDGE_LOOK:
        return _shaped(speaker, a, b)
    if ACROSS[a] == b:
        pair = speaker.say("{a} and {b}", a=speaker.np(a), b=speaker.np(b))
        return speaker.say(
            "(diagonal|two diagonal|two, diagonal|on a diagonal)[,|:] {x}|{x}, (diagonal|so diagonally|across)|{x}",
            x=pair,
        )
    return side_pair(speaker, next(iter(set(SIDES[a]) & set(SIDES[b]))))


def _shaped(speaker: Speaker, a: str, b: str) -> str:
    if ACROSS[a] == b:
        across = SIDE[a] in "LR"
        if speaker.chance(0.25):
            return speaker.say(_SIDES if across else _NOT_SIDES, sa=speaker.short(a), sb=speaker.short(b))
        way = speaker.say(_ACROSS if across else _AWAY)
        return speaker.say(_LINE, way=way, sa=speaker.short(a), sb=speaker.short(b))
    depth, hand = (a, b) if SIDE[a] in "BF" else (b, a)
    return speaker.say(
        _CORNER, sa=speaker.short(a), sb=speaker.short(b), na=speaker.np(a), nb=speaker.np(b),
        d=speaker.short(depth), s=speaker.short(hand),
    )  # fmt: skip


_FACING: Final[Mapping[str, str]] = {"B": "F", "F": "B", "L": "R", "R": "L"}


def side_pair(speaker: Speaker, side: str) -> str:
    """Both corners of one side of the top: the side says where they are, not where their yellow faces."""
    (short, at), (other, other_at) = speaker.side(side), speaker.side(_FACING[side])
    line = "column" if side in "LR" else "row"
    return speaker.say(_PAIR, short=short, at=at, other=other, oat=other_at, line=line, n="corner")
