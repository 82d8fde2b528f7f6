"""Where a piece is and how it lies: descriptions to a position and the faces of its colours."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
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


class PieceReader:
    """Collects the place, the layer and the facing colours from the tokens of an answer."""

    def __init__(self, names: Sequence[str]) -> None:
        self.names = names
        self.place: list[str] = []
        self.middle = False
        self.shows: dict[str, str] = {}
        self.colours: list[str] = []
        self.kind = ""
        self.correcting = False
        self.waiting: str | None = None
        self.kept: tuple[str, str] | None = None

    def read(self, tokens: Sequence[Token]) -> None:
        for clause in _clauses(_settle(tokens)):
            self._clause(clause)

    def _clause(self, clause: Sequence[Token]) -> None:
        correcting = self.correcting or clause[0].kind == "correct"
        self.correcting = correcting and not _has_direction(clause)
        colour: str | None = self.waiting
        self.waiting = None
        shown: str | None = None
        pending: list[str] = []
        facing = negated = False
        for at, token in enumerate(clause):
            ahead = clause[at + 1 :]
            if token.kind == "neg" or token.value == "none":
                negated = True
            elif token.kind == "colour" and token.value in self.names:
                self._see(token.value)
                if not _identifies(ahead):
                    if pending and not _has_direction(ahead) and _said_backwards(clause[:at]):
                        self._show(token.value, pending.pop(), correcting)
                        continue
                    colour, shown, facing = token.value, None, False
            elif token.kind == "noun" and token.value in ("corner", "edge"):
                self.kind = token.value
            elif token.kind in ("face", "facedir") and token.value not in ("away",):
                if colour and shown and facing is False and token.kind == "face":
                    self._locate(shown, correcting)
                    self.shows.pop(colour, None)
                    shown = None
                facing = True
            elif token.kind == "layer" and not (colour and shown is None):
                if not negated:
                    self._layer(token.value, correcting)
                negated = False
                continue
            if token.kind in ("dir", "hand", "facedir", "layer"):
                for direction in _PAGE.get(token.value, token.value):
                    if negated:
                        continue
                    if direction == "M":
                        self.middle = True
                    elif colour and shown in (None, direction):
                        shown = direction
                        self._show(colour, direction, correcting)
                    elif colour and facing and shown is not None and self._same_axis(shown, direction):
                        continue
                    elif token.kind == "facedir" and self.kept and not colour:
                        self._show(self.kept[0], direction, correcting)
                    else:
                        pending.append(direction)
                        self._locate(direction, correcting)
                negated = False
        if colour and not shown and (clause[-1].kind == "colour" or clause[-1].value == "side"):
            self.waiting = colour
        if colour:
            self.kept = (colour, shown or "")

    def _see(self, colour: str) -> None:
        if colour not in self.colours:
            self.colours.append(colour)

    def _same_axis(self, one: str, two: str) -> bool:
        return one == two or OPPOSITE[one] == two

    def _show(self, colour: str, direction: str, correcting: bool) -> None:
        if colour not in self.shows or correcting or self.shows[colour] == direction:
            self.shows[colour] = direction
        else:
            self._locate(direction, correcting)

    def _layer(self, layer: str, correcting: bool) -> None:
        if layer == "M":
            self.middle = True
        else:
            self._locate(layer, correcting)

    def _locate(self, direction: str, correcting: bool) -> None:
        if OPPOSITE[direction] in self.place:
            if not correcting:
                return
            self.place.remove(OPPOSITE[direction])
        if direction in "UD" and self.middle and not correcting:
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
