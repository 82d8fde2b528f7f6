"""Answers made of few words are transcribed by these where that is as likely, and echoes of the model left out."""

from __future__ import annotations

import re
from collections.abc import Sequence

import numpy as np
import pytest

from coach.app.expected import Expected
from coach.speech.ears import hearing, second_pass, transcript
from coach.speech.ears.recogniser import Transcript
from coach.speech.signal.wav import Samples
from tests.loaded import load

FREE = [("are you are prime", -1.0)]
LETTERS = [("R U R prime", -0.1), ("R U", -3.0)]
WORDS = [("up", -0.2)]


class Model:
    """A model that knows how likely texts are, and when each of their words begins."""

    def __init__(self, logs: dict[str, float] | None = None, starts: Sequence[float] = ()) -> None:
        self._logs, self._starts = logs or {}, starts
        self._texts: list[str] = []

    def tokens(self, text: str) -> list[int]:
        self._texts.append(text.strip())
        return list(range(max(len(re.findall(r"[^\s,.]+|[,.]", text)), 1)))

    def likelihoods(self, sound: object, texts: Sequence[Sequence[int]]) -> list[list[float]]:
        told = [self._logs[text] for text in self._texts[-len(texts) :]]
        return [[log / len(tokens)] * len(tokens) for log, tokens in zip(told, texts, strict=True)]

    def starts(self, sound: object, text: Sequence[int]) -> list[float]:
        return list(self._starts[: len(text)])


@pytest.mark.parametrize(
    ("logs", "chosen"),
    [
        ((-2.0, -9.0, -8.0), LETTERS),  # the short text is likelier only because it is short
        ((-2.0, -13.0, -30.0), FREE),
        ((-1.0, -30.0, -3.5), FREE),  # a single word that is as much likelier is another one
        ((-2.0, -8.0, -1.0), WORDS),
    ],
)
def test_few_words_are_believed_where_they_are_nearly_as_likely_as_any(
    logs: tuple[float, float, float], chosen: list[tuple[str, float]]
) -> None:
    model = Model(dict(zip(("are you are prime", "R U R prime", "up"), logs, strict=True)))
    assert second_pass._as_likely(model, None, FREE, [LETTERS, WORDS]) == chosen  # type: ignore[arg-type]


def test_without_few_words_nothing_is_compared() -> None:
    assert second_pass._as_likely(Model(), None, FREE, []) is FREE  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "at"),
    [
        ("top left, right down, right down.", (2, 4)),
        ("R U U", (1, 2)),
        ("Top left. Top left", (0, 2)),
        ("top left, top right", (0, 0)),
        ("up", (0, 0)),
        ("", (0, 0)),
    ],
)
def test_an_echo_is_the_end_said_again(text: str, at: tuple[int, int]) -> None:
    assert transcript.echo(text) == at


@pytest.mark.parametrize(
    ("starts", "said"),
    [
        ((0.0, 0.3, 0.6, 0.9, 1.2, 1.5), "top left right down right down"),
        ((0.0, 0.3, 0.6, 0.9, 0.9, 0.9), "top left right down"),
    ],
)
def test_an_echo_that_takes_no_time_was_not_said(starts: Sequence[float], said: str) -> None:
    model = Model(starts=starts)
    assert second_pass._said(model, None, "top left right down right down") == said  # type: ignore[arg-type]


def test_a_turn_said_twice_is_kept_though_marks_take_no_time() -> None:
    model = Model(starts=(0.0, 0.4, 0.6, 1.0, 1.2, 1.6, 1.9, 1.9))  # of U , L , F , F .
    assert second_pass._said(model, None, "U, L, F, F.") == "U, L, F, F."  # type: ignore[arg-type]


class Pass:
    """A second pass that writes down one text."""

    name = "second"

    def __init__(self, text: str, phrase: str = "") -> None:
        self._text, self._phrase = text, phrase
        self.words: object = None

    def closed(self, samples: Samples, phrases: Sequence[str]) -> Transcript:
        return Transcript(self._phrase, 0.95, self.name)

    def open(
        self, samples: Samples, before: str = "", fitted: bool = True, words: tuple[tuple[str, ...], ...] = ()
    ) -> Transcript:
        self.words = words
        return Transcript(self._text, 1.0, self.name)

    def prepare(self) -> None:
        """Nothing to load."""


SOUND = np.full(24_000, 3000, np.int16)


def test_turns_may_be_said_twice_over() -> None:
    twice = Pass("right layer up right layer up")
    heard = hearing.decide(twice, SOUND, (), Expected(load(), "recite"))
    assert heard.text == "right layer up right layer up"
    assert twice.words == load().words("recite") != ()


def test_other_answers_said_twice_over_are_the_model_s_doing() -> None:
    twice = Pass("the back and the left the back and the left")
    assert hearing.decide(twice, SOUND, (), Expected(load(), "look-top-edges")).text == "the back and the left"
    assert twice.words == ()


def test_what_can_be_no_turns_is_not_heard() -> None:
    assert hearing.decide(Pass("F two prime"), SOUND, (), Expected(load(), "recite")).text == ""


def test_one_turn_is_no_phrase_that_ends_the_answer_but_a_command_is() -> None:
    answer = Expected(load(), "recite")
    assert hearing.decide(Pass("right up, top left", "right up"), SOUND, (), answer).text == "right up, top left"
    cut = Pass("front anticlockwise, left up", "front anti clockwise")
    assert hearing.decide(cut, SOUND, (), answer).text == "front anticlockwise, left up"
    assert hearing.decide(Pass("give me a hand", "give me a hint"), SOUND, (), answer).text == "give me a hint"


def test_few_words_that_sound_like_a_command_are_none() -> None:
    answer = Expected(load(), "hands")
    assert hearing.decide(Pass("All but four.", "hold on"), SOUND, (), answer).text == "All but four."
    assert hearing.decide(Pass("olden", "hold on"), SOUND, (), answer).text == "hold on"


def test_a_number_is_no_phrase_that_ends_a_count() -> None:
    heard = hearing.decide(Pass("Seven. No, eight.", "seven"), SOUND, (), Expected(load(), "hands"))
    assert heard.text == "Seven. No, eight."
