"""Descriptions of last-layer orientation states, made up in several wordings."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

EDGES = {"back": "U1", "left": "U3", "right": "U5", "front": "U7"}
CORNERS = {"back left": "U0", "back right": "U2", "front left": "U6", "front right": "U8"}
TWISTS = {
    "U0": {"left": "L0", "back": "B2"},
    "U2": {"back": "B0", "right": "R2"},
    "U6": {"front": "F0", "left": "L2"},
    "U8": {"right": "R0", "front": "F2"},
}
"""For each corner the side stickers: after a clockwise and after an anticlockwise twist."""

CLOCK = {"back": "twelve o'clock", "right": "three o'clock", "front": "six o'clock", "left": "nine o'clock"}
PAGE = {"back": "top", "right": "right", "front": "bottom", "left": "left"}
NEARNESS = {"back": "far", "right": "right", "front": "near", "left": "left"}


def states() -> Iterator[tuple[tuple[str, ...], dict[str, str]]]:
    """All 216 states: the edges that are up, and for each corner where its top colour is ("up" or a side).

    An even number of edges is flipped and the twists add up to a whole turn.
    """
    for shown in product((False, True), repeat=4):
        if sum(shown) % 2:
            continue
        edges = tuple(name for name, up in zip(EDGES, shown, strict=True) if up)
        for twists in product(range(3), repeat=4):
            if sum(twists) % 3:
                continue
            corners = {}
            for name, twist in zip(CORNERS, twists, strict=True):
                corners[name] = ("up", *TWISTS[CORNERS[name]])[twist]
            yield edges, corners


def edge_wordings(edges: tuple[str, ...]) -> Iterator[str]:
    """Ways to tell which edges are yellow."""
    others = [name for name in EDGES if name not in edges]
    if not edges:
        yield from ("no edges", "just the dot", "None of the edges are yellow, only the centre.", "It's a dot.")
        return
    if not others:
        yield from ("all four edges", "it's a cross", "All of the edges are yellow.", "a plus sign")
        return
    one, two = edges
    not_one, not_two = others
    yield f"{one} and {two}"
    yield f"um, the {one} one and the {two} one"
    yield f"There is a yellow edge at the {one} and another one at the {two}."
    yield f"The {one} edge and the {two} edge are yellow. The other two are not."
    yield f"{NEARNESS[one]} and {NEARNESS[two]}, that's it"
    yield f"{PAGE[one]} one and {PAGE[two]} one"
    yield f"{CLOCK[one]} and {CLOCK[two]}"
    yield f"{one} yes {two} yes {not_one} no {not_two} no"
    yield f"the {not_one} and the {not_two} ones aren't, the others are"
    yield f"everything on top but the {not_one} edge and the {not_two} edge"
    yield f"the {not_one}... no, sorry, the {one}. and the {two}."
    if {one, two} in ({"left", "right"}, {"front", "back"}):
        yield f"a line from {one} to {two}"
        yield f"I see a straight yellow line, running from {two} to {one}."
    else:
        yield f"an L shape, {one} and {two}"
        yield f"It's bent: {one} and {two}."
        yield f"a little square, {one} {two}"


def corner_wordings(corners: dict[str, str]) -> Iterator[str]:
    """Ways to tell which corners show yellow on top, and where the others show it."""
    up = [name for name, place in corners.items() if place == "up"]
    down = {name: place for name, place in corners.items() if place != "up"}
    said = "; ".join(f"the {name} one has its yellow on the {side}" for name, side in down.items())
    facing = ". ".join(f"The yellow of the {name} corner faces {_facing(side)}" for name, side in down.items())
    if not up:
        yield from ("no corners", f"None of them. {facing}.", f"zero. {said}")
    elif not down:
        yield from ("all four", "All of the corners are yellow.", "the whole top is yellow")
    else:
        listed = " and ".join(up)
        number = {1: "One corner", 2: "Two corners"}[len(up)]
        yield f"{number}: {listed}."
        yield f"just {listed}"
        yield f"{number}, {listed}. {facing}."
        yield f"{listed}, the others aren't"
        yield f"the {' one and the '.join(up)} one. {said}."
        yield " ".join(f"{name} {'yes' if name in up else 'no'}" for name in CORNERS)


def _facing(side: str) -> str:
    return {"front": "me", "back": "away from me"}.get(side, side)
