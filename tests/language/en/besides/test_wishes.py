"""What can be said at any moment: what is to be changed, pain, more time; and the names of colours and marks."""

from __future__ import annotations

import pytest

from coach.language import QUESTIONS, Meaning, Question, Scene
from coach.language.meaning import Change
from tests.loaded import load

LANGUAGE = load()


@pytest.mark.parametrize(
    ("change", "texts"),
    [
        (Change(style="letters"), ("use letters", "can you use letters instead")),
        (Change(style="clock"), ("call them clockwise",)),
        (Change(style="plain"), ("plain words please",)),
        (Change(manner="brief"), ("be brief", "just the short way")),
        (Change(manner="teach"), ("explain more, teach me",)),
        (Change(pause=3.0), ("three seconds between turns", "wait 3 seconds after each turn")),
        (Change(pause=5.0), ("wait five seconds",)),
        (Change(pause=10.0), ("leave me ten seconds",)),
        (Change(step="top-face"), ("let me do the top face",)),
        (Change(step="middle-edges"), ("go to the middle edges",)),
        (Change(step="top-cross"), ("I want to practise the top cross", "go to step four")),
        (Change(hand="left"), (
            "I'm left-handed", "hang on, I'm left handed, can you do it the other way", "I'm a lefty",
            "I'd rather use my left hand", "my left hand is much better at this", "is there a left-handed version",
        )),
        (Change(hand="right"), ("I'm right-handed", "sorry, he is right handed after all")),
        (Change(colours=True), ("I want other marks", "change my colours")),
        (Change(confuse=("red", "orange")), ("I can't tell red from orange", "red and orange look the same to me")),
    ],
)
@pytest.mark.parametrize("asked", QUESTIONS)
def test_a_wish_is_understood_at_every_moment(asked: Question, change: Change, texts: tuple[str]) -> None:
    for text in texts:
        assert LANGUAGE.understand(text, asked) == Meaning(change=change), text


@pytest.mark.parametrize(
    ("text", "asked"),
    [
        ("wait two seconds", "turn"),
        ("which way is clockwise", "turn"),
        ("go back to the first step", "turn"),
        ("red, orange, I can't tell", "row"),
        ("far left, and near right. Yes. The others have different colours on top", "look-top-corners"),
        ("go on to the next step", "turn"),
        ("I turned it with my left hand, is that okay", "turn"),
        ("I turned the right hand side", "turn"),
    ],
)
def test_ordinary_answers_are_no_wishes(text: str, asked: Question) -> None:
    meaning = LANGUAGE.understand(text, asked)
    assert meaning is not None
    assert not meaning.change


@pytest.mark.parametrize("asked", QUESTIONS)
def test_pain_and_more_time_are_understood_at_every_moment(asked: Question) -> None:
    for text in ("my hand hurts", "my wrist is sore"):
        assert LANGUAGE.understand(text, asked) == Meaning(command="pain"), text
    for text in ("give me more time", "I need longer"):
        assert LANGUAGE.understand(text, asked) == Meaning(command="more-time"), text


@pytest.mark.parametrize(
    ("asked", "text", "command"),
    [
        ("claim", "I'm not sure if it's right", "unsure"),
        ("claim", "I can't see", "unsure"),
        ("claim", "I can't see a cross", "no"),
        ("claim", "why do we do this first", "explain"),
        ("claim", "almost, one is missing", "no"),
        ("claim", "yes, except one", "no"),
        ("claim", "yes, what now?", "yes"),
        ("claim", "no doubt", "yes"),
        ("turn", "are we done", "where"),
        ("turn", "is that it?", "where"),
        ("turn", "all done", "next"),
        ("turn", "what did that turn do", "explain"),
        ("turn", "what's next", "next"),
        ("turn", "longer pauses", "slower"),
        ("turn", "more time between turns", "slower"),
        ("ready", "why do I hold it like this", "explain"),
    ],
)
def test_a_question_is_no_yes_and_doubt_is_no_no(asked: Question, text: str, command: str) -> None:
    meaning = LANGUAGE.understand(text, asked)
    assert meaning is not None
    assert meaning.command == command


