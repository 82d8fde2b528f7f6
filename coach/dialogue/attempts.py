"""What is known of a learner's tries at sequences: the one under way, and those that nothing has confirmed yet."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Final, Literal

from coach.belief.slips.hindsight import Hindsight
from coach.cube import Turn
from coach.dialogue.acts import Practised
from coach.language.meaning import Wished
from coach.learning.exercise import Item, Result
from coach.learning.learned import Learned
from coach.method import NamedSequence

_DOUBT: Final = 0.02
"""A try waits for another check while a slip in it is likelier than this."""
_BEFORE: Final = 0.05
"""The cube was not as thought if a slip before is likelier than this."""
_TOLD: Final = 2
"""The lowest level of help at which the case and the hold are told, and the first turn is called."""
_SURE: Final = 0.95
"""A try has failed only if something went wrong in it with at least this chance."""


@dataclass(eq=False)
class Try:
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
    """Whether nobody can tell how it has ended."""
    doubtful: bool = False
    """Whether something went wrong meanwhile that may not have been in it: what is seen later may tell."""
    checked: bool = False
    """Whether a check has confirmed what it reached."""
    any_hold: bool = False
    """Whether it can be done as well in another hold."""
    unread: bool = False
    """Whether nothing but the whole cube tells how it has ended."""
    over: bool = False
    whole: bool = True
    """Whether all of it was called or said to be done."""
    run: int = 0
    """The number of the run in which it began, among all that have begun since the lesson did."""

    @property
    def open(self) -> bool:
        """Whether only what is still to be seen tells how it has ended."""
        return self.unread or (self.doubtful and not self.wrong)

    @property
    def result(self) -> Result:
        """How it has ended, by what is known now."""
        if self.wrong:
            return "helped" if self.told else "failed"
        return "helped" if self.helped else "unaided"

    def seen_by(self, hindsight: Hindsight | None) -> Result:
        """How it has ended, by what was seen afterwards. Where the case was told, it may be right whatever turns went
        wrong before; but a failure may have been none then."""
        if not hindsight or not hindsight.tells_of(self.run) or (self.doubtful and hindsight.believed):
            return "unclear"
        by_itself = self.help >= _TOLD and hindsight.misheld <= _BEFORE and not (self.wrong or self.told)
        if not by_itself and hindsight.before(self.run) > _BEFORE:
            return "unclear"
        if hindsight.failed.get(self.run, 0.0) >= _SURE and not self.any_hold:
            self.wrong = True
        elif hindsight.wrong.get(self.run, 0.0) > _DOUBT or not (self.whole or self.wrong):
            return "unclear"
        return self.result

    def slipped(self, run: int, at: int, sure: bool, hold: bool = False) -> None:
        """Note a slip at number `at` (0: the first) of the turns of run number `run`, in its `hold` or in turns."""
        if self.run == run and at < len(self.turns):
            sure = sure and not (hold and self.any_hold)
            self.wrong, self.doubtful = self.wrong or sure, not sure
            self.unclear = self.unclear or (hold and not sure)  # the turns may have been right
        elif self.run > run or not self.over:  # the cube was not as thought meanwhile
            self.doubtful = True


@dataclass
class Attempts:
    """The tries of a session. A success or a failure counts once the next check has confirmed it: what was heard at one
    check may have been misheard. It waits for longer while a slip in it may well have gone unseen. At the end of the
    session, a success counts without it."""

    learned: Learned = field(default_factory=Learned)
    sequence: NamedSequence | None = None
    """The sequence that is at hand: next, under way, or done last."""
    now: Try | None = None
    """The try under way, or the one that ended last until something else is called."""
    again: bool = False
    """Whether the learner wants the sequence once more."""
    taken_back: bool = False
    """Whether it is being taken back for that."""
    repeats: bool = False
    """Whether it is being done once more."""
    quiz: Literal["next", "longer"] | None = None
    """Which sequence the learner wants to say in a lesson: the next one done, or, as that had only a turn or two, the
    next longer one."""
    wish: Wished | None = None
    """What the learner who practises wants to do next."""
    introduced: set[str] = field(default_factory=set)
    """The sequences that have been introduced in this session."""
    breaths: bool = True
    """Whether several turns that are not practised may be called in one breath: nothing has gone wrong in such turns,
    as far as anybody can tell."""
    rethink: Callable[[], Hindsight | None] = lambda: None
    """What everything said so far tells of the runs in which something may have gone wrong."""
    _unconfirmed: list[Try] = field(default_factory=list)
    _runs: set[int] = field(default_factory=set)
    """The numbers of the runs of all tries that have ended."""

    def ended(self, attempt: Try, clear: bool = True) -> Iterator[Practised]:
        """Note that a try has ended, `clear` or not; the exercise, unless it has yet to be confirmed."""
        attempt.over, self.repeats = True, False
        self._runs.add(attempt.run)
        called = attempt.helped and attempt.told  # what the learner wanted, however it ended
        if not (attempt.wrong or called) and (attempt.unclear or not (clear or attempt.doubtful)):
            yield from self._count(attempt, "unclear")
        elif not called and (attempt.doubtful or not attempt.checked):
            attempt.whole = clear
            seen = attempt.seen_by(self.rethink()) if attempt.open and clear else "unclear"
            if seen != "unclear":  # the check that has just been passed tells by all that was said
                yield from self._count(attempt, seen)
            else:
                self._unconfirmed.append(attempt)
        else:
            yield from self._count(attempt, attempt.result)

    def broken_off(self, attempt: Try, whole: bool) -> Iterator[Practised]:
        """Note that a try has ended, perhaps with its `whole` sequence done, because the cube has to be read: that may
        tell what became of it."""
        attempt.checked = False
        yield from self.ended(attempt)
        attempt.whole, attempt.unread = whole, True

    @property
    def open(self) -> bool:
        """Whether a success or a failure has yet to be confirmed."""
        return bool(self._unconfirmed)

    @property
    def hoped(self) -> Learned:
        """What has been learned if all that is still to be confirmed will be."""
        learned = replace(self.learned, exercises=[*self.learned.exercises])
        for attempt in self._unconfirmed:
            if attempt.open:
                continue
            learned.add("do", attempt.step, attempt.case, attempt.help, attempt.result)
        return learned

    def noted(self, item: Item, help: int, result: Result) -> Iterator[Practised]:
        """Note how an exercise has ended, if records follow from it."""
        if self.learned.fades:
            self.learned.add(item.kind, item.step, item.case, help, result)
            yield Practised(item.kind, item.step, item.case, help, result)

    def confirmed(self, but_now: bool = False, doubts: Mapping[int, float] | None = None) -> Iterator[Practised]:
        """The exercises that a check has just confirmed; the try under way or over last, too, unless `but_now`: then
        the next check decides. `doubts` has the chance of a slip in a run by its number: while that is not small, the
        next check decides, too."""
        doubts = doubts or {}
        if self.now and not but_now:
            self.now.checked = True

        def result(each: Try) -> Result | None:
            waits = (but_now and each is self.now) or (not each.wrong and doubts.get(each.run, 0.0) > _DOUBT)
            return None if waits else each.seen_by(self.rethink()) if each.open else each.result

        yield from self._settle(result)

    def doubted(self) -> Iterator[Practised]:
        """The exercises that nobody can tell about any more."""
        self.breaths = False
        yield from self._settle(lambda each: "unclear")

    def looked_back(self, hindsight: Hindsight | None) -> Iterator[Practised]:
        """The exercises that the cube, read anew, tells about, and those that nobody can tell about any more."""
        self.breaths = False
        yield from self._settle(lambda each: each.seen_by(hindsight))

    def left(self) -> Iterator[Practised]:
        """The exercises of a learner who leaves: no check follows that would show that a failure was none."""
        yield from self._settle(lambda each: "unclear" if each.wrong or each.open else each.result)

    def disputed(self) -> Iterator[Practised]:
        """Note that the learner has seen something that is not as it should be, and nothing tells who is right: that
        must not make a success of what was done."""
        if self.now:
            self.now.unclear = True
        yield from self.doubted()

    def explained(self) -> Iterator[Practised]:
        """Note that slips were found: nothing will tell any more of tries that an earlier one left in doubt."""
        yield from self._settle(lambda each: "unclear" if each.open else None)

    def slipped(self, run: int, at: int, earlier: bool, sure: bool, hold: bool = False) -> Iterator[Practised]:
        """Note a slip at number `at` (0: the first) of the turns of run number `run`, the present one or an `earlier`
        one, in its `hold` only or in turns. If that is not `sure`, or if the cube was not as thought when it began, the
        next check has to tell how a try has ended; nor does a failure count, if something was wrong before the present
        run: perhaps it was none, and the repair did the harm."""
        self.breaths = self.breaths and (run in self._runs or bool(self.now and self.now.run == run))
        if earlier:
            yield from self._settle(lambda each: "unclear" if each.wrong else None)
        for each in {*self._unconfirmed, *([self.now] if self.now else [])}:
            each.slipped(run, at, sure, hold)
        yield from self._settle(lambda each: "unclear" if each.unclear and not each.wrong else None)

    def _settle(self, result: Callable[[Try], Result | None]) -> Iterator[Practised]:
        """Count the tries that have a `result` now; the others still wait."""
        waiting, self._unconfirmed = self._unconfirmed, []
        for attempt in waiting:
            if now := result(attempt):
                yield from self._count(attempt, now)
            else:
                self._unconfirmed.append(attempt)

    def _count(self, attempt: Try, result: Result) -> Iterator[Practised]:
        yield from self.noted(self.learned.item("do", attempt.step, attempt.case), attempt.help, result)
