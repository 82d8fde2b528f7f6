"""A slip in the middle of a sequence is put right there: what earlier steps did is not done again for it; and what the
learner says in the pauses of turns that were not done, or too many, or of the hold, is not taken for going on."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import chain, pairwise
from random import Random

import pytest

from coach.belief.slips.suspicion import Suspicion
from coach.belief.slips.trail import Trail
from coach.cube import Cube, inverse, parse
from coach.dialogue import Act, CallTurn, End, Heard, Listen, Say, Silence, SlipFound
from coach.dialogue.acts import Event
from coach.dialogue.lesson import Lesson
from coach.dialogue.pauses import told_in_pause
from coach.language.meaning import Meaning
from coach.method import default_method
from coach.simulation import Learner, holding, random_cube
from coach.simulation.holding import answering
from coach.simulation.slipping import SlippingLearner
from tests.dialogue.hands import new_lesson
from tests.dialogue.hearing import utter
from tests.loaded import load

LANGUAGE, PHRASES, METHOD = load(), load().sentences, default_method()
STEPS = [step.id for step in METHOD.steps]
FROM_RIGHT = parse("U' F' U F U R U' R'")
KNOWN, GUESSED = "Now I know", "I think"


def one_edge_out(seed: int = 0) -> Cube:
    """The two lower layers but for one edge, which the eight turns put in."""
    return random_cube("top-cross", Random(seed)).do(inverse(FROM_RIGHT))


def lesson_with(learner: Learner, step: str) -> tuple[list[Act], list[str]]:
    """The acts of a lesson, and the steps that it was at, one after the other."""
    lesson, been = Lesson(METHOD, PHRASES, step, None, LANGUAGE.offers), [step]

    def answer(listen: Listen) -> Event:
        if lesson.step and lesson.step != been[-1]:
            been.append(lesson.step)
        return truth(listen)

    truth = answering(learner, LANGUAGE)
    return holding.hold(lesson, learner, answer, most=700), been


def slipping(cube: Cube, seed: int, calls: Sequence[int], kind: str) -> SlippingLearner:
    return SlippingLearner(cube, Random(seed), lambda number, say: kind if number in calls else "")


def slips(acts: list[Act]) -> list[SlipFound]:
    return [act for act in acts if isinstance(act, SlipFound)]


def goes_back(been: list[str]) -> bool:
    return any(STEPS.index(to) < STEPS.index(from_) for from_, to in pairwise(been))


@pytest.mark.parametrize("stops", [2, 3, 4])
def test_a_run_that_was_broken_off_goes_on_from_there(stops: int) -> None:
    """The hands stop after so many turns, and the coach calls all eight."""
    learner = slipping(one_edge_out(), 0, range(stops, 8), "left-out")
    acts, been = lesson_with(learner, "middle-edges")
    assert learner.cube.solved
    found = slips(acts)[0]
    assert parse(found.explains) == FROM_RIGHT[:stops]
    assert parse(found.repair) == FROM_RIGHT[stops:]
    assert not goes_back(been)
    (told,) = [act.text for act in acts if isinstance(act, Say) and act.text.startswith((KNOWN, GUESSED))]
    assert told.endswith("wasn't done, nor the ones after it."), "all of them are told as one"


def top_corners(seed: int) -> Cube:
    """At the top corners with one pair, so that one run of fourteen turns does the step."""
    case = next(case for case in METHOD.top_steps[2].cases if case.id == "one-pair")
    cubes = (random_cube("top-corners", Random(seed + number)) for number in range(100))
    return next(cube for cube in cubes if METHOD.top_steps[2].case_of(cube.faces) is case)


@pytest.mark.parametrize("at", range(14))
@pytest.mark.parametrize("kind", ["twice", "left-out"])
def test_a_turn_of_the_top_corners_done_wrongly_takes_nobody_back(at: int, kind: str) -> None:
    learner = slipping(top_corners(0), at, [at], kind)
    _, been = lesson_with(learner, "top-corners")
    assert learner.cube.solved
    assert not goes_back(been), been


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("at", [1, 3])
def test_what_is_below_is_not_left_undone_for_a_short_repair(at: int, seed: int) -> None:
    """A turn of the top cross that was done twice has broken the lower layers: they are put right before all else."""
    learner = slipping(random_cube("top-cross", Random(seed)), seed, [at], "twice")
    acts, been = lesson_with(learner, "top-cross")
    assert learner.cube.solved
    assert not {*been} & {*STEPS[:3]}, been
    assert PHRASES.say("slip.as-it-is") not in [act.text for act in acts if isinstance(act, Say)]


@pytest.mark.parametrize("seed", range(4))
def test_a_second_slip_while_one_is_put_right_takes_nobody_back(seed: int) -> None:
    """The first slip is a turn of the eight left out; the repair's second turn then goes the other way."""
    number = 0

    def slip(call: int, say: CallTurn) -> str:
        nonlocal number
        if say.of == 8 and say.n == 3 and not number:
            number = 1
            return "left-out"
        if number == 1 and call > 8 and say.n == 2:
            number = 2
            return "reversed"
        return ""

    learner = SlippingLearner(one_edge_out(seed), Random(seed), slip)
    _, been = lesson_with(learner, "middle-edges")
    assert learner.cube.solved
    assert not goes_back(been), been


