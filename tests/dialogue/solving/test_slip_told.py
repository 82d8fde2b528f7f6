"""Who tells how a turn went wrong is not asked what happened: it is put right at once, and made sure of afterwards. If
it was an earlier turn, they are only asked whether they have done the last one."""

from __future__ import annotations

import pytest

from coach.cube import parse, write
from coach.dialogue import Ask
from coach.dialogue.meant import meant
from coach.language.en.slips import tellings
from coach.language.telling import Telling
from tests.dialogue.solving.test_slip_in_the_middle import Talker, in_the_run, slips
from tests.loaded import load

PHRASES = load().sentences
RUN = "U' F' U F U R U' R'"

TOLD = [
    # what is said in the pause after so many calls, what was done instead of the last ones, the run as it really was
    ("oops I went to the left", 1, "U", "U"),
    ("ah sorry, that one went left instead of right", 1, "U", "U"),
    ("oh dear, I spun the bottom rather than the top", 3, "D'", "U' F' D'"),
    ("my fault, I moved the bottom layer instead of the top one", 3, "D'", "U' F' D'"),
    ("I skipped the turn before the last", 3, "U", "U' U"),
    ("sorry, I forgot the previous one", 3, "U", "U' U"),
    ("oops, I twisted it two times", 3, "U2", "U' F' U2"),
    ("I did it twice", 3, "U2", "U' F' U2"),
    ("wrong way", 3, "U'", "U' F' U'"),
    ("silly me, I turned it clockwise, not anticlockwise", 2, "F", "U' F"),
    ("whoops, I turned the left layer up instead of the right one", 6, "L'", "U' F' U F U L'"),
    ("I was supposed to go up but I went down", 6, "R'", "U' F' U F U R'"),
    ("the one before that I turned the other way", 3, "F U", "U' F U"),
    ("I did the bottom", 3, "D'", "U' F' D'"),
    ("I turned it to the right", 3, "U'", "U' F' U'"),
    ("did you say left? because I went right", 3, "U'", "U' F' U'"),
    # a call that is named by its side, and is not the last one
    ("I haven't done the top one yet", 2, "F'", "F'"),
    ("I did not do the right one", 7, "U'", "U' F' U F U U'"),
    ("I clean forgot the front one", 3, "U", "U' U"),
    ("the front one earlier, I took it clockwise and it was to be anticlockwise", 3, "F U", "U' F U"),
    # two in the other order, and one more
    ("ah, I did those two in the wrong order", 3, "U F'", "U' U F'"),
    ("I turned the top first and then the front", 3, "U F'", "U' U F'"),
    ("I did one more after that, the bottom to the right", 3, "U D", "U' F' U D"),
    ("sorry, I didnt do the one before", 3, "U", "U' U"),
]


def undone(talker: Talker, calls: int, really: str, explains: str) -> None:
    """What the hands have really done by then: `explains`, whose last turns are `really`."""
    assert parse(explains)[-len(parse(really)) :] == parse(really)
    talker.do(write(tuple(turn.inverse for turn in reversed(parse(" ".join(RUN.split()[:calls]))))))
    talker.do(explains)


@pytest.mark.parametrize(("text", "calls", "really", "explains"), TOLD)
def test_what_is_told_of_a_turn_is_put_right_without_a_search(
    text: str, calls: int, really: str, explains: str
) -> None:
    talker = in_the_run(calls)
    undone(talker, calls, really, explains)
    before = len(talker.acts)
    talker.say(text)
    asked = [act.query.about for act in talker.acts[before:] if isinstance(act, Ask)]
    assert asked == ["done"] * any(word in text for word in ("before", "previous", "earlier"))
    if asked:
        talker.say("yes")
    found = slips(talker.acts)
    assert found, talker.texts[-3:]
    assert parse(found[0].explains) == parse(explains)
    assert PHRASES.say("slip.told") in talker.texts
    talker.until(lambda talker: talker.lesson.step == "top-cross")
    checks = [act.query.asks for act in talker.acts[before:] if isinstance(act, Ask)][len(asked) :]
    assert checks[0] == "claim", "it is made sure of"
    assert not {*checks} & {"row", "face"}


