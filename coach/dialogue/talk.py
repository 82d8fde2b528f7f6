"""The ways of talking that every part of the lesson shares: saying, asking, listening, escalating.

The conversation is written as coroutines. They yield acts and are sent the event that answers a Listen;
they own no clock, device, file or thread, so the same events always lead to the same acts.
"""

from __future__ import annotations

from collections.abc import Callable, Generator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Final, TypeVar

from coach.cube import Turn
from coach.dialogue.acts import Act, Adjust, Event, Heard, Listen, Say, Silence
from coach.dialogue.knowledge import DEFAULT_COLOURS
from coach.dialogue.pace import LONGEST, SHORTEST, Pace
from coach.dialogue.record import Record
from coach.language.meaning import Question, Scene
from coach.language.phrases import Phrases

T = TypeVar("T")
Talking = Generator[Act, Event | None, T]

ANSWER_SECONDS: Final = 8.0
ROTATION_SECONDS: Final = 5.0
WAITING_SECONDS: Final = 120.0
USELESS_IN_A_ROW: Final = 9
"""So many silences and answers of no use in a row, and the coach ends the lesson in good order."""
_INTERRUPTS: Final = frozenset({"back", "restart-run", "mistake", "lost", "correct", "layers-broken", "read"})


class Interrupt(Exception):
    """The learner said something that changes where the lesson is; `command` as in the meanings."""

    def __init__(self, command: str, heard: Heard) -> None:
        super().__init__(command)
        self.command, self.heard = command, heard


class ReadCubeError(Exception):
    """What is known of the cube does not hold: it has to be read."""


class UnsolvableError(Exception):
    """The cube cannot be solved by turning; the learner has been told why."""


class StopLessonError(Exception):
    """The lesson ends early; `farewell` is the key of the last sentence, which says why."""

    def __init__(self, farewell: str = "lesson.stopped") -> None:
        super().__init__()
        self.farewell = farewell