@pytest.mark.parametrize("text", ["yes", "yes it is", "yeah", "that's right"])
def test_that_the_piece_before_is_in_may_be_affirmed(text: str) -> None:
    scene = Scene(piece=("white", "red"), about="placed")
    assert LANGUAGE.understand(text, "piece", scene) == Meaning(command="yes")


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("dots", "dots"), ("it's dark blue", "dark blue"), ("um, the red one", "red"), ("I call it bumpy", "bumpy"),
        ("sorry, red", "red"), ("three dots", "three dots"), ("it has a star", "star"),
    ],
)  # fmt: skip
def test_a_colour_or_mark_has_the_one_or_two_words_that_are_said(text: str, name: str) -> None:
    assert LANGUAGE.understand(text, "other", Scene(about="colour")) == Meaning(colours=(name,))


@pytest.mark.parametrize(
    "text", ["that's wrong", "no", "no, that's wrong", "what", "I don't know", "wait", "what is a face?", "repeat that"]
)
def test_what_is_no_name_is_not_taken_for_one(text: str) -> None:
    meaning = LANGUAGE.understand(text, "other", Scene(about="colour"))
    assert meaning is not None
    assert meaning.command
    assert not meaning.colours


def test_the_front_is_told_in_the_learners_own_words() -> None:
    marks = Scene({"F": "dark blue", "B": "grey", "R": "rings", "L": "cuts", "U": "dots", "D": "lines"}, about="front")
    for text, name in (("it's the rings", "rings"), ("dark blue", "dark blue"), ("grey I think", "grey")):
        assert LANGUAGE.understand(text, "other", marks) == Meaning(colours=(name,))
    assert not getattr(LANGUAGE.understand("rings or cuts", "other", marks), "colours", ())
    assert LANGUAGE.understand("green", "other", marks) is None
    assert LANGUAGE.understand("I don't know", "other", marks) == Meaning(command="unsure")


@pytest.mark.parametrize("asked", ["row", "turn", "claim", "continue"])
@pytest.mark.parametrize("text", ["where was I up to?", "wait, where are we up to now", "how many more of these?"])
def test_who_asks_how_far_it_is_is_told_and_not_taken_to_be_lost(asked: Question, text: str) -> None:
    assert LANGUAGE.understand(text, asked) == Meaning(command="where")


def test_who_has_lost_their_place_is_lost() -> None:
    assert LANGUAGE.understand("I've lost my place, where were we up to?", "turn") == Meaning(command="lost")


def test_who_wonders_whether_their_answer_was_right_is_not_asked_whether_it_was_wrong() -> None:
    assert not LANGUAGE.read("like that?", "row").asks


@pytest.mark.parametrize(
    ("exercise", "text"),
    [
        ("other", "something else"), ("other", "again?? ask me something else"), ("other", "can we do something else"),
        ("do", "can I do it on the cube now"), ("do", "let's try this one with my cube"),
        ("hold", "quiz me about cases"), ("hold", "ask me which case it is"), ("recite", "test me on the turns"),
    ],
)  # fmt: skip
def test_the_kind_of_exercise_may_be_wished_for(exercise: str, text: str) -> None:
    assert LANGUAGE.understand(text, "recite", Scene(about="top-cross")) == Meaning(change=Change(exercise=exercise))  # type: ignore[arg-type]


@pytest.mark.parametrize("text", ["I turned something else", "I did something else on the cube"])
def test_what_was_done_is_no_wish_for_an_exercise(text: str) -> None:
    meaning = LANGUAGE.understand(text, "do", Scene(about="top-cross"))
    assert not (meaning and meaning.change)


@pytest.mark.parametrize(
    ("step", "text"),
    [
        ("top-face", "I'd like the top face instead, please"), ("top-face", "give me something else, the top face"),
        ("top-cross", "I'd rather work on the last layer, the cross on top"),
        ("top-corners", "I'd rather do the top corners"),
    ],
)
def test_another_step_may_be_preferred(step: str, text: str) -> None:
    assert LANGUAGE.understand(text, "recite", Scene(about="top-edges")) == Meaning(change=Change(step=step))
