"""Answers about a top with one piece flipped or twisted, as seen after a slip: told as it is seen."""

from __future__ import annotations

from random import Random
from typing import Final

from coach.language.en.answers.looks import lists as looks_lists
from coach.language.en.answers.looks.lists import Speaker
from coach.language.en.answers.looks.top import CORNER_LOOK, EDGE_LOOK, Clause, LookKind, Top

_THREE: Final = (
    "[three[ of them],] all (but|except|apart from) {np}|three[ of them|,][ but] not {np}|everything (but|except) {np}"
    "|{np} (isn't|is not)[,] [but] the (other three|others|rest) are|(only|just) {np} is (missing|not yellow|wrong)"
    "|(three|three {n}s)[,|:] {list}|{list}|{list}, so three|three yellow {n}s, {list}|{list} but not {np}"
    "|(all|the lot) but {np}|three out of four, {np} isn't|one is missing, {np}|the only one that isn't is {np}"
)
_ONE: Final = (
    "(just|only) one[,|:] {np}|(only|just) {np}|one[, {at}| {n}, {np}]|{np}[,] (nothing|none) else|{np} only"
    "|{np} (is|has it)[,] the (other three|others|rest) (aren't|don't)|a single one, {np}|one yellow {n}, {at}"
    "|(only|just) one yellow {n}, {np}|{np} and that's (it|all)|one out of four, {np}|it's just {np} that is yellow"
)
_TELLERS: Final = (looks_lists.each, looks_lists.which, looks_lists.others_not)


def slipped(top: Top, random: Random) -> Top:
    """The same top with one piece flipped or twisted."""
    kind = EDGE_LOOK if random.random() < 0.5 else CORNER_LOOK
    cell = random.choice(kind.cells)
    return Top({**top.shows, cell: not top.shows[cell]})


def complete(speaker: Speaker, top: Top, kind: LookKind) -> Clause:
    """All four places, when one or three of them show the top colour."""
    up, down = top.up(kind), top.down(kind)
    if len(up) not in (1, 3):
        return looks_lists.each(speaker, top, kind)
    if speaker.chance(0.4):
        return speaker.random.choice(_TELLERS)(speaker, top, kind)
    one = (up if len(up) == 1 else down)[0]
    words = {"np": speaker.np(one), "at": speaker.at(one), "n": kind.noun, "list": speaker.list(speaker.mixed(up))}
    return Clause(speaker.say(_ONE if len(up) == 1 else _THREE, **words), top.cells(kind))