@dataclass
class Talk:
    """The state of the conversation that is not about the cube."""

    phrases: Phrases
    colours: Mapping[str, str] = field(default_factory=lambda: dict(DEFAULT_COLOURS))
    pace: Pace = field(default_factory=Pace)
    style: str = "plain"
    piece: tuple[str, ...] = ()
    needs_longer: bool = False
    """Whether the learner has needed longer than the time that a hold is given."""
    offers: Callable[[Question, str], Sequence[str]] = lambda asked, about: ()
    where: Callable[[], str] = lambda: ""
    hold: Callable[[], str] = lambda: ""
    held: Callable[[], Mapping[str, str]] = dict
    """The learner's words for the faces as the cube is held now; nothing where that is as at the start."""
    why: str = ""
    """What the turns that are called now are for."""
    turns: int = 0
    questions: int = 0
    slips: int = 0
    record: Record = field(default_factory=Record)
    hints: frozenset[str] = frozenset()
    """The kinds of slips of which the learner has spoken since the last call."""
    _last: tuple[Say, ...] = ()
    _useless: int = 0
    _silent: bool = False
    _about: str = ""
    """What the last question is about, where its kind leaves that open."""
    _claim: Sequence[Sequence[Any]] = ()
    """What the last question claims, as in the session log: face, place and colour of each sticker."""

    @property
    def scene(self) -> Scene:
        """What the understander may know of the moment."""
        claim = {f"{face}{place}": colour == self.up for face, place, colour in self._claim}
        return Scene(self.held() or self.colours, self.piece, self._about, claim)

    @property
    def up(self) -> str:
        """What the learner calls the colour on top."""
        return self.colours["U"]

    @property
    def questions_before_first_turn(self) -> int:
        """How many questions were asked so far if no turn was called yet, else 0."""
        return 0 if self.turns else self.questions

    @property
    def asks_ready(self) -> bool:
        """Whether the learner is asked to say "ready" in a new hold: before anything is turned, and again once they
        have needed longer."""
        return self.needs_longer or not self.turns

    # Saying

    def words(self, key: str, form: int = 0, **values: object) -> str:
        """The coach's sentence `key`, with the learner's words for top and bottom filled in."""
        return self.phrases.say(key, form, **{**self.gaps, **values})

    def forms(self, key: str, **values: object) -> tuple[str, ...]:
        """All forms of the sentence `key`, filled in the same way."""
        return self.phrases.forms(key, **{**self.gaps, **values})

    @property
    def gaps(self) -> Mapping[str, str]:
        """What stands in the gaps for the learner's words for top and bottom."""
        return self.phrases.gaps(self.colours["U"], self.colours["D"])

    def tell(self, key: str, form: int = 0, **values: object) -> Talking[None]:
        """Say something that asks and commands nothing."""
        yield from self.say(Say(self.words(key, form, **values), "tell"))

    def say(self, say: Say) -> Talking[None]:
        """Say it, and keep it for "repeat"."""
        self._last = (say,)
        self.questions += say.act == "ask"
        self._useless = 0 if say.act == "turn" else self._useless
        if say.act == "turn":
            self.turns += 1
            self.hints = frozenset()
        yield say

    def call(self, turn: Turn, n: int, of: int, key: str = "") -> Talking[None]:
        """Call one face turn, turn number `n` of a run of `of`."""
        call = self.phrases.call(turn, self.style)
        if self.record.often(turn):
            call = self.phrases.part("turn.careful", call=call)
        text = self.words(key, call=call) if key else f"{call[:1].upper()}{call[1:]}."
        yield from self.say(Say(text, "turn", {"turn": str(turn), "n": n, "of": of}))

    def turn_cube(self, turns: Sequence[Turn]) -> Talking[None]:
        """Have the learner turn the whole cube."""
        for turn in turns:
            yield from self.say(Say(self.phrases.rotation(turn), "rotate", {"rotation": str(turn)}))

    def rotate(self, turns: Sequence[Turn], moved: Callable[[Turn], None]) -> Talking[None]:
        """Have the learner turn the whole cube, tell `moved`, and leave time for it."""
        for turn in turns:
            moved(turn)
            yield from self.turn_cube((turn,))
            yield from self.listen("ready", ROTATION_SECONDS, take=goes_on)

    # Asking

    def ask(
        self,
        asks: Question,
        forms: Sequence[str],
        take: Callable[[Heard], T | None],
        data: Mapping[str, Any] | None = None,
    ) -> Talking[T | None]:
        """Ask until `take` makes something of an answer. Each form is said once, the next when the one
        before was not understood or not answered; None when the forms are used up."""
        self._about, self._claim = (data or {}).get("about", ""), (data or {}).get("claim", ())
        tried: Heard | None = None
        taken: T | None = None

        def keep(heard: Heard) -> bool:
            """Take each answer once: what it tells is remembered."""
            nonlocal tried, taken
            tried, taken = heard, take(heard)
            return taken is not None

        for number, form in enumerate(forms):
            yield from self.say(Say(form, "ask", {"asks": asks, **(data or {})}))
            event = yield from self.listen(asks, ANSWER_SECONDS, take=keep)
            if isinstance(event, Heard):
                if event is not tried:
                    keep(event)
                if taken is not None:
                    self._useless = 0
                    return taken
                if event.meaning is not None:
                    self._count_useless(asks)
                if number + 1 < len(forms):
                    yield from self._stumble(event, number)
        return None

    def _stumble(self, heard: Heard, number: int) -> Talking[None]:
        unsure = heard.meaning is not None and heard.meaning.command == "unsure"
        key = "reply.unsure" if unsure else "reply.not-understood"
        yield Say(self.words(key, number), "tell")

    def insist(self, asks: Question, forms: Sequence[str], data: Mapping[str, Any] | None = None) -> Talking[bool]:
        """A yes/no question that must be answered."""
        return (yield from self.until(asks, forms, yes_or_no, data))

    def until(
        self,
        asks: Question,
        forms: Sequence[str],
        take: Callable[[Heard], T | None],
        data: Mapping[str, Any] | None = None,
    ) -> Talking[T]:
        """Ask until `take` makes something of an answer; when the forms are used up, wait for the learner to
        come back, then ask again. The lesson ends in good order when nobody answers for long."""
        while True:
            answer = yield from self.ask(asks, forms, take, data)
            if answer is not None:
                return answer
            yield from self.wait()

    def wait(self, said: str = "") -> Talking[None]:
        """Wait until anything with a meaning is heard; remind of it, and end the lesson after long silences.
        `said` is the key of what the coach says first, when the learner has asked it to wait."""
        reminders = list(self.phrases.forms("ask.still-there" if self._silent or said else "ask.more-time"))
        yield Say(self.words(said) if said else reminders.pop(0), "tell")
        while True:
            event = yield from self.listen("continue", WAITING_SECONDS, take=_goes_on_or_waits)
            if isinstance(event, Heard) and event.meaning is not None:
                if event.meaning.command != "wait":
                    return
                yield Say(self.words("reply.waiting"), "tell")
            elif reminders:
                yield Say(reminders.pop(0), "tell")
            elif isinstance(event, Silence):
                raise StopLessonError("lesson.silent")

    def remind(self, form: int) -> Talking[None]:
        """Remind a learner for whose word the coach waits."""
        yield Say(self.words("ask.next", form), "tell")

    # Listening

    def listen(
        self, asked: Question, seconds: float, take: Callable[[Heard], bool] = lambda heard: False
    ) -> Talking[Event]:
        """The next event that matters here. Commands that are open at any moment are carried out on the
        way; those that change where the lesson is are raised as Interrupt."""
        paced = self.pace.seconds
        while True:
            # The pace may just have been changed.
            patience = seconds * self.pace.seconds / paced if asked == "turn" else seconds
            event = yield Listen(asked, patience, self.scene)
            assert event is not None
            if isinstance(event, Heard) and event.guesses:
                event = yield from self._make_sure(event.guesses)
            self._silent = isinstance(event, Silence)
            if isinstance(event, Silence) or event.meaning is None:
                self._count_useless(asked)
                return event
            command = event.meaning.command
            if command == "stop":
                raise StopLessonError
            if command in _INTERRUPTS:
                self._count_useless(asked)  # it may be meant; but for ever it leads nowhere
                self.hints = self.phrases.hints(event.text)
                raise Interrupt(command, event)
            if take(event) or not (yield from self._answer(command, asked, event)):
                return event
            self._useless = 0

    def _make_sure(self, guesses: Sequence[Heard]) -> Talking[Event]:
        """Ask whether one of `guesses` was said; what was said instead, if neither."""
        for guess in guesses:
            self.questions += 1
            asked = self.words("reply.did-you-say", text=guess.text.rstrip(" .,?!"))
            yield Say(asked, "ask", {"asks": "other", "about": "heard"})
            event = yield Listen("claim", ANSWER_SECONDS, replace(self.scene, claim={}))
            assert event is not None
            if isinstance(event, Silence):
                return event
            answer = yes_or_no(event)
            if answer:
                return guess
            if answer is None:
                return Heard(event.text, event.meaning, event.confidence)
        return Heard("", None)

    def _count_useless(self, asked: Question) -> None:
        # In the pause after a call silence is the usual answer.
        if asked == "turn" and not self.pace.on_word:
            return
        self._useless += 1
        if self._useless >= USELESS_IN_A_ROW:
            raise StopLessonError("lesson.silent" if self._silent else "lesson.no-further")

    def _answer(self, command: str | None, asked: Question, heard: Heard) -> Talking[bool]:
        """Carry out a command that leaves the lesson where it is, and ask again what was asked; False if
        `command` is none."""
        if command == "repeat":
            yield from self._repeat()
            return True
        if command == "wait":
            self.needs_longer = self.needs_longer or asked == "ready"
            yield from self.wait("reply.waiting")
            yield Say(self.words("reply.resumed"), "tell")
        elif command in ("slower", "faster", "on-my-word"):
            yield from self._change_pace(command)
        elif command in ("louder", "softer"):
            yield Adjust(1 if command == "louder" else -1)
            yield Say(self.words(f"reply.{command}"), "tell")
        elif command == "where":
            yield Say(self.where(), "tell")
        elif command == "help":
            yield from self._help(asked)
        elif command == "explain":
            yield Say(self._explanation(heard.text), "tell")
        else:
            return False
        if asked != "continue":  # while it waits it does not press
            yield from self._ask_again()
        return True

    def _repeat(self) -> Talking[None]:
        for say in self._last:
            # Said again for the ears only: the learner must not do a turn twice.
            yield Say(self.words("reply.again", text=say.text), "tell")

    def _ask_again(self) -> Talking[None]:
        for say in self._last:
            if say.act == "ask":
                yield Say(say.text, "tell")

    def _help(self, asked: Question) -> Talking[None]:
        offers = ", ".join(self.offers(asked, self._about))
        if offers:
            yield Say(self.words("reply.help", offers=offers), "tell")
        yield Say(self.words("reply.help-always"), "tell")

    def _explanation(self, text: str) -> str:
        if "why" in text.lower() and self.why:
            return self.why
        return self.phrases.explain(text) or self.hold()

    def _change_pace(self, command: str) -> Talking[None]:
        before = self.pace
        if command == "on-my-word":
            self.pace = Pace(before.pause, on_word=True)
            yield Say(self.words("turn.on-word"), "tell")
            return
        self.pace = before.slower() if command == "slower" else before.faster()
        limit = self.pace.pause in (SHORTEST, LONGEST)
        key = {"slower": "reply.slowest", "faster": "reply.fastest"}[command] if limit else f"reply.{command}"
        yield Say(self.words(key, seconds=f"{self.pace.pause:.2g}"), "tell")


def goes_on(heard: Heard) -> bool:
    """Whether the learner says to go on."""
    return yes_or_no(heard) is True


def _goes_on_or_waits(heard: Heard) -> bool:
    return goes_on(heard) or (heard.meaning is not None and heard.meaning.command == "wait")


def yes_or_no(heard: Heard) -> bool | None:
    """Whether the answer is a yes or a no; None if neither."""
    command = heard.meaning.command if heard.meaning else None
    if command in ("yes", "ready", "next", "resume", "done-top"):
        return True
    return False if command == "no" else None
