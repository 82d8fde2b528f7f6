"""Where single pieces are, as far as the learner has said, and what this tells about the top."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from functools import cache

from coach.belief.evidence import Facts
from coach.belief.reading.stickers import UNKNOWN, KnownStickers, forced
from coach.belief.top.asking import balance
from coach.belief.top.belief import Belief, any_top, order_states
from coach.cube import FACE_TURNS, FACES, PLACE_NAMES, POSITIONS, position_of
from coach.cube.state import HOLDS
from coach.method.placing import Placement, moved


@cache
def placements(piece: str) -> tuple[Placement, ...]:
    """All 24 ways the piece (by its home position) can lie."""
    found = [POSITIONS[piece]]
    for placement in found:  # grows during the loop
        found += {moved(placement, (turn,)) for turn in FACE_TURNS} - set(found)
    return tuple(found)


def home(reading: KnownStickers, piece: str) -> Placement:
    """The home of the piece in the hold of `reading`: where its colours are next to the centres of the same colour."""
    faces = [reading.side(face) for face in piece]
    there = {PLACE_NAMES[place][0]: place for place in POSITIONS[position_of("".join(faces))]}
    return tuple(there[face] for face in faces)


def stickers_at_home(reading: KnownStickers, pieces: Iterable[str]) -> Facts:
    """The stickers of `pieces` as they are at home, sorted by place."""
    stickers = (zip(home(reading, piece), piece, strict=True) for piece in pieces)
    return tuple(sorted(sticker for piece in stickers for sticker in piece))


def whereabouts(reading: KnownStickers, piece: str) -> Placement | None:
    """Where the piece is, if this is known or follows from what is known."""
    for known in (reading, reading.seeing(forced(reading)) if len(reading.read) > 30 else reading):
        for placement in placements(piece):
            if all(known.pattern[p] == face for p, face in zip(placement, piece, strict=True)):
                return placement
    return None


def candidates(
    reading: KnownStickers, piece: str, place: str | None, shows: Mapping[str, str]
) -> tuple[Placement, ...]:
    """Where the piece may be if it is said to be at the position `place` (None: not said) with the colour of
    face f showing on face shows[f], given the other stickers known."""
    return tuple(
        placement
        for placement in placements(piece)
        if (place is None or set(placement) == set(POSITIONS[place]))
        and all(FACES[placement[piece.index(face)] // 9] == on for face, on in shows.items() if face in piece)
        and all(reading.pattern[p] in (UNKNOWN, face) for p, face in zip(placement, piece, strict=True))
    )


def with_piece(reading: KnownStickers, piece: str, placement: Placement) -> KnownStickers:
    """The reading with the piece known to be at `placement`."""
    return reading.seeing({PLACE_NAMES[p]: face for p, face in zip(placement, piece, strict=True)})


def with_home(reading: KnownStickers, pieces: Iterable[str]) -> KnownStickers:
    """The reading with `pieces` known to be at home."""
    for piece in pieces:
        reading = with_piece(reading, piece, home(reading, piece))
    return reading


def hold_turns(reading: KnownStickers) -> bytes:
    """The rotation from the upright hold to that of `reading`, as a permutation."""
    return HOLDS[bytes(9 * FACES.index(face) + 4 for face in reading.centres)]


def possible_tops(reading: KnownStickers, ordered: bool) -> Belief:
    """The patterns of the top that agree with `reading` when the two lower layers are done: out of the 216
    orientation states or, with `ordered`, out of the 288 orders of a top in one colour."""
    hold = hold_turns(reading)
    states = order_states() if ordered else any_top()
    held = ("".join(map(pattern.__getitem__, hold)) for pattern in states.patterns)
    if UNKNOWN not in reading.pattern:
        return Belief(frozenset({reading.pattern}))
    return Belief(frozenset(pattern for pattern in held if _agree(pattern, reading.pattern)))


def _agree(pattern: str, read: str) -> bool:
    return all(
        said in (UNKNOWN, true) or (true == "." and said != "U")
        for true, said in zip(pattern, read, strict=True)
    )


def certain(reading: KnownStickers, belief: Belief) -> KnownStickers:
    """The reading, plus all stickers that are the same in every pattern of `belief`."""
    letters = map(set, zip(*belief.patterns, strict=True))
    known = {place: face.pop() for place, face in zip(PLACE_NAMES, letters, strict=True) if len(face) == 1}
    return reading.seeing({place: face for place, face in known.items() if face != UNKNOWN})


def only_centres(reading: KnownStickers) -> KnownStickers:
    """The hold, and nothing else."""
    return reading.without(reading.read)


def telling_sticker(piece: str, possible: Sequence[Placement], alike: Collection[str]) -> tuple[int, str]:
    """The sticker (a place and the face of its colour) that splits `possible` best. Stickers that face the learner
    come before ones that they have to look for, and colours that look `alike` to them are left out."""
    pairs = (pair for placement in possible for pair in zip(placement, piece, strict=True))
    lying = Counter(pair for pair in pairs if pair[1] not in alike)
    return max(lying, key=lambda pair: (balance(lying[pair], len(possible)), "BDLRUF".index(FACES[pair[0] // 9])))
