"""Why a set of stickers cannot be a cube: as data, and in words for the learner."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from coach.cube.geometry import FACE_PLACES, FACES, WHOLE_TURNS, opposite

COLOURS: Final[Mapping[str, str]] = {
    "U": "yellow", "R": "orange", "F": "green", "D": "white", "L": "red", "B": "blue",
}  # fmt: skip
"""The usual colours of the faces when yellow is up and green in front."""


@dataclass(frozen=True)
class Placed:
    """A piece (by its home position) and the position where it is, as the cube is held."""

    position: str
    piece: str


@dataclass(frozen=True)
class WrongCount:
    """`colour` is there `count` times instead of nine."""

    colour: str
    count: int


@dataclass(frozen=True)
class WrongCentres:
    """The centres (`centres`, in the order of FACES) are so in no hold of the cube."""

    centres: str


@dataclass(frozen=True)
class NoSuchPiece:
    """No piece has `colours` (in the order of the letters of `position`).

    A colour is there twice, two colours are opposite each other, or a corner's three colours run round it
    the wrong way.
    """

    position: str
    colours: str
    why: Literal["repeated", "opposite", "mirrored"]


@dataclass(frozen=True)
class DoublePiece:
    """`piece` is at all of `positions`."""

    piece: str
    positions: tuple[str, ...]


@dataclass(frozen=True)
class MissingPiece:
    """`piece` is nowhere."""

    piece: str


@dataclass(frozen=True)
class FlippedEdge:
    """An odd number of edges is flipped. `likely` are the probable ones, one in each tuple; empty when
    nothing can be said."""

    likely: tuple[tuple[Placed, ...], ...] = ()


@dataclass(frozen=True)
class TwistedCorner:
    """The twists of the corners leave a third of a turn `over`. `likely` as in FlippedEdge."""

    over: Literal["clockwise", "anticlockwise"]
    likely: tuple[tuple[Placed, ...], ...] = ()

    @property
    def put_right(self) -> Literal["clockwise", "anticlockwise"]:
        """Which way to twist one corner by a third, looking at its tip."""
        return "anticlockwise" if self.over == "clockwise" else "clockwise"


@dataclass(frozen=True)
class SwappedPieces:
    """Two pieces are in each other's place. `likely` are the probable pairs."""

    likely: tuple[tuple[Placed, ...], ...] = ()


Problem: TypeAlias = (
    WrongCount
    | WrongCentres
    | NoSuchPiece
    | DoublePiece
    | MissingPiece
    | FlippedEdge
    | TwistedCorner
    | SwappedPieces
)


class ImpossibleCube(ValueError):
    """Stickers that no cube can show. `problems` says why, `explain` puts one into words."""

    def __init__(self, faces: str, problems: tuple[Problem, ...]) -> None:
        self.faces, self.problems = faces, problems
        more = f" And {len(problems) - 3} more." if len(problems) > 3 else ""
        super().__init__(" ".join(explain(problem) for problem in problems[:3]) + more)


_FACE_WORDS: Final = {
    "U": "top", "D": "bottom", "F": "front", "B": "back", "R": "right", "L": "left",
}  # fmt: skip


def place_in_words(position: str) -> str:
    """A position as one points at it: "the corner at the front right of the top"."""
    return f"the {_kind(position)} {_at(position)}"


def piece_in_words(piece: str, colour_names: Mapping[str, str] = COLOURS) -> str:
    """A piece by its colours: "the corner with yellow, green and orange"."""
    return f"the {_kind(piece)} with {_listed([colour_names[face] for face in piece])}"


def _listed(words: list[str], last: str = "and") -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {last} {words[-1]}"


def explain(problem: Problem, colour_names: Mapping[str, str] = COLOURS) -> str:
    """The problem in plain sentences, and what to do about it.

    `colour_names` gives the word for the colour of each face letter.
    """
    match problem:
        case WrongCount():
            return _explain_count(problem, colour_names)
        case WrongCentres():
            return _explain_centres(problem.centres, colour_names)
        case NoSuchPiece():
            return _explain_no_such_piece(problem, colour_names)
        case DoublePiece(piece, positions):
            return (
                f"{_first_up(piece_in_words(piece, colour_names))} is there {_times(len(positions))}: "
                f"{_listed([_at(position) for position in positions])}. "
                "A cube has only one. Check these again."
            )
        case MissingPiece(piece):
            words = piece_in_words(piece, colour_names)
            return f"{_first_up(words)} is nowhere. Find it, and tell me where it is."
        case FlippedEdge():
            return _explain_flip(problem, colour_names)
        case TwistedCorner():
            return _explain_twist(problem, colour_names)
        case SwappedPieces():
            return _explain_swap(problem, colour_names)


def _first_up(text: str) -> str:
    return text[0].upper() + text[1:]


def _kind(position: str) -> str:
    return "corner" if len(position) == 3 else "edge"


