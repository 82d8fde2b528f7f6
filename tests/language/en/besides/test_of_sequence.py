"""What is said about the sequence at hand is told from doing it once more, from being lost and from a wish."""

from __future__ import annotations

import pytest

from coach.language.meaning import Question
from tests.loaded import load

LANGUAGE = load()


def remark(text: str, asked: Question = "turn") -> str | None:
    return LANGUAGE.aside(text, asked).remark


@pytest.mark.parametrize("asked", ["turn", "do"])
@pytest.mark.parametrize("text", ["another hint", "one more hint", "give me another clue please"])
def test_another_hint_is_a_hint(text: str, asked: Question) -> None:
    meaning = LANGUAGE.understand(text, asked)
    assert meaning is not None and meaning.command == "hint"


@pytest.mark.parametrize("text", [
    "another question", "no, not again", "not once more", "don't do it again", "I'd rather not do it again",
    "cancel the once more", "forget the once more", "I don't want it again, it was solved",
    "nah not again, I already did it twice, let's move on",
])  # fmt: skip
@pytest.mark.parametrize("asked", ["turn", "do"])
def test_what_does_not_ask_for_it_plainly_is_neither_once_more_nor_done(text: str, asked: Question) -> None:
    assert LANGUAGE.understand(text, asked) is None


@pytest.mark.parametrize("text", ["once more so I learn it", "I don't get it, once more", "do it again"])
def test_once_more_is_still_asked_for(text: str) -> None:
    meaning = LANGUAGE.understand(text, "do")
    assert meaning is not None and meaning.command == "once-more"
    assert remark(text, "do") is None


@pytest.mark.parametrize("text", [
    "no, not again", "cancel the once more", "nah not again, I already did it twice, let's move on", "never mind",
    "I don't want it again, it was solved", "leave out the repeat", "we don't need to do it a second time",
])  # fmt: skip
def test_once_more_is_called_off(text: str) -> None:
    assert remark(text) == "not-again"


@pytest.mark.parametrize(("text", "kind"), [
    ("what's this one called", "its-name"), ("which one is this", "its-name"), ("what do you call this", "its-name"),
    ("am I doing the back right one?", "its-name"), ("what's the name of this sequence", "its-name"),
    ("am I doing the left or right handed one?", "its-hand"), ("which hand is this for", "its-hand"),
    ("hold on, can't I just turn the left side back down?", "just-undo"), ("couldn't I just undo that", "just-undo"),
    ("I thought we do it again so I learn it", "reminds"), ("are we doing it again?", "reminds"),
])  # fmt: skip
def test_a_question_about_the_sequence_is_a_remark(text: str, kind: str) -> None:
    assert remark(text) == kind


@pytest.mark.parametrize("text", [
    "I didn't turn the top again", "take back what I said", "can I turn the back side", "which one are we on",
    "how am I doing", "I skipped one again", "can we go back", "is it right?", "I turned it twice, not once", "next",
    "do I turn the left hand side", "that is not right, again please",
])  # fmt: skip
def test_other_talk_in_the_pause_is_no_remark_about_it(text: str) -> None:
    assert remark(text) is None


@pytest.mark.parametrize(("text", "hand"), [
    ("use my right hand from now on", "right"), ("I'm right-handed", "right"), ("use my left hand please", "left"),
])  # fmt: skip
def test_the_wish_for_a_hand(text: str, hand: str) -> None:
    meaning = LANGUAGE.understand(text, "turn")
    assert meaning is not None and meaning.change is not None and meaning.change.hand == hand
    question = LANGUAGE.understand("am I doing the left or right handed one?", "turn")
    assert question is None or question.change is None


@pytest.mark.parametrize("text", ["can we start over with the words", "start the words again"])
def test_the_words_are_begun_anew_where_they_are_said_and_come_next_elsewhere(text: str) -> None:
    said = LANGUAGE.understand(text, "recite")
    assert said and said.command == "restart-run"
    other = LANGUAGE.understand(text, "do")
    assert other and other.change and other.change.exercise == "words"


@pytest.mark.parametrize("text", ["what's next", "which one comes next", "what follows that one"])
def test_who_says_turns_and_asks_for_the_next_one_needs_a_hint(text: str) -> None:
    said = LANGUAGE.understand(text, "recite")
    assert said and said.command == "hint"
