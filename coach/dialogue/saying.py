"""The coach's sentences as acts, and the state of the conversation apart from the cube."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Generator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import reduce
from typing import Final, Literal, TypeVar

from coach.cube import Turn
from coach.dialogue.acts import Act, Ask, CallTurn, Event, Query, Rotate, Say, Tell
from coach.dialogue.attempts import Attempts
from coach.dialogue.pace import Pace
from coach.dialogue.pupils import Pupils
from coach.dialogue.record import Record
from coach.language.meaning import USUAL_COLOURS, Change, Question, Scene
from coach.language.phrases import Phrases
from coach.language.teachings import Taught, taught
from coach.language.telling import Telling
from coach.method import Method

_IN_FULL: Final = 2
"""Say a sentence in full this many times before its shorter form takes over."""
_LOOKS: Final = ("look-top-edges", "look-top-corners")
_CALLS: Final = 6
"""Remember this many calls that a learner may still speak of."""

T = TypeVar("T")
Talking = Generator[Act, Event | None, T]
"""A part of the conversation: it yields acts, is sent the event that answers each Listen, and returns a T."""


@dataclass
class Saying:
    """The words and settings the coach speaks with, what was said last, and what it counts."""

    phrases: Phrases
    colours: Mapping[str, str] = field(default_factory=lambda: dict(USUAL_COLOURS))
    pace: Pace = field(default_factory=Pace)
    style: str = "plain"
    manner: str = "teach"
    touch: bool = False
    """Whether the learner goes by touch."""
    method: Callable[[], Method | None] = lambda: None
    """The method that is taught, if one is."""
    hand: Literal["right", "left"] = "right"
    """The hand that turns most."""
    pending: Change | None = None
    """What the learner wants changed once the turns being called are done."""
    confuse: set[str] = field(default_factory=set)
    """The words for colours that the learner cannot tell apart."""
    piece: tuple[str, ...] = ()
    others: tuple[tuple[str, ...], ...] = ()
    """The words for other pieces that the learner may speak of."""
    parts: tuple[tuple[str, str], ...] = ()
    """The parts of the sequence whose turns are being said, as in `Scene`."""
    offers: Callable[[Question, Scene], Sequence[str]] = lambda asked, scene: ()
    step: Callable[[], str] = lambda: ""
    """The id of the step that the lesson is at."""
    where: Callable[[], str] = lambda: ""
    hold: Callable[[], str] = lambda: ""
    held: Callable[[], Mapping[str, str]] = dict
    """The learner's words for the faces as the cube is held now; empty if it is held as at the start."""
    seen: Callable[[], Mapping[str, str]] = dict
    """The learner's words for the known stickers, by place."""
    fell: Callable[[bool | None], None] = lambda turned: None
    """Told that the cube fell, and whether a side turned with it; None if the learner cannot tell."""
    pupils: Pupils | None = None
    """The class that is led, if it is one."""
    why: str = ""
    """What the turns being called are for."""
    turns: int = 0
    questions: int = 0
    slips: int = 0
    record: Record = field(default_factory=Record)
    attempts: Attempts = field(default_factory=Attempts)
    """What the learner has learned by heart, and is about to."""
    hints: frozenset[str] = frozenset()
    """The kinds of slips that the learner has mentioned since the last call."""
    telling: Telling = field(default_factory=Telling)
    """What the learner has said about a slip since the last call."""
    calls: tuple[Turn, ...] = ()
    """The turns called last, one after the other in one hold."""
    cube_turned: bool = False
    """Whether the whole cube has been turned since the last call: with an answer taken back, that is in doubt."""
    _told: Counter[str] = field(default_factory=Counter)
    _taught: tuple[tuple[str, ...], Taught] = ((), ())
    _last: tuple[Say, ...] = ()
    _useless: int = 0
    _query: Query = field(default_factory=lambda: Query("other"))
    """What was asked last."""
    _looked: Question | None = None
    """The question about the top that was asked last, if the cube has not been turned since."""

    @property
    def scene(self) -> Scene:
        """What the understander may know about the present moment."""
        query, held = self._query, self.held() or self.colours
        claim = {f"{face}{place}": colour == self.up for face, place, colour in query.claim}
        claimed = tuple(colour for _, _, colour in query.claim)
        size, rest = (self.pupils.size, self.pupils.rest) if self.pupils else (None, None)
        about = query.about or query.step
        more = (self.seen(), self.others, self._names, size, rest, self.parts, self._looked)
        return Scene(held, self.piece, about, claim, claimed, *more)

    @property
    def _names(self) -> Taught:
        """What is taught, by its ids; worked out anew only if something about it has changed."""
        method = self.method()
        if method is None:
            return ()
        key = (method.name, self.colours["U"], self.colours["D"])
        if self._taught[0] != key:
            self._taught = key, taught(method, self.phrases, self.gaps)
        return self._taught[1]

    @property
    def called(self) -> tuple[Turn, ...]:
        """The turn that was called last, if nothing else has been said since."""
        return tuple(say.turn for say in self._last if isinstance(say, CallTurn))

    @property
    def in_words(self) -> bool:
        """Whether something is asked for that is answered in words alone, without the cube."""
        return self._query.asks in ("recite", "hold")

    @property
    def hold_told(self) -> bool:
        """Whether nothing has been said since the learner was told how to hold the cube."""
        return [say.text for say in self._last] == [self.hold()]

    @property
    def up(self) -> str:
        """What the learner calls the colour on top."""
        return self.colours["U"]

    @property
    def questions_before_first_turn(self) -> int:
        """The number of questions asked so far if no turn has been called yet, otherwise 0."""
        return 0 if self.turns else self.questions

    def words(self, key: str, form: int = 0, **values: object) -> str:
        """The coach's sentence `key`, with the learner's words for top and bottom filled in."""
        return self.phrases.say(key, form, **{**self.gaps, **self._counted(values)})

    def part(self, key: str, form: int = 0, **values: object) -> str:
        """The same for use within a sentence, without a capital."""
        return self.phrases.part(key, form, **{**self.gaps, **self._counted(values)})

    def forms(self, key: str, **values: object) -> tuple[str, ...]:
        """All forms of the sentence `key`, filled in the same way."""
        return self.phrases.forms(key, **{**self.gaps, **self._counted(values)})

    def _counted(self, values: Mapping[str, object]) -> Mapping[str, object]:
        """The values; with a number `n`, also {turns}: "one turn", "7 turns"."""
        n = values.get("n")
        return values if n is None else {**values, "turns": self.phrases.part("turn.count", int(n != 1), n=n)}

    @property
    def gaps(self) -> Mapping[str, str]:
        """The values for the gaps that hold the learner's words for top and bottom."""
        return self.phrases.gaps(self.colours["U"], self.colours["D"])

    def tell(self, key: str, form: int = 0, **values: object) -> Talking[None]:
        """Say something that neither asks nor commands."""
        yield from self.say(Tell(self.words(key, form, **values)))

    def tell_also(self, key: str, **values: object) -> Talking[None]:
        """Tell something that belongs to what was said before: "repeat" means both."""
        yield from self.say(Tell(self.words(key, 0, **values)), joined=True)

    def say(self, say: Say, joined: bool = False) -> Talking[None]:
        """Say it and keep it for "repeat", with what was said before if it is `joined` to that. A question whether a
        call has been done is joined to the call, and one to do something alone to all that was told of it."""
        last = self._last if joined else ()
        if isinstance(say, Ask) and say.query.about == "done":
            last = tuple(each for each in self._last if isinstance(each, CallTurn))
        elif isinstance(say, Ask) and say.query.asks == "do":
            last = tuple(each for each in self._last if isinstance(each, Tell))
        self._last = (*last, say)
        self.questions += isinstance(say, Ask)
        if isinstance(say, CallTurn):
            self._useless, self.cube_turned = 0, False
            self.did((say.turn,))
            self.hints, self.telling = frozenset(), Telling()
        elif isinstance(say, Rotate):
            self.calls, self.cube_turned, self._looked = (), True, None
        elif isinstance(say, Ask) and say.query.asks in _LOOKS:
            self._looked = say.query.asks
        yield say

    def did(self, turns: Sequence[Turn]) -> None:
        """Count face turns that were called, or that the learner has done on their own."""
        self.turns += sum(not turn.whole for turn in turns)
        self.calls = (*self.calls, *turns)[-_CALLS:]

    def tell_hold(self) -> Talking[None]:
        """Say how to hold the cube. If it was being turned, "repeat" means this from then on: whoever did the turn in
        another way must not do it once more."""
        said = Tell(self.hold())
        if any(isinstance(say, Rotate) for say in self._last):
            self._last = (said,)
        yield said

    def tell_less(self, key: str, **values: object) -> Talking[None]:
        """Say the sentence in full twice, after that in its next, shorter form."""
        yield from self.say(Tell(self.words_less(key, **values)))

    def words_less(self, key: str, **values: object) -> str:
        """The sentence: in full twice, after that in its next, shorter form."""
        return self.words(key, int(self._is_known(key)), **values)

    def forms_less(self, key: str, **values: object) -> tuple[str, ...]:
        """All forms of a question; once it has been asked twice, the first and longest is left out."""
        return self.forms(key, **values)[int(self._is_known(key)) :]

    def _is_known(self, key: str) -> bool:
        self._told[key] += 1
        return self._told[key] > _IN_FULL or self.manner == "brief"

    def aside(self, key: str, form: int = 0, **values: object) -> Talking[None]:
        """Say something in passing: "repeat" still means what was said before."""
        yield Tell(self.words(key, form, **values))

    def call(
        self, turn: Turn, n: int, sequence: tuple[Turn, ...] = (), case: str = "", key: str = "", joined: bool = False
    ) -> Talking[None]:
        """Call one face turn, number `n` of a sequence that may belong to a case; `joined` to the call before, it is
        said in the same breath."""
        call = self.phrases.call(turn, self.style)
        if self.record.often(turn):
            self.record.called(turn)
            call = self.phrases.part("turn.careful", call=call)
        text = self.words(key, call=call) if key else f"{call[:1].upper()}{call[1:]}."
        of = sum(not each.whole for each in sequence)
        yield from self.say(CallTurn(text, turn, n, of, self.step(), case, sequence), joined)

    def calls_of(self, turns: Sequence[Turn], style: str = "") -> str:
        """Several calls in one sentence, for a learner to hear, not to do; in the learner's style, or in another."""
        return self.joined("turn.and-then", [self.phrases.call(turn, style or self.style) for turn in turns])

    def joined(self, key: str, parts: Sequence[str]) -> str:
        """Several parts of a sentence as one, by the words `key` for two of them."""
        return reduce(lambda some, more: self.phrases.part(key, some=some, more=more), parts) if parts else ""

    def turn_cube(self, turns: Sequence[Turn], case: str = "") -> Talking[None]:
        """Have the learner turn the whole cube, possibly for a case; after several turns, tell them how they hold it
        now."""
        said: list[Say] = []
        for turn in turns:
            how = f"rotations.{turn}"
            text = self.words("turn.then", how=self.part(how)) if said else self.words(how)
            said.append(Rotate(text, turn, self.step(), case))
            yield from self.say(said[-1])
        if len(said) > 1:
            held = self.held() or self.colours
            said.append(Tell(self.words("turn.held", up=held["U"], front=held["F"])))
            yield said[-1]
        self._last = tuple(said) or self._last
