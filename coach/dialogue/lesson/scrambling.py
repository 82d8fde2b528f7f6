"""A scramble called turn by turn from a solved cube, so that the coach knows the cube without a question."""

from __future__ import annotations

from typing import Final, Literal

from coach.cube import Turn
from coach.dialogue.acts import Heard, Query
from coach.dialogue.lesson.part import LessonPart
from coach.dialogue.replies import yes_or_no
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt, Leaving
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.solving.mending import Mending
from coach.dialogue.solving.running import Run
from coach.dialogue.talk import Talk

SCRAMBLE: Final = "scramble"
"""Stands in for the step while a scramble is called."""


class ScrambleRun(Run):
    """The turns of a scramble. Whoever leaves it need neither undo nor finish it."""

    def leave(self, why: Leaving, onwards: bool = False) -> Talking[None]:
        """Only find out whether the last turn has been done, if the learner can still tell."""
        if why.here and not why.open:
            try:
                yield from self.ask_about_last()
            except Interrupt:
                why.open = True
        raise why


class Scrambling(LessonPart):
    """Calls the turns that are left `to_call`. A slip does no harm, as long as it is known what was done."""

    def __init__(self, talk: Talk, knowledge: Knowledge, turns: tuple[Turn, ...]) -> None:
        super().__init__(talk, knowledge, Mending(talk, knowledge))
        self.to_call, self._all = turns, len(turns)

    @property
    def begun(self) -> bool:
        """Whether any of it has been called, or left out."""
        return len(self.to_call) < self._all

    def wanted(self) -> Talking[bool]:
        """Whether the learner holds a solved cube to be scrambled, once they are ready; False if it is scrambled."""
        self.talk.why = self.talk.words("scramble.why")
        if self.begun:
            return True
        yield from self.talk.tell("scramble.begin", n=self._all)
        forms = self.talk.forms("scramble.ready")
        while True:
            try:
                answer = yield from self.talk.until(Query("ready", about=SCRAMBLE), forms, _answer)
            except Interrupt:
                yield from self.talk.tell("reply.not-now")
                continue
            if answer != "not-yet":
                break
            forms = self.talk.forms("scramble.ready")[1:]
        if answer == "scrambled":
            self.to_call = ()
            return False
        self.knowledge.take_as_solved()
        return True

    def where(self) -> str:
        """Where we are, in a sentence."""
        called = self._all - len(self.to_call) + (self.run.called if self.run else 0)
        return self.talk.words("scramble.where", int(called > 0), n=self._all, turn=called, all=self._all)

    def _attempt(self) -> Talking[None]:
        while self.to_call:
            run = ScrambleRun(self.talk, self.to_call, self._moved)
            try:
                yield from self._call(run)
            finally:
                self.to_call = self.to_call[run.done :]

    def _moved(self, turn: Turn) -> None:
        self.knowledge.move((turn,))


def _answer(heard: Heard) -> Literal["ready", "scrambled", "not-yet"] | None:
    if heard.meaning and heard.meaning.case == "scrambled":
        return "scrambled"
    ready = yes_or_no(heard)
    return None if ready is None else "ready" if ready else "not-yet"
