"""Practice by heart: one exercise after the other until the time is over. Like a lesson, a state machine."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import replace
from typing import Final, Literal

from coach.cube import FACES, from_faces
from coach.dialogue.acts import Act, Bye, Event, Heard, Query
from coach.dialogue.by_heart import next_comes
from coach.dialogue.lesson.colours import Clashes
from coach.dialogue.lesson.course import Lesson
from coach.dialogue.lesson.settings import Settings
from coach.dialogue.lesson.standing import in_turns
from coach.dialogue.practice.choosing import WORDS, all_items, choose, for_now, kinds, to_review, wished
from coach.dialogue.practice.doing import Doing
from coach.dialogue.practice.lasting import estimated
from coach.dialogue.practice.placing import NEXT_PIECE, NEXT_STEP, next_piece, next_step, of_case
from coach.dialogue.practice.setups import setups
from coach.dialogue.practice.telling import Matter, TellingCase, of_top
from coach.dialogue.reached import PartOver, Reread
from coach.dialogue.reciting import Reciting
from coach.dialogue.replies import yes_or_no
from coach.dialogue.saying import T, Talking
from coach.dialogue.signals import ChangeCourse, Interrupt, StopLessonError
from coach.dialogue.solving.looking_back import read_whole
from coach.language.meaning import Change, Question, Scene
from coach.language.phrases import Phrases
from coach.learning.exercise import Item, Result, by_item
from coach.learning.learned import Learned
from coach.learning.progress import progress, spoken
from coach.learning.schedule import Fsrs, Schedule
from coach.method import Case, Method, PlacingCase, Step, cases_of, other_hand

REST_SECONDS: Final = 600.0
"""Suggest a rest for the hands after each of these."""
_WORTH_RESTING: Final = 180.0
"""Suggest it only if so many seconds are left after it."""
_MORE_SECONDS: Final = 300.0
"""How long to go on for a learner who wants more in the end."""
_MOST_READ: Final = 4
"""End the session rather than have the cube read more often than this because something does not fit."""
_SOLVED: Final = "".join(face * 9 for face in FACES)


class Practice(Lesson):
    """A session of about `minutes`. `elapsed` tells the seconds since its start; without it they are estimated from
    what was said and called."""

    def __init__(
        self,
        method: Method,
        phrases: Phrases,
        learned: Learned,
        minutes: float = 10.0,
        settings: Settings | None = None,
        offers: Callable[[Question, Scene], Sequence[str]] = lambda asked, scene: (),
        clashes: Clashes = lambda words: (),
        elapsed: Callable[[], float] | None = None,
        planner: Schedule | None = None,
    ) -> None:
        super().__init__(method, phrases, None, settings, offers, clashes, learned)
        self._seconds, self._planner = minutes * 60, planner or Fsrs()
        self._estimate, self._until = 0.0, self._seconds
        self._elapsed = elapsed or (lambda: self._estimate)
        self._setups, self._items = setups(method), all_items(method)
        self._focus = ""
        """The id of the step that the learner wants to practise; empty for all."""
        self._tried: list[Item] = []
        self._rested, self._read = 0.0, 0
        self._before = len(learned.exercises)
        self._done_last: Doing | None = None
        self._cubeless = False
        """Whether only words are practised, because nobody knows what the cube is like."""

    @property
    def choices(self) -> Settings:
        """The learner's present choices; where their last lesson ended stays as it was."""
        return replace(super().choices, last_time=self.settings.last_time)

    def handle(self, event: Event) -> list[Act]:
        """The acts that answer `event`."""
        self._estimate += estimated(event, self.talk.pace)
        return super().handle(event)

    def _collect(self, acts: list[Act]) -> list[Act]:
        acts = super()._collect(acts)
        self._estimate += sum(estimated(act, self.talk.pace) for act in acts)
        return acts

    # The course of the session

    def _greet(self) -> Talking[None]:
        name = self.settings.learner
        yield from self.talk.tell("practice.greet-name" if name else "practice.greet", learner=name)
        yield from self.talk.tell("lesson.rest")

    def _course(self) -> Talking[None]:
        if self.settings.ask_colours:
            yield from self._ask_colours()
        yield from self._take_in_hand()
        yield from self._tell_plan()
        self._rested = self._elapsed()  # solving first does not count
        self._until = self._rested + self._seconds
        yield from self._exercises()
        while (yield from self._offer_to_solve()):
            self._until = self._elapsed() + _MORE_SECONDS
            yield from self._exercises()

    def _exercises(self) -> Talking[None]:
        """One exercise after the other until the time is over, and one more that was wished for; then make sure of the
        last ones."""
        while (self._elapsed() < self._until or self.talk.attempts.wish) and (item := self._next()):
            yield from self._suggest_rest()
            self._tried.append(item)
            self.step = item.step
            if self.talk.attempts.wish or self.talk.attempts.again:  # a wish that is being followed
                self.talk.count_useful()
            self.talk.attempts.wish, self.talk.attempts.again = None, False
            try:
                yield from self._exercise(item)
            except ChangeCourse as change:
                yield from self._change(change)
            except Interrupt:
                yield from self.talk.tell("reply.not-now")
        if self._done_last and self.talk.attempts.open:
            yield from self._done_last.make_sure()

    def _offer_to_solve(self) -> Talking[bool]:
        """A cube that is solved can be practised on at once the next time; the result is whether the learner would
        rather practise more now."""
        if not self.knowledge.complete or self._cubeless or self.knowledge.solved:
            return False
        answer = yield from self._asks("solve-last", _last)
        if answer == "solve":
            self.step, self._began = self._ids[0], True
            with suppress(ChangeCourse):
                yield from self._steps()
        return answer == "more"

    def _take_in_hand(self) -> Talking[None]:
        """Find out whether the cube is solved; if not, have it solved in an ordinary lesson, or do without it."""
        solved = yield from self._asks("solved", yes_or_no)
        first = "" if solved else (yield from self._asks("solve-first", _first))
        if solved or first == "solved":
            if not self.settings.ask_colours:
                yield from self.talk.tell("lesson.hold", front=self.settings.front)
                yield from self.talk.tell("lesson.whole")
            self.knowledge.take_as_solved()
        elif first == "solve":
            yield from super()._course()
            self.knowledge.take_as_solved()
        else:
            self._cubeless = True

    def _asks(self, about: str, take: Callable[[Heard], T | None]) -> Talking[T]:
        query, forms = Query("other", about=about), self.talk.forms(f"practice.{about}")
        while True:
            try:
                return (yield from self.talk.until(query, forms, take))
            except Interrupt:
                yield from self.talk.tell("reply.not-now")
            except ChangeCourse as change:
                yield from self._follow(change.wish)

    def _tell_plan(self) -> Talking[None]:
        """Say in a sentence what is planned."""
        if self._cubeless:
            yield from self.talk.tell("practice.words-only")
        learned = self.talk.attempts.learned
        waiting = len(to_review(self._wanted(), learned.exercises, learned.today, self._planner))
        first = self._next()
        if waiting:
            yield from self.talk.tell("practice.plan-due", int(waiting > 1), n=waiting)
        elif first:
            key = "practice.plan-on" if first in by_item(learned.exercises) else "practice.plan-new"
            yield from self.talk.tell(key, step=self._step_name(first.step))

    def _suggest_rest(self) -> Talking[None]:
        now = self._elapsed()
        if now - self._rested >= REST_SECONDS and self._until - now >= _WORTH_RESTING:
            self._rested = now
            if not (yield from self._asks("rest", yes_or_no)):
                raise StopLessonError("practice.enough")

    def _change(self, change: ChangeCourse) -> Talking[None]:
        """Do what the learner wishes for, from now on; a cube that was left half done is read."""
        if change.open:
            yield from self._have_read("read.why")
        yield from self._follow(change.wish)

    def _follow(self, wish: Change) -> Talking[None]:
        if wish.hand and wish.hand != self.method.hand:
            self.method = other_hand(self.method)
            self.talk.attempts.learned.method = self.method.name
            self._setups, self._items = setups(self.method), all_items(self.method)
        if wish.colours:
            yield from self._ask_colours()
        if wish.exercise:
            yield from next_comes(self.talk, wish.exercise)
        if wish.step in self._ids and wish.step != self._focus:
            self.talk.count_useful()
        if wish.step in self._ids:
            self._focus = str(wish.step)
            yield from self.talk.tell("practice.focus", step=self._step_name(self._focus))

    # What is next

    def _wanted(self) -> Sequence[Item]:
        items = [item for item in self._items if self._focus in ("", item.step)]
        return kinds(items, "recite", "hold") if self._cubeless else items

    def _next(self) -> Item | None:
        attempts, wanted = self.talk.attempts, self._wanted()
        if attempts.again and self._tried:  # said while something was asked for in words
            return self._tried[-1]
        learned = attempts.hoped
        if attempts.wish and not (self._cubeless and attempts.wish == "do"):
            among = self._items if attempts.wish != "other" and not self._cubeless else wanted
            wanted = wished(attempts.wish, wanted, self._tried) or wished(attempts.wish, among, self._tried) or wanted
        wanted = for_now(wanted, learned.exercises, self._tried)
        return choose(wanted, learned.exercises, self._tried, learned.today, self._planner, self.method.sequence_of)

    def _reachable(self, item: Item) -> bool:
        """Whether the method has a way into the case, as far as one is needed."""
        if item.kind != "do" or not self.knowledge.complete:
            return True
        cube = from_faces(self.knowledge.reading.pattern)
        return self._setups.turns(cube, item.step, self._case(item)) is not None

    def _case(self, item: Item) -> Case | PlacingCase:
        return next(case for case in cases_of(self.method.step(item.step)) if case.id == item.case)

    # The exercises

    def _exercise(self, item: Item) -> Talking[None]:
        help = self.talk.attempts.hoped.help(item.step, item.case, item.kind)
        if not self._reachable(item):
            self._items = tuple(each for each in self._items if each != item)
            return
        if item.kind == "do":
            self._now = self._done_last = part = Doing(self.talk, self.knowledge, self._setups, item, help)
            reached = yield from part.go()
            if isinstance(reached, Reread) and self.talk.attempts.wish in WORDS:
                yield from self.talk.attempts.doubted()
                self.knowledge.forget_all()  # it is read when it is needed again
            elif isinstance(reached, Reread):
                yield from self._have_read(reached.why)
            return
        self._now = None
        result = yield from self._in_words(item, help)
        if result in ("unaided", "helped"):
            self.talk.count_useful()
        yield from self.talk.attempts.noted(item, help, result)

    def _in_words(self, item: Item, help: int) -> Talking[Result]:
        if item.kind == "recite":
            case = self._case(item)
            assert case.named
            return (yield from Reciting(self.talk, case.named, item, help).go())
        matter = self._matter(item)
        try:
            return (yield from TellingCase(self.talk, item, help, matter, self._upset).go())
        finally:
            self.talk.others = ()

    def _upset(self) -> Talking[None]:
        """Nobody knows the cube any more, but it is not needed for words: it is read when it is."""
        yield from self.talk.attempts.doubted()
        if not self._cubeless:
            self.knowledge.forget_all()
        yield from self.talk.tell("telling.cube-later", int(self._cubeless))

    def _matter(self, item: Item) -> Matter:
        """What is asked for."""
        step, number = self.method.step(item.step), len(self._tried)
        if item.case == NEXT_STEP:
            return next_step(self.talk, self.method, item.step)
        if isinstance(step, Step):
            case = self._case(item)
            assert isinstance(case, Case)
            pattern = self._setups.top.example(step, case, number).faces
            return of_top(self.talk, step, case, pattern)
        if item.case == NEXT_PIECE:
            matter, self.talk.others = next_piece(self.talk, step, number)
            return matter
        case = self._case(item)
        assert isinstance(case, PlacingCase)
        return of_case(self.talk, step, case, number)

    def _have_read(self, why: str) -> Talking[None]:
        """Have the cube read."""
        self._read += bool(why)
        if self._read > _MOST_READ:
            raise StopLessonError("lesson.no-further")
        if why:
            yield from self.talk.tell(why)
        self.knowledge.forget_all()
        while not self.knowledge.complete:
            try:
                yield from read_whole(self.talk, self.knowledge, again=self._read > 1)
            except (Interrupt, PartOver):
                continue
        yield from self._upright()

    # The end

    def _bye(self, key: str) -> Talking[None]:
        """Say goodbye, and what is due next."""
        learned = self.talk.attempts.learned
        now = progress(self.settings.learner, learned.exercises, learned.today, self._planner, learned.sequences)
        ended = "practice.done" if key in ("lesson.all_done", "lesson.method_done") else key
        said = [self.talk.words(ended, step=self._step_name(self._step))]
        if alone := self._done_alone():
            said.append(self.talk.words("practice.alone", what=self.talk.joined("practice.and", alone)))
        if now.items:
            known, later = spoken(now)
            later = replace(later, key="practice.next-time") if now.due else later
            said += [self.talk.words(each.key, each.form, **each.values) for each in (known, later)]
        yield Bye(" ".join(said))

    def _done_alone(self) -> Sequence[str]:
        """The names of the sequences that were done or said alone in this session."""
        practised = self.talk.attempts.learned.exercises[self._before :]
        ids = dict.fromkeys(self.method.sequence_of.get((each.item.step, each.item.case)) for each in practised
                            if each.alone and each.item.kind != "hold")  # fmt: skip
        named = {each.id: each.say(self.talk.phrases.code, "name") for each in self.method.sequences}
        return [named[id] for id in ids if id in named]

    def _where(self) -> str:
        if not self._tried and self._now:  # the cube is solved first
            return super()._where()
        if not self._tried:
            minutes = max(1, round(self._seconds / 60))
            return self.talk.words("practice.lasts", int(minutes > 1), minutes=minutes)
        left = max(1, round((self._until - self._elapsed()) / 60))
        said = self.talk.words("practice.where", int(left > 1), step=self._step_name(self._step), minutes=left)
        run = self._now.calling if self._now else None
        return f"{in_turns(self.talk, run)} {said}" if run and run.last else said


def _first(heard: Heard) -> Literal["solved", "solve", "words"] | None:
    """Whether the cube is solved by now, is to be solved first, or only words are practised."""
    if heard.meaning and heard.meaning.case == "solved":
        return "solved"
    answer = yes_or_no(heard)
    return None if answer is None else "solve" if answer else "words"


def _last(heard: Heard) -> Literal["more", "solve", "end"] | None:
    """Whether the cube is solved in the end, the session just ends, or the learner wants to practise more."""
    if heard.meaning and heard.meaning.change and heard.meaning.change.exercise:
        return "more"
    answer = yes_or_no(heard)
    return None if answer is None else "solve" if answer else "end"
