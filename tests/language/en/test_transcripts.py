"""What a recogniser wrote down, in the lesson's spelling."""

import pytest

from coach.language import QUESTIONS, Scene
from tests.loaded import load

LANGUAGE = load()


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("the far corners know", "the far corners no"),
        ("you get to yellow ones", "you get two yellow ones"),
        ("I don't know", "I don't know"),
        ("from left to right", "from left to right"),
        ("a cross, no corners", "across no corners"),
        ("there is a cross", "there is a cross"),
        ("the Mac left corner", "the back left corner"),
        ("One at the mark.", "One at the back."),
        ("round the mark on the right", "round the back on the right"),
        ("the edge of the Mac are yellow", "the edge of the back are yellow"),
        ("the one with the mark on it", "the one with the mark on it"),
        ("the two on the left are hot", "the two on the left are not"),
        ("one coroner, front left", "one corner, front left"),
        ("the one on the write", "the one on the right"),
        ("I want to know what it means", "I want to know what it means"),
        ("the near road is yellow", "the near row is yellow"),
        ("left, back and right front", "left back and right front"),
        ("I can see across, all four arms", "I can see a cross, all four arms"),
        ("on the left side, near me", "on the left side near me"),
        ("the cross bottom corners", "the cross but no corners"),
        ("both on them are at the front", "both of them are at the front"),
        ("but the front and left hand.", "but the front and left aren't."),
        ("front and back and heart.", "front and back aren't."),
        ("back left, both at the front ones", "back left, but not the front ones"),
        ("I think it's just the knot.", "I think it's just the dot."),
        ("it is not the knot", "it is not the knot"),
        ("The mat left and the front right", "The back left and the front right"),
        ("But left", "back left"),
        ("The last two.", "The left two."),
        ("the last two are not", "the last two are not"),
        ("none of them is yellow and up", "none of them is yellow on top"),
    ],
)
def test_words_of_the_same_sound_are_spelled_as_the_lesson_does(written: str, meant: str) -> None:
    assert LANGUAGE.respell(written, "look-top-corners") == meant


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("On top on the right and right facing up.", "On top on the right and white facing up."),
        ("Bottom, right hand side, right pointing out to the right.",
         "Bottom, right hand side, white pointing out to the right."),
        ("It is back right facing me.", "It is back right facing me."),
        ("The right face, white up", "The right face, white up"),
        ("Back left corner, the white face is left.", "Back left corner, the white faces left."),
        ("Front right, green facing tone.", "Front right, green facing down."),
    ],
)  # fmt: skip
def test_white_is_what_faces_somewhere(written: str, meant: str) -> None:
    assert LANGUAGE.respell(written, "piece") == meant
    assert LANGUAGE.respell(written, "look-top-edges") == written


def test_what_may_come_before_an_answer_is_itself_understood() -> None:
    pieces = [Scene(piece=piece) for piece in (("white", "green", "orange"), ("green", "red"))]
    for asked in QUESTIONS:
        for sentence in LANGUAGE.before(asked).split("."):
            assert not sentence.strip() or any(LANGUAGE.understand(sentence, asked, one) for one in pieces), sentence


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("Seven team children.", "seventeen children."),
        ("Fiveteen hands", "fifteen hands"),
        ("There are ninety.", "There are nineteen."),
        ("Eight-teen.", "eighteen."),
        ("I make it four tea.", "I make it forty."),
        ("Forty.", "forty."),
        ("It.", "eight."),
        ("ate of them", "eight of them"),
        ("For.", "four."),
        ("for hands", "four hands"),
        ("All except for.", "All except four."),
        ("All that for.", "all but four."),
        ("Too.", "two."),
        ("Won hand.", "one hand."),
        ("Nun.", "none."),
        ("Every body but four.", "everybody but four."),
        ("Um out ten.", "about ten."),
    ],
)
def test_numbers_are_spelled_as_numbers_where_hands_are_counted(written: str, said: str) -> None:
    assert LANGUAGE.respell(written, "hands").casefold() == said.casefold()


@pytest.mark.parametrize(
    "text",
    ["You too.", "For whom?", "It is seven.", "Is it on?", "I won that game.", "All that noise.", "Every one of them."],
)
def test_other_talk_is_no_number(text: str) -> None:
    assert LANGUAGE.respell(text, "hands") == text


def test_numbers_are_spelled_only_where_hands_are_counted() -> None:
    assert LANGUAGE.respell("It.", "claim") == "It."
