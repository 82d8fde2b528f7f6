"""What is said around a timed solve: a question judges nothing, a denied stop stops nothing."""

from __future__ import annotations

import pytest

from coach.language.meaning import Meaning, Scene
from tests.loaded import load


@pytest.mark.parametrize("text", ["what does DNF mean", "why a DNF?", "what is a plus two", "does it mean a penalty?"])
def test_a_question_about_a_penalty_gives_none(text: str) -> None:
    meaning = load().understand(text, "other", Scene(about="another")) or Meaning()
    assert meaning.case is None


@pytest.mark.parametrize("text", ["I did the scramble myself", "I've scrambled it", "I did my own scramble already"])
def test_who_has_scrambled_says_so_in_their_own_words(text: str) -> None:
    meaning = load().understand(text, "ready", Scene(about="scramble"))
    assert meaning is not None
    assert meaning.case == "scrambled"
