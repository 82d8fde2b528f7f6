"""What is said of a class at any time: the bell, who has lost it or come in, that they are ready."""

from __future__ import annotations

import pytest

from coach.language import Command, Meaning, Question, Reading, Scene
from coach.language.aside import Attendance
from tests.loaded import load

CLASS = Scene(size=25)


def read(text: str, asked: Question = "turn", scene: Scene = CLASS) -> Reading:
    return load().read(text, asked, scene)


@pytest.mark.parametrize("asked", ["turn", "ready", "hands"])
@pytest.mark.parametrize(
    "text",
    [
        "the bell rang", "the bell has gone", "that's the bell", "time's up, class", "we have to stop here",
        "the lesson is over", "we need to pack up now", "it's time for lunch",
    ],
)  # fmt: skip
def test_the_bell_ends_the_lesson(text: str, asked: Question) -> None:
    assert read(text, asked).meaning == Meaning(command="stop")


@pytest.mark.parametrize(
    "text", ["the bell hasn't gone yet", "the bell goes in five minutes", "the bell's about to go"]
)
def test_a_bell_that_has_not_rung_ends_nothing(text: str) -> None:
    assert read(text).meaning is None


@pytest.mark.parametrize(
    "text", ["they've lost it", "some of them are lost", "everyone's lost", "two of them have lost their place"]
)
def test_who_has_lost_it_is_heard(text: str) -> None:
    assert read(text).meaning == Meaning(command="lost")


@pytest.mark.parametrize("text", ["somebody dropped theirs", "one of them dropped his cube", "Tom has dropped his"])
def test_a_cube_that_falls_in_a_class_is_one_of_many(text: str) -> None:
    reading = read(text)
    assert reading.meaning == Meaning(command="lost")
    assert reading.aside.remark is None and "one-fell" in reading.aside.marks


@pytest.mark.parametrize("asked", ["turn", "ready", "hands"])
@pytest.mark.parametrize(
    ("text", "command"),
    [
        ("hang on, somebody dropped theirs", "wait"), ("be quiet for a second", "wait"),
        ("could you say that in an easier way", "repeat"), ("say it in other words please", "repeat"),
        ("the bit with two corners again please", "repeat"),
    ],
)  # fmt: skip
def test_what_a_teacher_wants_is_waited_for_or_said_again(text: str, command: Command, asked: Question) -> None:
    assert read(text, asked).meaning == Meaning(command=command)


@pytest.mark.parametrize("asked", ["turn", "ready", "hands"])
@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("somebody needs the toilet", "class.excused"), ("how many are we, did you get that", "class.counted"),
        ("which one is the back edge?", "class.which-place"),
        ("Lucy's left-handed, does she do the same", "class.left-handed"),
    ],
)  # fmt: skip
def test_what_is_told_of_one_of_them_gets_an_answer_of_its_own(text: str, key: str, asked: Question) -> None:
    reading = read(text, asked)
    assert reading.meaning == Meaning(command="explain") and reading.aside.word == key


@pytest.mark.parametrize("asked", ["turn", "ready", "hands"])
@pytest.mark.parametrize("text", ["say the hold again", "how do they hold it", "how was the hold again"])
def test_the_hold_is_asked_for_once_more(text: str, asked: Question) -> None:
    reading = read(text, asked)
    assert reading.meaning == Meaning(command="explain")
    assert "asks-hold" in reading.aside.marks


@pytest.mark.parametrize("text", ["they're ready", "everyone's ready", "all ready", "next one", "go on"])
def test_what_all_of_them_say_is_what_one_would_say(text: str) -> None:
    assert read(text).meaning == Meaning(command="next")
    assert read(text, "ready").meaning == Meaning(command="ready")


@pytest.mark.parametrize(
    ("text", "who"),
    [
        ("two have just come in", Attendance(change=2)), ("Ben has just come in", Attendance(change=1)),
        ("Mia and Tom have just arrived", Attendance(change=2)), ("another one has turned up", Attendance(change=1)),
        ("Ben is late", Attendance()), ("one has gone to the toilet", Attendance(change=-1)),
        ("we are 26 now", Attendance(size=26)), ("that makes 26 of us", Attendance(size=26)),
    ],
)  # fmt: skip
def test_who_comes_and_goes_is_an_aside(text: str, who: Attendance) -> None:
    for asked in ("turn", "ready"):
        reading = read(text, asked)
        assert reading.aside.attendance == who
        assert reading.meaning is None
    assert read(text, scene=Scene()).aside.attendance is None  # one learner has no class


@pytest.mark.parametrize(
    "text", ["turn it left", "it has gone wrong", "I went to the left", "the left one", "they left one out"]
)
def test_other_comings_and_goings_are_none(text: str) -> None:
    assert read(text).aside.attendance is None


@pytest.mark.parametrize(
    "text",
    [
        "I've got no idea which way round theirs needs to go", "nobody has left", "no one has come in",
        "which way does the top need to go", "their cube has to go home",
    ],
)  # fmt: skip
def test_only_plain_words_of_coming_or_leaving_change_who_is_there(text: str) -> None:
    for asked in ("turn", "ready", "hands"):
        assert read(text, asked).aside.attendance is None


@pytest.mark.parametrize(
    "text",
    [
        "nobody has left, we're still eleven", "we are still eleven", "still eleven", "eleven altogether",
        "those two don't exist, we are eleven altogether",
    ],
)  # fmt: skip
def test_a_number_of_all_sets_how_many_they_are(text: str) -> None:
    assert read(text).aside.attendance == Attendance(size=11)


@pytest.mark.parametrize(
    ("text", "spares"),
    [
        ("nobody", True), ("nobody needs this", True), ("skip it, nobody needs this", True), ("no one", True),
        ("nobody has a line any more, they've all got crosses", True), ("stop this, nobody is turning", True),
        ("not one of them can get it like that", True), ("nobody is ready", False), ("nobody has left", False),
        ("nobody can hear you", False), ("don't skip it", False),
    ],
)  # fmt: skip
def test_a_run_that_nobody_needs_is_heard(text: str, spares: bool) -> None:
    for asked in ("turn", "ready"):
        assert ("spares" in read(text, asked).aside.marks) == spares


def test_hands_altogether_are_a_count() -> None:
    assert read("eleven altogether", "hands").aside.attendance is None
