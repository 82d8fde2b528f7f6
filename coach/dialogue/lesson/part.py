"""What the parts of a lesson have in common: they obey the learner and go on until they have reached something."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable

from coach.dialogue.reached import Anew, Done, PartOver, Reached
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt, Leaving
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.solving.mending import Mending
from coach.dialogue.solving.running import Run, Slipped
from coach.dialogue.talk import Talk


class LessonPart(ABC):
    """A part of the lesson that works on the shared knowledge. `run` is what is being called now."""

    def __init__(self, talk: Talk, knowledge: Knowledge, mending: Mending) -> None:
        self.talk, self.knowledge, self._mending = talk, knowledge, mending
        self.run: Run | None = None

    def go(self) -> Talking[Reached]:
        """Carry the part through, whatever the learner says meanwhile."""
        said: Interrupt | None = None
        while True:
            try:
                if said:
                    interrupt, said = said, None
                    yield from self._obey(interrupt)
                yield from self._attempt()
                return Done()
            except Interrupt as interrupt:
                said = interrupt
            except PartOver as over:
                reached = self._anew() if isinstance(over.reached, Anew) else over.reached
                if reached:
                    return reached

    @property
    def calling(self) -> Run | None:
        """The turns being called now: those of a repair while there is one."""
        return self._mending.repair or self.run

    @property
    def left(self) -> tuple[str, int] | None:
        """What the part still needs and how many, as far as that is known: pieces "to-find" or "to-place"."""
        return None

    @abstractmethod
    def _attempt(self) -> Talking[None]:
        """Do what is left of the part."""

    @abstractmethod
    def _obey(self, interrupt: Interrupt) -> Talking[None]:
        """Do what the learner wants after an interruption outside a run."""

    def _anew(self) -> Reached | None:
        """Prepare to go on from what is known now; the result is what this has reached already, if anything."""
        return None

    def _call(self, run: Run, check: Callable[[Run], Talking[Slipped | None]] | None = None) -> Talking[bool]:
        """Call `run` and `check` what it reached; False if something went wrong that ended the run."""
        self.run = run
        self.knowledge.begin_run()
        try:
            return (yield from self._mending.see_through(run, check))
        except Leaving as why:
            yield from run.leave(why)
            raise
        finally:
            self.run = None
