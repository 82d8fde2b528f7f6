"""Which slips the learner may have described, out of all that was called since the cube was last known."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, pairwise

from coach.belief.slips.explanations import Slip
from coach.belief.slips.trail import Trail
from coach.cube import Turn
from coach.dialogue.meant import meant
from coach.dialogue.talk import Talk
from coach.method import NamedSequence


def described(talk: Talk, trail: Trail) -> Sequence[tuple[Slip, ...]]:
    """The slips that the learner may have described; several if it fits several."""
    parts = _parts(talk.attempts.sequence, trail.turns)
    return meant(talk.telling, trail.turns, trail.run_starts, parts, over=not trail.coming)


def _parts(sequence: NamedSequence | None, calls: Sequence[Turn]) -> Sequence[range]:
    """The calls of each part of the sequence where it was called last, as far as it was called."""
    turns = sequence.turns if sequence else ()
    found = (at for at in reversed(range(len(calls))) if tuple(calls[at : at + len(turns)]) == turns)
    whole = next(found, None)
    begun = (at for at in range(max(len(calls) - len(turns), 0), len(calls)) if turns[: len(calls) - at] == calls[at:])
    start = next(begun, None) if whole is None else whole
    if sequence is None or start is None:
        return ()
    ends = accumulate((len(group.turns) for group in sequence.groups), initial=start)
    return [range(begin, end) for begin, end in pairwise(ends) if end <= len(calls)]
