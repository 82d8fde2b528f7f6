"""Answers to a yes/no claim that include a description: of the top, a row, a piece or the whole cube."""

from __future__ import annotations

import random as rnd
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache

from coach.language.en.answers.manner import RETRACTIONS, lowered, say_as_people_do
from coach.language.en.answers.marks import numbered
from coach.language.en.answers.phrasing import Grammar, pick, tidy
from coach.language.en.answers.sample import ROLES, Sample
from coach.language.en.answers.threes import listed, tag, three, told_by

EDGES = ("U1", "U3", "U5", "U7")
CORNERS = ("U0", "U2", "U6", "U8")
_COLOURS = tuple(ROLES.values())
_SIDES = tuple(colour for face, colour in ROLES.items() if face not in "UD")
_NUMBERS = ("none", "one", "two", "three", "four")
_LIST = "\ue001"  # stands for a list of colours while the words around it are processed
_VERDICTS = frozenset({"yes", "no", "instead", "wrong", "does", "doesn't", "do", "don't", "not"})
Said = tuple[str, Sample]  # the description, and everything it tells except the text


@lru_cache(1)
def _grammar() -> Grammar:
    return Grammar("talk-answers.toml", "talk-claims.toml", "claims.toml")


def claims(random: rnd.Random) -> Sample:
    """An answer to a claim, with a description of what was seen."""
    kind = random.choices(list(_KINDS), list(_KINDS.values()))[0]
    text, told = kind(random)
    if _is_bare(text, told):  # the reader compares it with the claim, which is not in the words
        told = replace(told, command=random.choice(("yes", "no", None)))
        if told.command:
            text = _headed(random, told.command, text)
    elif told.command and random.random() < 0.55:
        text = _headed(random, told.command, text) if random.random() < 0.85 else f"{text}, so {told.command}"
    if random.random() < 0.05:
        text = _taken_back(random, kind) + lowered(text)
    if _LIST in text:
        text = text.replace(_LIST, _some_row(random))
    text, words = numbered(say_as_people_do(random, tidy(text)))
    return replace(told, text=text, stickers=told_by(words, 2) if words else ())


def _is_bare(text: str, told: Sample) -> bool:
    """Whether it describes the top without a verdict."""
    return bool(told.cells or told.shape) and not _VERDICTS & set(re.findall(r"[a-z']+", text.lower()))


def _taken_back(random: rnd.Random, kind: Callable[[rnd.Random], Said]) -> str:
    """Something else of the same kind, followed by words that take it back."""
    wrong = kind(random)[0].replace(_LIST, random.choice((" ", ", ")).join(random.choices(_SIDES, k=3)))
    return f"{wrong}{random.choice((', ', '... ', '. '))}{pick(random, RETRACTIONS)}, "


def _headed(random: rnd.Random, command: str, text: str) -> str:
    """The text after a yes or no."""
    joint = random.choice((", ", ". ", ", ", " "))
    return f"{_grammar().say(random, f'{command}-head')}{joint}{lowered(text)}"


def _told(command: str | None, text: str, **tells: object) -> Said:
    return text, replace(Sample("claim", "", command=command), **tells)  # type: ignore[arg-type]


# --- the top


def _group(random: rnd.Random) -> Said:
    """A claim about all edges or all corners: which of them show the top colour."""
    group, noun = random.choice(((EDGES, "edge"), (CORNERS, "corner")))
    on = list(group) if random.random() < 0.4 else random.sample(group, random.choice((0, 1, 1, 2, 2, 3, 3, 3)))
    off = [place for place in group if place not in on]
    if not off:
        rule = random.choice(("all", "all", "all-bare"))
        names = [_name(random, place) for place in random.sample(group, 4)]
        slots = dict(zip(("first", "second", "third", "fourth"), names, strict=True))
        text = _grammar().say(random, rule, noun=noun, nouns=f"{noun}s", **slots)
        return _told("yes", text, cells=dict.fromkeys(group, True) if rule == "all" else {})
    if on and random.random() < 0.35:
        rule = random.choice(("count-nouns", "count-nouns", "count-bare"))
        text = _grammar().say(random, rule, n=_NUMBERS[len(on)], noun=noun, nouns=noun + "s" * (len(on) > 1))
        counted = {f"{noun}s": len(on)} if rule == "count-nouns" else {}
        return _told("no", text, **counted, complete=False)
    if random.random() < 0.25:
        slots = _slots(random, on, random.sample(off, 1))
        text = _grammar().say(random, "single-off", noun=noun, **slots)
        return _told("no", text, cells={slots["at"]: False}, complete=False)
    rule = ("none-on", "three-off", "two-off", "one-off")[len(on)]
    text = _grammar().say(random, rule, noun=noun, nouns=f"{noun}s", **_slots(random, on, off))
    return _told("no", text, cells={place: place in on for place in group})


