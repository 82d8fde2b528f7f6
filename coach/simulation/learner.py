"""A simulated learner: holds a cube, does what it is told, looks, and answers in plain words.

It follows the coach's acts, not the coach's knowledge: it never sees a belief.
"""

from __future__ import annotations

from collections.abc import Sequence
from random import Random
from typing import Final

from coach.cube import PLACE_NAMES, PLACE_NUMBER, Cube, Turn, position_of, shown
from coach.dialogue import Ask, CallTurn, Query, Rotate, Say
from coach.language import QUESTIONS, Question
from coach.language.meaning import USUAL_COLOURS

COLOURS: Final = USUAL_COLOURS
"""The learner's words for the colours, by the face they belong to."""

_EDGES: Final = {"U1": "back", "U3": "left", "U5": "right", "U7": "front"}
_CORNERS: Final = {"U0": "back left", "U2": "back right", "U6": "front left", "U8": "front right"}
_SIDE_WORDS: Final = {"F": "front", "B": "back", "R": "right", "L": "left"}
_FACING: Final = {"U": "up", "D": "down", "F": "me", "B": "the back", "R": "right", "L": "left"}
_NO: Final = ("no", "nope", "no it's not")
_LINES: Final = {("U1", "U7"): "a line from front to back", ("U3", "U5"): "a line from left to right"}


class Learner:
    """A learner holding `cube`. `random` chooses the words, so a seed makes it repeatable."""

    def __init__(self, cube: Cube, random: Random) -> None:
        self.cube, self.random = cube, random
        self._asked: Query | None = None

    def hear(self, say: Say) -> None:
        """Take in what the coach says: do the turn, or keep the question in mind."""
        match say:
            case CallTurn(turn=turn):
                self.do((turn,))
            case Rotate(rotation=turn):
                self.cube = self.cube.do((turn,))
            case Ask(query=query):
                self._asked = query

    def do(self, turns: Sequence[Turn]) -> None:
        """Turn the cube after a call; the question before it is no longer open."""
        self.cube = self.cube.do(turns)
        self._asked = None

    def answer(self, asked: Question = "other") -> str:
        """The learner's answer to `asked` when the coach listens; "" for silence, as in the pause after a call or a
        hold, where nothing is asked."""
        if not self._asked:
            return ""
        asks = self._asked.asks
        if QUESTIONS[asked].busy and asks != "ready":
            return ""
        if asks == "look-top-edges":
            return self._edges()
        if asks == "look-top-corners":
            return self._corners()
        if asks == "claim":
            return self._pick(("yes", "yeah", "yes it is") if self._holds() else _NO)
        if asks == "ready":
            return self._pick(("okay ready", "yes ready"))
        if asks == "piece":
            return self._piece() if self._holds() else self._pick(_NO)
        if asks in ("row", "face"):
            return self._stickers()
        return COLOURS[self.cube.faces[PLACE_NUMBER["F4"]]] if self._asked.about == "front" else "yes"

    def _piece(self) -> str:
        """Where the requested piece is: its layer, its sides, and where its first colour faces."""
        assert self._asked
        colours = self._asked.piece
        faces = {next(face for face, name in COLOURS.items() if name == colour) for colour in colours}
        home = position_of("".join(faces))
        where, stickers = self.cube.pieces[home]
        first = next(i for i, face in enumerate(home) if COLOURS[face] == colours[0])
        on = PLACE_NAMES[stickers[first]][0]
        layer = {"U": "top layer", "D": "bottom layer"}.get(where[0], "middle layer")
        sides = " ".join(_SIDE_WORDS[face] for face in where if face in "FBRL")
        return f"{layer}, {sides}, {colours[0]} faces {_FACING[on]}"

    def _stickers(self) -> str:
        """A row, or a whole face row by row."""
        assert self._asked
        start, row = PLACE_NUMBER[f"{self._asked.face}0"], self._asked.row
        places = range(start, start + 9) if row is None else range(start + 3 * row - 3, start + 3 * row)
        return ", ".join(COLOURS[self.cube.faces[place]] for place in places)

    def _holds(self) -> bool:
        """Whether everything is as the question claims."""
        assert self._asked
        faces = self.cube.faces
        return all(
            COLOURS[faces[PLACE_NUMBER[f"{face}{place}"]]] == colour
            for face, place, colour in self._asked.claim
        )

    def _edges(self) -> str:
        places = shown(self.cube.faces, _EDGES)
        if not places:
            return self._pick(("a dot", "just the dot", "no edges at all"))
        if len(places) == 4:
            return self._pick(("a cross", "it's a cross"))
        if places in _LINES:
            return _LINES[places]
        if len(places) % 2:  # the lower layers are unfinished, or the cube is assembled wrongly
            return " and ".join(_EDGES[place] for place in places)
        return self._pick(("{} and {}", "a corner shape at the {} and {}")).format(
            *(_EDGES[p] for p in places)
        )

    def _corners(self) -> str:
        places = shown(self.cube.faces, _CORNERS)
        names = [_CORNERS[place] for place in places]
        if not names:
            return self._pick(("none", "no corners at all"))
        if len(names) == 4:
            return self._pick(("all four", "all of them"))
        if len(names) == 1:
            return self._pick(("one, {}", "{}", "just the {}")).format(names[0])
        if len(names) == 3:
            return " and ".join(names)
        return self._pick(("two, {} and {}", "{} and {}")).format(*names)

    def _pick(self, choices: Sequence[str]) -> str:
        return self.random.choice(choices)
