"""What was surely heard, what is asked about, and what is nothing."""

import numpy as np
import pytest

from coach.app.certainty import LIKELY, SURE, agreed, judge
from coach.app.hearing import Hearing
from coach.dialogue import Heard
from coach.language.meaning import Question
from coach.speech.ears.recogniser import Alternative, Transcript
from coach.speech.ears.two_pass import TwoPass
from coach.speech.signal.levels import Levels
from tests.loaded import load


class Decided:
    """A second pass that has heard something already."""

    def __init__(self, heard: Transcript) -> None:
        self._heard = heard

    def closed(self, samples: object, phrases: object) -> Transcript:
        return self._heard


CLEAR, NOISY = Levels(-20, -60, 0), Levels(-30, -35, 0)


def heard(asked: Question, text: str, sure: float, *others: tuple[str, float], levels: Levels = CLEAR) -> Heard:
    look = Transcript(text, sure, "made up", tuple(Alternative(*other) for other in others))
    return judge(look, levels, lambda words: load().understand(words, asked), asked)


def command(one: Heard) -> str | None:
    return one.meaning.command if one.meaning else None


def commands(one: Heard) -> list[str | None]:
    return [command(guess) for guess in one.guesses]


def test_what_is_surely_heard_is_acted_on() -> None:
    event = heard("claim", "yes", 0.9, ("no", 0.05))
    assert (event.text, command(event), event.confidence, event.guesses) == ("yes", "yes", 0.9, ())


def test_what_is_not_understood_is_asked_about_likeliest_first_and_each_meaning_once() -> None:
    event = heard("claim", "", 0.3, ("no", 0.3), ("nope", 0.28), ("yes", 0.25), ("i am lost", 0.22))
    assert (event.text, event.meaning) == ("", None)
    assert commands(event) == ["no", "yes"]
    assert [guess.text for guess in event.guesses] == ["no", "yes"]
    assert event.guesses[0].confidence == 0.3


def test_what_is_too_unlikely_or_drowned_in_noise_is_not_asked_about() -> None:
    assert heard("claim", "", 0.15, ("no", LIKELY - 0.01)).guesses == ()
    assert heard("claim", "", 0.3, ("no", 0.3), levels=NOISY).guesses == ()
    assert heard("claim", "", 0.0).guesses == ()


@pytest.mark.parametrize("said", ["stop", "start again", "i made a mistake", "i am lost", "go back one"])
def test_commands_that_change_the_lesson_need_more_certainty(said: str) -> None:
    for asked in ("turn", "claim"):
        unsure = heard(asked, said, SURE - 0.05)
        assert unsure.meaning is None
        assert unsure.guesses[0].text == said
        assert unsure.guesses[0].meaning == load().understand(said, asked)
        assert heard(asked, said, SURE).meaning == load().understand(said, asked)


@pytest.mark.parametrize(("said", "grave"), [("stop", True), ("i made a mistake", True), ("next", False)])
def test_a_recording_of_what_changes_the_lesson_must_be_heard_more_surely(
    said: str, grave: bool
) -> None:
    for sure, through in ((0.5, not grave), (0.9, True)):
        sought = Transcript(said, sure, "made up", (Alternative("wait", 0.1),))
        heard = Hearing(TwoPass(None, Decided(sought)), load()).sound(np.zeros(100, np.int16), [said, "wait"], "turn")
        assert heard.text == (said if through else "")
        assert through or heard.alternatives[0] == Alternative(said, heard.confidence)


def test_next_does_not_need_it() -> None:
    assert command(heard("turn", "next", SURE - 0.2)) == "next"


def test_two_that_are_about_as_likely_are_asked_about() -> None:
    assert commands(heard("claim", "yes", 0.5, ("no", 0.45))) == ["yes", "no"]
    assert command(heard("claim", "yes", 0.5, ("no", 0.2))) == "yes"
    assert command(heard("claim", "yes", 0.5, ("yeah", 0.45))) == "yes", "both mean the same"


def test_after_a_call_only_what_must_not_be_missed_is_asked_about() -> None:
    assert heard("turn", "", 0.3, ("next", 0.3), ("stop", 0.25)).guesses == ()
    assert commands(heard("turn", "", 0.3, ("stop", 0.3), ("next", 0.25))) == ["stop"]
    assert heard("turn", "", 0.3, ("louder please", 0.3)).guesses == ()


def test_words_without_a_meaning_here_stay_words() -> None:
    event = heard("turn", "blue", 0.9)
    assert (event.text, event.meaning, event.guesses) == ("blue", None, ())


def test_what_was_said_twice_is_sure_where_both_times_together_are() -> None:
    half, less = (heard("turn", "stop", sure).guesses[0] for sure in (0.4, 0.25))
    other = heard("turn", "i am lost", 0.4).guesses[0]
    assert command(agreed(half, less) or half) == "stop"
    assert agreed(half, less) is not None
    assert agreed(less, less) is None
    assert agreed(half, other) is None
    assert agreed(None, half) is None
    assert agreed(half, None) is None