def _one(random: rnd.Random) -> Said:
    """A claim about one edge or corner."""
    place = random.choice(EDGES + CORNERS)
    noun = "edge" if place in EDGES else "corner"
    on = random.random() < 0.5
    slots = _slots(random, [place] if on else [], [] if on else [place])
    text = _grammar().say(random, "single-on" if on else "single-off", noun=noun, **slots)
    return _told("yes" if on else "no", text, cells={place: on})


def _two(random: rnd.Random) -> Said:
    """A claim about two edges at once; an edge that is not named is left open."""
    pair = random.sample(EDGES, 2)
    on = random.choice((pair, pair, [], pair[:1], pair[1:]))
    off = [place for place in pair if place not in on]
    slots = _slots(random, on, off)
    text = _grammar().say(random, ("none-of-both", "one-of-both", "both-on")[len(on)], noun="edge", **slots)
    names = dict(zip([*on, *off], (slots[name] for name in slots if name not in ("colour", "at")), strict=True))
    cells = {place: place in on for place, name in names.items() if re.search(rf"\b{name}\b", text, re.IGNORECASE)}
    return _told("no" if off else "yes", text, cells=cells)


def _whole(random: rnd.Random) -> Said:
    """A claim about the whole top."""
    rule = random.choice(("whole", "whole", "whole-but", "edges-only"))
    off = random.sample(EDGES + CORNERS, 1) if rule == "whole-but" else CORNERS if rule == "edges-only" else []
    noun = "edge" if off and off[0] in EDGES else "corner"
    text = _grammar().say(random, rule, noun=noun, **_slots(random, [], off[:1]))
    cells = {place: place not in off for place in EDGES + CORNERS}
    if rule == "edges-only" and "aren't" in text:  # not all of them, perhaps some
        cells = dict.fromkeys(EDGES, True)
    return _told("no" if off else "yes", text, cells=cells)


def _line(random: rnd.Random) -> Said:
    """The direction of the line."""
    lies = random.choice(("across", "away"))
    along = ("U3", "U5") if lies == "across" else ("U1", "U7")
    return _told(None, _grammar().say(random, lies), cells={place: place in along for place in EDGES})


def _shape(random: rnd.Random) -> Said:
    """The shape that is there instead of a cross, or the cross."""
    shape = random.choice(("line", "corner", "dot", "cross", "cross"))
    cells = dict.fromkeys(EDGES, shape == "cross") if shape in ("dot", "cross") else {}
    text = _grammar().say(random, shape)
    return _told("yes" if shape == "cross" else "no", text, shape=shape, cells=cells, complete=bool(cells))


def _name(random: rnd.Random, place: str) -> str:
    return _grammar().phrase(random, f"{{{place}}}")


def _slots(random: rnd.Random, on: Sequence[str], off: Sequence[str]) -> dict[str, str]:
    other = random.choice([colour for colour in _COLOURS if colour != "yellow"])
    slots = {"colour": other, "at": off[0] if off else ""}
    for name, places in (("on", on), ("off", off)):
        for number, place in enumerate(places):
            slots[name + ("", "2", "3", "4")[number]] = _name(random, place)
    return slots


# --- the rest of the cube


def _row(random: rnd.Random) -> Said:
    """The colours of a row. The claim is not in the words, so a bare list is no verdict."""
    if random.random() < 0.3:
        colour, other = random.sample(_COLOURS, 2)
        return _told("no", _grammar().say(random, "row-part", which=_name(random, "pos"), colour=colour, other=other))
    command = random.choice(("yes", "no"))
    if random.random() < 0.5:
        return _told(command, _grammar().say(random, f"row-{command}", list=_LIST))
    text = _grammar().say(random, "row-bare", list=_LIST)
    if random.random() < 0.65:
        return _told(command, _headed(random, command, text))
    return _told(None, text)


def _piece(random: rnd.Random) -> Said:
    return _of_rule(random, "placed")


def _sides(random: rnd.Random) -> Said:
    return _of_rule(random, "sides")


def _rest(random: rnd.Random) -> Said:
    """Whether everything from before is still there: a yes that contains a denial, and a no that looks like it."""
    return _of_rule(random, "rest")


def _of_rule(random: rnd.Random, rule: str) -> Said:
    command = random.choice(("yes", "no"))
    colour, other = random.sample(_SIDES, 2)
    return _told(command, _grammar().say(random, f"{rule}-{command}", colour=colour, other=other))


def _some_row(random: rnd.Random) -> str:
    """Three colours in some wording, marked."""
    row = random.choices(_SIDES, k=3) if random.random() < 0.8 else [random.choice(_COLOURS)] * 3
    return three(random, row, 0) if random.random() < 0.6 else listed(random, [tag(c, n) for n, c in enumerate(row)])


_KINDS: Mapping[Callable[[rnd.Random], Said], float] = {
    _group: 6, _one: 3, _two: 2, _whole: 2, _line: 2, _shape: 2, _row: 5, _piece: 3, _sides: 3, _rest: 3,
}  # fmt: skip
