"""Where a piece is and how it lies: descriptions to a position and the faces of its colours."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import product

from coach.language.en.cells import OPPOSITE
from coach.language.en.context import emphatic
from coach.language.en.lexicon import Token

POSITIONS = tuple(
    "".join(parts)
    for parts in [
        *product("UD", "FB", "RL"),
        *product("UD", "FB"),
        *product("UD", "RL"),
        *product("FB", "RL"),
    ]
)
ORDER = "UDFBRL"
_TURNING = ("UFR", "URB", "UBL", "ULF", "DRF", "DFL", "DLB", "DBR")
"""The faces of each corner, clockwise seen from outside."""
_RETRACTS = ("no", "sorry", "actually")
_PAGE = {"pageB": "U", "pageF": "D"}


@dataclass
class Facing:
    """The colour that a clause speaks of, and the face it is said to be on."""

    colour: str | None = None
    face: str | None = None
    verb: bool = False  # "faces", "points": what comes after is where it faces
    before: list[str] = field(default_factory=list)  # directions named before any colour


class PieceReader:
    """Collects the place, the layer and the facing colours from the tokens of an answer."""

    def __init__(self, names: Sequence[str]) -> None:
        self.names = names
        self.place: list[str] = []
        self.middle = False
        self.shows: dict[str, str] = {}
        self.colours: list[str] = []
        self.kind = ""
        self.correcting = False  # what comes next replaces what was said
        self.waiting: str | None = None  # a colour whose direction is still to come
        self.latest: str | None = None
        self.clashes = False  # not all the directions named can be those of one place

    def read(self, tokens: Sequence[Token]) -> None:
        """Take an answer in."""
        for clause in _clauses(_settle(tokens)):
            self.correcting = self.correcting or clause[0].kind == "correct"
            self._clause(clause)
            self.correcting = self.correcting and not _has_direction(clause)

    def _clause(self, clause: Sequence[Token]) -> None:
        facing, negated = Facing(self.waiting), False
        self.waiting = None
        for at, token in enumerate(clause):
            if token.kind == "neg" or token.value == "none":
                negated = True
            elif token.kind == "colour" and token.value in self.names:
                facing = self._colour(token.value, facing, clause[:at], clause[at + 1 :])
            elif token.kind == "noun" and token.value in ("corner", "edge"):
                self.kind = token.value
            elif token.kind in ("dir", "hand", "layer", "facedir"):
                if not negated:
                    self._directions(token, facing)
                negated = False
            elif token.kind == "face" and token.value != "away":
                self._verb(facing)
        if facing.colour and not facing.face and (clause[-1].kind == "colour" or clause[-1].value == "side"):
            self.waiting = facing.colour
        self.latest = facing.colour or self.latest

    def _colour(self, colour: str, facing: Facing, before: Sequence[Token], ahead: Sequence[Token]) -> Facing:
        if colour not in self.colours:
            self.colours.append(colour)
        if _identifies(ahead):
            return facing
        if facing.before and not _has_direction(ahead) and _said_backwards(before):
            self._show(colour, facing.before.pop())
            return facing
        return Facing(colour, before=facing.before)

    def _verb(self, facing: Facing) -> None:
        """"The white one on the right faces up": what was taken for its face was its place."""
        if facing.colour and facing.face and not facing.verb:
            self._locate(facing.face)
            self.shows.pop(facing.colour, None)
            facing.face = None
        facing.verb = True

    def _directions(self, token: Token, facing: Facing) -> None:
        facing.verb = facing.verb or token.kind == "facedir"
        for direction in _PAGE.get(token.value, token.value):
            if direction == "M":
                self.clashes = self.clashes or (bool({"U", "D"} & set(self.place)) and not self.correcting)
                self.middle = True
            elif token.kind == "layer" and facing.face:
                self._locate(direction)
            elif facing.colour and facing.face in (None, direction):
                facing.face = direction
                self._show(facing.colour, direction)
            elif facing.colour and facing.verb and facing.face and OPPOSITE[facing.face] == direction:
                continue
            elif token.kind == "facedir" and self.latest and not facing.colour:
                self._show(self.latest, direction)
            else:
                facing.before.append(direction)
                self._locate(direction)

    def _show(self, colour: str, direction: str) -> None:
        if self.shows.get(colour, direction) == direction or self.correcting:
            self.shows[colour] = direction
        else:
            self._locate(direction)

    def _locate(self, direction: str) -> None:
        """One more direction of the place; one that contradicts it counts only as a correction."""
        if OPPOSITE[direction] in self.place:
            if not self.correcting:
                self.clashes = True
                return
            self.place.remove(OPPOSITE[direction])
        if direction in "UD" and self.middle and not self.correcting:
            self.clashes = True
            return
        if direction not in self.place:
            self.place.append(direction)


def _settle(tokens: Sequence[Token]) -> list[Token]:
    """"The right face" is a side, not a facing; a bare "no" between places takes the last one back."""
    out: list[Token] = []
    for at, token in enumerate(tokens):
        last = tokens[at - 1] if at else Token("", "", "")
        following = tokens[at + 1] if at + 1 < len(tokens) else Token("", "", "")
        before, after = last.kind, following.kind
        if emphatic(last, token, following):
            continue
        if token.kind == "face" and token.words in ("face", "faces") and before in ("dir", "layer", "det") and (
            after not in ("dir", "facedir") or before == "det"
        ):
            token = Token("noun", "side", token.words)
        elif at > 1 and before == "mark" and token.words in _RETRACTS and after in ("mark", "word", "dir"):
            token = Token("correct", "fix", token.words)
        out.append(token)
    return out


def _clauses(tokens: Sequence[Token]) -> Iterator[list[Token]]:
    """Cut at marks and corrections, and at "and" or "but" where a new colour or subject follows."""
    clause: list[Token] = []
    for at, token in enumerate(tokens):
        if token.kind in ("mark", "correct") or (token.kind == "conj" and token.value in ("and", "but")):
            colour_next = any(t.kind == "colour" for t in tokens[at + 1 : at + 4])
            if token.kind == "conj" and colour_next and clause and clause[-1].kind == "colour":
                continue
            if clause:
                yield clause
            clause = [token] if token.kind == "correct" else []
        elif token.kind != "skip":
            clause.append(token)
    if clause:
        yield clause


def _identifies(ahead: Sequence[Token]) -> bool:
    """The colour names the piece ("the white and red piece"), not one of its sides."""
    for token in ahead:
        if token.kind == "colour" or (token.kind == "conj" and token.value == "and"):
            continue
        return token.kind == "noun" and (
            token.value in ("corner", "edge") or token.words in ("piece", "block", "cubie", "pieces")
        )
    return False


def _has_direction(ahead: Sequence[Token]) -> bool:
    return any(token.kind in ("dir", "facedir", "hand", "layer") for token in ahead)


def _said_backwards(before: Sequence[Token]) -> bool:
    """"On top is green": the direction stands before the colour."""
    return any(token.kind == "be" for token in before[-3:]) or before[-1].kind in ("facedir", "face")


def locate(
    tokens: Sequence[Token], names: Sequence[str], piece: Sequence[str], scheme: Mapping[str, str]
) -> tuple[str | None, dict[str, str]]:
    """Position (None if not settled) and the face of the hold that each colour of the piece is on.

    `piece` holds the colours of the piece asked for (empty if unknown); `scheme` the colour of each face of
    the solved cube in the hold, used for the order of colours round a corner.
    """
    reader = PieceReader(names)
    reader.read(tokens)
    shows = {c: f for c, f in reader.shows.items() if not piece or c in piece}
    place = _position(reader, shows, len(piece))
    if place and any(face not in place for face in shows.values()):
        place, shows = None, {}
    if place:
        shows = _complete(place, shows, piece or tuple(reader.colours), scheme)
    return place, shows


def _position(reader: PieceReader, shows: Mapping[str, str], size: int) -> str | None:
    located, shown = set(reader.place), set(shows.values())
    if reader.middle:
        located -= {"U", "D"}
        shown_sides = shown - {"U", "D"}
        faces = located | shown_sides
        return _named(faces) if len(faces) == 2 and shown == shown_sides else None
    faces = located | shown
    if any(OPPOSITE[face] in faces for face in faces):
        faces = located if not any(OPPOSITE[f] in located for f in located) else set()
    kind = {2: 2, 3: 3}.get(size) or {"edge": 2, "corner": 3}.get(reader.kind) or (3 if len(reader.colours) > 2 else 0)
    if kind and len(faces) != kind:
        return None
    if not kind and len(faces) == 2 and located in ({"U"}, {"D"}) and len(shown) < 2:
        return None
    return _named(faces) if len(faces) in (2, 3) else None


def _named(faces: set[str]) -> str | None:
    name = "".join(sorted(faces, key=ORDER.index))
    return name if name in POSITIONS else None


def _complete(
    place: str, shows: dict[str, str], piece: Sequence[str], scheme: Mapping[str, str]
) -> dict[str, str]:
    """The faces of the colours not named, where the piece is known and one of its colours is."""
    if not shows or len(piece) != len(place) or any(colour not in piece for colour in shows):
        return shows
    if len(place) == 2:
        known, face = next(iter(shows.items()))
        other = next(colour for colour in piece if colour != known)
        return {known: face, other: place.replace(face, "")}
    home = [face for colour in piece for face, named in scheme.items() if named == colour]
    colours, faces = _clockwise(home), _clockwise(list(place))
    if not colours or not faces:
        return shows
    known, face = next(iter(shows.items()))
    turn = faces.index(face) - [scheme[f] for f in colours].index(known)
    full = {scheme[colours[at]]: faces[(at + turn) % 3] for at in range(3)}
    return full if all(full[c] == f for c, f in shows.items()) else shows


def _clockwise(faces: Sequence[str]) -> str:
    return next((name for name in _TURNING if set(name) == set(faces)), "")
