"""A whole step that the learner does on their own, because they know everything in it by heart."""

from __future__ import annotations

from coach.belief.reading.stickers import UNKNOWN
from coach.belief.top import Belief
from coach.belief.whereabouts import stickers_at_home
from coach.dialogue.acts import Query, Tell
from coach.dialogue.attempts import Try
from coach.dialogue.lesson.part import LessonPart
from coach.dialogue.reached import PartOver, Reread
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt, Leaving
from coach.dialogue.solving.knowledge import LOWER_PIECES, Knowledge
from coach.dialogue.solving.looking import confirm
from coach.dialogue.solving.mending import Mending
from coach.dialogue.solving.own import REPLIES, Deed, OwnWork
from coach.dialogue.talk import Talk
from coach.language.commands import Trait, has
from coach.learning.exercise import MOST_HELP
from coach.learning.learned import Learned
from coach.method import Step
from coach.method.method import AnyStep, cases_of


def knows(learned: Learned, step: AnyStep) -> bool:
    """Whether the learner needs no help with anything in the step, and did not fail when they last did all of it."""
    cases = [case for case in cases_of(step) if case.named]
    last = learned.of(learned.item("do", step.id))[-1:]
    return not any(learned.help(step.id, case.id) for case in cases) and not any(e.result == "failed" for e in last)


def is_done(knowledge: Knowledge, step: AnyStep) -> bool:
    """Whether the step is known to be done already."""
    if isinstance(step, Step):
        return bool(knowledge.top) and all(map(step.done, knowledge.top.patterns))
    return knowledge.shows(stickers_at_home(knowledge.reading, step.pieces))


class WholeStep(LessonPart):
    """Leaves a step to the learner, and has its goal confirmed."""

    def __init__(self, talk: Talk, step: AnyStep, knowledge: Knowledge) -> None:
        super().__init__(talk, knowledge, Mending(talk, knowledge))
        self.step = step
        self.called = False
        """Whether the learner wants it called, with nothing done yet."""
        self._own = OwnWork(talk, Query("do", step=step.id, help=0))
        self._attempt_at_it = Try(step.id, "", (), 0)

    def _attempt(self) -> Talking[None]:
        try:
            yield from self._leave_it()
        except Leaving as why:
            why.open = why.open or (yield from self._own.half_done(why))
            raise
        if self.called:
            return
        yield from self.talk.tell_hold()
        right = yield from self._confirm("do.reached")
        if not right:  # they have just said that it is right, so one of the two may have been misheard
            right = yield from self._confirm("do.not-reached")
        attempts = self.talk.attempts
        attempts.now, self._attempt_at_it.wrong = self._attempt_at_it, not right
        self._attempt_at_it.checked = not right
        yield from attempts.ended(self._attempt_at_it)
        if not right:
            raise PartOver(Reread("read.why-own"))
        yield from attempts.confirmed(but_now=True)

    def _obey(self, interrupt: Interrupt) -> Talking[None]:
        if interrupt.command == "back":
            yield from self.talk.tell("do.back")
        elif interrupt.command == "read" or (yield from self._own.begun()):
            raise PartOver(Reread("" if interrupt.command == "read" else "read.why-own"))
        elif not has(interrupt.command, Trait.WRONG):
            yield from self.talk.tell("reply.not-now")

    def _leave_it(self) -> Talking[None]:
        """Wait until the learner has done the step, or wants to have it called."""
        key, name = "do.step", self.talk.phrases.part(f"steps.{self.step.id}")
        while True:
            deed = yield from self._own.deed(key, step=name)
            if deed is Deed.DONE:
                deed = yield from self._own.right()
            if deed is Deed.DONE:
                self._take_as_done()
                return
            if deed is Deed.CALL_IT:
                self.talk.attempts.learned.least = MOST_HELP
                self.called = not (yield from self._own.begun())
                if self.called:
                    return
                raise PartOver(Reread("read.why-own"))
            if deed in (Deed.HINT, Deed.FROM_START):
                self._attempt_at_it.helped = True
                what = "look" if isinstance(self.step, Step) else "next"
                yield Tell(self.step.say(self.talk.phrases.code, what).format(**self.talk.gaps))
            else:
                yield from self.talk.tell(REPLIES[deed])
            key = "do.still"

    def _take_as_done(self) -> None:
        """Take the step to have reached its goal, whatever was turned."""
        knowledge, step = self.knowledge, self.step
        if not isinstance(step, Step):
            last = max(map(LOWER_PIECES.index, step.pieces))
            knowledge.know_only(LOWER_PIECES[: last + 1])
            return
        knowledge.forget_top(step.permutes)
        ways = knowledge.top.meeting(step.needs).meeting(step.goal)
        solved = Belief(frozenset(pattern for pattern in ways.patterns if pattern == _solved(pattern)))
        knowledge.top = solved if step.align else ways
        knowledge.begin_trail()

    def _confirm(self, key: str) -> Talking[bool]:
        """Whether the learner says that the goal is reached."""
        done = self.step.say(self.talk.phrases.code, "done").format(**self.talk.gaps)
        known = enumerate(self.knowledge.known.pattern)
        facts = tuple((place, face) for place, face in known if face != UNKNOWN)
        key = f"{key}-top" if isinstance(self.step, Step) else key
        return (yield from confirm(self.talk, self.knowledge, self.talk.forms(key, done=done), facts))


def _solved(pattern: str) -> str:
    return "".join(pattern[face * 9 + 4] * 9 for face in range(6))
