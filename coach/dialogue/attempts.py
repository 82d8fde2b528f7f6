"""What is known of a learner's attempts at sequences: the one under way, and those that nothing has confirmed yet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from coach.cube import Turn
from coach.dialogue.acts import Practised
from coach.learning.exercise import Result
from coach.learning.learned import Learned
from coach.method import NamedSequence


@dataclass
class Attempt:
    """One try at a sequence of a step and a case, which began at the level of help `help`."""

    step: str
    case: str
    sequence: NamedSequence
    help: int
    helped: bool = False
    """Whether the learner has asked for more help."""
    told: bool = False
    """Whether the learner has said that they are lost or went wrong, or had the rest called."""
    wrong: bool = False
    """Whether a slip was found in it."""

    @property
    def result(self) -> Result:
        """How it has ended, by what is known now."""
        if self.wrong:
            return "helped" if self.told else "failed"
        return "helped" if self.helped else "unaided"


@dataclass
class Attempts:
    """The attempts of a session. A success counts once a check has confirmed it, or when the session ends."""

    learned: Learned = field(default_factory=Learned)
    now: Attempt | None = None
    """The attempt under way, or the one that ended last until something else is called."""
    again: bool = False
    """Whether the learner wants the sequence once more."""
    quiz: bool = False
    """Whether the learner wants to be asked for the sequence after it has been done."""
    _unconfirmed: list[Attempt] = field(default_factory=list)

    def over(self, attempt: Attempt, clear: bool = True) -> Iterator[Practised]:
        """Note that an attempt has ended, `clear` or not; the exercise, unless it has yet to be confirmed."""
        if not clear and not attempt.wrong:
            yield from self._count(attempt, "unclear")
        elif attempt.result == "unaided":
            self._unconfirmed.append(attempt)
        else:
            yield from self._count(attempt, attempt.result)

    def confirmed(self) -> Iterator[Practised]:
        """The exercises that a check has just confirmed."""
        yield from self._settle(clear=True)

    def doubted(self) -> Iterator[Practised]:
        """The exercises that nobody can tell about any more."""
        yield from self._settle(clear=False)

    def slipped(self, called: Sequence[Turn], earlier: bool) -> Iterator[Practised]:
        """Note a slip found in the present run, or in an `earlier` one, in which these turns were called."""
        if not earlier:
            if self.now:
                self.now.wrong = True
            return
        found = next((each for each in reversed(self._unconfirmed) if each.sequence.turns == tuple(called)), None)
        if found:
            self._unconfirmed.remove(found)
            yield from self._count(found, "failed")

    def _settle(self, clear: bool) -> Iterator[Practised]:
        settled, self._unconfirmed = self._unconfirmed, []
        for attempt in settled:
            yield from self._count(attempt, attempt.result if clear else "unclear")

    def _count(self, attempt: Attempt, result: Result) -> Iterator[Practised]:
        if self.learned.fades:
            self.learned.add("do", attempt.step, attempt.case, attempt.help, result)
            yield Practised("do", attempt.step, attempt.case, attempt.help, result)
