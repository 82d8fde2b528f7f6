"""Stickers misheard or misread: the most probable cube, and which stickers to ask about again.

Every sticker said is evidence, not fact: the likelihoods say how easily one colour is taken for another. Over
all legal cubes, they determine exactly the most probable reading and how probable each sticker is.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from typing import Final, TypeAlias

import numpy as np

from coach.belief.reading.completion import LEGAL, Completions, Floats, Law
from coach.belief.reading.stickers import UNKNOWN, KnownStickers, by_hold, by_letter, completions
from coach.cube import FACES, PLACE_NAMES, PLACE_NUMBER, Turn

Confusion: TypeAlias = Mapping[tuple[str, str], float]
"""The chance that a sticker of the first face's colour is said or heard as the second's."""
SELDOM: Final = 0.002
USUAL_CONFUSION: Final[Confusion] = {
    pair: rate
    for one, other, rate in (("L", "R", 0.02), ("D", "U", 0.008), ("B", "F", 0.008))
    for pair in ((one, other), (other, one))
}  # fmt: skip
"""The usual colours of these faces look or sound alike; all others are confused with the chance `SELDOM`. Estimates
without a source: only their order of magnitude matters."""
SURE: Final = 0.95
"""Treat a sticker as doubtful if it is less probable than this."""
_CONFIRMED: Final = 1e-6


@dataclass(frozen=True)
class Correction:
    """The most probable reading, given all that was said.

    `changed` has the stickers that differ from what was said (place: face of the colour), `doubtful` the
    places to ask about, most doubtful first; `sure` is the chance that all of `reading` is right. If the
    stickers said fit a legal cube, there is nothing to correct.
    """

    reading: KnownStickers
    changed: Mapping[str, str]
    doubtful: tuple[str, ...]
    sure: float


def likelihoods(
    reading: KnownStickers,
    confidence: Mapping[str, float] | None = None,
    confirmed: Collection[str] = (),
    *,
    confusion: Confusion = USUAL_CONFUSION,
) -> Floats:
    """[54 places, 6 faces]: the chance that each sticker of `reading` is said if it belongs to that face.

    `confidence` is the recogniser's for the places read (by default 1, so that only `confusion` counts; 0
    means that nothing was understood). `confirmed` are places that were asked about again.
    """
    table = _table(confusion)
    result = np.ones((54, 6))
    for place in range(54):
        face = reading.pattern[place]
        if face == UNKNOWN:
            continue
        said = table[:, FACES.index(face)]
        if place % 9 == 4:
            said = np.eye(6)[FACES.index(face)]
        elif PLACE_NAMES[place] in confirmed:
            said = np.where(np.arange(6) == FACES.index(face), 1.0, _CONFIRMED)
        heard = 1.0 if confidence is None else confidence.get(PLACE_NAMES[place], 1.0)
        result[place] = said if place % 9 == 4 else heard * said + (1 - heard) / 6
    return result


def after(likelihood: Floats, turns: Iterable[Turn]) -> Floats:
    """The likelihoods after the learner has turned the cube; multiply them by those of what is said next."""
    for turn in turns:
        likelihood = likelihood[list(turn.permutation)]
    return likelihood


def _table(confusion: Confusion) -> Floats:
    """[true face, said face]: the chances, each row adding up to 1."""
    table = np.full((6, 6), SELDOM)
    np.fill_diagonal(table, 0.0)
    for (true, said), rate in confusion.items():
        table[FACES.index(true), FACES.index(said)] = rate
    np.fill_diagonal(table, 1 - table.sum(axis=1))
    return table


def most_probable(reading: KnownStickers, likelihood: Floats | None = None, law: Law = LEGAL) -> Correction:
    """The most probable legal cube behind `reading`: its stickers at the places read, and what is doubtful.

    `likelihood` is as from `likelihoods` (by default with the usual confusion). With another `law`, the
    result is the most probable cube that breaks the laws in that way.
    """
    if completions(reading).by_law[law]:
        return Correction(reading, {}, (), 1.0)
    likelihood = likelihoods(reading) if likelihood is None else likelihood
    evidence = by_hold(reading, likelihood)
    cubes = Completions(evidence)
    share = by_letter(reading, cubes.stickers(law) / cubes.by_law[law])
    places = [PLACE_NUMBER[place] for place in reading.read]
    faces = _heaviest(reading, likelihood, places, share, law)
    best = reading.seeing({PLACE_NAMES[place]: FACES[face] for place, face in faces.items()})
    certainty = {place: float(share[place, face]) for place, face in faces.items()}
    weight = np.prod([likelihood[place, face] for place, face in faces.items()])
    agreeing = completions(best).by_law[law]
    return Correction(
        best,
        {place: best.pattern[PLACE_NUMBER[place]] for place in reading.read if _differ(best, reading, place)},
        tuple(PLACE_NAMES[p] for p in sorted(places, key=lambda p: certainty[p]) if certainty[p] < SURE),
        float(weight * agreeing / cubes.by_law[law]),
    )


def _heaviest(
    reading: KnownStickers, likelihood: Floats, places: list[int], share: Floats, law: Law
) -> dict[int, int]:
    """The faces at `places` of the likeliest cube; among equals, those with the greatest share."""
    with np.errstate(divide="ignore"):
        evidence = np.log(likelihood)
    while True:
        heaviest = by_letter(reading, Completions(by_hold(reading, evidence), best=True).stickers(law))
        equal = heaviest[places] >= heaviest[places].max(axis=1, keepdims=True) - 1e-9
        if (equal.sum(axis=1) == 1).all():
            return dict(zip(places, equal.argmax(axis=1).tolist(), strict=True))
        first = int((equal.sum(axis=1) > 1).argmax())
        chosen = int(np.where(equal[first], share[places[first]], -1.0).argmax())
        evidence[places[first], np.arange(6) != chosen] = -np.inf


def _differ(one: KnownStickers, other: KnownStickers, place: str) -> bool:
    return one.pattern[PLACE_NUMBER[place]] != other.pattern[PLACE_NUMBER[place]]
