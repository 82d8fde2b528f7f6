"""The learner speaks while the coach speaks. The sound and the ears are made up here."""

import io

import numpy as np
import pytest

from coach.app.advice import ask_headphones
from coach.app.captions import Captions
from coach.app.interruption import Unsaid, rest_of, sentences
from coach.app.voice import VoiceShell
from coach.cube import Turn
from coach.dialogue import Ask, Bye, CallTurn, Event, Heard, Listen, Query, Silence, Tell
from coach.language.meaning import Meaning
from coach.speech.ears.recogniser import Transcript
from coach.speech.signal.levels import Levels
from coach.speech.signal.wav import RATE, VOICE_RATE
from coach.speech.turns.driver import Driver
from coach.speech.turns.listening import Expectation, Unanswered, Utterance
from coach.speech.turns.nearness import Nearness
from coach.speech.turns.ports import Played
from coach.speech.turns.turns import Turns
from tests.dialogue.hearing import utter
from tests.loaded import load

BLOCK = round(VOICE_RATE * 0.02)
AT_EAR = bytes(2 * round(RATE * 0.02))
SENTENCE = VOICE_RATE // 2  # every sentence lasts half a second
TURN = Listen("turn", 2.5)


class Room:
    """Blocks, sink, listener and voice in one. `speaks_at`: blocks into each utterance at which the learner
    begins to speak; `says`: what is heard then and later ("": noise, None: nobody speaks)."""

    name = "room"
    signal = True
    confidence = 0.95
    lasting = 10**9  # blocks that the learner speaks on

    def __init__(self, speaks_at: list[int | None], says: list[str | None]) -> None:
        self.speaks_at, self.says = list(speaks_at), list(says)
        self.said: list[str] = []
        self.speaking = False
        self.nearness = Nearness()
        self._texts: list[str] = []
        self._left = self._whole = 0
        self._cut = False
        self._begin: int | None = None

    def synthesise(self, text: str) -> np.ndarray:
        self._texts.append(text)
        return np.zeros(SENTENCE, np.int16)

    def begin(self, samples: np.ndarray) -> None:
        self.said.append(" ".join(self._texts))
        self._texts.clear()
        self._left = self._whole = len(samples) // BLOCK
        self._cut = False
        self._begin = self.speaks_at.pop(0) if self.speaks_at else None

    @property
    def played(self) -> Played:
        return Played((self._whole - self._left) * BLOCK, self._cut or self._left <= 0, self._cut)

    @property
    def playing(self) -> bool:
        """Whether there is something that has not been said."""
        return self._left > 0

    def cut_off(self) -> None:
        self._cut = True

    def waiting(self) -> None:
        pass

    def take(self) -> bytes:
        self._left -= 1
        return AT_EAR

    def watch(self, block: bytes) -> bool:
        at = self._whole - self._left
        self.speaking = self._begin is not None and self._begin <= at < self._begin + self.lasting
        return self.speaking

    def forget(self) -> None:
        self.speaking = False

    def listen(self, moment: Expectation) -> None:
        pass

    def block(self, block: bytes) -> Utterance | Unanswered:
        text = self.says.pop(0) if self.says else None
        self.speaking = False
        if text is None:
            return Unanswered()
        look = Transcript(text, self.confidence if text else 0.0, "room")
        return Utterance(look, np.zeros(100, np.int16), Levels(-20, -60, 0), 1.0)


def shell(room: Room, duplex: bool = True) -> VoiceShell:
    driver = Driver(Turns(room), room, room)  # type: ignore[arg-type]
    made = VoiceShell(load(), driver, room, Captions(io.StringIO()))  # type: ignore[arg-type]
    made.duplex = duplex
    return made


def command(event: Event | None) -> str | None:
    return event.meaning.command if isinstance(event, Heard) and event.meaning else None


def blocks(seconds: float) -> int:
    return round(seconds / 0.02)


def test_sentences_and_what_is_left_of_them() -> None:
    text = "Hold it still. Transcript at the top! Is it a line?"
    assert sentences(text) == ("Hold it still.", "Transcript at the top!", "Is it a line?")
    assert rest_of(text, 2) == "Is it a line?"
    assert rest_of(text, 0) == text
    assert sentences("") == ()


def test_the_coach_falls_silent_and_the_words_are_answered() -> None:
    room = Room([10], ["stop"])
    one = shell(room)
    one.say(CallTurn("Right side up.", Turn("R")))
    assert room.playing, "it has not said all of it"
    assert command(one.listen(TURN)) == "stop"
    assert room.said == ["Right side up."]


def test_go_on_has_it_say_the_rest_from_the_sentence_it_was_in() -> None:
    room = Room([blocks(0.5 + 0.3 + 0.2)], ["go on", "next"])
    one = shell(room)
    one.say(Tell("First. Second. Third."))
    one.say(CallTurn("Right side up.", Turn("R")))
    assert room.said == ["First. Second. Third."], "what comes next waits"
    assert command(one.listen(TURN)) == "next", "the second answer; the first was for the coach's voice"
    assert room.said == ["First. Second. Third.", "Second. Third.", "Right side up."]


def test_a_noise_that_was_nothing_has_it_go_on_by_itself() -> None:
    room = Room([10], ["", None])
    one = shell(room)
    one.say(CallTurn("Right side up.", Turn("R")))
    assert one.listen(TURN) == Silence(2.5)
    assert room.said == ["Right side up."] * 2


