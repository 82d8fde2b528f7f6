"""Why a cube cannot be solved, in sentences with the learner's words, and what to do about it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from coach.cube import FACES, WHOLE_TURNS, Cube, Problem, opposite
from coach.cube.problems import (
    DoublePiece,
    FlippedEdge,
    Likely,
    MissingPiece,
    NoSuchPiece,
    SwappedPieces,
    TwistedCorner,
    WrongCentres,
    WrongCount,
)
from coach.language.phrases import Phrases


def explained(phrases: Phrases, problem: Problem, colours: Mapping[str, str]) -> str:
    """What is wrong and what to do; `colours` are the learner's words for the faces' colours."""
    return _Words(phrases, colours).explained(problem)


@dataclass(frozen=True)
class _Words:
    phrases: Phrases
    colours: Mapping[str, str]

    def explained(self, problem: Problem) -> str:
        match problem:
            case WrongCount(colour, count):
                key = "too-many" if count > 9 else "too-few" if count else "nowhere"
                return self._say(key, colour=self.colours[colour], times=self._times(count))
            case WrongCentres(centres):
                return self._centres(centres)
            case NoSuchPiece(position, faces, why):
                words = self._all(faces)
                pair = (face for face in faces if opposite(face) in faces)
                both = self._list("and", [self.colours[face] for face in pair]) if why == "opposite" else ""
                kind = self._part(_kind(position))
                return self._say(why, place=self._place(position), colours=words, kind=kind, both=both)
            case DoublePiece(piece, positions):
                places = self._list("and", [self._at(position) for position in positions])
                return self._say("double", piece=self._piece(piece), times=self._times(len(positions)), places=places)
            case MissingPiece(piece):
                return self._say("missing", piece=self._piece(piece))
            case FlippedEdge(likely):
                return self._say("flipped", likely=self._likely(likely), it=self._it(likely, "any-edge"))
            case TwistedCorner(_, likely):
                key = f"twisted-{problem.put_right}"
                return self._say(key, likely=self._likely(likely), it=self._it(likely, "any-corner"))
            case SwappedPieces(likely):
                which = self._part("them" if len(likely) == 1 else "any-edges")
                return self._say("swapped", likely=self._likely(likely), them=which)

    def _say(self, key: str, **values: object) -> str:
        return self.phrases.say(f"problem.{key}", 0, **values)

    def _part(self, key: str, **values: object) -> str:
        return self.phrases.part(f"problem.{key}", 0, **values)

    def _list(self, way: str, words: Sequence[str]) -> str:
        return words[0] if len(words) == 1 else self._part(way, some=", ".join(words[:-1]), last=words[-1])

    def _all(self, faces: str) -> str:
        return self._list("and", [self.colours[face] for face in faces])

    def _times(self, count: int) -> str:
        return self._part(f"times-{count}" if count in (1, 2) else "times", count=count)

    def _piece(self, piece: str) -> str:
        return self._part("piece", kind=self._part(_kind(piece)), colours=self._all(piece))

    def _at(self, position: str) -> str:
        sides = " ".join(self.phrases.part(f"sides.{face}") for face in position if face not in "UD")
        layer = f"faces.{position[0]}" if position[0] in "UD" else "layers.M"
        return self._part("at", sides=sides, layer=self.phrases.part(layer))

    def _place(self, position: str) -> str:
        return self._part("place", kind=self._part(_kind(position)), at=self._at(position))

    def _centres(self, centres: str) -> str:
        twice = next((face for face in FACES if centres.count(face) > 1), None)
        if twice:
            return self._say("centres-twice", colour=self.colours[twice])
        for colour, across in zip(centres[::2], centres[1::2], strict=True):
            if across != opposite(colour):
                return self._say("centres-across", colour=self.colours[colour], across=self.colours[opposite(colour)])
        held = dict(zip(FACES, centres, strict=True))
        possible = (dict(zip(FACES, Cube(hold).centres, strict=True)) for hold in WHOLE_TURNS)
        right = next(hold["R"] for hold in possible if (hold["U"], hold["F"]) == (held["U"], held["F"]))
        words = self.colours
        return self._say("centres-mirror", up=words[held["U"]], front=words[held["F"]], right=words[right])

    def _likely(self, likely: Likely) -> str:
        """ "Most likely it is ...", or that this cannot be known."""
        if not 1 <= len(likely) <= 4:
            return self._part("likely-unknown")
        if len(likely) == 1:
            spots = [self._part("spot", piece=self._piece(it.piece), at=self._at(it.position)) for it in likely[0]]
            key = "likely-one" if len(spots) == 1 else "likely-two"
            return self._part(key, one=spots[0], other=spots[-1])
        places = [[self._place(it.position) for it in option] for option in likely]
        options = [self._part("pair", one=one, other=rest[0]) if rest else one for one, *rest in places]
        return self._part("likely-some", options=self._list("or", options))

    def _it(self, likely: Likely, otherwise: str) -> str:
        return self._part("it" if len(likely) == 1 else otherwise)


def _kind(position: str) -> str:
    return "corner" if len(position) == 3 else "edge"
