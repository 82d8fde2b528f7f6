"""What somebody knows by heart: sequences by step and case, how the cube is held for each, and words for both. The
coach's mathematics of the cube serve for knowing them, not for judging anything."""

from __future__ import annotations

from collections.abc import Sequence

from coach.cube import FACES as PRINTED
from coach.cube import POSITIONS
from coach.dialogue.practice.lower_routes import rule_of
from coach.method import PlacingStep, Step, cases_of, default_method
from tests.people.cube import Cube

_METHOD = default_method()
_CASES = {(step.id, case.id): (step, case) for step in _METHOD.steps for case in cases_of(step) if case.named}
SEQUENCES = {key: tuple(map(str, case.named.turns)) for key, (_, case) in _CASES.items() if case.named}
GROUPS = {
    key: tuple(tuple(map(str, group.turns)) for group in case.named.groups)
    for key, (_, case) in _CASES.items() if case.named
}  # fmt: skip
SIDEWAYS = ("", "y", "y2", "y'")
"""The ways to hold a cube with the same side up."""

_TURNS = {
    "R": "right side up", "R'": "right side down", "L": "left side down", "L'": "left side up",
    "U": "top to the left", "U'": "top to the right", "D": "bottom to the right", "D'": "bottom to the left",
    "F": "front clockwise", "F'": "front anticlockwise",
}  # fmt: skip
_HOLDS = {
    "dot": ("It's the dot, and any side can face me.", "the dot, it doesn't matter how I hold it"),
    "corner": ("the corner shape, at the back and the left", "It's a corner, I hold it at the back and left."),
    "line": ("the line, from left to right", "It's the line, and it goes from left to right."),
    "none-up": ("No corner is up, and the front left one points left.", "none of them, front left points to the left"),
    "one-up": ("One corner is up, and it goes at the front left.", "One, the front left corner."),
    "two-up": ("Two corners are up, and the front left one points to me.", "two, front left facing me"),
    "one-pair": ("The matching corners go on the left.", "on the left"),
    "to-the-right": ("The finished side is at the back, it goes to the right.", "at the back, and round to the right"),
    "to-the-left": ("The finished side is at the back, it goes to the left.", "at the back, and round to the left"),
}  # fmt: skip
_WRONG_HOLDS = {
    "dot": "the line, from left to right", "corner": "the corner shape, at the front and the right",
    "line": "the line, from front to back", "none-up": "No corner is up, and the back right one comes to me.",
    "one-up": "One corner is up, and it goes at the back right.", "two-up": "One corner is up, the back right one.",
    "one-pair": "at the front", "to-the-right": "The finished side is at the front.",
    "to-the-left": "The finished side is at the front.",
}  # fmt: skip


_PLACED = {
    "edge-up": ("at the front", "the half turn in front"), "edge-front": ("at the front", "the side door"),
    "edge-in-the-middle": ("at the front right", "the right-hand lift"),
    "edge-at-the-bottom": ("at the front", "the half turn in front"),
    "faces-right": ("at the front right", "the right-hand lift"),
    "faces-front": ("at the front right", "the front lift"), "faces-up": ("at the front right", "the double lift"),
    "corner-below": ("at the front right", "the right-hand lift"),
    "from-front": ("at the front", "the join on the right"), "from-right": ("on the right", "the join in front"),
    "edge-below": ("at the front right", "the join on the right"),
}  # fmt: skip
"""Where a piece comes for its sequence, and the name of that."""
CHOICES = ("next-piece", "next-step")
"""What is asked of a whole step."""


def said(turns: Sequence[str]) -> str:
    """Turns said aloud, in one breath."""
    return ", ".join(_TURNS[turn.removesuffix("2")] + ", twice" * turn.endswith("2") for turn in turns)


def hold(step: str, case: str, number: int, layers: str) -> str:
    """How the cube is held for a case, in one or another wording; what comes next, by what was said of `layers`."""
    if case == "next-step":
        return step.replace("-", " ")
    if case == "next-piece":
        return f"the one in the {'top' if 'top layer' in layers else 'middle'} layer"
    if case in _PLACED:
        where, name = _PLACED[case]
        return (f"{where}, and then {name}", f"{name}, with the piece {where}")[number % 2]
    return _HOLDS[case][number % len(_HOLDS[case])]


def wrong_hold(case: str) -> str:
    """How it is not held."""
    if case in CHOICES:
        return "I don't know"
    if case in _PLACED:
        return "at the back, and then the corner swap"
    return _WRONG_HOLDS[case]


def ways(cube: Cube, step: str, case: str, piece: Sequence[str] = ()) -> Sequence[str]:
    """The turns of the whole cube, and of the top for a `piece`, after which the sequence may be done; none where the
    cube is not in the case."""
    of, known = _CASES[step, case]
    if not isinstance(of, Step):
        return _lined_up(cube, rule_of(of), case, piece)
    found = []
    for turn in SIDEWAYS:
        held = cube.copy().do(turn)
        pattern = "".join("".join(held.face(face)) for face in PRINTED)
        if known.fits(pattern) and () in known.holds(pattern):  # type: ignore[union-attr]
            found.append(turn)
    return found


def _lined_up(cube: Cube, rule: PlacingStep, case: str, piece: Sequence[str]) -> Sequence[str]:
    shows = cube.piece(piece)
    if not shows:
        return ()
    home = next(name for name in POSITIONS if {cube[f"{face}4"] for face in name} == set(piece))
    there = next(places for name, places in POSITIONS.items() if set(name) == set(shows.values()))
    lies = tuple(next(at for at in there if PRINTED[at // 9] == shows[cube[f"{face}4"]]) for face in home)
    if lies == POSITIONS[home]:
        return ()
    move = rule.move(lies, POSITIONS[home])
    return [" ".join(map(str, (*move.rotation, *move.top)))] if move.case.id == case else ()


def other_way(turn: str) -> str:
    """The turn the other way round; of a half turn, only a quarter."""
    return turn[0] if turn.endswith(("'", "2")) else turn + "'"
