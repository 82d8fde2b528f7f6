"""The ways of talking that every part of the lesson shares: asking, listening, waiting, escalating.

The conversation is written as coroutines that yield acts and are sent the event that answers a Listen. They
own no clock, device, file or thread, so the same events always lead to the same acts.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from coach.cube import Turn
from coach.dialogue import by_heart, changing, doubt, taught
from coach.dialogue.acts import Adjust, Ask, Event, Heard, Listen, Query, Silence, Tell
from coach.dialogue.beside import beside
from coach.dialogue.moment import LONGER, USELESS_IN_A_ROW, Moment
from coach.dialogue.pauses import said_again
from coach.dialogue.replies import Answer, resumes, says_whether, waits, yes_or_no
from coach.dialogue.saying import T, Talking
from coach.dialogue.signals import Interrupt, StopLessonError
from coach.language.commands import Trait, has
from coach.language.meaning import Meaning, Question
from coach.language.questions import QUESTIONS, asks_whether_so

ROTATION_SECONDS: Final = 5.0
"""Allow this many seconds for each turn of the whole cube."""
WAITING_SECONDS: Final = 120.0
"""After this many seconds of silence, remind a learner who has asked the coach to wait."""
_MOST_UNCLEAR: Final = 3
"""Go on after this many unclear answers, or answers of "not yet", while the learner takes the cube in hand."""
_MOST_REMARKS: Final = 2
"""Say this many times that the coach still listens; after that, ignore what is said to others."""


@dataclass
class Talk(Moment):
    """Asks, listens, and does what the coach may be asked to do at any moment."""

    @property
    def asks_ready(self) -> bool:
        """Whether to ask the learner to say "ready" in a new hold: before anything is turned, and whenever they have
        needed longer."""
        return self.needs_longer or not self.turns

    def rotate(self, turns: Sequence[Turn], moved: Callable[[Turn], None], case: str = "") -> Talking[None]:
        """Have the learner turn the whole cube, report it to `moved`, and leave time for it."""
        for turn in turns:
            moved(turn)
        if not turns:
            return
        yield from self.turn_cube(turns, case)
        try:
            yield from self._while_turning(ROTATION_SECONDS * len(turns))
        except Interrupt as interrupt:
            if interrupt.command == "correct" and not interrupt.row:  # they may have been too busy to turn
                yield from self.say_hold()
            raise

    def say_hold(self) -> Talking[None]:
        """Say how to hold the cube, if it has been turned since the last call and that may not have been done."""
        if self.cube_turned:
            yield from self.tell_hold()
        self.cube_turned = False

    def turn_again(self) -> Talking[None]:
        """Tell a learner who said something else while turning the whole cube how to hold it, and give them all the
        time they need."""
        yield from self.tell_hold()
        yield from self.aside("ask.ready")
        yield from self._while_turning(WAITING_SECONDS)

    def _while_turning(self, seconds: float) -> Talking[None]:
        try:
            yield from self._turned(seconds)
        except Interrupt as interrupt:
            interrupt.turning = True
            raise

    def _turned(self, seconds: float) -> Talking[None]:
        """Leave time to turn the whole cube, and wait for a learner who has not done it yet."""
        for late in range(_MOST_UNCLEAR):
            event = yield from self.moment(seconds)
            if isinstance(event, Silence) or yes_or_no(event):
                return
            yield from self.aside("turn.not-yet", late % 2)
            seconds = WAITING_SECONDS

    def moment(self, seconds: float) -> Talking[Event]:
        """Leave time to do what was said; the result is what the learner says about it. Unclear answers get a reply,
        and only a few of them can hold things up."""
        for unclear in range(_MOST_UNCLEAR):
            event = yield from self.listen("ready", seconds, take=says_whether)
            if isinstance(event, Silence) or event.meaning:
                return event
            yield from self.aside("turn.not-understood-ready", unclear % 2)
        return Silence()

    # Asking

    def ask(self, query: Query, forms: Sequence[str], take: Callable[[Heard], T | None]) -> Talking[T | None]:
        """Ask until `take` makes something of an answer. Each form is said once, the next one if the one before was
        not understood or not answered; None once the forms are used up."""
        answer = Answer(take)
        for number, form in enumerate(forms):
            event = yield from self._asked(form, query, answer)
            if number == 0 and isinstance(event, Heard) and event.meaning is None and event.says("only-okay"):
                event = yield from self._whether_yes(event, query, answer)
            if isinstance(event, Heard):
                if answer(event):
                    self._useless = 0
                    return answer.value
                if event.meaning is not None:
                    self.count_useless(query.asks)
                if number + 1 < len(forms):
                    yield from self._stumble(event, number)
        return None

    def pose(self, text: str, query: Query) -> Talking[None]:
        """Ask a question; whoever asks it listens for the answer."""
        self._query = query
        yield from self.say(Ask(text, query))

    def _asked(self, text: str, query: Query, take: Callable[[Heard], bool]) -> Talking[Event]:
        """What comes after the question, which is asked again where the learner only says that they are there."""
        while True:
            yield from self.pose(text, query)
            event = yield from self.listen(query.asks, self.patience(query.asks), take=take)
            if isinstance(event, Silence) or not event.says("only-here"):
                return event
            if event.meaning:  # otherwise it has been counted already
                self.count_useless(query.asks)

    def _whether_yes(self, okay: Heard, query: Query, take: Callable[[Heard], bool]) -> Talking[Event]:
        """What somebody answers who has only said okay and is asked whether that is a yes; then another okay is one."""
        if not asks_whether_so(query.asks, query.about):
            return okay
        self.questions += 1
        yield Ask(self.words("ask.whether-yes"), query)
        event = yield from self.listen(query.asks, self.patience(query.asks), take=take)
        agrees = isinstance(event, Heard) and event.meaning is None and event.says("only-okay")
        return replace(okay, meaning=Meaning(command="yes")) if agrees else event

    def _stumble(self, heard: Heard, number: int) -> Talking[None]:
        unsure = heard.meaning is not None and heard.meaning.command == "unsure"
        partly = heard.meaning is None and heard.says("yes-first")
        yield from self.aside(f"reply.{'unsure' if unsure else 'yes-but' if partly else 'not-understood'}", number)

    def insist(self, query: Query, forms: Sequence[str]) -> Talking[bool]:
        """A yes/no question that must be answered."""
        return (yield from self.until(query, forms, yes_or_no))

    def until(self, query: Query, forms: Sequence[str], take: Callable[[Heard], T | None]) -> Talking[T]:
        """Ask until `take` makes something of an answer. Once the forms are used up, wait as long as the learner needs,
        for the answer or for a word to ask again. If nobody answers for long, the lesson ends in good order."""
        while True:
            value = yield from self.ask(query, forms, take)
            if value is not None:
                return value
            answer = Answer(take)
            yield from self.wait("", query.asks, answer)
            if answer.value is not None:
                self._useless = 0
                return answer.value

    def wait(
        self, said: str = "", asked: Question = "continue", take: Callable[[Heard], bool] = lambda heard: False
    ) -> Talking[Heard | None]:
        """Wait until the learner says to go on (None) or gives an answer to `asked` that `take` accepts, whichever is
        first. Remind them after long silences, and then end the lesson. `said` is the key of what the coach says
        first if the learner has asked it to wait."""
        answers = asked == "ready" and not said  # the coach waits for just that word
        if QUESTIONS[asked].between and not answers:
            asked, take = "continue", lambda heard: False
        calls = self._silent or bool(said)
        reminders = [*(forms := self.forms("ask.still-there" if calls else "ask.more-time"))]
        yield Tell(self.words(said) if said else reminders.pop(0))
        unclear = 0

        def there(heard: Heard) -> bool:
            """Whether they only say that they are there, which a bare yes does once they have been asked that."""
            called = calls and len(reminders) < len(forms) and heard.says("only-yes")
            back = bool(said) and (heard.says("only-ready") or heard.says("only-onward"))
            return heard.says("only-here") or back or called

        def ends(heard: Heard) -> bool:
            return there(heard) or waits(heard) or resumes(heard, asked) or take(heard)

        while True:
            event = yield from self.listen(asked, WAITING_SECONDS, take=ends)
            if isinstance(event, Silence):
                if not reminders:
                    raise StopLessonError("lesson.silent")
                yield Tell(reminders.pop(0))
            elif there(event):
                return None
            elif event.meaning is None:
                if said:  # the learner asked to wait and may talk to others at length
                    self._useless, reminders = 0, list(forms)
                if asked != "continue" and unclear < _MOST_REMARKS:
                    yield from self.aside("reply.waiting-unclear", unclear)
                    unclear += 1
            elif waits(event):
                yield from self.aside("reply.waiting")
            else:
                return event if (answers or not resumes(event, asked)) and take(event) else None

    def remind(self, form: int) -> Talking[None]:
        """Remind a learner that the coach is waiting for their word."""
        yield from self.aside("ask.next", form)

    # Listening

    def listen(
        self, asked: Question, seconds: float, take: Callable[[Heard], bool] = lambda heard: False
    ) -> Talking[Event]:
        """The next event that matters here. Commands that are allowed at any moment are carried out on the way; those
        that change where the lesson is are raised as Interrupt."""
        paced = self.pace.seconds
        while True:
            if self.pupils and self._useless >= USELESS_IN_A_ROW:
                yield from doubt.class_goes_on(self, WAITING_SECONDS)
                yield from self._back_to(asked)
            # The pace may just have been changed.
            patience = seconds * self.pace.seconds / paced if asked == "turn" else seconds
            event = yield Listen(asked, patience, self.scene)
            assert event is not None
            if isinstance(event, Heard) and self._asks_for_it(event, asked):
                event = replace(event, meaning=Meaning(command="whole-sequence"), guesses=())
            elif isinstance(event, Heard) and (yield from beside(self, event, asked)):
                yield from self._back_to(asked)
                seconds = WAITING_SECONDS
                continue
            takes_back = isinstance(event, Heard) and self._takes_back(event, asked)
            if not takes_back and isinstance(event, Heard) and (yield from said_again(self, event, asked)):
                seconds = WAITING_SECONDS
                continue
            back = isinstance(event, Heard) and event.says("only-ready") and take(event)
            if not (takes_back or back) and isinstance(event, Heard) and event.guesses:
                event = yield from doubt.make_sure(self, event.guesses)
            if isinstance(event, Heard) and self._takes_back(event, asked):
                raise Interrupt("correct", event)
            if isinstance(event, Heard) and event.meaning is None and event.says("only-here"):
                self.count_presence(asked)
                return event
            self._silent = isinstance(event, Silence)
            if isinstance(event, Silence) or event.meaning is None:
                self.count_useless(asked)
                return event
            command = event.meaning.command
            if command == "stop":
                if (yield from doubt.means_stop(self, event)):
                    raise StopLessonError(here=not self.hurts)
                yield from self._ask_again()
                continue
            if command and has(command, Trait.INTERRUPTS):
                self.count_useless(asked)  # it may be meant, but repeated for ever it leads nowhere
                raise self.interrupt(command, event)
            if take(event):
                return event
            answer = yield from self._obey(event, asked, take)
            if answer is not None:
                return answer
            if command == "more-time" and asked == "turn":
                seconds *= LONGER  # also for the turn that has just been called
            if has(command, Trait.ASKS_BACK):
                self.count_useless(asked)  # a sentence that is never understood leads nowhere
            else:
                self._useless = 0

    def _asks_for_it(self, heard: Heard, asked: Question) -> bool:
        """Whether they ask by name for what they are doing now: that is help with it."""
        ids, method = heard.aside.asks_for, self.method()
        return method is not None and bool(ids) and taught.is_at_hand(self, method, ids, asked, self._query)

    def _takes_back(self, heard: Heard, asked: Question) -> bool:
        """Whether what was said before is plainly taken back, though it was not read so."""
        if self.searching and (heard.says("nothing-wrong") or self._of_a_row(heard, asked)):
            return True
        if heard.says("corrects-answer") and (self.searching or QUESTIONS[asked].between):
            return True
        return QUESTIONS[asked].open and heard.meaning is None and heard.says("answers-wrong")

    def _of_a_row(self, heard: Heard, asked: Question) -> bool:
        """Whether the answer to a claim puts a row right that was told before: it denies a colour not claimed."""
        row = heard.aside.row
        return asked == "claim" and bool(row and row.instead and row.instead[0] not in self.scene.claimed)

    # What may be asked of the coach

    def _obey(self, heard: Heard, asked: Question, take: Callable[[Heard], bool]) -> Talking[Event | None]:
        """Carry out a command that leaves the lesson where it is, ask the open question again, and return None.
        Anything else is returned, as is an answer that comes while the coach waits."""
        meaning = heard.meaning
        assert meaning is not None
        command = meaning.command
        if command == "repeat":
            yield from self.repeat()
            return None
        if command == "more-time":
            yield from self._give_time(asked)
            return None
        if command in ("wait", "pain"):
            self.needs_longer = self.needs_longer or asked == "ready"
            self.hurts = self.hurts or command == "pain"
            answer = yield from self.wait("reply.pain" if command == "pain" else "reply.waiting", asked, take)
            if answer is not None:
                return answer
            self.hurts = False
            yield from self.aside("reply.resumed")
            if asked == "turn":
                yield from self._remind_of_call()
            elif asked == "ready" and self.cube_turned:  # which they may not have done before they waited
                yield from self.tell_hold()
        elif command in ("slower", "faster", "on-my-word"):
            yield from changing.pace(self, command, heard.says("faster"))
        elif command in ("louder", "softer"):
            yield Adjust(1 if command == "louder" else -1)
            yield from self.aside(f"reply.{command}")
        elif command == "where":
            yield Tell(self.where())
            if asked == "ready":  # which they may not have done yet
                yield from self.say_hold()
        elif command == "help":
            yield from self._help(asked)
        elif command == "explain":
            yield Tell(self._explanation(heard))
        elif command == "hint" and asked == "turn":
            raise self.interrupt("what-next", heard)
        elif command in by_heart.WISHES:
            yield from by_heart.obey(self, heard)
            if asked == "turn":
                yield from self._remind_of_call()
        elif meaning.change and command is None:
            yield from changing.settings(self, meaning.change, asked)
            if meaning.change.exercise and asked == "turn":
                yield from self._remind_of_call()
        else:
            return heard
        if asked == "claim" and heard.says("yes-first") and not has(command, Trait.WAITS):
            return replace(heard, meaning=Meaning(command="yes"))  # the question is answered as well
        if asked != "continue":  # a waiting coach does not press
            yield from self._ask_again()
        return None

    def _ask_again(self) -> Talking[None]:
        yield from (Tell(say.text) for say in self._last if isinstance(say, Ask))

    def _back_to(self, asked: Question) -> Talking[None]:
        """Go back to what was open before something else was mentioned."""
        if asked == "turn":
            yield from self._remind_of_call()
            yield from self.aside("turn.not-yet")
        elif asked == "ready" and not any(isinstance(say, Ask) for say in self._last):
            yield from self.aside("ask.ready")
        elif asked != "continue":
            asks = [say for say in self._last if isinstance(say, Ask)]
            yield from asks
            if not asks:
                yield from (say for say in self._last if isinstance(say, Tell))

    def _help(self, asked: Question) -> Talking[None]:
        if offers := ", ".join(self.offers(asked, self.scene)):
            yield from self.aside("reply.help", offers=offers)
        yield from self.aside("reply.help-always")

    def _explanation(self, heard: Heard) -> str:
        if heard.meaning and heard.meaning.step:
            return self.words(f"what.{heard.meaning.step}")
        if heard.says("why") and (self.rows or self.searching):
            return self.words("read.why-rows")
        if heard.says("why") and (self.why or self.phrases.has(f"what.{self.step()}")):
            return self.why or self.words(f"what.{self.step()}")
        size = (self.pupils.size if self.pupils else None) or 0
        return self.words(heard.aside.word, n=size) if heard.aside.word else self.hold()

    def _give_time(self, asked: Question) -> Talking[None]:
        """Give more time: longer pauses after calls, otherwise longer until a question is asked again."""
        if asked == "turn":
            yield from changing.pace(self, "slower")
            yield from self._remind_of_call()
            return
        self.unhurried = True
        self.needs_longer = self.needs_longer or asked == "ready"
        yield from self.aside("reply.more-time")

    def _remind_of_call(self) -> Talking[None]:
        """Remind the learner of the turn called last, without having it done twice."""
        for turn in self.called:
            yield from self.remind_of(turn)

    def remind_of(self, turn: Turn) -> Talking[None]:
        """Say a call again for a learner who may not have done it yet."""
        yield from self.aside("reply.last-call", call=self.phrases.call(turn, self.style))