def _at(position: str) -> str:
    layer = _FACE_WORDS[position[0]] if position[0] in "UD" else "middle layer"
    side = " ".join(_FACE_WORDS[face] for face in position if face not in "UD")
    return f"at the {side} of the {layer}"


def _times(count: int) -> str:
    return {1: "once", 2: "twice"}.get(count, f"{count} times")


def _explain_count(problem: WrongCount, names: Mapping[str, str]) -> str:
    colour, count = names[problem.colour], problem.count
    if count > 9:
        return f"I have {colour} {count} times, but a cube has it nine times. Check where you found {colour}."
    found = f"only {_times(count)}" if count else "nowhere"
    return f"I have {colour} {found}, but a cube has it nine times. Check where else you find {colour}."


def _explain_centres(centres: str, names: Mapping[str, str]) -> str:
    if len(set(centres)) < 6:
        twice = next(face for face in FACES if centres.count(face) > 1)
        return (
            f"Two centres have {names[twice]}, but each centre is different. Check the six centres again."
        )
    for colour, across_it in zip(centres[::2], centres[1::2], strict=True):
        if across_it != opposite(colour):
            across = names[opposite(colour)]
            return (
                f"The centres across from each other don't match: {across} must be across from "
                f"{names[colour]}. Check the six centres again. If a centre cap came off, swap it back."
            )
    held = dict(zip(FACES, centres, strict=True))
    right = _right_of(up=held["U"], front=held["F"])
    return (
        f"The centres are as in a mirror: with {names[held['U']]} on top and {names[held['F']]} in front, "
        f"{names[right]} must be on the right, not on the left. Check the left and right centres again. "
        "If centre caps came off, swap them back."
    )


def _right_of(up: str, front: str) -> str:
    """The face that is on the right when `up` is on top and `front` in front."""
    holds = ({face: FACES[hold[places[4]] // 9] for face, places in FACE_PLACES.items()} for hold in WHOLE_TURNS)
    return next(hold["R"] for hold in holds if (hold["U"], hold["F"]) == (up, front))


def _explain_no_such_piece(problem: NoSuchPiece, names: Mapping[str, str]) -> str:
    kind = _kind(problem.position)
    words = [names[colour] for colour in problem.colours]
    seen = f"{_first_up(place_in_words(problem.position))} can't have {_listed(words)}"
    if problem.why == "repeated":
        return f"{seen}: no {kind} has the same twice. Check it again."
    if problem.why == "opposite":
        one = next(colour for colour in problem.colours if opposite(colour) in problem.colours)
        pair = f"{names[one]} and {names[opposite(one)]}"
        return f"{seen}: {pair} are on opposite sides, so no {kind} has both. Check it again."
    return (
        f"{seen} in this order: they go round the other way. "
        "Perhaps you told me two of them the wrong way round. Check it again."
    )


def _probably(likely: tuple[tuple[Placed, ...], ...], names: Mapping[str, str]) -> str:
    """ "Most likely it is ...", or that it cannot be known."""
    if not 1 <= len(likely) <= 4:
        return "I can't tell which."
    if len(likely) == 1:
        spots = [f"{piece_in_words(it.piece, names)}, {_at(it.position)}" for it in likely[0]]
        return f"Most likely {'it is' if len(spots) == 1 else 'they are'} {', and '.join(spots)}."
    words = [" with ".join(place_in_words(it.position) for it in option) for option in likely]
    return f"Most likely it is one of these: {_listed(words, 'or')}."


def _it_or_one(likely: tuple[tuple[Placed, ...], ...], kind: str) -> str:
    return "it" if len(likely) == 1 else f"any {kind}"


def _explain_flip(problem: FlippedEdge, names: Mapping[str, str]) -> str:
    return (
        "One edge is in the cube the wrong way round. Turning the sides never does that, so it was put in like that. "
        f"{_probably(problem.likely, names)} If it really is so, turn a side next to it an eighth of a "
        f"turn, lift {_it_or_one(problem.likely, 'edge')} out, turn it over and press it in again."
    )


def _explain_twist(problem: TwistedCorner, names: Mapping[str, str]) -> str:
    return (
        "One corner is twisted in its place. Turning the sides never does that. "
        f"{_probably(problem.likely, names)} If it really is so, hold "
        f"{_it_or_one(problem.likely, 'corner')} between finger and thumb, with its tip towards you, and "
        f"twist it {problem.put_right} by a third."
    )


def _explain_swap(problem: SwappedPieces, names: Mapping[str, str]) -> str:
    which = "them" if len(problem.likely) == 1 else "any two edges"
    return (
        "Two pieces are in each other's place. Turning the sides never does that, so they were put in like that. "
        f"{_probably(problem.likely, names)} If they really are so, turn a side next to one an eighth of a "
        f"turn, lift {which} out and swap them."
    )
