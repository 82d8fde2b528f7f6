"""Counts as people say them: what is taken for a number, what is asked again, and what is no count at all."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from coach.language import Meaning, Reading, Scene
from coach.language.en.counts.numerals import MOST, figured
from tests.language.en.counts.measure import FAR, JUDGE_FAR, JUDGE_NEAR, NEAR, measured
from tests.loaded import load

LINES = Path(__file__).parents[4] / "models" / "answers-en" / "lines"


def read(text: str, size: int | None = None, rest: int | None = None, about: str = "line") -> Reading:
    return load().read(text, "hands", Scene(about=about, size=size, rest=rest))


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("seven", 7), ("7", 7), ("it's seven", 7), ("seven hands", 7), ("I count seven", 7), ("seven of them", 7),
        ("a dozen", 12), ("half a dozen", 6), ("two dozen", 24), ("just the one", 1), ("only two", 2),
        ("a hundred and twelve", 112), ("137", 137), ("one, two, three, four", 4), ("5 6 7", 7),
        ("three here and four at the back", 7), ("five plus me", 6), ("me and six others", 7), ("just me", 1),
        ("five boys and six girls", 11), ("eleven out of thirty", 11), ("out of thirty, eleven", 11),
        ("none", 0), ("nobody", 0), ("no one", 0), ("not a single one", 0), ("zero", 0), ("no hands", 0), ("nil", 0),
        ("seven, no, eight", 8), ("eight. Sorry, nine", 9), ("seven... wait, there's one more, eight", 8),
        ("Nine, not ten.", 9), ("It was nine, now it's ten.", 10), ("Tom, sit down. Seven.", 7),
        ("Seven. Tom, that isn't a hand.", 7), ("s-s-seven", 7), ("eight- eighteen", 18), ("only Mia", 1),
        ("Mia and Tom", 2), ("nobody but Mia", 1), ("Ten. There were eleven but Ina has gone.", 10),
        ("Two have just come in. Seven.", 7), ("Give me a minute. Okay, twelve.", 12),
    ],
)  # fmt: skip
def test_a_number_is_understood_however_it_is_said(text: str, number: int) -> None:
    assert read(text).meaning == Meaning(number=number)


@pytest.mark.parametrize("number", [*range(0, 61, 7), 99, 100, 101, 119, 120, 199, MOST])
def test_figures_and_words_are_the_same(number: int) -> None:
    assert figured(str(number)) == str(number)
    assert read(f"{number} hands").meaning == Meaning(number=number)


@pytest.mark.parametrize(
    ("text", "left_out"),
    [
        ("all", 0), ("all of them", 0), ("everybody", 0), ("the whole class", 0), ("every single one", 0),
        ("all but two", 2), ("all except one", 1), ("everyone except Mia and Tom", 2), ("everybody bar Callum", 1),
        ("all of them except the twins", 2), ("only two haven't", 2), ("everyone but me", 1),
        ("everyone's got it except Ben, he's still turning", 1), ("Apart from two boys, everyone.", 2),
        ("Just Sam and Jo don't.", 2), ("With the exception of two, all.", 2),
    ],
)  # fmt: skip
def test_a_share_of_the_class_is_a_number_once_its_size_is_known(text: str, left_out: int) -> None:
    assert read(text).meaning == Meaning(all_but=left_out)
    assert read(text, size=25).meaning == Meaning(number=25 - left_out)


@pytest.mark.parametrize("text", ["the rest", "the others", "all the others"])
def test_the_rest_is_a_number_where_it_is_known_how_many_are_left(text: str) -> None:
    assert read(text, size=25, rest=4).meaning == Meaning(number=4)
    assert read(text, size=25).meaning is None


def test_both_are_two_where_two_are_asked() -> None:
    assert read("both", size=25, rest=2).meaning == Meaning(number=2)
    assert read("both", size=25).meaning is None


@pytest.mark.parametrize(
    "text",
    [
        "about ten", "ten or so", "seven or eight", "between five and seven", "a few", "a couple", "lots", "nearly all",
        "not all", "almost everybody", "half of them", "more than half", "the same as before", "six or seven, I think",
        "eight, no, wait",
    ],
)  # fmt: skip
def test_what_is_only_roughly_so_is_asked_again(text: str) -> None:
    reading = read(text, size=25)
    assert reading.meaning is None or reading.meaning == Meaning(command="wait")
    assert not (reading.best and reading.best.number is not None)


@pytest.mark.parametrize(
    "text",
    [
        "I think seven", "seven maybe", "seven, I think", "Seven?", "perhaps seven", "I guess it's seven",
        "it might be seven",
    ],
)
def test_a_number_said_with_doubt_is_asked_about(text: str) -> None:
    reading = read(text)
    assert reading.best == Meaning(number=7)
    assert reading.asks and not reading.acts


@pytest.mark.parametrize(
    "text",
    [
        "in a minute", "one moment", "two minutes please", "grade five", "number three is late", "that one",
        "two have just come in", "one of them says he's broken it", "one of them dropped his cube", "I'm forty-two",
        "room twelve", "one at a time, please", "it's half past ten", "which one?", "two of them need the toilet",
        "all right", "not at all", "everybody's ready", "yes", "no", "okay", "my mistake", "Everyone sit down.",
        "everybody at the front", "they're all six years old", "three, two, one, go",
    ],
)  # fmt: skip
def test_what_counts_nobody_gives_no_number(text: str) -> None:
    best = read(text, size=25).best or Meaning()
    assert best.number is None and best.all_but is None


@pytest.mark.parametrize(("text", "command"), [("yes", "yes"), ("no", "no"), ("one moment", "wait"), ("stop", "stop")])
def test_other_answers_stay_what_they_are(text: str, command: str) -> None:
    meaning = read(text).meaning
    assert meaning is not None and meaning.command == command


def test_a_class_that_has_grown_is_no_count_of_hands() -> None:
    reading = read("we are 26 now", size=24)
    assert reading.meaning is None
    assert reading.aside.attendance is not None and reading.aside.attendance.size == 26
    assert read("we are 26 now", size=24, about="size").meaning == Meaning(number=26)


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("half of them", 12), ("a quarter", 6), ("two thirds of the class", 16), ("25 percent", 6), ("50%", 12),
        ("Three quarters have.", 18), ("a hundred percent", 24), ("exactly half", 12),
    ],
)
def test_a_fraction_is_a_number_where_the_size_can_be_so_divided(text: str, number: int) -> None:
    assert read(text, size=24).meaning == Meaning(number=number)
    assert read(text).meaning is None and read(text, size=23).meaning == (
        Meaning(number=23) if number == 24 else None
    )


@pytest.mark.parametrize(
    "text",
    ["about half", "more than half", "half or so", "a third, roughly", "almost a quarter", "half the back row"],
)
def test_a_rough_fraction_or_one_of_some_is_asked_again(text: str) -> None:
    best = read(text, size=24).best or Meaning()
    assert best.number is None and best.all_but is None


@pytest.mark.parametrize(("text", "number"), [("two short of everybody", 22), ("one fewer than all", 23),
                                              ("without three, all", 21), ("minus two, everyone", 22)])  # fmt: skip
def test_those_left_out_may_be_said_first(text: str, number: int) -> None:
    assert read(text, size=24).meaning == Meaning(number=number)


@pytest.mark.parametrize("text", ["three are crying",
                                  "two kids are off sick", "five have cold hands", "same as last time", "same again",
                                  "ten minutes late", "all bar a handful", "some ten, twelve"])  # fmt: skip
def test_a_remark_about_pupils_changes_and_counts_nothing(text: str) -> None:
    assert read(text, size=24).meaning is None


@pytest.mark.parametrize("text", ["everybody is tired", "everyone wants a break", "nobody moved", "four have finished",
                                  "none of them understand", "ten and counting", "a couple of dozen"])  # fmt: skip
def test_what_pupils_do_besides_is_not_taken_for_raised_hands(text: str) -> None:
    assert read(text, size=24).meaning is None


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("He says nine, Mia says ten", None), ("some say nine, some say ten", None), ("Mia makes it nine", 9),
        ("25 - 2", 23), ("5+4", 9), ("~10", None), ("10+", None), ("seven minus one", 6),
        ("two and then another three", 5),
        ("left side three, right side four", 7), ("ten up, fifteen down", 10), ("a mere two", 2),
        ("seven, scrap that", None),
        ("Everyone at the green table.", None), ("all the girls and two boys", None), ("I can confirm eleven", 11),
        ("Nine, that's the lot.", 9), ("All eyes on me.", None), ("Stay where you are, everybody.", None),
    ],
)  # fmt: skip
def test_tellers_signs_sums_and_parts(text: str, number: int | None) -> None:
    assert read(text, size=25).meaning == (None if number is None else Meaning(number=number))


@pytest.mark.parametrize("text", ["we need five more minutes", "another ten seconds", "give them three minutes"])
def test_who_asks_for_minutes_is_waited_for(text: str) -> None:
    assert read(text, size=24).meaning == Meaning(command="wait")


@pytest.mark.parametrize(
    ("path", "lines", "right", "wrong"),
    [(NEAR, 100, 98, 0), (FAR, 100, 91, 3), (JUDGE_NEAR, 150, 147, 0), (JUDGE_FAR, 150, 140, 2)],
)
def test_lines_of_imagined_speakers_are_mostly_right(path: Path, lines: int, right: int, wrong: int) -> None:
    counted = measured([path])
    assert counted.total() == lines
    assert counted["right"] >= right
    assert counted["wrong"] <= wrong


def test_what_is_said_of_a_cube_is_no_count_of_people() -> None:
    said = [line["said"] for path in sorted(LINES.glob("1?.jsonl")) for line in map(json.loads, path.open())
            if line.get("moment") in ("claim", "turn", "continue")][:200]  # fmt: skip
    assert len(said) == 200
    taken = [text for text in said if (meaning := read(text, size=25).meaning) and meaning.number is not None]
    assert len(taken) <= 4, taken
