"""What the learner has said about the stickers, and how probable a cube makes it.

What may be on a sticker place is given as six chances, one for each face of FACES that its colour may belong to.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final, Protocol, TypeAlias

import numpy as np
from numpy.typing import NDArray

from coach.belief.top.belief import TOP_CORNERS, TOP_EDGES, shapes
from coach.cube import FACE_PLACES, FACES, PLACE_NAMES, PLACE_NUMBER, POSITIONS, Claim

Chances = NDArray[np.float64]
Facts: TypeAlias = tuple[tuple[int, str], ...]
"""Stickers, each as its place (0 to 53) and the face of its colour."""

ASIDE: Final = 0.04
"""The chance that an answer tells nothing about the cube because it is misheard or wrongly described. An
estimate without a source."""
_MISREAD: Final = 0.01
"""The chance that a single colour is read out as another one. An estimate without a source."""
_CHECK: Final = 4
"""Count a claim of at least this many stickers as a check; smaller claims are questions about a row or a sticker."""
_LOOSELY: Final = 0.1
"""The chance of a reason that is nowhere among the stickers in question. An estimate without a source."""
_CERTAIN: Final = 1 - 1e-9
_UP: Final = FACES.index("U")


def claim_of(facts: Facts) -> Claim:
    """The claim that these facts hold, with the places by name."""
    return tuple((PLACE_NAMES[place], face) for place, face in facts)


def facts_of(claim: Claim) -> Facts:
    """What a claim says, with the places by number."""
    return tuple((PLACE_NUMBER[place], face) for place, face in claim)


def chances_of(patterns: Sequence[str], not_up: bool) -> Chances:
    """[patterns, 54, 6] what may be on each sticker. "-", and with `not_up` also ".", is any colour but the top's."""
    table = np.zeros((128, 6))
    table[[ord(face) for face in FACES]] = np.eye(6)
    table[ord("-")] = np.where(np.arange(6) == _UP, 0.0, 0.2)
    table[ord(".")] = table[ord("-")] if not_up else 1 / 6
    letters = np.frombuffer("".join(patterns).encode("ascii"), np.uint8)
    return table[letters.reshape(-1, 54)]


class Observation(Protocol):
    """Something that the learner has said about the stickers at `places` (numbers 0 to 53)."""

    @property
    def places(self) -> tuple[int, ...]: ...

    @property
    def by_chance(self) -> float:
        """The chance that it would be said whatever the cube."""
        ...

    def chance(self, shown: Chances) -> Chances:
        """[...] the chance that it is said about a cube with the stickers `shown` [..., places, 6]."""
        ...


def weigh(observation: Observation, shown: Chances) -> Chances:
    """The chance of the observation, allowing for mishearings and wrong descriptions. It is scaled so that the
    product of a hundred of these neither overflows nor underflows."""
    least = ASIDE * observation.by_chance
    said = observation.misread(shown) if isinstance(observation, Stickers) else observation.chance(shown)
    return np.asarray(((1 - ASIDE) * said + least) / math.sqrt(least))


def weigh_aside(observation: Observation) -> float:
    """The chance that it is said although it tells nothing about the cube, scaled as in `weigh`."""
    return math.sqrt(ASIDE * observation.by_chance)


def follows(observation: Observation, known: Mapping[int, str]) -> bool:
    """Whether it is certain to be said about a cube with the stickers `known` (place: face of the colour)."""
    return _chance(observation, known) > _CERTAIN


def ruled_out(observation: Observation, known: Mapping[int, str]) -> bool:
    """Whether it cannot be said about a cube with the stickers `known`, unless it is wrong."""
    return _chance(observation, known) < 1 - _CERTAIN


def _chance(observation: Observation, known: Mapping[int, str]) -> float:
    pattern = "".join(known.get(place, ".") for place in range(54))
    shown = chances_of([pattern], not_up=False)[:, list(observation.places)]
    return float(observation.chance(shown)[0])


@dataclass(frozen=True)
class Stickers:
    """Stickers that were read."""

    facts: Facts

    @property
    def places(self) -> tuple[int, ...]:
        return tuple(place for place, _ in self.facts)

    @property
    def by_chance(self) -> float:
        return float(6.0 ** -len(self.facts))

    def chance(self, shown: Chances) -> Chances:
        return _all_agree(self.facts, shown)

    def misread(self, shown: Chances) -> Chances:
        """The same chance if single colours may be wrong."""
        return np.asarray(((1 - _MISREAD) * _agreeing(self.facts, shown) + _MISREAD / 6).prod(axis=-1))


