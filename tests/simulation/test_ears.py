"""The learner with ears: every sentence of the coach is known, and it is led by what was heard alone."""

from __future__ import annotations

from functools import cache
from random import Random

import pytest

from coach.app.session import run
from coach.cube import parse
from coach.dialogue import Adjust, Ask, CallTurn, Event, Listen, Rotate, Say, Silence
from coach.dialogue.lesson import Lesson
from coach.method import default_method
from coach.method.last_layer import build, lower_layers_whole
from coach.records.log import SessionLog
from coach.simulation import Learner, random_cube
from coach.simulation.ears import Ears, words
from coach.simulation.pupil import ENOUGH, HOW_TO_HOLD, REPEAT, Pupil
from coach.simulation.repertoire import Repertoire
from tests.dialogue.hearing import utter
from tests.loaded import load

LANGUAGE = load()


@cache
def repertoire() -> Repertoire:
    return Repertoire(load().sentences, default_method())


@cache
def ears() -> Ears:
    return Ears(repertoire().lines)


class ByEar:
    """Hands on nothing but the words of what the coach says, all marks and capitals lost."""

    def __init__(self, pupil: Pupil, deaf: float = 0.0, mumbles: float = 0.0) -> None:
        self.pupil, self.random = pupil, Random(5)
        self.deaf, self.mumbles = deaf, mumbles  # how often the learner, the coach understands nothing
        self.said: list[Say] = []
        self._texts: list[str] = []

    def say(self, say: Say) -> None:
        self.said.append(say)
        garbled = self.random.random() < self.deaf
        self._texts.append("well whatever it was" if garbled else " ".join(words(say.text)))

    def listen(self, listen: Listen) -> Event:
        text = self.pupil.hear(ears().sentences(" ".join(self._texts)))
        self._texts.clear()
        if not text:
            return Silence(listen.seconds)
        if text != REPEAT and self.random.random() < self.mumbles:
            return utter("", None)
        return utter(text, LANGUAGE.understand(text, listen.asked, listen.scene), at=listen)

    def adjust(self, adjust: Adjust) -> None:
        pass


def lesson(seed: int, deaf: float = 0.0, mumbles: float = 0.0) -> ByEar:
    pupil = Pupil(Learner(random_cube("top-cross", Random(seed)), Random(seed)))
    shell = ByEar(pupil, deaf, mumbles)
    run(Lesson(default_method(), load().sentences, "top-cross", offers=LANGUAGE.offers), shell, SessionLog(None))
    return shell


def pupil_of(turns: str = "") -> Pupil:
    return Pupil(Learner(build().do(parse(turns)), Random(1)))


def told(pupil: Pupil, text: str) -> str:
    return pupil.hear(ears().sentences(text))


@pytest.mark.parametrize("seed", range(40))
def test_words_alone_lead_to_a_top_of_one_colour(seed: int) -> None:
    shell = lesson(seed)
    assert shell.pupil.done
    assert lower_layers_whole(shell.pupil.learner.cube.upright)
    assert not [say for say in shell.said if say.text.startswith("I didn't get that")]


@pytest.mark.parametrize("seed", range(20))
def test_whatever_the_coach_says_is_known_for_what_it_is(seed: int) -> None:
    """Also what it says only to a learner whose answers it does not understand."""
    for say in lesson(seed, mumbles=0.5).said:
        known = repertoire().lines[say.text]
        if isinstance(say, CallTurn):
            assert isinstance(known.say, CallTurn) and known.say.turn == say.turn
        if isinstance(say, Rotate):
            assert isinstance(known.say, Rotate) and known.say.rotation == say.rotation
        if isinstance(say, Ask):
            assert known.query and known.query.asks == say.query.asks
            assert {*known.query.claim} <= {*say.query.claim}
            assert not {*known.never} & {*say.query.claim}


@pytest.mark.parametrize("seed", range(10))
def test_a_learner_who_now_and_then_understands_nothing_asks_and_is_still_led(seed: int) -> None:
    assert lesson(seed, deaf=0.04).pupil.done


