"""What is behind stickers that do not fit: misread ones, a wrong turn, or a wrongly assembled cube.

Every explanation is weighed by its prior chance and by how probable it makes what was said, exactly, over
all cubes that obey or break the laws. If the coach knows which cube it should be (`expected`), the
explanations are the single slips and damages of that cube.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations, permutations
from typing import Final, Literal, TypeAlias

import numpy as np

from coach.belief.reading.completion import LEGAL, Completions, Floats, Law
from coach.belief.reading.correction import SURE, Correction, likelihoods, most_probable
from coach.belief.reading.stickers import UNKNOWN, KnownStickers, by_hold, by_letter, completions, ways
from coach.cube import CORNERS, EDGES, FACE_TURNS, FACES, PLACE_NUMBER, Cube, Problem, Turn, find_problems
from coach.cube.geometry import clockwise_stickers, compose

Kind: TypeAlias = Literal[
    "legal",  # nothing is wrong
    "misread",
    "wrong turn",
    "flipped edge",
    "twisted corner",
    "swapped pair",
    "taken apart",  # several laws are broken
    "another cube",  # neither the expected one nor the expected one after one slip
]
Damage: TypeAlias = Literal["flipped edge", "twisted corner", "swapped pair"]

DAMAGED: Final[Mapping[Damage, float]] = {
    "flipped edge": 0.004, "twisted corner": 0.008, "swapped pair": 0.003,
}  # fmt: skip
"""The prior chance of each damage to a learner's cube; corners twist by themselves, edges do not fall out. These
and the next two are estimates without a source."""
TAKEN_APART: Final = 0.005
WRONG_TURN: Final = 0.05
ANOTHER_CUBE: Final = 0.01


@dataclass(frozen=True)
class Diagnosis:
    """The most probable explanation, and how `sure` it is (its share of all explanations).

    `correction` says which stickers were misread (there may be some on a damaged cube, too). `problems`
    explains a damaged cube if all of it was read. `positions` are the pieces concerned and `turn` is the
    wrong turn, if a cube was expected.
    """

    kind: Kind
    sure: float
    correction: Correction
    problems: tuple[Problem, ...] = ()
    positions: tuple[str, ...] = ()
    turn: Turn | None = None


def diagnose(reading: KnownStickers, likelihood: Floats | None = None, expected: Cube | None = None) -> Diagnosis:
    """What is behind `reading`; with `expected` (in the same hold), what happened to that cube.

    `likelihood` is as from `correction.likelihoods` (by default with the usual confusion). It is ignored if
    the stickers make a complete set of pieces: slips seldom fit together that well, so it must be the cube
    itself. Raises ValueError if the centres read are not those of `expected`.
    """
    likelihood = likelihoods(reading) if likelihood is None else likelihood
    if UNKNOWN not in reading.pattern and completions(reading).by_law.any():
        likelihood = by_letter(reading, completions(reading).evidence)
    if expected is None:
        return _by_law(reading, likelihood)
    if expected.centres != reading.centres:
        raise ValueError(f"the cube expected is held {expected.centres}, the one read {reading.centres}")
    return _by_expectation(reading, likelihood, expected)


def _by_law(reading: KnownStickers, likelihood: Floats) -> Diagnosis:
    evidence = Completions(by_hold(reading, likelihood)).by_law * _law_chances()
    evidence /= evidence.sum()
    law = _law(int(evidence.argmax()))
    kind, sure = _kind_of(law), float(evidence.max())
    if kind == "twisted corner":
        sure = float(evidence[0, 0, 1:].sum())
    if law == LEGAL:
        return Diagnosis("legal" if ways(reading) else "misread", sure, most_probable(reading, likelihood))
    correction = most_probable(reading, likelihood, law)
    known = UNKNOWN not in correction.reading.pattern
    return Diagnosis(kind, sure, correction, find_problems(correction.reading.pattern) if known else ())


def _law(number: int) -> Law:
    swapped, rest = divmod(number, 6)
    return swapped, *divmod(rest, 3)


def _law_chances() -> Floats:
    """[swapped, flipped, twisted]: the prior chances. All classes have the same number of cubes."""
    chances = np.full((2, 2, 3), TAKEN_APART / 12)
    chances[1, 0, 0] += DAMAGED["swapped pair"]
    chances[0, 1, 0] += DAMAGED["flipped edge"]
    chances[0, 0, 1:] += DAMAGED["twisted corner"] / 2
    chances[LEGAL] += 1 - chances.sum()
    return chances


def _kind_of(law: Law) -> Kind:
    swapped, flipped, twisted = (bool(broken) for broken in law)
    match swapped, flipped, twisted:
        case False, False, False:
            return "legal"
        case True, False, False:
            return "swapped pair"
        case False, True, False:
            return "flipped edge"
        case False, False, True:
            return "twisted corner"
    return "taken apart"


@dataclass(frozen=True)
class _Explanation:
    kind: Kind
    chance: float
    faces: str
    positions: tuple[str, ...] = ()
    turn: Turn | None = None


def _by_expectation(reading: KnownStickers, likelihood: Floats, expected: Cube) -> Diagnosis:
    explanations = tuple(_explanations(expected))
    seen = np.array([[FACES.index(face) for face in it.faces] for it in explanations])
    chances = np.array([it.chance for it in explanations])
    weights = chances * likelihood[np.arange(54), seen].prod(axis=1)
    shares: dict[Kind, float] = defaultdict(float)
    for it, weight in zip(explanations, weights.tolist(), strict=True):
        shares[it.kind] += weight
    cubes = Completions(by_hold(reading, likelihood))
    shares["another cube"] = ANOTHER_CUBE * cubes.total / ways(KnownStickers.of(Cube()))
    kind = max(shares, key=lambda it: shares[it])
    if not shares[kind]:
        return _by_law(reading, likelihood)
    sure = shares[kind] / sum(shares.values())
    if kind == "another cube":
        return Diagnosis(kind, sure, most_probable(reading, likelihood))
    best = max(zip(weights, explanations, strict=True), key=lambda it: it[0] if it[1].kind == kind else -1)[1]
    correction = _as_explained(reading, best.faces, sure)
    if kind == "legal" and correction.changed:
        kind = "misread"
    problems = find_problems(best.faces) if kind in DAMAGED else ()
    return Diagnosis(kind, sure, correction, problems, best.positions, best.turn)


def _as_explained(reading: KnownStickers, faces: str, sure: float) -> Correction:
    true = {place: faces[PLACE_NUMBER[place]] for place in reading.read}
    changed = {place: face for place, face in true.items() if reading.pattern[PLACE_NUMBER[place]] != face}
    return Correction(reading.seeing(true), changed, tuple(changed) if sure < SURE else (), sure)


def _explanations(expected: Cube) -> Iterator[_Explanation]:
    """The expected cube: as it should be, after one wrong turn, and with one damage."""
    as_it_should = 1 - WRONG_TURN - sum(DAMAGED.values()) - ANOTHER_CUBE
    yield _Explanation("legal", as_it_should, expected.faces)
    for turn in FACE_TURNS:
        chance = WRONG_TURN / len(FACE_TURNS)
        yield _Explanation("wrong turn", chance, expected.turn(turn).faces, turn=turn)
    damages = tuple(_damages())
    many = Counter(kind for kind, _, _ in damages)
    for kind, positions, sources in damages:
        faces = Cube(compose(expected.stickers, sources)).faces
        yield _Explanation(kind, DAMAGED[kind] / many[kind], faces, positions)


def _damages() -> Iterator[tuple[Damage, tuple[str, ...], bytes]]:
    """Every damage, the positions concerned, and the place that the sticker at each place comes from."""
    for edge, places in EDGES.items():
        yield "flipped edge", (edge,), _moved(places, places[::-1])
    for corner in CORNERS:
        cycle = clockwise_stickers(corner)
        for thirds in (1, 2):
            yield "twisted corner", (corner,), _moved(cycle, cycle[thirds:] + cycle[:thirds])
    for one, other in combinations(EDGES, 2):
        for there in permutations(EDGES[other]):
            yield "swapped pair", (one, other), _moved(EDGES[one] + there, there + EDGES[one])
    for one, other in combinations(CORNERS, 2):
        here, cycle = clockwise_stickers(one), clockwise_stickers(other)
        for there in (cycle[thirds:] + cycle[:thirds] for thirds in range(3)):
            yield "swapped pair", (one, other), _moved(here + there, there + here)


def _moved(places: tuple[int, ...], sources: tuple[int, ...]) -> bytes:
    moved = bytearray(range(54))
    for place, source in zip(places, sources, strict=True):
        moved[place] = source
    return bytes(moved)