@pytest.mark.parametrize("text", ["the one before that I turned the other way", "sorry, I forgot the previous one"])
def test_who_tells_of_an_earlier_turn_before_doing_the_last_is_put_right_from_there(text: str) -> None:
    """The third call is not done; the second was done the other way or left out."""
    talker = in_the_run(3)
    undone(talker, 3, *(("F", "U' F") if "other way" in text else ("U'", "U'")))
    talker.say(text)
    talker.say("no, not yet")
    assert slips(talker.acts)
    before = len(talker.acts)
    talker.until(lambda talker: talker.lesson.step == "top-cross")
    assert len(slips(talker.acts)) == 1
    assert not {act.query.asks for act in talker.acts[before:] if isinstance(act, Ask)} & {"row", "face"}


@pytest.mark.parametrize(
    ("text", "calls"),
    [
        ("I turned it to the left", 3),
        ("did it, to the left", 3),
        ("right, done", 3),
        ("done, that's right", 3),
        ("the top went left", 3),
        ("I turned it anticlockwise", 2),
    ],
)
def test_who_tells_that_it_was_done_as_called_is_believed(text: str, calls: int) -> None:
    talker = in_the_run(calls)
    talker.say(text)
    assert not slips(talker.acts)
    assert PHRASES.say("slip.told") not in talker.texts
    assert PHRASES.say("slip.search") not in talker.texts


def test_another_side_of_which_the_way_is_open_is_asked_about_first() -> None:
    talker = in_the_run(3)
    undone(talker, 3, "L'", "U' F' L'")
    talker.say("I turned the left side instead")
    assert talker.listen.asked == "claim", "of one sticker"
    talker.until(lambda talker: bool(slips(talker.acts)))
    assert parse(slips(talker.acts)[0].explains) == parse("U' F' L'")
    talker.until(lambda talker: talker.lesson.step == "top-cross")


def test_what_is_told_wrongly_is_found_at_the_check() -> None:
    """They say left out, but it was done twice."""
    talker = in_the_run(3)
    undone(talker, 3, "U2", "U' F' U2")
    talker.say("I forgot that one")
    talker.until(lambda talker: talker.lesson.step == "top-cross")
    assert len(slips(talker.acts)) == 2


@pytest.mark.parametrize(
    "text",
    [
        "I messed up",
        "I skipped one",
        "one of the turns was wrong",
        "I mixed up left and right",
        "that wasn't right, I turned the wrong one",
        "I forgot which one we were on",
        "hello",
        "",
    ],
)
def test_what_tells_of_no_certain_turn_is_no_telling(text: str) -> None:
    assert not meant(tellings.telling(text), parse(RUN)), text


@pytest.mark.parametrize(
    ("text", "calls", "kinds"),
    [
        ("only turned it once", "R U2", {"half-done"}),
        ("I turned it the other way", "R U2", set()),
        ("I did the right side twice", "R U", {"twice"}),
        ("I did the right side twice", "F U", set()),
        ("I never turned it", "R y", {"left-out"}),
        ("I went up", "R U", set()),
        ("I turned the top", "R U", set()),
    ],
)
def test_which_slips_a_telling_may_be_of(text: str, calls: str, kinds: set[str]) -> None:
    assert {slip.kind for (slip,) in meant(tellings.telling(text), parse(calls))} == kinds


def test_two_that_were_swapped_are_told_as_one() -> None:
    talker = in_the_run(3)
    undone(talker, 3, "U F'", "U' U F'")
    before = len(talker.texts)
    talker.say("I did those two in the wrong order")
    told = [text for text in talker.texts[before:] if text.startswith("I think")]
    assert told == ["I think the second turn and the next one were done in the other order."]


def test_whose_last_turn_is_not_done_yet_is_given_time() -> None:
    talker = in_the_run(3)
    talker.say("I haven't done the top one yet")
    assert not slips(talker.acts)
    assert PHRASES.say("turn.not-yet") in talker.texts


def test_of_the_last_two_calls_the_side_that_is_named_was_missed() -> None:
    talker = in_the_run(2)
    undone(talker, 2, "F'", "F'")
    talker.say("the top one I haven't turned")
    assert [parse(slip.explains) for slip in slips(talker.acts)] == [parse("F'")]


def test_an_empty_telling_is_of_no_turn() -> None:
    assert meant(Telling(), parse(RUN)) == ()
