"""A run at a level of help: how much of a sequence is called, and what the learner does on their own."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from coach.cube import Turn
from coach.dialogue.acts import Query
from coach.dialogue.attempts import Try
from coach.dialogue.by_heart import introduce
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt, Leaving
from coach.dialogue.solving.breaths import BreathRun
from coach.dialogue.solving.own import REPLIES, Deed, OwnWork
from coach.dialogue.solving.slipped import Slipped
from coach.dialogue.talk import Talk
from coach.language.commands import Trait, has
from coach.learning.exercise import MOST_HELP
from coach.method import NamedSequence

BY_GROUPS: Final = 3
"""From this level down, the turns of a group are called in one breath."""
FIRST_ONLY: Final = 2
"""From this level down, the learner goes on alone after the first turn."""
ALONE: Final = 1
"""From this level down, no turn is called."""


class LedRun(BreathRun):
    """A run of a named sequence that belongs to a step and a case, at the level of help at which it begins. `helped`
    tells whether the learner has asked for more help since. `before` are turns that bring the cube into the case, if
    those are left to the learner, too."""

    def __init__(
        self, talk: Talk, sequence: NamedSequence, moved: Callable[[Turn], None], step: str, case: str, help: int,
        before: tuple[Turn, ...] = (),
    ) -> None:  # fmt: skip
        super().__init__(talk, (*before, *sequence.turns), moved, case)
        self.sequence, self.step, self.help = sequence, step, help
        self.attempt = Try(step, case, self.turns, help)
        self._before = len(before)
        self._own = OwnWork(talk, Query("do", step=step, case=case, help=help))
        self.own_way = False
        """Whether the learner has put something right on their own, so that other turns may have been done."""
        self._hints = 0
        self._on_own = False
        """Whether the learner is doing the rest on their own now, so that nobody knows how far they are."""
        self._cut_short = False
        """Whether the learner was doing it when something was looked into."""

    def anew(self) -> LedRun:
        """The same run from the beginning."""
        before = self.turns[: self._before]
        return LedRun(self.talk, self.sequence, self.moved, self.step, self.case, self.help, before)

    @property
    def helped(self) -> bool:
        """Whether the learner has asked for more help, or for a slip to be put right."""
        return self.attempt.helped or self.attempt.told

    @property
    def level(self) -> int:
        """The level of help now: the learner may have wished for all of it, or for little."""
        learned = self.talk.attempts.learned
        return max(learned.least, min(learned.most, self.help))

    def call_all(self, most: int | None = None) -> Talking[Slipped | None]:
        """Call as much as the level says, and wait until the learner has done the rest."""
        until = self.count if most is None else self.called + most
        while self.done < len(self.turns) and self.called < until:
            if slipped := (yield from self._part(until - self.called)):
                return slipped
        return None

    def _part(self, most: int) -> Talking[Slipped | None]:
        self._called = ()
        if self.level == MOST_HELP or (self.level >= FIRST_ONLY and self.done < self._before):
            return (yield from super().call_all(1))
        if self.level == FIRST_ONLY and self.done == self._before:
            return (yield from super().call_all(1))
        if self.level == BY_GROUPS:
            return (yield from self._group(most))
        return (yield from self._on_their_own())

    def _tell_next(self) -> Talking[None]:
        self.attempt.helped = self.attempt.helped or self.level < MOST_HELP
        yield from super()._tell_next()

    def obey(self, interrupt: Interrupt) -> Talking[Slipped | None]:
        """Do what the learner asks for in mid-run, or report that something went wrong."""
        slipped = yield from super().obey(interrupt)
        self.attempt.told = self.attempt.told or slipped is not None
        return slipped

    def once_more(self) -> Talking[Slipped | None]:
        """Give the learner their time again, after they have said that nothing went wrong."""
        if not self._cut_short:
            return (yield from super().once_more())
        return (yield from self._on_their_own())

    def leave(self, why: Leaving, onwards: bool = False) -> Talking[None]:
        """Before the learner leaves, bring the run to an end, unless nobody knows how far it is."""
        if self._on_own and not (why.open or why.closed):
            why.open = self.own_way or (yield from self._own.half_done(why, called=self.done > 0))
        yield from super().leave(why, onwards)

    # Groups in one breath

    def _group(self, most: int) -> Talking[Slipped | None]:
        """Call what is left of the present group, at most `most` turns of it, and leave time for all of them."""
        end = self._before
        for group in self.sequence.groups:
            end += len(group.turns)
            if self.done < end:
                break
        if self.done == end - len(group.turns) and (name := group.say(self.talk.phrases.code, "name")):
            yield from self.talk.tell("by-heart.group", name=name)
        return (yield from self._breath(min(end - self.done, most)))

    # On their own

    def _on_their_own(self) -> Talking[Slipped | None]:
        """Let the learner do the rest and say done; help where they ask for it."""
        self.alone = self._on_own = True
        self._cut_short = False
        wished = self.talk.attempts.learned.most < MOST_HELP
        key = "do.go-on" if self.done else "do.try" if wished or self.help > ALONE else "do.alone"
        while self._on_own:
            try:
                deed = Deed.DONE if self._told_all else (yield from self._own.deed(key))
                self._told_all = False
                if deed is Deed.DONE and self.level <= ALONE:
                    deed = yield from self._own.right()
                if deed is Deed.DONE:
                    self._take_as_done()
                    self._on_own = False
                elif deed is Deed.CALL_IT:
                    return (yield from self._call_the_rest())
                elif deed in (Deed.HINT, Deed.FROM_START):
                    yield from self._hint(deed is Deed.FROM_START)
                else:
                    self.own_way = self.own_way or deed is Deed.WRONG
                    yield from self.talk.aside(REPLIES[deed])
            except Interrupt as interrupt:
                if slipped := (yield from self._astray(interrupt)):
                    return slipped
            key = "do.still"
        return None

    def _hint(self, from_start: bool = False) -> Talking[None]:
        """Tell what follows after as many turns as the learner says they have done. If they have not told, tell one
        more group; they find out for themselves how far they are."""
        self.attempt.helped = True
        groups = self.sequence.groups
        if self._own.far and (rest := self._rest_of_group(self._own.far)):
            yield from self.talk.tell("do.hint-from", calls=self.talk.calls_of(rest))
            return
        number = 0 if from_start else self._hints % len(groups)
        self._hints += 1
        where = "first" if not number else "next" if number < len(groups) - 1 else "last"
        where = "only" if len(groups) == 1 else where
        name = groups[number].say(self.talk.phrases.code, "name")
        calls = self.talk.calls_of(groups[number].turns)
        yield from self.talk.tell_also(f"do.hint-{where}", name=name, calls=calls)

    def _rest_of_group(self, far: int) -> tuple[Turn, ...]:
        """What is left, after `far` turns of the sequence, of the group that they end in or that follows."""
        end = 0
        for group in self.sequence.groups:
            end += len(group.turns)
            if far < end:
                return self.sequence.turns[far:end]
        return ()

    def _call_the_rest(self) -> Talking[Slipped | None]:
        """Call everything from now on; how far the learner is has to be found out first."""
        attempts = self.talk.attempts
        attempts.learned.least, self.attempt.helped = MOST_HELP, True
        item = attempts.learned.item("do", self.step, self.case)
        if self.sequence.id not in attempts.introduced and not attempts.learned.of(item):
            yield from introduce(self.talk, self.sequence, self.talk.why)
        if not (yield from self._begun()):
            self._on_own = False
            return None
        far = self._own.far
        if far and not self.own_way and self.done <= self._before + far < len(self.turns):
            self._take_as_done(self._before + far)
            self._on_own = False
            yield from self.talk.tell("do.call-rest")
            return None
        return self._lost()

    def _begun(self) -> Talking[bool]:
        """Whether the learner has turned anything on their own."""
        return self.own_way or (yield from self._own.begun(called=self.done > 0))

    def _astray(self, interrupt: Interrupt) -> Talking[Slipped | None]:
        """Do what the learner asks for while they are on their own."""
        if interrupt.command == "read":
            raise interrupt  # the cube will be read as it is now
        if interrupt.command == "back":
            yield from self.talk.tell("do.back")
        elif has(interrupt.command, Trait.WRONG) or (yield from self._begun()):
            return self._lost()
        else:
            self._on_own = False
            if isinstance(undone := (yield from self.undo()), Slipped):
                return undone
            if interrupt.command != "restart-run":
                raise interrupt
        return None

    def _lost(self) -> Slipped:
        """Take the rest as done, so that what is missing is found out like any other slip."""
        self.attempt.told = True
        self._take_as_done()
        self._on_own, self._cut_short = False, True
        return Slipped("lost")

    def _take_as_done(self, far: int | None = None) -> None:
        """Take the learner to have done the rest, or the turns up to number `far`."""
        far = len(self.turns) if far is None else far
        self.talk.did(self.turns[self.done : far])
        while self.done < far:
            self._do(self.turns[self.done], 1)
