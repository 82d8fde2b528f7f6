"""What is planned in a step: the shortest way, the next piece, the effort that is left, how much is said of a hold."""

from __future__ import annotations

from coach.belief.reading.stickers import KnownStickers
from coach.belief.whereabouts import home, whereabouts
from coach.cube import PLACE_NAMES, Turn, turned
from coach.cube.search import EFFORT, cheapest_moves, effort
from coach.method import PlacingStep, PlannedStep, Step


def shortest_plan(reading: KnownStickers, step: PlannedStep) -> tuple[Turn, ...] | None:
    """The turns that bring all pieces of the step home, all of which are found; None if they cannot lie like that."""
    start = [placement[0] for piece in step.pieces if (placement := whereabouts(reading, piece))]
    goal = [home(reading, piece)[0] for piece in step.pieces]
    return cheapest_moves(tuple(start), tuple(goal), EFFORT, step.most)


def next_piece(reading: KnownStickers, step: PlacingStep) -> str | None:
    """The piece to place next: the quickest of the known ones, or else the one whose slot is nearest."""
    known, unknown = [], []
    for piece in step.pieces:
        placement, goal = whereabouts(reading, piece), home(reading, piece)
        if placement is None:
            unknown.append(piece)
        elif placement != goal:
            known.append((sum(len(move.turns) for move in step.moves(placement, goal)), piece))
    if known:
        return min(known)[1]
    slots = ("F", "FR", "R", "BR", "L", "FL", "B", "BL")
    nearest = [piece for slot in slots for piece in unknown if _slot(reading, piece) == slot]
    return nearest[0] if nearest else None


def _slot(reading: KnownStickers, piece: str) -> str:
    faces = {PLACE_NAMES[place][0] for place in home(reading, piece)}
    return "".join(face for face in "FBRL" if face in faces)


def effort_left(step: Step, pattern: str) -> float:
    """The effort of the sequences that the step still takes from a pattern."""
    spent = 0.0
    for _ in range(step.runs):
        case = next((case for case in step.cases if case.fits(pattern)), None)
        if case is None or not case.sequence:
            break
        pattern = turned(pattern, (*case.holds(pattern)[0], *case.sequence))
        spent += effort(case.sequence)
    return spent


def hold_left(help: int, several: bool, kept: bool) -> str:
    """The key of what is said of the hold where it is left to the learner: with `help`, the hold itself; and where
    `several` are right, which one it is to be, since the coach has to know. `kept`: the cube is held right already."""
    if help:
        return "hold.keep" if kept else "hold.alone-front" if several else "hold.alone"
    return "" if not several else "hold.facing-now" if kept else "hold.facing"
