"""A learner that relies on its ears alone: it follows what it has heard, and asks if it has not understood."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from coach.cube import FACE_PLACES, PLACE_NUMBER, parse
from coach.dialogue import Bye, CallTurn, Query, Rotate
from coach.method.last_layer import lower_layers_whole
from coach.simulation.ears import Sentence, words
from coach.simulation.learner import COLOURS, Learner
from coach.simulation.repertoire import Line

REPEAT: Final = "repeat that"
HOW_TO_HOLD: Final = "how do I hold it"
ENOUGH: Final = "stop"


class Pupil:
    """The learner with ears. It wants the top in one colour and then ends the lesson."""

    def __init__(self, learner: Learner) -> None:
        self.learner = learner
        self.parted = False
        """Whether the coach has said goodbye."""
        self._open = False  # whether something was not understood, and so not done
        self._said = ""  # the last answer

    @property
    def done(self) -> bool:
        """Whether the top of the cube is of one colour."""
        return len({self.learner.cube.faces[place] for place in FACE_PLACES["U"]}) == 1

    def hear(self, sentences: Sequence[Sentence]) -> str:
        """Process what the coach has said up to its pause; return what the learner says to that, or ""."""
        asked: Line | None = None
        missed = again = False
        for sentence in sentences:
            line = sentence.line
            if line is None:
                missed = True
            elif line.again:
                again = True
            else:
                self._do(line, again)
                asked = line if line.query else None if isinstance(line.say, CallTurn | Rotate) else asked
        self._open = missed
        if self.parted:
            return ""
        if missed and sentences[-1].line is None:
            return REPEAT
        if missed and (asked is None or asked.query == Query("ready")):
            return HOW_TO_HOLD  # only the last thing said can be repeated, and that was understood
        self._said = self._answer(asked) if asked else ""
        return self._said

    def _do(self, line: Line, again: bool) -> None:
        if again and not self._open and isinstance(line.say, CallTurn | Rotate):
            return  # it was understood and done the first time
        self.parted = self.parted or isinstance(line.say, Bye)
        self.learner.hear(line.say)
        if line.held:
            self._hold(*line.held)

    def _hold(self, up: str, front: str) -> None:
        """Turn the whole cube so that these colours are on top and in front."""
        for way in ("", "y", "y2", "y'"):
            held = self.learner.cube.do(parse(way))
            if [COLOURS[held.faces[PLACE_NUMBER[centre]]] for centre in ("U4", "F4")] == [up, front]:
                self.learner.cube = held

    def _answer(self, asked: Line) -> str:
        if asked.said:
            return "yes" if words(asked.said) == words(self._said.replace("it's", "it is")) else "no"
        if self.done and asked.query and asked.query.asks == "row":
            return ENOUGH  # the coach goes on to the next step
        wrong = [sticker for sticker in asked.never if self._shows(*sticker)]
        broken = asked.below and not lower_layers_whole(self.learner.cube.upright)
        return "no" if wrong or broken else self.learner.answer()

    def _shows(self, face: str, place: int, colour: str) -> bool:
        return COLOURS[self.learner.cube.faces[PLACE_NUMBER[f"{face}{place}"]]] == colour
