"""Generates millions of answers to the two looks at the top: a legal top, what is told about it, and how it is worded.

The labels cover what is said and what follows within the answer (see looks_top), but not what is taken back. A bare
list that answers "which ones?" is complete, so the others are labelled as not shown (see looks_lists). About three in
ten answers leave something open.
"""

from __future__ import annotations

from random import Random

from coach.language.en.answers.looks import corners as looks_corners
from coach.language.en.answers.looks import edges as looks_edges
from coach.language.en.answers.looks import slipped as looks_slipped
from coach.language.en.answers.looks.firm import firm
from coach.language.en.answers.looks.lists import Speaker
from coach.language.en.answers.looks.plain import plain, plain_speaker
from coach.language.en.answers.looks.slipped import slipped
from coach.language.en.answers.looks.talk import talked
from coach.language.en.answers.looks.top import (
    CORNER_LOOK,
    EDGE_LOOK,
    Clause,
    LookKind,
    Top,
    concluded,
    some_top,
)
from coach.language.en.answers.phrasing import tidy
from coach.language.en.answers.sample import Sample

_SIMPLE = 0.3  # share told in few words, by a plain speaker
_INCOMPLETE = 0.43  # share of the others
_FIRM = 0.09
_SLIPPED = 0.1  # share about a top that no whole cube has
_BESIDE = 0.12
_PLAIN = 0.3  # share with nothing said around it


def looks(random: Random) -> Sample:
    """An answer to one of the two looks."""
    return look_and_top(random)[1]


def look_and_top(random: Random) -> tuple[Top, Sample]:
    """A top, and an answer about it."""
    kind = EDGE_LOOK if random.random() < 0.5 else CORNER_LOOK
    top = some_top(random)
    if random.random() < _SLIPPED:
        return _of_slipped(random, slipped(top, random), kind)
    if random.random() < _SIMPLE:
        return top, _simply(random, top, kind)
    speaker = Speaker(random)
    complete = random.random() >= _INCOMPLETE
    told = _answer(speaker, top, kind, complete)
    if speaker.chance(_PLAIN):
        return top, concluded(kind, told.with_text(tidy(told.text)))
    if speaker.chance(_BESIDE):
        told = _with_others(speaker, top, kind, told)
    text = talked(speaker, kind.noun, told.text, (lambda: _first_try(speaker, kind)) if complete else None)
    return top, concluded(kind, told.with_text(tidy(text + _end(speaker))))


def _of_slipped(random: Random, top: Top, kind: LookKind) -> tuple[Top, Sample]:
    """A top that no cube with whole layers below has, and an answer about it."""
    speaker = Speaker(random)
    text = looks_slipped.complete(speaker, top, kind).text
    if speaker.chance(0.5):
        text = talked(speaker, kind.noun, text, None)
    told = Clause(tidy(text + _end(speaker)), top.cells(kind))
    return top, concluded(kind, told)


def _simply(random: Random, top: Top, kind: LookKind) -> Sample:
    """All four places in few words, with hardly anything said around them."""
    speaker = plain_speaker(random)
    told = plain(speaker, top, kind)
    text = told.text if speaker.chance(0.8) else talked(speaker, kind.noun, told.text, None)
    return concluded(kind, told.with_text(tidy(text + _end(speaker))))


def _answer(speaker: Speaker, top: Top, kind: LookKind, complete: bool) -> Clause:
    if complete and speaker.chance(_FIRM):
        return firm(speaker, top, kind)
    if complete and speaker.chance(_SIMPLE):
        return plain(speaker, top, kind)
    if kind is EDGE_LOOK:
        return looks_edges.complete(speaker, top) if complete else looks_edges.incomplete(speaker, top)
    return looks_corners.complete(speaker, top) if complete else looks_corners.incomplete(speaker, top)


def _with_others(speaker: Speaker, top: Top, kind: LookKind, told: Clause) -> Clause:
    """Adds edges if corners were asked about, or the other way round, or says where a piece has its colour instead."""
    if top.down(kind) and speaker.chance(0.3):
        on_its_side = looks_edges.on_its_side if kind is EDGE_LOOK else looks_corners.on_its_side
        return told.then(on_its_side(speaker, top), ". ")
    beside = (looks_corners.beside if kind is EDGE_LOOK else looks_edges.beside)(speaker, top)
    if speaker.chance(0.3):
        return beside.then(
            told,
            speaker.say(", but you asked about the {n}s: |, and the {n}s: |. The {n}s: |. And {n}s: ", n=kind.noun),
        )
    between = speaker.say("(. |, |. And |, and |. Also, |, plus |. (Oh|By the way), |. You didn't ask, but |, but )")
    return told.then(
        beside.with_text(beside.text + speaker.say("[, but (you didn't ask|never mind|that's not what you asked)]")),
        between,
    )


def _first_try(speaker: Speaker, kind: LookKind) -> str:
    """An answer about some other top, which is then taken back."""
    slips, speaker.slips = speaker.slips, 0
    text = _answer(speaker, some_top(speaker.random), kind, complete=speaker.chance(0.6)).text
    speaker.slips = slips
    return text


def _end(speaker: Speaker) -> str:
    return speaker.say(".|.|.|.|.|.||!|!|...")
