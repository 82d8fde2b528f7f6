"""Answers that leave places open, shared by edges and corners: only a count, some places, some that are not.

After a single edge nothing more need be said, since there is never just one. Otherwise the speaker says that they are
not done, since a bare list would be complete.
"""

from __future__ import annotations

from typing import Final

from coach.language.en.answers.looks.lists import Speaker, how_many
from coach.language.en.answers.looks.top import EDGE_LOOK, Clause, LookKind, Top
from coach.language.en.answers.phrasing import joined, pick

_UNFINISHED: Final = (
    "and...", "and, um...", "and another (one|) (somewhere|I can't place|I lost)", "still (looking|checking|feeling)",
    "I (haven't|didn't) (looked at|checked|got to|seen) the (others|rest) [yet]", "hang on, there may be more",
    "I can't see the (others|rest)", "the (others|rest) I don't know [yet]", "and, wait, I'm not done",
    "let me check the rest",
    "for the (others|rest) (I need|give me) (a moment|a second|more light)",
    "the others, (one moment|I come to them|wait)",
    "my (thumb|hand|finger|hair) is (on|over) the (others|rest)", "I lost my place", "not sure about the (rest|others)",
    "and then (the phone rang|I was called|I forgot|I lost it)", "I must turn [the lamp|it] to see the rest", "so far",
    "the rest is in (shadow|the dark|glare)", "(dunno|no idea|can't tell) about the (others|rest)",
    "(and|plus) I'm still going round",
    "that's (all I know|as far as I got) [so far|for now]",
    "I'll tell you the rest (later|in a minute|when I've found my glasses)",
    "at least, the others I have to look", "that one I'm sure of, not of the others", "but don't quote me on the rest",
)  # fmt: skip


def _unfinished(speaker: Speaker) -> str:
    """Says that there may be more than was said so far."""
    text = speaker.pick(_UNFINISHED)
    joins = text.startswith(("and", "but", "plus"))
    return speaker.say("(, |. |... )" if joins else "(, |. |... |, but )") + text


def count_alone(speaker: Speaker, top: Top, kind: LookKind) -> Clause:
    """How many there are, without places."""
    number = len(top.up(kind))
    text = how_many(speaker, number, kind)
    if speaker.chance(0.3):
        text += speaker.say(
            "(, |. )(that's what I see|I think|I'd say|don't ask me (which|where)|not sure (which|where)"
            "|which ones, (wait|one moment)"
            "|I'll tell you which in a (moment|second)|that's all you get|next question|I'm sure of that"
            "|where, I don't know)"
        )
    return _counted(text, number, kind)


def _counted(text: str, number: int, kind: LookKind) -> Clause:
    return Clause(text, edges=number) if kind is EDGE_LOOK else Clause(text, corners=number)


def some(speaker: Speaker, top: Top, kind: LookKind) -> Clause:
    """One or some of those that are, adding that there may be more."""
    up = top.up(kind)
    # One edge of two is followed by silence; after some corners the speaker says that they are not done.
    cells = speaker.mixed(up)[: speaker.random.randint(1, max(1, len(up) - 1))]
    told = dict.fromkeys(cells, True)
    lone = kind is EDGE_LOOK and len(cells) == 1
    if lone and speaker.chance(0.3):
        return Clause(
            speaker.say("{y}|{y}, (for sure|certainly|I think|definitely|that's one)", y=speaker.yes(cells[0])), told
        )
    x = joined(speaker.random, [speaker.yes(cell) for cell in cells]) if speaker.chance(0.6) else speaker.list(cells)
    if speaker.chance(0.2):
        return Clause(
            speaker.say(
                "(one of them is|for one,|one is|at least|well, at least|one's|first one is|among others) {x}",
                x=speaker.list(cells),
            )
            + _unfinished(speaker),
            told,
        )
    return Clause(x + _unfinished(speaker), told)


def some_not(speaker: Speaker, top: Top, kind: LookKind) -> Clause:
    """Some of those that are not, leaving the others open."""
    down = speaker.mixed(top.down(kind))[: speaker.random.choice((1, 1, 2))]
    parts = [speaker.no(cell) for cell in down]
    told = dict.fromkeys(down, False)
    if len(down) == 1 and speaker.chance(0.3):
        return Clause(
            speaker.say(
                "{x}, (for sure|that much I know|certainly|I can tell you that much|this is certain)|{x}", x=parts[0]
            ),
            told,
        )
    if len(down) == 2 and speaker.chance(0.4):
        a, b = down
        text = speaker.say(
            "neither {na} nor {nb}|not {na} (or|nor) {nb}|not {na} and not {nb}|no {sa}[,] no {sb}"
            "|(I can't (see|find|feel) any|I don't (see|feel) any|there isn't any|none|nothing|no yellow)"
            " {ata} (or|nor) {atb}"
            "|{na} and {nb} (aren't|are not|are no good|don't have it)|it's not {na} (or|nor) {nb}",
            na=speaker.np(a), nb=speaker.np(b), sa=speaker.short(a), sb=speaker.short(b),
            ata=speaker.at(a), atb=speaker.at(b),
        )  # fmt: skip
        return Clause(text + (_unfinished(speaker) if speaker.chance(0.3) else ""), told)
    return Clause(joined(speaker.random, parts) + _unfinished(speaker), told)


def some_of_both(speaker: Speaker, top: Top, kind: LookKind) -> Clause:
    """One that is and one that is not, then the answer breaks off."""
    yes, no = pick(speaker.random, top.up(kind)), pick(speaker.random, top.down(kind))
    parts = speaker.mixed([speaker.yes(yes), speaker.no(no)])
    text = joined(speaker.random, parts) + _unfinished(speaker)
    return Clause(text, {yes: True, no: False})


def count_and_some(speaker: Speaker, top: Top, kind: LookKind) -> Clause:
    """How many there are, with fewer places than that."""
    up = top.up(kind)
    told = _counted(how_many(speaker, len(up), kind), len(up), kind)
    if len(up) == 2 and speaker.chance(0.7):
        cell = pick(speaker.random, up)
        text = speaker.say(
            "{t}(, |. )(one is|one of them is|the first is|one's|I know|one) {x}, "
            "(the other I (can't place|don't see|lost|must find)|the other one, wait|and the other..."
            "|second one I don't know [where]|and one somewhere)",
            t=told.text, x=speaker.item(cell),
        )  # fmt: skip
        return Clause(text, {cell: True}, edges=told.edges, corners=told.corners)
    cell = pick(speaker.random, top.down(kind))
    return Clause(
        told.text + speaker.say("(, |. |, and |, but )not ") + speaker.np(cell),
        {cell: False},
        edges=told.edges,
        corners=told.corners,
    )
