"""What is known of a learner's attempts at sequences: the one under way, and those that nothing has confirmed yet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from coach.cube import Turn
from coach.dialogue.acts import Practised
from coach.language.meaning import Wished
from coach.learning.exercise import Result
from coach.learning.learned import Learned
from coach.method import NamedSequence


@dataclass(eq=False)
class Attempt:
    """One try at a sequence of a step and a case, which began at the level of help `help`. `turns` are all that belong
    to it: those that the learner does before the sequence, too."""

    step: str
    case: str
    turns: tuple[Turn, ...]
    help: int
    helped: bool = False
    """Whether the learner has asked for more help."""
    told: bool = False
    """Whether the learner has said that they are lost or went wrong, or had the rest called."""
    wrong: bool = False
    """Whether a slip was found in it."""
    unclear: bool = False
    """Whether something went wrong meanwhile that may not have been in it."""
    checked: bool = False
    """Whether a check has confirmed what it reached."""
    over: bool = False

    @property
    def result(self) -> Result:
        """How it has ended, by what is known now."""
        if self.wrong:
            return "helped" if self.told else "failed"
        return "helped" if self.helped else "unaided"

    def has(self, called: Sequence[Turn], at: int) -> bool:
        """Whether number `at` of the turns of the run that began with `called` belongs to it."""
        both = min(len(called), len(self.turns))
        return at < len(self.turns) and self.turns[:both] == tuple(called[:both])


@dataclass
class Attempts:
    """The attempts of a session. A success counts once a check has confirmed it, or when the session ends."""

    learned: Learned = field(default_factory=Learned)
    sequence: NamedSequence | None = None
    """The sequence that is at hand: next, under way, or done last."""
    now: Attempt | None = None
    """The attempt under way, or the one that ended last until something else is called."""
    again: bool = False
    """Whether the learner wants the sequence once more."""
    wish: Wished | None = None
    """What the learner who practises wants to do next."""
    introduced: set[str] = field(default_factory=set)
    """The sequences that have been introduced in this session."""
    _unconfirmed: list[Attempt] = field(default_factory=list)

    def ended(self, attempt: Attempt, clear: bool = True) -> Iterator[Practised]:
        """Note that an attempt has ended, `clear` or not; the exercise, unless it has yet to be confirmed."""
        attempt.over = True
        called = attempt.helped and attempt.told  # what the learner wanted, however it ended
        if not (attempt.wrong or called) and (attempt.unclear or not clear):
            yield from self._count(attempt, "unclear")
        elif attempt.result == "unaided" and not attempt.checked:
            self._unconfirmed.append(attempt)
        else:
            yield from self._count(attempt, attempt.result)

    @property
    def open(self) -> bool:
        """Whether a success has yet to be confirmed."""
        return bool(self._unconfirmed)

    @property
    def hoped(self) -> Learned:
        """What has been learned if all that is still to be confirmed will be."""
        learned = replace(self.learned, exercises=[*self.learned.exercises])
        for attempt in self._unconfirmed:
            learned.add("do", attempt.step, attempt.case, attempt.help, attempt.result)
        return learned

    def confirmed(self, but_now: bool = False) -> Iterator[Practised]:
        """The exercises that a check has just confirmed; the attempt under way or over last, too, unless
        `but_now`: then the next check decides."""
        if self.now and not but_now:
            self.now.checked = True
        yield from self._settle("unaided", self.now if but_now else None)

    def doubted(self) -> Iterator[Practised]:
        """The exercises that nobody can tell about any more."""
        yield from self._settle("unclear")

    def slipped(self, called: Sequence[Turn], at: int, earlier: bool, sure: bool = True) -> Iterator[Practised]:
        """Note a slip at number `at` (0: the first) of the turns called in the present run, or in an `earlier` one. If
        that is not `sure`, or if the cube was not as thought when it began, an attempt counts for nothing."""
        attempts = reversed(self._unconfirmed) if earlier else [self.now]
        attempt = next((each for each in attempts if each and each.has(called, at)), None)
        if attempt:
            attempt.wrong, attempt.unclear = attempt.wrong or sure, not sure
        if attempt in self._unconfirmed:
            self._unconfirmed.remove(attempt)
            yield from self._count(attempt, attempt.result if sure else "unclear")
        if earlier and self.now and not self.now.over:
            self.now.unclear = True

    def _settle(self, result: Result, but: Attempt | None = None) -> Iterator[Practised]:
        settled = [attempt for attempt in self._unconfirmed if attempt is not but]
        self._unconfirmed = [attempt for attempt in self._unconfirmed if attempt is but]
        for attempt in settled:
            yield from self._count(attempt, result)

    def _count(self, attempt: Attempt, result: Result) -> Iterator[Practised]:
        if self.learned.fades:
            self.learned.add("do", attempt.step, attempt.case, attempt.help, result)
            yield Practised("do", attempt.step, attempt.case, attempt.help, result)
