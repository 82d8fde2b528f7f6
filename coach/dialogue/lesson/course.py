"""The lesson as a state machine: events in, acts out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Hashable, Sequence
from typing import Final

from coach.belief.evidence import Fell
from coach.belief.reading.stickers import UNKNOWN, KnownStickers
from coach.cube import FACES, Cube
from coach.dialogue.acts import Act, Bye, End, Event, Listen, Outcome
from coach.dialogue.attempts import Attempts
from coach.dialogue.lesson.brief import BriefSolve
from coach.dialogue.lesson.colours import Clashes, ask_colours
from coach.dialogue.lesson.lower_steps import LowerStep
from coach.dialogue.lesson.opening import READ, LastTime, find_step, still_so, take_as_done
from coach.dialogue.lesson.part import LessonPart
from coach.dialogue.lesson.scrambling import SCRAMBLE, Scrambling
from coach.dialogue.lesson.settings import Settings
from coach.dialogue.lesson.standing import standing
from coach.dialogue.lesson.top_order import OrderStep
from coach.dialogue.lesson.top_steps import TopStep
from coach.dialogue.lesson.whole_step import WholeStep, is_done, knows
from coach.dialogue.reached import Back, Done, FromTheBottom, Reached, Reread
from coach.dialogue.saying import Talking
from coach.dialogue.signals import ChangeCourse, Interrupt, StopLessonError
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.solving.looking_back import read_whole
from coach.dialogue.talk import Talk
from coach.language.meaning import Question, Scene
from coach.language.phrases import Phrases
from coach.learning.learned import Learned
from coach.method import Method, Step, other_hand
from coach.method.method import AnyStep
from coach.method.model import STEP_IDS

ALL_STEPS: Final = STEP_IDS


_MOST_STEPS_TRIED: Final = 3
"""Have the cube read after this many steps that turned out not to be the learner's."""
_MOST_READ: Final = 4
"""End the lesson rather than have the cube read more often than this because something does not fit."""
_MOST_BACK: Final = 2
"""Have the cube read rather than go back to the top cross more often than this without a turn in between."""