def test_whoever_was_interrupted_in_vain_needs_more_to_be_interrupted_again() -> None:
    room = Room([5, 5, 5, 5], ["", "", None])
    room.lasting = 8  # blocks
    one = shell(room)
    one.say(CallTurn("Right side up.", Turn("R")))
    assert one.listen(TURN) == Silence(2.5)
    assert len(room.said) == 3, "the third was said to its end"
    assert not room.playing


def test_an_answer_to_a_question_not_yet_heard_is_not_taken_for_one() -> None:
    room = Room([10], ["yes", "no"])
    one = shell(room)
    one.say(Tell("Now look at the top."))
    one.say(Ask("Is it a line?", Query("claim")))
    assert command(one.listen(Listen("claim", 8.0))) == "no"
    assert room.said == ["Now look at the top."] * 2 + ["Is it a line?"]


@pytest.mark.parametrize("text", ["my hand hurts", "give me more time", "stop"])
def test_what_may_be_said_at_any_moment_needs_no_question(text: str) -> None:
    room = Room([10], [text])
    one = shell(room)
    one.say(Tell("Now look at the top."))
    one.say(Ask("Is it a line?", Query("claim")))
    event = one.listen(Listen("claim", 8.0))
    assert isinstance(event, Heard) and event.text == text
    assert room.said == ["Now look at the top."]


def test_an_answer_within_the_question_is_one() -> None:
    room = Room([20], ["yes"])
    one = shell(room)
    one.say(Ask("Is it a line?", Query("claim")))
    assert command(one.listen(Listen("claim", 8.0))) == "yes"
    assert room.said == ["Is it a line?"]


def test_the_rest_stays_open_while_the_lesson_answers_and_comes_when_the_learner_goes_on() -> None:
    room = Room([10], ["wait", "go on", "next"])
    one = shell(room)
    one.say(CallTurn("Right side up.", Turn("R")))
    assert command(one.listen(TURN)) == "wait"
    one.say(Tell("I am waiting."))
    assert command(one.listen(Listen("continue", 120.0))) == "yes", "the lesson waits: it is for it"
    one.say(Tell("Going on."))
    assert command(one.listen(TURN)) == "next"
    assert room.said == ["Right side up.", "I am waiting.", "Going on.", "Right side up."]


def test_a_new_call_takes_the_place_of_what_was_left_unsaid() -> None:
    room = Room([10], ["go back one", "next"])
    one = shell(room)
    one.say(CallTurn("Right side up.", Turn("R")))
    assert command(one.listen(TURN)) == "back"
    one.say(CallTurn("Right side down.", Turn("R", 3)))
    assert command(one.listen(TURN)) == "next"
    assert room.said == ["Right side up.", "Right side down."]


def test_the_farewell_is_always_said() -> None:
    room = Room([10], ["stop"])
    one = shell(room)
    one.say(Tell("You are done."))
    one.say(Bye("Goodbye."))
    assert room.said == ["You are done.", "Goodbye."]


def test_with_loudspeakers_nobody_interrupts() -> None:
    room = Room([10], ["next"])
    one = shell(room, duplex=False)
    one.say(CallTurn("Right side up.", Turn("R")))
    one.say(CallTurn("Top to the left.", Turn("U")))
    assert room.said == ["Right side up.", "Top to the left."]


@pytest.mark.parametrize(("answer", "known"), [("yes", True), ("no", False), (None, None), ("", None)])
def test_headphones_are_asked_for_by_voice(answer: str | None, known: bool | None) -> None:
    assert ask_headphones(shell(Room([], [answer]), duplex=False), load().sentences) is known


def test_what_is_not_for_the_rest_goes_to_the_lesson() -> None:
    unsaid = Unsaid([CallTurn("Right side up.", Turn("R"))])
    assert unsaid.after(utter("slower", Meaning(command="slower")), TURN) == "event"
    assert unsaid.after(Silence(2.5), TURN) == "event"
    assert not unsaid.wanted(TURN)


def test_a_dead_microphone_is_told_once_and_only_where_an_answer_was_waited_for() -> None:
    room = Room([], [])
    room.signal = False
    one = shell(room, duplex=False)
    assert one.listen(TURN) == Silence(2.5)
    assert room.said == []
    for _ in range(2):
        assert one.listen(Listen("claim", 8.0)) == Silence(8.0)
    assert len(room.said) == 1
    assert "No signal comes from the microphone." in room.said[0]


@pytest.mark.parametrize(("echoes", "cut"), [(False, True), (True, False)])
def test_what_an_echo_canceller_leaves_of_the_coachs_voice_does_not_interrupt_it(echoes: bool, cut: bool) -> None:
    room = Room([5], [""])
    room.lasting = 8  # blocks
    one = shell(room)
    one.driver.turns.echoes = echoes
    one.say(CallTurn("Right side up.", Turn("R")))
    assert room.playing is cut


def test_a_learner_who_says_stop_twice_is_heard() -> None:
    room = Room([], ["stop", "stop"])
    room.confidence = 0.4
    one = shell(room, duplex=False)
    first = one.listen(TURN)
    assert isinstance(first, Heard)
    assert (first.meaning, [command(guess) for guess in first.guesses]) == (None, ["stop"])
    assert command(one.listen(TURN)) == "stop"