# What is certain, and what is not


def test_how_certain_an_explanation_is_counts_all_that_is_told_in_the_same_words() -> None:
    start = Cube()
    trail = Trail((start.faces,)).beginning_run().calling(parse("R U F"))
    suspicion = Suspicion.of(trail, "mistake")
    slips = [h for h in range(len(suspicion.way)) if suspicion.slips_of(h)]
    best = max(slips, key=lambda h: suspicion.weight[h])
    certain = suspicion.certainty(best)
    assert suspicion.share[best] <= certain < 0.9, "nothing has been asked yet"


def known_and_guessed(kind: str) -> tuple[list[bool], list[bool]]:
    """Of slips told as certain, and of those told as guesses, whether each was so, told at once by the learner."""
    certain: list[bool] = []
    guessed: list[bool] = []
    for seed in range(8):
        learner = slipping(random_cube("top-cross", Random(seed)), seed, [1 + seed % 5], kind)
        lesson = Lesson(METHOD, PHRASES, "top-cross", None, LANGUAGE.offers)
        truth = answering(learner, LANGUAGE, lambda: True)
        acts = lesson.start()
        while not isinstance(acts[-1], End) and not slips(acts):
            for act in acts:
                if isinstance(act, Say):
                    learner.hear(act)
            listen = acts[-1]
            assert isinstance(listen, Listen)
            acts = lesson.handle(truth(listen))
        for act in acts:
            if isinstance(act, Say) and act.text.startswith((KNOWN, GUESSED)):
                (certain if act.text.startswith(KNOWN) else guessed).append(was_so(act.text, *learner.slipped[0]))
    return certain, guessed


def was_so(text: str, at: int, kind: str) -> bool:
    which = PHRASES.part("slip.which", nth=PHRASES.open_forms("slip.ordinals")[at])
    return any(text == PHRASES.say(f"slip.{kind}", form, which=which) for form in (0, 1))


def test_what_is_told_as_certain_was_so() -> None:
    certain, guessed = zip(*map(known_and_guessed, ("left-out", "twice", "reversed")), strict=True)
    told = [*chain.from_iterable(certain)]
    assert len(told) >= 10
    assert sum(told) >= 0.9 * len(told)
    assert len(told) > len([*chain.from_iterable(guessed)])


# What is said in the pauses


class Talker:
    """Says something once in a pause, with what the hands have done by then; else answers as asked."""

    def __init__(self, cube: Cube, step: str) -> None:
        self.learner, self.lesson = Learner(cube, Random(0)), new_lesson(step)
        self.acts: list[Act] = []
        self._take(self.lesson.start())

    def until(self, enough: Callable[[Talker], bool]) -> Talker:
        for _ in range(300):
            if enough(self):
                return self
            text = self.learner.answer(self.listen.asked)
            self.say(text)
        raise AssertionError(self.texts[-10:])

    def say(self, text: str) -> None:
        if not text:
            self._take(self.lesson.handle(Silence(self.listen.seconds)))
            return
        reading = LANGUAGE.read(text, self.listen.asked, self.listen.scene)
        self._take(self.lesson.handle(Heard.read(text, reading, self.listen.asked)))

    def _take(self, acts: list[Act]) -> None:
        self.acts += acts
        for act in acts:
            if isinstance(act, Say):
                self.learner.hear(act)

    def do(self, turns: str) -> None:
        self.learner.cube = self.learner.cube.do(turns)

    @property
    def listen(self) -> Listen:
        last = self.acts[-1]
        assert isinstance(last, Listen)
        return last

    @property
    def texts(self) -> list[str]:
        return [act.text for act in self.acts if isinstance(act, Say)]

    @property
    def turns(self) -> list[str]:
        return [str(act.turn) for act in self.acts if isinstance(act, CallTurn)]


