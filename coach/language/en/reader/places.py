"""From probabilities to where a piece is and how it lies."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from coach.cube.geometry import CORNERS, EDGES, FACES, PLACE_NAMES, POSITIONS, turning_order
from coach.language.en.reader.deduction import UNEXPECTED, Flags, Space, weighed
from coach.language.en.reader.heads import HEAD
from coach.language.en.reader.network import Read
from coach.language.en.reader.roles import is_named
from coach.language.meaning import USUAL_COLOURS, Meaning, Scene

_CLEAR: Final = 0.8
_NAMED_FOR_NOTHING: Final = 0.2
"""The relative weight of a colour that is named without saying where it faces."""
_FACE_OF_ROLE: Final = {role: face for face, role in USUAL_COLOURS.items()}


class Placements:
    """A piece, given by the faces of its home: all ways in which it can lie, and what can be said about them."""

    def __init__(self, home: tuple[str, ...]) -> None:
        self.home = home
        positions = EDGES if len(home) == 2 else CORNERS
        self._ways = [
            (position, dict(zip(home, faces[turn:] + faces[:turn], strict=True)))
            for position in positions
            for faces in (turning_order(position),)
            for turn in range(len(faces))
        ]
        self._stickers = [{own: _place(at, face) for own, face in lies.items()} for at, lies in self._ways]
        self._kind = np.array([len(value) in (0, len(home)) for value in HEAD["place"].classes])
        said: list[Flags] = [
            self._which(lambda value, position, _: sorted(value) == sorted(position), "place"),
            self._which(lambda value, position, _: _layer(position) == value, "layer"),
            self._which(self._at_home, "case"),
        ]
        said += [self._which(lambda value, _, lies, own=own: lies[own] == value, f"shows-{own}") for own in home]
        self.space = Space(said)

    def _which(self, holds, head: str) -> Flags:  # type: ignore[no-untyped-def]
        """For each class of a head, the ways that agree with it; the class for nothing said agrees with all."""
        values = HEAD[head].classes[1:]
        rows = [[bool(holds(value, position, lies)) for position, lies in self._ways] for value in values]
        return np.array([[True] * len(self._ways), *rows])

    def _at_home(self, value: str, position: str, lies: dict[str, str]) -> bool:
        right = all(own == face for own, face in lies.items())
        at_home = sorted(position) == sorted(self.home)
        return at_home and (value == "home" or value == ("home-right" if right else "home-wrong"))

    def read(self, read: Read, words: Sequence[str], scene: Scene) -> list[tuple[Meaning | None, float]]:
        """What `words` (roles) say, likeliest first, with probabilities."""
        names = scene.colours
        logs = [np.where(self._kind, read.of("place"), -np.inf), read.of("layer"), read.of("case")]
        logs += self._shows(read, words)
        chances, contradicted = weighed(self.space.chances(logs), self.space.left, self._expected(scene))
        best = np.argsort(-chances)[:4]
        told = [(self._meant(self.space.left[group], names), float(chances[group])) for group in best]
        if told[0][1] < _CLEAR:
            return [*self._only_where(chances), *told, (None, contradicted)]
        return [*told, (None, contradicted)]

    def _expected(self, scene: Scene) -> NDArray[np.float64]:
        """A prior weight for each way, by whether the coach believes that the piece can lie like that."""
        seen = [{own: scene.seen.get(place) for own, place in each.items()} for each in self._stickers]
        fits = [all(word in (None, scene.colours[own]) for own, word in each.items()) for each in seen]
        return np.where(fits, 1.0, UNEXPECTED)

    def _only_where(self, chances: NDArray[np.float64]) -> list[tuple[Meaning | None, float]]:
        """Only the place, if the likely readings agree on it and differ in how the piece lies."""
        at: dict[str, float] = {}
        for group, chance in enumerate(chances):
            positions = {self._ways[way][0] for way in np.nonzero(self.space.left[group])[0]}
            if len(positions) == 1:
                position = positions.pop()
                at[position] = at.get(position, 0.0) + float(chance)
        position = max(at, key=lambda each: at[each])
        return [(Meaning(place=position), at[position])] if at[position] >= _CLEAR else []

    def _shows(self, read: Read, words: Sequence[str]) -> list[NDArray[np.float32]]:
        """The log probabilities of where each colour faces: if some of the piece's colours are named, nothing is said
        about the others, and probably something about these."""
        named = [is_named(own, words) for own in self.home]
        logs = [read.of(f"shows-{own}") for own in self.home]
        first = np.arange(len(logs[0])) == 0  # the class for nothing said
        unsaid = np.where(first, np.float32(0), np.float32(-np.inf))
        if not any(named):
            return logs
        return [_likelier(log, first) if is_named else unsaid for log, is_named in zip(logs, named, strict=True)]

    def _meant(self, left: Flags, names: Mapping[str, str]) -> Meaning:
        ways = [way for way, is_left in zip(self._ways, left, strict=True) if is_left]
        positions = {position for position, _ in ways}
        shows = {names[own]: ways[0][1][own] for own in self.home if len({lies[own] for _, lies in ways}) == 1}
        return Meaning(place=positions.pop() if len(positions) == 1 else None, shows=shows)


def _likelier(log: NDArray[np.float32], unlikely: Flags) -> NDArray[np.float32]:
    """The log probabilities after making some classes less likely."""
    chances = np.exp(log) * np.where(unlikely, _NAMED_FOR_NOTHING, 1.0)
    return np.asarray(np.log(chances / chances.sum()), np.float32)


def _place(position: str, face: str) -> str:
    """The name of the sticker of a position on a given face."""
    return next(name for name in map(PLACE_NAMES.__getitem__, POSITIONS[position]) if name[0] == face)


def _layer(position: str) -> str:
    return position[0] if position[0] in "UD" else "M"


def of_any_piece(read: Read, names: Mapping[str, str]) -> tuple[Meaning | None, float]:
    """What is said about an unknown piece: its place and where its colours face, exactly as said."""
    heads = ["place", *(f"shows-{own}" for own in FACES)]
    said = [HEAD[head].classes[read.of(head).argmax()] for head in heads]
    chance = float(np.exp(sum(read.of(head).max() for head in heads)))
    shows = {names[own]: face for own, face in zip(FACES, said[1:], strict=True) if face}
    return Meaning(place=said[0] or None, shows=shows), chance


@lru_cache(maxsize=72)  # 12 edges and 8 corners with their colours in any order
def placements(roles: Sequence[str]) -> Placements | None:
    """The piece with these colours (roles); None if no piece has them."""
    faces = sorted(_FACE_OF_ROLE[role] for role in roles if role in _FACE_OF_ROLE)
    home = next((name for name in (*EDGES, *CORNERS) if sorted(name) == faces), None)
    return Placements(turning_order(home)) if home else None
