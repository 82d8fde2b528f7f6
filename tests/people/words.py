"""What people call the six faces, and how they word what they see. Plain and complete; behaviour is what counts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from random import Random

from tests.people.cube import FACES

OPTION_ORDER = "FBRLUD"
"""The faces in the order of the option --colours: front, back, right, left, top, bottom."""

USUAL = {"U": "yellow", "D": "white", "F": "green", "B": "blue", "R": "orange", "L": "red"}
MARKS = ("dots", "rough", "lines", "smooth", "ridges", "bumps")
OTHERS = ("purple", "pink", "black", "silver", "brown", "gold")
MIXED = ("white", "yellow", "purple", "pink", "black", "silver")
_SIDES = {"F": "front", "B": "back", "R": "right", "L": "left"}
_TOWARDS = {
    "U": ("up", "upwards"), "D": ("down", "downwards"), "F": ("me", "the front"), "B": ("the back", "away from me"),
    "R": ("right", "the right"), "L": ("left", "the left"),
}  # fmt: skip
_LAYERS = {"U": "top", "D": "bottom"}
EDGES = {"U1": "back", "U3": "left", "U5": "right", "U7": "front"}
CORNERS = {"U0": "back left", "U2": "back right", "U6": "front left", "U8": "front right"}


def arranged(words: Sequence[str], random: Random) -> dict[str, str]:
    """The words on the faces in some order."""
    return dict(zip(FACES, random.sample(list(words), 6), strict=True))


def mirrored(words: Mapping[str, str] = USUAL) -> dict[str, str]:
    """Left and right changed about."""
    return {**words, "R": words["L"], "L": words["R"]}


ARRANGEMENTS: dict[str, dict[str, str]] = {
    "usual": dict(USUAL),
    "mirrored": mirrored(),
    "white beside yellow": dict(zip(FACES, ("white", "red", "green", "orange", "yellow", "blue"), strict=True)),
    "red on top": dict(zip(FACES, ("yellow", "green", "white", "blue", "red", "orange"), strict=True)),
    "other words": dict(zip(FACES, OTHERS, strict=True)),
    "some other words": dict(zip(FACES, MIXED, strict=True)),
    "other words mirrored": mirrored(dict(zip(FACES, OTHERS, strict=True))),
}


def option(words: Mapping[str, str]) -> str:
    """The six words as --colours takes them."""
    return ",".join(words[face] for face in OPTION_ORDER)


def listed(names: Sequence[str], last: str = " and ") -> str:
    """For example "a, b and c"."""
    return last.join(filter(None, (", ".join(names[:-1]), names[-1]))) if names else ""


def edges(shown: Sequence[str], up: str, random: Random) -> str:
    """Which edges on top show the top's own word, by the names of their spots."""
    names = [EDGES[spot] for spot in shown]
    if not names:
        return random.choice((f"None of the four edges on top is {up}.", f"no edges are {up}", "none of the edges"))
    if len(names) == 4:
        return random.choice(("It's a cross.", "all four edges", f"All four edges are {up}."))
    if set(names) in ({"left", "right"}, {"front", "back"}):
        ends = random.choice((names, names[::-1]))
        return random.choice(("A line from {} to {}.", "a line, it goes from {} to {}", "the {} and the {} edge"))\
            .format(*ends)  # fmt: skip
    if len(names) == 2:
        form = random.choice(("The {} one and the {} one.", "a corner, at the {} and the {}", "{} and {}"))
        return form.format(*random.sample(names, 2))
    return f"the {listed(names)} edges"


def corners(shown: Sequence[str], up: str, random: Random) -> str:
    """Which corners show it."""
    names = [CORNERS[spot] for spot in shown]
    if not names:
        return random.choice((f"No corner is {up} on top.", "none of them", "none of the corners"))
    if len(names) == 4:
        return random.choice(("All four of them.", f"all four corners are {up}", "all four corners"))
    if len(names) == 1:
        return random.choice(("Just one, the {} one.", "one, at the {}", "only the {} corner")).format(*names)
    number = {2: "two", 3: "three"}[len(names)]
    form = random.choice(("{number}, the {names}", "The {names} corners.", "{number}: {names}"))
    return form.format(number=number, names=listed(names))


def piece(lies: Mapping[str, str], first: str, called: str, random: Random) -> str:
    """Where a piece lies, and where its sticker `first`, which is called so, faces."""
    faces = set(lies.values())
    layer = next((_LAYERS[face] for face in "UD" if face in faces), "middle")
    sides = " ".join(_SIDES[face] for face in "FBRL" if face in faces)
    towards = random.choice(_TOWARDS[lies[first]])
    form = random.choice((
        "{layer} layer, {sides}, {word} faces {towards}",
        "It's in the {layer} layer at the {sides}, and its {word} faces {towards}.",
        "The {layer} layer, {sides}. The {word} is facing {towards}.",
    ))  # fmt: skip
    return form.format(layer=layer, sides=sides, word=called, towards=towards)


def stickers(words: Sequence[str], random: Random) -> str:
    """A row, or a face row by row."""
    if len(words) > 3:
        return "; ".join(", ".join(words[start : start + 3]) for start in range(0, len(words), 3))
    return random.choice((", ", ", then ", " ")).join(words)
