"""From 54 stickers to a cube, or to the reasons why no cube can look like that.

Stickers are given as in `Cube.faces`: for every place, the letter of the face whose centre has that
colour when yellow is up and green in front (by default). The cube may be in any of its 24 holds.
Turning obeys three laws (any cube that breaks none of them can be solved): flipped edges come in pairs,
the twists of the corners cancel out, and the number of swaps is even.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from itertools import combinations, permutations
from typing import Final, TypeAlias

from coach.cube.geometry import CORNERS, EDGES, FACES, POSITIONS, clockwise_stickers, opposite, position_of
from coach.cube.problems import (
    DoublePiece,
    FlippedEdge,
    ImpossibleCube,
    MissingPiece,
    NoSuchPiece,
    Placed,
    Problem,
    SwappedPieces,
    TwistedCorner,
    WrongCentres,
    WrongCount,
)
from coach.cube.state import HOLDS, Cube


def from_faces(faces: str) -> Cube:
    """The cube that looks like `faces`, as it is held.

    Raises ImpossibleCube with all problems found if no turning leads there, and ValueError if `faces` is
    not 54 letters of FACES.
    """
    problems = find_problems(faces)
    if problems:
        raise ImpossibleCube(faces, problems)
    return Cube(_assembled(faces))


def find_problems(faces: str) -> tuple[Problem, ...]:
    """Why `faces` cannot be a cube; empty if it can.

    Flips, twists and swaps are checked only if every piece is there exactly once; otherwise they mean nothing.
    """
    if len(faces) != 54 or set(faces) - set(FACES):
        raise ValueError(f"54 letters of {FACES} are needed, not {faces[:60]!r}")
    problems = (*_wrong_counts(faces), *_wrong_centres(faces), *_wrong_pieces(faces))
    return problems or tuple(_broken_laws(_assembled(faces)))


def misread(faces: str) -> tuple[tuple[int, str], ...]:
    """Single stickers that would make `faces` a cube if they had another colour: (place, colour).

    Empty if one misread sticker does not explain it. This never explains pieces in a wrong place or
    orientation, because every colour is still there nine times then.
    """
    counts = Counter(faces)
    if sorted(counts.values()) != [8, 9, 9, 9, 9, 10]:
        return ()
    (many, _), *_, (few, _) = counts.most_common()
    places = [place for place in range(54) if faces[place] == many]
    return tuple(
        (place, few) for place in places if not find_problems(faces[:place] + few + faces[place + 1 :])
    )


def _wrong_counts(faces: str) -> Iterator[Problem]:
    counts = Counter(faces)
    for face in FACES:
        if counts[face] != 9:
            yield WrongCount(face, counts[face])


def _wrong_centres(faces: str) -> Iterator[Problem]:
    centres = faces[4::9]
    if bytes(9 * FACES.index(face) + 4 for face in centres) not in HOLDS:
        yield WrongCentres(centres)


def _colours(faces: str, position: str) -> str:
    return "".join(faces[place] for place in POSITIONS[position])


def _piece(faces: str, position: str) -> str | NoSuchPiece:
    """The home position of the piece at `position`, or why there is no such piece."""
    colours = _colours(faces, position)
    if len(set(colours)) < len(colours):
        return NoSuchPiece(position, colours, "repeated")
    if any(opposite(colour) in colours for colour in colours):
        return NoSuchPiece(position, colours, "opposite")
    piece = position_of(colours)
    if piece in CORNERS:
        cycle = "".join(faces[place] for place in clockwise_stickers(position))
        home = "".join(FACES[place // 9] for place in clockwise_stickers(piece))
        if cycle not in home * 2:
            return NoSuchPiece(position, colours, "mirrored")
    return piece


def _wrong_pieces(faces: str) -> Iterator[Problem]:
    where: dict[str, list[str]] = {piece: [] for piece in POSITIONS}
    for position in POSITIONS:
        piece = _piece(faces, position)
        if isinstance(piece, NoSuchPiece):
            yield piece
        else:
            where[piece].append(position)
    for piece, positions in where.items():
        if len(positions) > 1:
            yield DoublePiece(piece, tuple(positions))
        elif not positions:
            yield MissingPiece(piece)


def _assembled(faces: str) -> bytes:
    """The stickers of `faces` (as in Cube); every piece and centre must be recognisable."""
    stickers = bytearray(54)
    for position, places in POSITIONS.items():
        piece = position_of(_colours(faces, position))
        for place in places:
            stickers[place] = POSITIONS[piece][piece.index(faces[place])]
    for centre in range(4, 54, 9):
        stickers[centre] = 9 * FACES.index(faces[centre]) + 4
    return bytes(stickers)


def _broken_laws(stickers: bytes) -> Iterator[Problem]:
    cube = Cube(stickers).upright
    if sum(map(cube.flip_at, EDGES)) % 2:
        over: _Repairs = {(edge,): [_turned_over(edge)] for edge in EDGES}
        yield FlippedEdge(_likely(stickers, over))
    twist = sum(map(cube.twist_at, CORNERS)) % 3
    if twist:
        back: _Repairs = {(corner,): [_twisted(corner, 3 - twist)] for corner in CORNERS}
        yield TwistedCorner("clockwise" if twist == 1 else "anticlockwise", _likely(stickers, back))
    if _odd(cube, CORNERS) != _odd(cube, EDGES):
        pairs = [pair for kind in (EDGES, CORNERS) for pair in combinations(kind, 2)]
        swaps: _Repairs = {pair: _swaps(*pair) for pair in pairs}
        yield SwappedPieces(_likely(stickers, swaps))


def _odd(cube: Cube, positions: Mapping[str, tuple[int, ...]]) -> bool:
    """Whether bringing the pieces at `positions` home takes an odd number of swaps."""
    left = set(positions)
    odd = False
    while left:
        start = at = left.pop()
        while (at := cube.piece_at(at)) != start:
            left.remove(at)
            odd = not odd
    return odd


# A repair by hand: for each place that changes, the place its new sticker comes from.
_Repair: TypeAlias = Mapping[int, int]
# The possible repairs, by the positions of the pieces concerned.
_Repairs: TypeAlias = Mapping[tuple[str, ...], list[_Repair]]


def _turned_over(edge: str) -> _Repair:
    first, second = EDGES[edge]
    return {first: second, second: first}


def _twisted(corner: str, thirds: int) -> _Repair:
    """The repair that twists the corner clockwise by `thirds` of a turn."""
    cycle = clockwise_stickers(corner)
    return {cycle[(i + thirds) % 3]: cycle[i] for i in range(3)}


def _swaps(one: str, other: str) -> list[_Repair]:
    """Every way to swap the two pieces that keeps flips and twists as they are."""
    if one in EDGES:
        here, there = EDGES[one], EDGES[other]
        ways = list(permutations(there))
    else:
        here, there = clockwise_stickers(one), clockwise_stickers(other)
        ways = [there[i:] + there[:i] for i in range(3)]
    return [dict(zip((*here, *way), (*way, *here), strict=True)) for way in ways]


# Neighbouring places, clockwise round each face: on a solved cube, their stickers' homes are neighbours too.
_RING: Final = (0, 1, 2, 5, 8, 7, 6, 3)
_NEXT: Final = {
    9 * face + _RING[i]: 9 * face + _RING[(i + 1) % 8] for face in range(6) for i in range(8)
}  # fmt: skip
_CENTRE: Final = {place: place // 9 * 9 + 4 for places in EDGES.values() for place in places}
_JOINTS: Final = len(_NEXT) + len(_CENTRE)
_DOUBT: Final = 3


def _order(stickers: bytes) -> int:
    """How much of the cube is in order: the number of neighbouring stickers that join as on the solved cube."""
    ring = sum(_NEXT.get(stickers[place]) == stickers[after] for place, after in _NEXT.items())
    return ring + sum(_CENTRE.get(stickers[edge]) == stickers[centre] for edge, centre in _CENTRE.items())


def _likely(stickers: bytes, repairs: _Repairs) -> tuple[tuple[Placed, ...], ...]:
    """The pieces that probably need the repair: those whose repair leaves the most in order.

    The laws alone never tell which piece it is. If at least half of the cube is in order, the simplest
    explanation beats the others by far more than `_DOUBT` joints, if it can be told apart at all. On a
    scrambled cube nothing can be said and the result is empty.
    """
    order = {
        positions: max(_order(_repaired(stickers, repair)) for repair in ways)
        for positions, ways in repairs.items()
    }
    best = max(order.values())
    if best < _JOINTS / 2:
        return ()
    cube = Cube(stickers)
    return tuple(
        tuple(Placed(position, cube.piece_at(position)) for position in positions)
        for positions, value in order.items()
        if value >= best - _DOUBT
    )


def _repaired(stickers: bytes, repair: _Repair) -> bytes:
    changed = bytearray(stickers)
    for place, source in repair.items():
        changed[place] = stickers[source]
    return bytes(changed)
