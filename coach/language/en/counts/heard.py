"""How sure a count is of which there are several writings."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from coach.language.en.reader.claims import Weighted
from coach.language.meaning import Meaning

_LIKELIER: Final = 0.5


def surely(best: Meaning | None, chance: float, told: Sequence[tuple[float, Weighted]]) -> float:
    """How sure the likeliest meaning is, from each writing's share and what it may mean. Where more than half of the
    shares tell one number, those that tell none were written wrongly: only other numbers make it doubtful, such as
    "thirty" beside "thirteen"."""
    if not _counts(best) or chance < _LIKELIER:
        return chance
    return chance / sum(share for share, meanings in told if any(_counts(meaning) for meaning, _ in meanings))


def _counts(meaning: Meaning | None) -> bool:
    return meaning is not None and (meaning.number is not None or meaning.all_but is not None)
