"""What a recogniser wrote down, in the lesson's spelling, and descriptions that cannot be so."""

import pytest

from coach.language import QUESTIONS, Question, load

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


@pytest.mark.parametrize(
    ("asked", "text"),
    [
        ("look-top-corners", "just one, far right and the near left one is yellow"),
        ("look-top-corners", "two corners, front left, front right and back left"),
        ("piece", "it is on the left, in the middle layer, on the right"),
        ("look-top-corners", "i want a single shot house coffee with sugar"),
        ("look-top-edges", "only the back one and the left one and the right one"),
        ("look-top-edges", "just the front one is yellow, nothing else"),
        ("look-top-corners", "all of them but the front left one"),
        ("look-top-edges", "none of the edges aren't yellow"),
        ("look-top-edges", "cross, the far edge is yellow and the left edge is yellow, the other two edges are not"),
        ("look-top-corners", "two corners are yellow, both of them are on the side"),
        ("look-top-edges", "two edges next to each other, sort of nothing"),
        ("look-top-corners", "just one, far right, and the near left one isn't facing me"),
        ("look-top-edges", "the right and back ones are, the two corners closest to me aren't yellow as well"),
        ("look-top-edges", "the front is yellow and then the left one and the middle and the right one"),
        ("look-top-corners", "one corner, front left, the other two aren't"),
    ],
)
def test_a_description_that_cannot_be_so_is_doubtful(asked: Question, text: str) -> None:
    assert LANGUAGE.doubtful(text, asked)


@pytest.mark.parametrize(
    ("asked", "text"),
    [
        ("look-top-corners", "just one, far right"),
        ("look-top-edges", "a line from left to right, no wait, from front to back"),
        ("piece", "on the left, no, on the right, in the middle layer at the front"),
        ("look-top-edges", "a dot, nothing but a dot"),
        ("look-top-edges", "the back one and the left one and two corners"),
        ("look-top-corners", "the front left one and the back right one"),
        ("look-top-corners", "well would you believe it, the far left one again"),
        ("claim", "yes no"),
        ("look-top-edges", "..."),
        ("look-top-edges", "only the middle, that's it, one yellow"),
        ("look-top-edges", "the bottom's gone wrong, it was fine before"),
        ("look-top-corners", "the front ones aren't and the back ones aren't either"),
        ("look-top-corners", "front left is, the other three aren't"),
    ],
)
def test_a_description_that_can_be_so_is_not(asked: Question, text: str) -> None:
    assert not LANGUAGE.doubtful(text, asked)


def test_what_may_come_before_an_answer_is_itself_understood() -> None:
    for asked in QUESTIONS:
        for sentence in LANGUAGE.before(asked).split("."):
            assert not sentence.strip() or LANGUAGE.understand(sentence, asked), (asked, sentence)
