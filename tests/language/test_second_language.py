"""A lesson is held in a language that nothing outside its own module knows."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from coach.cube import Cube
from coach.dialogue import Event, Heard
from coach.dialogue.lesson import Lesson, Settings
from coach.language import load, register
from coach.method import default_method
from tests.dialogue import hands
from tests.dialogue.hands import Hands, play
from tests.language import second

SCRAMBLE = "R U2 F' L D B2 R' U F2 D' L2 B U' R2 F L' D2 B' U R"


@pytest.fixture(autouse=True)
def invented_words(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setattr(hands, "COLOURS", second.COLOURS)
    register("zz", "tests.language.second")
    yield


def answer(learner: Hands) -> Event:
    """The truth, said in invented words, and read."""
    event, listen = learner.answer(), learner.listen
    if not isinstance(event, Heard):
        return event
    assert event.meaning
    text = second.said(event.meaning)
    heard = Heard.read(text, load("zz").read(text, listen.asked, listen.scene), listen.asked)
    assert heard.meaning == event.meaning, text
    return heard


@pytest.mark.parametrize("step", ["bottom-cross", None])
def test_a_lesson_leads_to_a_solved_cube_in_invented_words_alone(step: str | None) -> None:
    language, settings = load("zz"), Settings(second.COLOURS)
    lesson = Lesson(second.with_words(default_method()), language.sentences, step, settings, language.offers)
    learner = play(lesson, Hands(Cube().do(SCRAMBLE)), answer)
    assert learner.end is not None and learner.end.outcome == "done"
    assert learner.cube.solved
    words = {word for text in learner.texts for word in re.findall(r"[a-z]+", text.lower())}
    assert words <= second.WORDS, words - second.WORDS


def test_there_is_no_language_that_nobody_registered() -> None:
    with pytest.raises(ValueError, match="There is no language 'yy' here"):
        load("yy")
