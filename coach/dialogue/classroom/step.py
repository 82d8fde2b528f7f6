"""One of the steps on top, by a class in unison: counts where they save something, runs, and the check at the end."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from coach.belief.classroom.counts import Counts
from coach.belief.classroom.halfway import stops
from coach.belief.classroom.mishaps import Aftermath
from coach.cube import Turn, inverse
from coach.dialogue.acts import Tell, TurnIntoHold
from coach.dialogue.classroom import wording
from coach.dialogue.classroom.check import Check
from coach.dialogue.classroom.chorus import Chorus
from coach.dialogue.classroom.hands import Hands
from coach.dialogue.classroom.leading import Leading
from coach.dialogue.classroom.sights import claimed
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt
from coach.dialogue.solving.led import LedRun
from coach.dialogue.solving.running import Run
from coach.dialogue.talk import Talk
from coach.method import NamedSequence
from coach.method.unison import TopTurn, Unison, UnisonRun

_LONG: Final = 11
"""A run of so many turns is checked halfway in any class."""
_STOPS: Final = 2
"""Where something has gone wrong before, a run is checked as often on the way, unless it is short."""
_MOST_COUNTS: Final = 5
"""Count this often before a run; after that some counts were wrong, and all is done that anybody may need."""


class UnisonStep:
    """A step of the kind "look" for a class."""

    def __init__(
        self, talk: Talk, unison: Unison, hands: Hands, leading: Leading, chorus: Chorus, start: str = ""
    ) -> None:
        """`start` is the name of the step with which who comes late would have to begin, if it is another one."""
        self.talk, self.unison, self.step = talk, unison, unison.step
        self._hands, self._leading, self._chorus = hands, leading, chorus
        self._check = Check(talk, unison, hands, leading, self._again, start)
        self._cases = {case.id: case for case in self.step.cases}
        self._last: Aftermath | None = None
        """What may have happened to those in whose run something went wrong; None before the first."""

    def go(self) -> Talking[None]:
        """Lead the class through the step, until all who are left have done it."""
        yield from self._runs(Counts.of(self.unison, self._hands.pupils.size or 1))
        while True:
            try:
                yield from self._check.go(None if self.unison.last_turns else self._last)
                break
            except Interrupt:  # a count was wrong, so all of them are asked for again
                yield from self.talk.tell("class.count-again")

    def _again(self, number: int) -> Talking[None]:
        """The fewest runs for so many who are not there yet, whatever they may have."""
        left = self.unison.of_case(*self._cases)
        if not self.unison.last_turns:  # else it is these turns that they may lack
            left -= self.unison.of_case(self.unison.done)
        counts = Counts.of(self.unison, number, [self.unison.states[each] for each in left])
        counts = yield from self._counted(counts)
        for run in counts.plan:
            yield from self._leading.unless_spared(self._lead(run))
        yield from self._last_turns()

    def _runs(self, counts: Counts) -> Talking[None]:
        """The fewest runs, with counts where they save something."""
        while True:
            counts = yield from self._counted(counts)
            if not counts.plan:
                break
            run = counts.plan[0]
            yield from self._leading.unless_spared(self._lead(run, counts.taking_part(run)))
            counts = counts.after(run)
            if self._last and (counts.plan or self.unison.last_turns):
                yield from self._check.between(self._last)
        yield from self._last_turns()

    def _counted(self, before: Counts) -> Talking[Counts]:
        """What is known once hands have been counted for what is worth it; nothing if the counts contradict."""
        counts, told, size = before, 0, before.size
        for _ in range(_MOST_COUNTS):
            case = counts.question
            if case is None:
                return counts
            forms = self.talk.forms("class.count", who=wording.named(self.talk, self._cases[case]))
            try:
                yield from self._leading.no_rest()
                number = yield from self._hands.count(case, forms, size, size - told if told else None)
            except Interrupt:
                yield from self.talk.tell("class.count-again")
                counts, told = before, 0
                continue
            if misfit := counts.misfit(case, number):
                least, most = misfit.least, misfit.most
                yield from self.talk.tell("class.misfit", int(least != most), least=least, most=most)
            else:
                counts, told = counts.told(case, number), told + number
        return Counts.of(self.unison, size)

    def _last_turns(self) -> Talking[None]:
        for turn in self.unison.last_turns:
            yield from self._leading.unless_spared(self._turn_top(turn))

    def _lead(self, run: UnisonRun, part: int | None = None) -> Talking[None]:
        """Have all who have one of the cases of `run` do its sequence: `part` of the class, if it is known how many."""
        talk, sequence = self.talk, run.sequence
        help = yield from self._chorus.before(sequence)
        who = wording.for_whom(talk, [self._cases[case] for case in run.cases])
        yield from self._leading.begin(who, run.cases, [*self._holds(run.cases)])
        name = sequence.say(talk.phrases.code, "name")
        yield from talk.tell_less("hold.run", sequence=name, n=len(sequence.turns))
        yield from self._do(sequence, run.cases[0] if len(run.cases) == 1 else "", help, part)

    def _do(self, sequence: NamedSequence, case: str, help: int, part: int | None) -> Talking[None]:
        """Have a sequence done; again, or said in chorus, where that is wished for."""
        attempts = self.talk.attempts
        attempts.sequence = sequence
        while True:
            yield from self._call(LedRun(self.talk, sequence, _unseen, self.step.id, case, help), part)
            if not attempts.again:
                break
            yield from self.talk.tell("by-heart.take-back", n=len(sequence.turns))
            yield from self._leading.call(Run(self.talk, inverse(sequence.turns), _unseen))
            yield from self.talk.tell("turn.from-first")
            attempts.again = False
        if attempts.quiz:
            attempts.quiz = None
            yield from self._chorus.say(sequence)

    def _call(self, run: LedRun, part: int | None) -> Talking[None]:
        """Call a run, with checks on the way if it is long, or if something has gone wrong in this class before, or may
        well go wrong."""
        turns, checked = run.turns, 0
        pupils = self._hands.pupils
        most = _STOPS if pupils.slipped else int(len(turns) >= _LONG or not pupils.proven)
        for half in stops(tuple(group.turns for group in run.sequence.groups), most):
            yield from self._leading.call(run, half.done)
            if run.done == half.done:
                checked = half.done
                if not (yield from self._check.halfway(half, part)):
                    return
        yield from self._leading.call(run)
        last = Aftermath.of_unlike(self.unison, turns[checked:], turns[:checked])
        self._last = self._leading.after(last)

    def _holds(self, cases: Sequence[str]) -> Iterator[TurnIntoHold | Tell]:
        for case, ways in self.unison.into_hold(cases).items():
            text = wording.hold(self.talk, self._cases[case])
            told = tuple((claimed(claim, self.talk.colours), turn) for claim, turn in ways)
            yield TurnIntoHold(text, told, self.step.id, case) if told else Tell(text)

    def _turn_top(self, last: TopTurn) -> Talking[None]:
        """Have those turn the top into place who are off by this turn."""
        seen = tuple(claimed(claim, self.talk.colours) for claim in last.seen)
        side = self.talk.phrases.part(f"faces.{last.seen[0][1][0][0]}")
        yield from self._leading.begin(self.talk.words("class.align", side=side), seen, wait=False)
        yield from self._leading.soon()
        yield from self._leading.call(Run(self.talk, (last.turn,), _unseen))


def _unseen(turn: Turn) -> None:
    """Nothing is followed: each cube is another one."""