class Lesson:
    """One lesson. `start` and `handle` return the acts up to the next Listen, or to the End.

    The same events always lead to the same acts; nothing here waits, plays, records or reads.
    """

    def __init__(
        self,
        method: Method,
        phrases: Phrases,
        step: str | None = None,
        settings: Settings | None = None,
        offers: Callable[[Question, Scene], Sequence[str]] = lambda asked, scene: (),
        clashes: Clashes = lambda words: (),
        learned: Learned | None = None,
    ) -> None:
        self.method, self.settings = method, settings or Settings()
        self.step = step
        chosen = self.settings
        felt = phrases.felt(chosen.colours.values()) if chosen.touch is None else chosen.touch
        self.talk = Talk(
            phrases.by_touch(felt), colours=chosen.colours, pace=chosen.pace, style=chosen.style,
            manner=chosen.manner, touch=felt, hand=method.hand, method=lambda: self.method,
            confuse=set(chosen.confuse), offers=offers,
            step=lambda: SCRAMBLE if self._now is self._scrambling else self._step, where=self._where,
            hold=self._hold, held=lambda: self.knowledge.held, seen=lambda: self.knowledge.seen,
            fell=lambda turned: self.knowledge.hear(Fell(turned)), attempts=Attempts(learned or Learned(method.name)),
        )  # fmt: skip
        self.talk.attempts.learned.sequences = method.sequence_of
        self.ended = self.failed = False
        self._clashes = clashes
        self._ids = [step.id for step in method.steps]
        self.knowledge = Knowledge(KnownStickers.of(Cube()), dict(self.settings.colours), confuse=self.talk.confuse)
        self._now: LessonPart | None = None
        self._last_time: LastTime | None = None
        self._began = False
        """Whether the work of the steps before the first one has been taken as done."""
        self._scrambling = Scrambling(self.talk, self.knowledge, self.settings.scramble)
        self._there_at = -1
        """The number of turns called when a step was last found to be done already."""
        self._known_step: str | None = None
        """The last known step, while the cube is read."""
        self._flow = self._whole()

    def start(self) -> list[Act]:
        """The acts before anything is heard."""
        return self._advance(None)

    def handle(self, event: Event) -> list[Act]:
        """The acts that answer `event`. Nothing follows once the lesson has ended."""
        return [] if self.ended else self._advance(event)

    def stop(self) -> list[Act]:
        """End the lesson in good order now, because the learner has gone. The last act is always the End, even if
        the lesson is interrupted while saying goodbye or in the middle of a thought."""
        if self.ended:
            return [self._end("stopped")]
        try:
            return self._collect([self._flow.throw(StopLessonError())])
        except StopLessonError:
            return self._collect([self._end("stopped")])

    def fail(self) -> list[Act]:
        """Say goodbye after an unforeseen error."""
        said = not self.ended
        self.ended = self.failed = True
        self._last_time = self._ended_at(unread=True)
        end = self._end("stopped")
        return [Bye(self.talk.words("lesson.failed", step=self._step_name(self._step))), end] if said else [end]

    @property
    def choices(self) -> Settings:
        """The learner's present choices, and where this lesson has ended (None: the cube is solved). The hold that they
        have chosen is the one at the start, however the cube has been turned since."""
        talk = self.talk
        return Settings(
            talk.colours, talk.style, talk.manner, False, talk.pace, talk.touch, frozenset(talk.confuse),
            self._last_time, hand=talk.hand,
        )  # fmt: skip

    def _advance(self, event: Event | None) -> list[Act]:
        return self._collect([self._flow.send(event)])

    def _collect(self, acts: list[Act]) -> list[Act]:
        while not isinstance(acts[-1], Listen | End):
            acts.append(next(self._flow))
        self.ended = isinstance(acts[-1], End)
        return acts

    # The course of the lesson

    def _whole(self) -> Talking[None]:
        outcome: Outcome = "stopped"
        try:
            yield from self._greet()
            yield from self._course()
            outcome = "done"
            yield from self.talk.attempts.confirmed()
            if self.talk.attempts.quiz:
                yield from self.talk.tell("by-heart.quiz-none")
            yield from self._bye("lesson.all_done" if self.method.solves else "lesson.method_done")
        except StopLessonError as stop:
            outcome = stop.outcome
            self._last_time = self._ended_at(stop.open)
            yield from self.talk.attempts.doubted() if stop.open else self.talk.attempts.left()
            yield from self._bye(stop.farewell)
        yield self._end(outcome)

    @property
    def _step(self) -> str:
        """The step that the lesson is at; while it is unknown, the last known one."""
        last = self.settings.last_time.step if self.settings.last_time else self._ids[0]
        leg = self._now.step if isinstance(self._now, BriefSolve) else None
        return leg or self.step or self._known_step or last

    def _ended_at(self, unread: bool) -> LastTime | None:
        """Where the next lesson continues; unchanged if this one did not get beyond its opening."""
        if not self._began:
            return self.settings.last_time
        return LastTime(self._step, unread=unread or self.step is None)

    def _end(self, outcome: Outcome) -> End:
        return End(outcome, self._step, self.talk.turns, self.talk.questions, self.talk.slips)

    def _bye(self, key: str) -> Talking[None]:
        """Say goodbye, and where to continue another day."""
        step = self._step_name(self._step)
        said = [self.talk.words(key, step=step)]
        if self._last_time:
            said.append(self.talk.words("return.read" if self._last_time.unread else "return.from", step=step))
        yield Bye(" ".join(said))

    def _greet(self) -> Talking[None]:
        hold = () if self.settings.ask_colours else ("lesson.hold", "lesson.whole")
        greet = "lesson.greet-name" if self.settings.learner else "lesson.greet"
        for key in (greet, *hold, "lesson.rest"):
            yield from self.talk.tell(key, front=self.settings.front, learner=self.settings.learner)

    def _course(self) -> Talking[None]:
        """All steps, started again whenever the learner wants to change course."""
        ask_colours, find_step = self.settings.ask_colours, self.step is None
        while True:
            try:
                if ask_colours:
                    yield from self._ask_colours()
                    ask_colours = False
                if self._scrambling.to_call:
                    find_step = not (yield from self._scramble())
                if find_step:
                    yield from self._find_step()
                    find_step = False
                yield from self._steps()
                return
            except ChangeCourse as change:
                wish = change.wish
                if change.open:
                    self._forget_all()
                    self._scrambling.to_call = ()
                ask_colours = ask_colours or wish.colours
                if wish.hand and wish.hand != self.method.hand:
                    self.method = other_hand(self.method)
                if wish.step in self._ids:
                    self._scrambling.to_call = ()
                    self.step, self._began, find_step = wish.step, False, False
                    yield from self.talk.tell("lesson.next_step", step=self._step_name(self._step))

    def _ask_colours(self) -> Talking[None]:
        named = yield from ask_colours(self.talk, self._clashes)
        centres = self.knowledge.reading.centres
        words = {centre: named[face] for face, centre in zip(FACES, centres, strict=True)}
        self.talk.colours, self.knowledge.colours = words, dict(words)
        self.talk.confuse &= set(words.values())
        self.talk.touch = self.talk.phrases.felt(words.values())
        self.talk.phrases = self.talk.phrases.by_touch(self.talk.touch)
        yield from self.talk.tell("lesson.whole")

    def _scramble(self) -> Talking[bool]:
        """Call the scramble, or what is left of it; False if the learner's cube is scrambled already."""
        self._now = self._scrambling
        if not (yield from self._scrambling.wanted()):
            return False
        self._began = True
        if isinstance((yield from self._scrambling.go()), Done):
            self.step = self._ids[0]
            yield from self.talk.tell("scramble.done", step=self._step_name(self.step))
        else:
            self._forget_all()
        return True

    def _find_step(self) -> Talking[None]:
        """Find the step to begin with; if the learner does not know it, the cube is read. Earlier steps are confirmed:
        the learner may have been misunderstood, or the cube turned since, and this must not count as a slip."""
        last = self.settings.last_time
        step = yield from find_step(self.talk, self._ids, last)
        for _ in range(_MOST_STEPS_TRIED):
            before = self.method.steps[: self._ids.index(step)] if step != READ else ()
            if step == READ or (yield from still_so(self.talk, self.knowledge, before)):
                break
            yield from self.talk.tell("return.changed" if last and step == last.step else "return.not-so")
            last, step = None, (yield from find_step(self.talk, self._ids, None))
        else:
            step = READ
        self.step = None if step == READ else step
        if self.step:
            yield from self.talk.tell("lesson.next_step", step=self._step_name(self.step))

    def _steps(self) -> Talking[None]:
        number = self._begin()
        been: Counter[Hashable] = Counter()
        while number < len(self._ids):
            try:
                if self.step is None:
                    yield from read_whole(self.talk, self.knowledge, again=been["read"] > 0)
                    yield from self._upright()
                    number = 0
                if self.talk.manner == "brief" and (self.knowledge.complete or self.settings.manner == "brief"):
                    reached, last = (yield from self._brief(self._ids[number])), True
                else:
                    reached, last = (yield from self._do(number)), False
            except Interrupt:
                continue  # there is nothing to take back or to correct here
            match reached:
                case Done():
                    number = len(self._ids) if last else self._after(number)
                case Back():
                    yield from self._back(been)
                    number = self._ids.index("top-cross")
                case FromTheBottom():
                    yield from self._from_the_bottom(been)
                    number = 0
                case Reread(why):
                    yield from self._reread(why, been)

    def _back(self, been: Counter[Hashable]) -> Talking[None]:
        """Start the top steps again; if that goes round in circles, read the cube."""
        if not self.knowledge.top:
            self.knowledge.forget_top()
        been["back", self.talk.turns] += 1
        if been["back", self.talk.turns] > _MOST_BACK:  # the lower layers cannot be as thought
            yield from self._goes_round()
        else:
            yield from self.talk.tell("odd.cross-first")

    def _from_the_bottom(self, been: Counter[Hashable]) -> Talking[None]:
        """Begin with the first step again; if that has led nowhere before, read the cube."""
        self.knowledge.close_top()
        been["bottom", self.talk.turns, self.talk.questions] += 1
        if been["bottom", self.talk.turns, self.talk.questions] > 1:
            yield from self._goes_round()

    def _reread(self, why: str, been: Counter[Hashable]) -> Talking[None]:
        """Have the cube read, but not again and again."""
        if why:
            yield from self.talk.tell(why)
        been["read"] += 1
        if been["read"] > _MOST_READ:  # whatever is said of this cube, it leads nowhere
            raise StopLessonError("lesson.no-further")
        self._forget_all()

    def _forget_all(self) -> None:
        """Have the cube read next."""
        self.knowledge.forget_all()
        self._known_step, self.step = self.step or self._known_step, None

    def _goes_round(self) -> Talking[None]:
        """Have the cube read next, since what is known of it leads nowhere."""
        yield from self.talk.tell("read.why-round")
        self._forget_all()

    def _brief(self, step: str) -> Talking[Reached]:
        """Do the rest by the shortest plans, once the whole cube is known."""
        self.step = step
        if not self.knowledge.complete:
            yield from read_whole(self.talk, self.knowledge)
            yield from self._upright()
        self._now = BriefSolve(self.talk, self.knowledge)
        return (yield from self._now.go())

    def _upright(self) -> Talking[None]:
        """Have the cube turned so that its top is on top again."""
        yield from self.talk.rotate(self.knowledge.reading.righting, lambda turn: self.knowledge.move((turn,)))

    def _begin(self) -> int:
        """Take the steps before the first one as done; the result is the number of that first step. A step already
        begun goes on with what is known."""
        number = self._ids.index(self.step) if self.step else 0
        if self._began or self.step is None:
            self._began = True
            return number
        self._began = True
        take_as_done(self.knowledge, self.method.steps, number)
        return number

    def _do(self, number: int) -> Talking[Reached]:
        """Carry out step `number`, and say which one follows."""
        step, turns = self.method.steps[number], self.talk.turns
        self.step, self.talk.why = self._ids[number], ""
        alone = knows(self.talk.attempts.hoped, step) and not is_done(self.knowledge, step)
        reached = (yield from self._leave(step)) if alone else None
        if reached is None:
            self._now = part = self._part(step)
            reached = yield from part.go()
        if isinstance(reached, Done) and (after := self._after(number)) < len(self._ids):
            there = not (alone or self.talk.turns > turns)
            key, again = ("lesson.step_there", self._there_at == turns) if there else ("lesson.step_done", False)
            self._there_at = turns if there else -1
            names = {"step": self._step_name(self.step), "next": self._step_name(self._ids[after])}
            yield from self.talk.tell(key, int(again), **names)
        return reached

    def _after(self, number: int) -> int:
        """The number of the step to do after step `number`: once every sticker is known, the next that is not done.
        The last one may still need a turn of the top where it seems to be done."""
        knowledge = self.knowledge
        pattern = (knowledge.reading if knowledge.complete else knowledge.known).pattern
        if UNKNOWN in pattern:
            return number + 1

        def done(step: AnyStep) -> bool:
            return step.done(pattern) if isinstance(step, Step) else is_done(knowledge, step)

        later = enumerate(self.method.steps[number + 1 : -1], number + 1)
        return next((n for n, step in later if not done(step)), max(number + 1, len(self._ids) - 1))

    def _part(self, step: AnyStep) -> LessonPart:
        if isinstance(step, Step):
            return (OrderStep if step.permutes else TopStep)(self.talk, step, self.knowledge)
        return LowerStep(self.talk, step, self.knowledge)

    def _leave(self, step: AnyStep) -> Talking[Reached | None]:
        """Leave the step to the learner; None if they want it called."""
        self._now = whole = WholeStep(self.talk, step, self.knowledge)
        reached = yield from whole.go()
        return None if whole.called else reached

    # What is known of where we are

    def _step_name(self, step_id: str) -> str:
        return self.talk.phrases.part(f"steps.{step_id}")

    def _hold(self) -> str:
        held = self.knowledge.held
        return self.talk.words("lesson.hold", up=held["U"], front=held["F"])

    def _where(self) -> str:
        if self._now is self._scrambling:
            return self._scrambling.where()
        if self.step is None and self._began:
            return self.talk.words("where.reading", n=len(self.knowledge.reading.read) + 6)
        return standing(self.talk, self._ids, self._step, self._now)
