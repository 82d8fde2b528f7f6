"""What the parts of a lesson have in common: they obey the learner and go on until they have reached something."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable

from coach.cube import inverse
from coach.dialogue.by_heart import introduce
from coach.dialogue.reached import Anew, Done, PartOver, Reached, Reread
from coach.dialogue.reciting import Reciting
from coach.dialogue.saying import Talking
from coach.dialogue.signals import ChangeCourse, Interrupt, Leaving
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.solving.led import BY_GROUPS, FIRST_ONLY, LedRun
from coach.dialogue.solving.mending import Mending
from coach.dialogue.solving.running import Run
from coach.dialogue.solving.slipped import Slipped, said_of
from coach.dialogue.talk import Talk
from coach.language.commands import Trait, has
from coach.method import NamedSequence


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

    def _obey(self, interrupt: Interrupt) -> Talking[None]:
        """Do what the learner wants after an interruption outside a run. Unless a part knows better, what went wrong
        is mended, and for anything else that was told the cube is read."""
        if interrupt.command in ("correct", "read"):
            raise PartOver(Reread(""))
        if has(interrupt.command, Trait.WRONG) and self.knowledge.trail.turned:
            yield from self._mending.mend(None, said_of(interrupt.command))
        else:
            yield from self.talk.tell("reply.not-now")

    def _anew(self) -> Reached | None:
        """Prepare to go on from what is known now; the result is what this has reached already, if anything."""
        return None

    def _call(self, run: Run, check: Callable[[Run], Talking[Slipped | None]] | None = None) -> Talking[bool]:
        """Call `run` and `check` what it reached; False if something went wrong that ended the run."""
        self.run = run
        self.knowledge.begin_run()
        self.talk.attempts.now = run.attempt if isinstance(run, LedRun) else None
        if self.talk.attempts.now:
            self.talk.attempts.now.run = self.knowledge.trail.begun
        try:
            through = yield from self._mending.see_through(run, check)
            if wish := self.talk.pending:
                self.talk.pending = None
                raise ChangeCourse(wish)
            return through
        except Leaving as why:
            yield from run.leave(why)
            raise
        finally:
            self.run = None

    def _lead(self, run: LedRun, check: Callable[[Run], Talking[Slipped | None]] | None = None) -> Talking[bool]:
        """Lead a sequence like `_call`, and once more if the learner wants it; note how it ended."""
        attempts = self.talk.attempts
        while True:
            attempts.sequence = run.sequence
            try:
                through = yield from self._call(run, check)
            except (Interrupt, Leaving, PartOver) as over:
                if isinstance(over, PartOver) and isinstance(over.reached, Reread):
                    yield from attempts.broken_off(run.attempt, whole=run.done == len(run.turns))
                    raise
                yield from attempts.ended(run.attempt, clear=False)
                raise
            yield from attempts.ended(run.attempt, clear=through)
            again = through and attempts.again and not run.own_way
            back = (yield from self._taken_back(run)) if again else None
            if back is None:
                if through and attempts.quiz and attempts.learned.origin == "lesson":
                    yield from self._quiz(run)
                return through
            if not back:
                return False
            yield from self.talk.tell("turn.from-first")
            run, attempts.repeats = run.anew(), True

    def _taken_back(self, done: LedRun) -> Talking[bool | None]:
        """Have the sequence taken back that was just done; False if something went wrong that ended this, None if the
        learner does not want it again after all: then all is as it was."""
        attempts = self.talk.attempts
        if self.knowledge.solved:
            yield from self.talk.tell("by-heart.solved")
        yield from self.talk.tell("by-heart.take-back", n=done.count)
        back, attempts.taken_back = Run(self.talk, inverse(done.turns), done.moved, done.case), True
        try:
            return (yield from self._call(back))
        except Interrupt as interrupt:
            if interrupt.command != "not-again":
                raise
            return False if back.done else None
        finally:
            attempts.taken_back = attempts.again = False

    def _quiz(self, run: LedRun) -> Talking[None]:
        """Have the learner say the sequence that they have just done, or else wait for a longer one."""
        attempts = self.talk.attempts
        if not run.sequence.worth_saying:
            if attempts.quiz == "next":
                yield from self.talk.tell("by-heart.quiz-short", n=len(run.sequence.turns))
            attempts.quiz = "longer"
            return
        attempts.quiz, item = None, attempts.learned.saying(run.step, run.case)
        help = attempts.learned.help(item.step, item.case, item.kind)
        result = yield from Reciting(self.talk, run.sequence, item, help).go()
        yield from attempts.noted(item, help, result)

    def _announce(self, sequence: NamedSequence, case: str, help: int, why: str) -> Talking[None]:
        """Say which sequence comes next; the first time, also what it is made of and `why` it works."""
        talk, attempts = self.talk, self.talk.attempts
        known = attempts.learned.has_done(sequence.id)
        if talk.manner == "teach" and sequence.id not in attempts.introduced and not known:
            yield from introduce(talk, sequence, why)
        attempts.introduced.add(sequence.id)
        attempts.sequence = sequence
        help = max(attempts.learned.least, min(attempts.learned.most, help))
        key = {BY_GROUPS: "hold.by-groups", FIRST_ONLY: "hold.first-only"}.get(help, "hold.run")
        key = "hold.alone-now" if help < FIRST_ONLY else key
        key = "hold.run-one" if len(sequence.turns) == 1 else key
        yield from talk.tell_less(key, sequence=sequence.say(talk.phrases.code, "name"), n=len(sequence.turns))