def in_the_run(calls: int) -> Talker:
    """In the pause after so many calls of the eight."""
    return Talker(one_edge_out(), "middle-edges").until(lambda talker: len(talker.turns) == calls)


@pytest.mark.parametrize("text", ["I haven't done it yet", "not yet", "no no, I haven't done that one"])
def test_a_turn_that_is_not_done_yet_is_said_again_and_waited_for(text: str) -> None:
    talker = in_the_run(3)
    pause = talker.listen.seconds
    talker.say(text)
    assert talker.texts[-2:] == ["I said: The top layer goes left.", PHRASES.say("turn.not-yet")]
    assert len(talker.turns) == 3
    assert talker.listen.seconds > 10 * pause
    talker.say("ready")
    assert len(talker.turns) == 4
    assert talker.listen.seconds == pause, "the pace is as it was"


@pytest.mark.parametrize(
    ("text", "calls", "really", "explains"),
    [
        ("no no, I haven't done them last two", 4, "F' U'", "U' F'"),
        ("I never did the left one", 3, "U'", "U' F'"),
        ("I did two turns more than you said", 3, "F U", "U' F' U F U"),
        ("I'm two turns ahead", 3, "F U", "U' F' U F U"),
    ],
)
def test_turns_not_done_or_too_many_are_put_right_at_once(text: str, calls: int, really: str, explains: str) -> None:
    talker = in_the_run(calls)
    talker.do(really)
    talker.say(text)
    assert talker.texts[-2] == PHRASES.say("slip.search")
    talker.until(lambda talker: bool(slips(talker.acts)))
    assert parse(slips(talker.acts)[0].explains) == parse(explains)
    talker.until(lambda talker: talker.lesson.step == "top-cross")


def taking_the_hold() -> Talker:
    return Talker(random_cube("top-cross", Random(3)), "top-cross").until(lambda talker: talker.listen.asked == "ready")


@pytest.mark.parametrize("text", ["I'm holding it wrong", "I've got the wrong side in front", "{} is facing me"])
def test_a_hold_that_is_not_as_told_is_told_again_and_waited_for(text: str) -> None:
    talker = taking_the_hold()
    colours = talker.listen.scene.colours
    talker.say(text.format(colours["B"]))
    hold = PHRASES.say("lesson.hold", up=colours["U"], front=colours["F"])
    assert talker.texts[-2:] == [hold, PHRASES.say("ask.ready")]
    assert talker.listen.seconds > 60
    assert not talker.turns
    talker.say("ready")
    assert talker.turns


def test_whoever_tells_the_right_side_in_front_is_not_corrected() -> None:
    talker = taking_the_hold()
    talker.say(f"{talker.listen.scene.colours['F']} is facing me")
    assert talker.turns


def test_a_wrong_hold_that_is_noticed_in_mid_run_is_looked_into() -> None:
    talker = in_the_run(2)
    talker.do("F U y U' F'")
    talker.say("oh I'm holding it wrong")
    assert talker.texts[-2] == PHRASES.say("slip.search")
    talker.until(lambda talker: bool(slips(talker.acts)))
    assert {PHRASES.say("slip.hold", form) for form in (0, 1)} & {*talker.texts}
    talker.until(lambda talker: talker.lesson.step == "top-cross")


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("orange is facing me", "held"),
        ("green is facing me", None),
        ("green isn't in front", "held"),
        ("orange isn't in front", None),
        ("what is facing me", None),
        ("I did the last two", "slipped"),
        ("I haven't done it", "not-done"),
    ],
)
def test_what_is_told_in_a_pause(text: str, told: str | None) -> None:
    heard = utter(text, Meaning(command="next"))
    assert told_in_pause(heard, "turn") == told
    assert told_in_pause(heard, "claim") is None


def test_what_others_have_not_done_holds_nothing_up() -> None:
    assert told_in_pause(utter("we haven't done the dishes"), "turn") is None
