"""A sequence at each level of help, whatever is said meanwhile: what the coach believes is always so on the cube."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from random import Random

import pytest

from coach.belief.reading.stickers import KnownStickers
from coach.cube import Turn
from coach.dialogue import Act, Ask, CallTurn, Event, Listen
from coach.dialogue.reached import PartOver
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt, Leaving
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.solving.led import LedRun
from coach.dialogue.solving.mending import Mending
from coach.dialogue.talk import Talk
from coach.language.meaning import Command, Meaning
from coach.method import default_method
from coach.method.method import cases_of
from coach.simulation import random_cube
from tests.dialogue.hands import Hands, command
from tests.dialogue.hearing import utter
from tests.loaded import load

METHOD = default_method()
CASES = {
    case.named.id: (step.id, case.id) for step in METHOD.steps for case in cases_of(step) if case.named
}
SEQUENCES = {sequence.id: sequence for sequence in METHOD.sequences}
LEVELS = range(5)


@dataclass
class Pupil(Hands):
    """Does `far` turns of a sequence when it is asked for, and the rest before saying that it is done."""

    turns_to_do: tuple[Turn, ...] = ()
    far: int = 0
    done: int = 0
    alone: int = 0
    """How many turns they have done on their own."""
    said: list[str] = field(default_factory=list)

    def take(self, acts: list[Act]) -> None:  # type: ignore[override]
        for act in acts:
            super().take([act])
            if isinstance(act, CallTurn) and self.turns_to_do[self.done : self.done + 1] == (act.turn,):
                self.done += 1
            elif isinstance(act, Ask) and act.query.asks == "do":
                far, self.far = self.far, 0
                self.go_on(far)

    def go_on(self, far: int) -> None:
        """Do at most `far` turns of the rest."""
        rest = self.turns_to_do[self.done :][:far]
        self.cube = self.cube.do(rest)
        self.done, self.alone = self.done + len(rest), self.alone + len(rest)

    def answer(self) -> Event:
        if self.listen.asked == "turn":
            return super().answer()
        if self.listen.asked == "continue":
            return command("next")
        query = self.question.query
        if self.listen.asked == "do":
            self.go_on(len(self.turns_to_do))
            return command("done")
        if self.listen.asked in ("other", "claim") and query.about in ("begun", "right"):
            yes = self.alone > 0 if query.about == "begun" else self.done == len(self.turns_to_do)
            return command("yes" if yes else "no")
        return super().answer()


@dataclass
class Led:
    """A led run that has been seen through."""

    pupil: Pupil
    run: LedRun
    knowledge: Knowledge
    why: Exception | None
    """What ended it, if that was not its end."""

    @property
    def knows(self) -> bool:
        return self.knowledge.reading.pattern == self.pupil.cube.faces

    @property
    def is_read_next(self) -> bool:
        """Whether the cube will be read, because nobody knows what was done."""
        match self.why:
            case Leaving(open=is_open):
                return is_open
            case Interrupt(command=said):
                return said == "read"
        return isinstance(self.why, PartOver)


def led(
    name: str, level: int, say: Command | None = None, at: int = 0, far: int = 0, seed: int = 1,
    says: Sequence[Event] = (),
) -> Led:  # fmt: skip
    """Lead a sequence on a known cube; `say` is said at Listen number `at`, by who has done `far` turns alone then;
    or `says` one after the other, from the first on."""
    cube = random_cube("bottom-cross", Random(seed))
    knowledge = Knowledge(KnownStickers(cube.faces))
    talk = Talk(load().sentences, held=lambda: knowledge.held, hold=lambda: "held", where=lambda: "here")
    step, case = CASES[name]
    run = LedRun(talk, SEQUENCES[name], lambda turn: knowledge.move((turn,)), step, case, level)
    talk.attempts.now = run.attempt
    pupil = Pupil(cube, turns_to_do=SEQUENCES[name].turns, far=far)
    why: list[Exception] = []

    def flow() -> Talking[None]:
        knowledge.begin_run()
        try:
            try:
                yield from Mending(talk, knowledge).see_through(run)
            except Leaving as leaving:
                yield from run.leave(leaving)
        except (Leaving, PartOver, Interrupt) as ended:
            why.append(ended)

    for number, listen in enumerate(_listens(flow(), pupil)):
        assert number < 200
        event = command(say) if say and number == at else pupil.answer() if number >= len(says) else says[number]
        listen.event = event
    return Led(pupil, run, knowledge, why[0] if why else None)


@dataclass
class _Listening:
    event: Event | None = None


def _listens(flow: Talking[None], pupil: Pupil) -> Iterator[_Listening]:
    """The moments at which something is to be said."""
    event: Event | None = None
    while True:
        try:
            act = flow.send(event)
        except StopIteration:
            return
        event = None
        pupil.take([act])
        if isinstance(act, Listen):
            listening = _Listening()
            yield listening
            event = listening.event


@pytest.mark.parametrize("level", LEVELS)
@pytest.mark.parametrize("name", SEQUENCES)
def test_at_every_level_the_sequence_is_done(name: str, level: int) -> None:
    one = led(name, level)
    assert one.knows and one.why is None and not one.run.helped
    assert one.pupil.cube == random_cube("bottom-cross", Random(1)).do(SEQUENCES[name].turns)
    called = {4: len(one.run.turns), 3: len(one.run.turns), 2: 1}.get(level, 0)
    assert len(one.pupil.turns) == called
    assert one.run.attempt.result == "unaided"


@pytest.mark.parametrize("name", SEQUENCES)
def test_by_groups_there_is_one_pause_for_each_group(name: str) -> None:
    one = led(name, 3)
    listens = [act for act in one.pupil.acts if isinstance(act, Listen)]
    groups = SEQUENCES[name].groups
    assert len(listens) == len(groups)
    pause = led(name, 4).pupil.listen.seconds
    assert [listen.seconds for listen in listens] == [pause * len(group.turns) for group in groups]


SAID: tuple[Command, ...] = (
    "mistake", "lost", "layers-broken", "back", "restart-run", "correct", "stop", "wait", "hint", "call-it", "no",
    "unsure", "repeat", "more-time", "slower", "read", "explain",
)  # fmt: skip


@pytest.mark.parametrize("level", LEVELS)
@pytest.mark.parametrize("name", SEQUENCES)
@pytest.mark.parametrize("say", SAID)
def test_whatever_is_said_the_coach_knows_the_cube(say: Command, name: str, level: int) -> None:
    length = len(SEQUENCES[name].turns)
    fars = sorted({0, 1, length // 2, length}) if level <= 2 else (0,)
    for far in fars:
        for at in range(sum(isinstance(act, Listen) for act in led(name, level, far=far).pupil.acts)):
            one = led(name, level, say, at, far)
            assert one.knows or one.is_read_next, (say, name, level, far, at, one.pupil.texts)


@pytest.mark.parametrize("name", ["three-twist", "flip-by-the-top", "corner-swap"])
def test_who_tells_how_far_they_are_has_just_the_rest_called(name: str) -> None:
    far = utter("I only did the first three", Meaning(command="no"))
    one = led(name, 1, far=3, says=[far, command("call-it")])
    assert one.knows and one.why is None
    assert one.pupil.turns == [str(turn) for turn in SEQUENCES[name].turns[3:]]
    assert one.run.attempt.result == "helped"


def test_who_asks_what_is_next_after_some_turns_is_told_what_follows_them() -> None:
    next_one = utter("I did the first four, what's next", Meaning(command="hint"))
    one = led("three-twist", 1, far=4, says=[next_one])
    assert "After that comes: the right layer goes up, then the top layer goes left, twice" in " ".join(one.pupil.texts)
    assert one.knows


def test_who_stopped_in_the_middle_is_not_taken_to_be_through() -> None:
    half = utter("no, I stopped in the middle", Meaning(command="no"))
    one = led("three-twist", 1, far=2, says=[command("done"), half])
    assert one.knows and one.why is None and not one.run.own_way
    assert one.run.attempt.result == "unaided"


def test_a_hint_before_they_go_on_alone_is_the_turn_that_comes_next() -> None:
    """Only the first turn is called, so it is no use to wait for the next one."""
    sequence = next(each for each in METHOD.sequences if each.id == "flip-by-the-right")
    it = led("flip-by-the-right", 2, "hint")
    assert it.pupil.turns == [str(sequence.turns[0])]
    assert any(text.startswith("After that: ") for text in it.pupil.texts)
    assert not any("I call every turn here" in text for text in it.pupil.texts)
    assert it.run.helped and it.knows