def test_sentences_are_told_apart_without_marks_and_with_wrong_words() -> None:
    called = "the front lair goes clockwise and the last one the top layer goes left"
    text = f"now the three corner twist seven turns do each on when i call it {called}"
    heard = ears().sentences(text)
    assert [sentence.line.say.text if sentence.line else None for sentence in heard] == [
        "Now the three-corner twist: 7 turns. Do each one when I call it.",
        "The front layer goes clockwise.",
        "And the last one: the top layer goes left.",
    ]


@pytest.mark.parametrize(
    "text", ["thank you for watching", "the right layer goes", "the top layer", "is the of the top yellow"]
)
def test_what_leaves_open_what_was_meant_is_not_understood(text: str) -> None:
    assert [sentence.line for sentence in ears().sentences(text)] == [None]


def test_nothing_heard_is_no_sentence() -> None:
    assert ears().sentences("") == []


def test_a_turn_that_was_not_understood_is_asked_for_and_done_once() -> None:
    pupil = pupil_of()
    assert told(pupil, "ride sigh dub") == REPEAT
    assert pupil.learner.cube == build()
    assert told(pupil, "i said the right layer goes up") == ""
    assert pupil.learner.cube == build().do(parse("R"))


def test_a_turn_that_was_done_is_not_done_again_when_it_is_repeated() -> None:
    pupil = pupil_of()
    told(pupil, "the right layer goes up")
    told(pupil, "i said the right layer goes up")
    assert pupil.learner.cube == build().do(parse("R"))


def test_who_has_missed_how_to_hold_the_cube_asks_and_turns_it_so() -> None:
    pupil = pupil_of()
    assert told(pupil, "turnip hole cute so say ready when you're holding it like that") == HOW_TO_HOLD
    told(pupil, "hold the cube with yellow on top and red facing you")
    assert pupil.learner.cube == build().do(parse("y'"))


def test_a_claim_of_none_is_denied_where_there_is_one() -> None:
    pupil = pupil_of()
    told_no = {told(pupil, "now you should have no corner with yellow on top do you") for _ in range(5)}
    assert told_no == {"no"}


@pytest.mark.parametrize(("turns", "answer"), [("", "yes"), ("y U", "yes"), ("F2 B2 U2 F2 B2", "no"), ("R", "no")])
def test_whether_what_is_below_is_whole_is_seen_by_the_learner_itself(turns: str, answer: str) -> None:
    """The third way leaves the whole top in yellow and breaks the layers below."""
    pupil = pupil_of(turns)
    claim = "now you should have the whole top in yellow and the two lower layers finished do you"
    said = {load_meaning(told(pupil, claim)) for _ in range(5)}
    assert said == {answer}


def test_a_row_that_is_confirmed_is_looked_at() -> None:
    row = "let's make sure the upper row of the front should be {} is it"
    colours = {"green, green, green": "yes", "green, yellow, green": "no"}
    for seen, answer in colours.items():
        assert load_meaning(told(pupil_of(), row.format(seen).replace(",", ""))) == answer


def test_what_it_has_said_it_knows() -> None:
    pupil = pupil_of("R U R'")
    for _ in range(6):
        said = told(pupil, "is the whole top yellow now").replace("it's", "it is")
        assert said in ("no", "nope", "no it is not")
        assert load_meaning(told(pupil, f"{said} is that it")) == "yes"
    told(pupil, "is the whole top yellow now")
    assert load_meaning(told(pupil, "a dot is that it")) == "no"


def load_meaning(text: str) -> str | None:
    meaning = LANGUAGE.understand(text, "claim")
    return meaning.command if meaning else None


def test_the_lesson_is_over_when_the_top_is_of_one_colour_and_the_coach_goes_on() -> None:
    question = "look at the front read me its upper row from left to right"
    assert told(pupil_of(), question) == ENOUGH
    assert told(pupil_of("R U R'"), question) not in (ENOUGH, "")


def test_nothing_is_answered_to_what_asks_nothing_or_takes_its_leave() -> None:
    assert told(pupil_of(), "you're already holding it right any side may face you") == ""
    pupil = pupil_of()
    assert told(pupil, "let's stop here next time start from the top corners") == ""
    assert pupil.parted
