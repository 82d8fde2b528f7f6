"""Proof of a step that places pieces: from every placement of every piece, whatever was placed before."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from statistics import fmean

from coach.cube import FACE_TURNS, PLACE_NAMES, POSITIONS
from coach.method.errors import MethodError
from coach.method.placing import LAYERS, LOWER_PIECES, Move, NoMoveError, Placement, PlacingStep, layer_of, moved

MOST_MOVES = 3
"""Allow this many moves for a piece, which is taken out once and put in once; more means that the file loops."""


@dataclass(frozen=True)
class PlacingProof:
    """The results for one step, over all pieces and all their placements."""

    step: PlacingStep
    placements: int
    worst_turns: int
    mean_turns: float


def prove_placing(step: PlacingStep) -> PlacingProof:
    """Prove that every piece gets home from everywhere and everything placed is kept. Raises MethodError."""
    starts = [(piece, placement) for piece in step.pieces for placement in placements(step, piece)]
    counts = [_prove_one(step, piece, placement) for piece, placement in starts]
    _prove_next(step, {layer_of(placement) for piece, placement in starts if placement != POSITIONS[piece]})
    return PlacingProof(step, len(counts), max(counts), fmean(counts))


def _prove_next(step: PlacingStep, layers: set[str]) -> None:
    """Prove that there is always a next piece and that the step ends: a piece taken out to the top is put in before
    another is taken out, and pieces at home stay there."""
    for layer, letter in LAYERS.items():
        if letter in layers - {*step.layers}:
            raise MethodError(
                f"In step {step.id!r}: next does not say when a piece in the {layer} layer is the next one. Add it."
            )
    if step.layers[0] != "U":
        raise MethodError(
            f"In step {step.id!r}: next must begin with the top. Else a piece is taken out while another goes in, and "
            f"so on for ever."
        )


def placements(step: PlacingStep, piece: str) -> list[Placement]:
    """All placements that turning can bring the piece to, except in places that an earlier step has filled with pieces
    of the same kind."""
    found = [POSITIONS[piece]]
    for placement in found:  # grows during the loop
        found += {moved(placement, (turn,)) for turn in FACE_TURNS} - set(found)
    filled = {place for name in _placed_before(step) for place in POSITIONS[name]}
    return [placement for placement in found if not filled & set(placement)]


def _placed_before(step: PlacingStep) -> list[str]:
    """The pieces of the earlier steps."""
    steps = [*LOWER_PIECES]
    return [piece for earlier in steps[: steps.index(step.id)] for piece in LOWER_PIECES[earlier]]


def _prove_one(step: PlacingStep, piece: str, start: Placement) -> int:
    """The number of face turns it takes from `start`; whatever is placed and can be kept must be kept."""
    kept = {name: POSITIONS[name] for name in _kept(step, piece, start)}
    after, turns = dict(kept), 0
    for move in _few_moves(step, piece, start):
        after = {name: moved(placement, move.turns) for name, placement in after.items()}
        turns += len(move.top) + len(move.sequence)
        for name, placement in kept.items():
            kept[name] = moved(placement, move.rotation)
            if after[name] != kept[name]:
                raise MethodError(
                    f"In case {move.case.id!r} of step {step.id!r}: the turns {move.case.named} take the piece "
                    f"{name}, which is placed already, out of its place again (where {piece} begins "
                    f"{_where(piece, start)}). Check these turns."
                )
    return turns


def _few_moves(step: PlacingStep, piece: str, start: Placement) -> Iterator[Move]:
    """The moves that bring the piece home. Raises MethodError if there are none or they do not end."""
    try:
        for number, move in enumerate(step.moves(start, POSITIONS[piece])):
            if number >= MOST_MOVES:
                raise MethodError(
                    f"Step {step.id!r} does not bring the piece {piece} into its place when it begins "
                    f"{_where(piece, start)}. Check the turns of the cases, and at, colour and on."
                )
            yield move
    except NoMoveError:
        raise MethodError(
            f"Step {step.id!r} has no case for the piece {piece} when it begins {_where(piece, start)}. "
            f"Add a case, or check at, colour and on of those there are."
        ) from None


def _kept(step: PlacingStep, piece: str, start: Placement) -> list[str]:
    """All pieces that this step and earlier ones may have placed, except in the slots the piece is in or goes to."""
    taken = {piece, *(name for name, places in POSITIONS.items() if set(places) == set(start))}
    return [name for name in (*_placed_before(step), *step.pieces) if name not in taken]


def _where(piece: str, placement: Placement) -> str:
    """Where a piece lies: the place of each of its stickers."""
    return f"with its {', '.join(piece)} stickers at {', '.join(PLACE_NAMES[place] for place in placement)}"