@dataclass(frozen=True)
class Answered:
    """A yes or no to the question whether all of these facts hold. A no may come with its reason: one of the stickers
    `because`, at the same places, unless it was told loosely."""

    facts: Facts
    yes: bool
    because: Facts = ()

    @property
    def check(self) -> bool:
        """Whether it is about more than a row or a sticker."""
        return len(self.facts) >= _CHECK

    @classmethod
    def of(cls, claim: Claim, yes: bool) -> Answered:
        """The answer to a claim."""
        return cls(facts_of(claim), yes)

    @property
    def places(self) -> tuple[int, ...]:
        return tuple(place for place, _ in self.facts)

    @property
    def by_chance(self) -> float:
        return 0.5

    def chance(self, shown: Chances) -> Chances:
        agree = _all_agree(self.facts, shown)
        if self.yes:
            return agree
        return np.asarray((1 - agree) * (_LOOSELY + (1 - _LOOSELY) * self._seen(shown)))

    def _seen(self, shown: Chances) -> Chances | float:
        """[...] the chance that one of the stickers of the reason is there."""
        if not self.because:
            return 1.0
        columns = [self.places.index(place) for place, _ in self.because]
        faces = [FACES.index(face) for _, face in self.because]
        return np.asarray(np.minimum(shown[..., columns, faces].sum(axis=-1), 1.0))


@dataclass(frozen=True)
class Look:
    """A description of the top: where its colour shows (True) or not, how often, and in which shape."""

    look: Mapping[str, bool] = field(default_factory=dict)
    edges: int | None = None
    corners: int | None = None
    shape: str | None = None

    @property
    def places(self) -> tuple[int, ...]:
        top = FACE_PLACES["U"]
        return (*top, *sorted({PLACE_NUMBER[place] for place in self.look}.difference(top)))

    @property
    def by_chance(self) -> float:
        return 0.1

    def chance(self, shown: Chances) -> Chances:
        up = shown[..., _UP]
        result = np.ones(up.shape[:-1])
        column = {PLACE_NAMES[place]: number for number, place in enumerate(self.places)}
        for place, said in self.look.items():
            there = up[..., column[place]]
            result = result * (there if said else 1 - there)
        seen = up > 0.5
        edges = seen[..., [column[place] for place in TOP_EDGES]]
        if self.edges is not None:
            result = result * (edges.sum(axis=-1) == self.edges)
        if self.corners is not None:
            result = result * (seen[..., [column[place] for place in TOP_CORNERS]].sum(axis=-1) == self.corners)
        if self.shape is not None:
            ways = [[place in way for place in TOP_EDGES] for way in shapes(self.shape)]
            result = result * np.any([(edges == way).all(axis=-1) for way in ways], axis=0)
        return np.asarray(result)


@dataclass(frozen=True)
class Fell:
    """The cube fell, and a side has `turned` with it as far as the learner knows (None: they cannot tell). It says
    nothing about any sticker, but it is where something may have turned that nobody called."""

    turned: bool | None
    places: tuple[int, ...] = ()
    by_chance: float = 1.0

    def chance(self, shown: Chances) -> Chances:
        return np.ones(shown.shape[:-2])


@dataclass(frozen=True)
class OneOf:
    """A piece lies in one of these ways, each given by its stickers."""

    options: tuple[Facts, ...]

    @property
    def places(self) -> tuple[int, ...]:
        return tuple(sorted({place for option in self.options for place, _ in option}))

    @property
    def by_chance(self) -> float:
        return len(self.options) / 24

    def chance(self, shown: Chances) -> Chances:
        columns = {place: column for column, place in enumerate(self.places)}
        chances = [
            shown[..., [columns[place] for place, _ in option], [FACES.index(face) for _, face in option]].prod(axis=-1)
            for option in self.options
        ]
        return np.asarray(np.minimum(np.sum(chances, axis=0), 1.0))


def stickers_meant(facts: Facts, side: str, face: str) -> Facts:
    """The stickers that somebody may mean who denies `facts` because there is the colour of `face` at a side: one on
    any of their pieces that lie there, wherever on the piece."""
    return tuple((place, face) for place, colour in facts if colour != face and side in _sides_of(place))


def _sides_of(place: int) -> str:
    """The sides that the piece with the sticker at `place` lies on."""
    return next((position for position, places in POSITIONS.items() if place in places), PLACE_NAMES[place][0])


def _all_agree(facts: Facts, shown: Chances) -> Chances:
    return np.asarray(_agreeing(facts, shown).prod(axis=-1))


def _agreeing(facts: Facts, shown: Chances) -> Chances:
    """[..., facts] the chance of each fact."""
    return np.asarray(shown[..., np.arange(len(facts)), [FACES.index(face) for _, face in facts]])
