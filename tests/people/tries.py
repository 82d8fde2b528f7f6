"""Tries at exercises as they really went, and the count of them against what was recorded."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from random import Random

from tests.people import heart
from tests.people.cube import HOLDS, NAMES, Cube

TOPS = ("", "U", "U2", "U'")
_LOWER = [name for name in NAMES if name[0] == "D" or (name[0] in "FRBL" and int(name[1]) > 2)]
_CROSS = [name for name in _LOWER if (name[1] in "1357" if name[0] == "D" else name[1] == "7")]
_BELOW = {
    "bottom-cross": _CROSS, "bottom-corners": [name for name in _LOWER if name[0] == "D" or int(name[1]) > 5],
}  # fmt: skip
_LOOKED_AT = {"top-cross": ("U1", "U3", "U5", "U7"), "top-face": tuple(f"U{place}" for place in range(9))}


def upright(cube: Cube) -> tuple[str, ...]:
    """Its stickers, however it is held."""
    return tuple(_held_upright(cube).stickers)


def reached(cube: Cube, target: Cube, step: str, lesson: bool) -> bool:
    """Whether it is as it should be after a run of `step`, however it is held. A `lesson` looks only at the pieces
    placed, or where the top's own colour shows until the pieces on top are ordered, and never at how far the top is
    turned."""
    one, other = _held_upright(cube), _held_upright(target)
    if not lesson:
        return one.stickers == other.stickers
    below = _BELOW.get(step, _LOWER)
    if not step.startswith("top"):
        return all(one[name] == name[0] for name in below if other[name] == name[0])
    seen = _seen_on_top(other, step)
    return all(one[name] == other[name] for name in below) and any(
        _seen_on_top(one.copy().do(turn), step) == seen for turn in TOPS
    )


def _held_upright(cube: Cube) -> Cube:
    return next(held for turn in HOLDS if (held := cube.copy().do(turn))["U4"] == "U" and held["F4"] == "F")


def _seen_on_top(cube: Cube, step: str) -> list[str]:
    if step not in ("top-cross", "top-face"):
        return cube.stickers
    return [cube[name] if cube[name] == "U" else "-" for name in _LOOKED_AT[step]]


def instead(slip: str, turn: str, random: Random) -> str:
    """What is done instead of a turn."""
    if slip == "left-out":
        return ""
    if slip == "other-way":
        return heart.other_way(turn)
    if slip == "doubled":
        return turn[0] if turn.endswith("2") else f"{turn} {turn}"
    if slip == "other-face":
        return random.choice([face for face in "RLUF" if face != turn[0]]) + turn[1:]
    return f"{turn} {random.choice(TOPS[1:])}"


@dataclass(eq=False)
class Try:
    """An exercise as it really went."""

    kind: str
    step: str
    case: str
    help: int
    before: Cube
    slips: dict[int, str] = field(default_factory=dict)
    """What goes wrong at turns of the sequence, by their numbers from 0."""
    whole: str = ""
    """What goes wrong with all of it."""
    at: int = 0
    """The turn before which it is stopped."""
    targets: tuple[Cube, ...] = ()
    """The cube as it may be then."""
    should_be: Cube | None = None
    """The same as they hold it."""
    held: Cube | None = None
    """The cube in the hold, before the first turn."""
    done: int = 0
    """So many turns of the sequence were gone through."""
    asked: bool = False
    """Whether a hint was asked for."""
    said_wrongly: str = ""
    """What went wrong in saying it."""
    told: bool = False
    """Whether a slip was told, or all was to be called."""
    right: bool | None = None
    """Whether the cube was as it should be when they said so, or when the last turn had been called."""

    @property
    def slip(self) -> str:
        """What goes wrong in it, in words."""
        return " and ".join(filter(None, (self.whole, *self.slips.values(), self.said_wrongly))) or "none"

    @property
    def turns(self) -> Sequence[str]:
        """The sequence."""
        return heart.SEQUENCES.get((self.step, self.case), ())

    @property
    def key(self) -> tuple[str, str, str]:
        """What was tried."""
        return self.kind, self.step, self.case

    def mistaken(self, result: str) -> str:
        """Which mistake it is to record this result: "failed", though it was right; "success", though it was wrong and
        nobody said so; none."""
        if result == "failed" and self.right and not self.told:
            return "failed"
        if self.right is False and (result == "unaided" or (result == "helped" and not self.told)):
            return "success"
        return ""


@dataclass
class Count:
    """Tries against what was recorded of them."""

    tries: int = 0
    failed_though_right: list[str] = field(default_factory=list)
    success_though_wrong: list[str] = field(default_factory=list)
    wrong: int = 0
    unclear: int = 0
    unknown: list[str] = field(default_factory=list)
    """Exercises of which nobody knows when they were tried."""
    doubtful: int = 0
    """Records that were mistaken if they went with another try of the same."""

    def add(self, tried: Try, result: str) -> None:
        """Count a try and what was recorded of it."""
        asked = ", asked" * tried.asked + ", told" * tried.told
        what = f"{tried.kind} {tried.case} at {tried.help}, slip {tried.slip}{asked}: {result}"
        self.tries += 1
        self.wrong += tried.right is False
        self.unclear += result == "unclear"
        if mistake := tried.mistaken(result):
            (self.failed_though_right if mistake == "failed" else self.success_though_wrong).append(what)

    def __add__(self, other: Count) -> Count:
        return Count(*(getattr(self, name) + getattr(other, name) for name in self.__dataclass_fields__))
