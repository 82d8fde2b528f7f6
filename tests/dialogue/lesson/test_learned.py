"""Lessons for learners who know something by heart: at each level of help the coach knows the cube all along."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from random import Random

import pytest

from coach.cube import Cube, Turn, parse
from coach.dialogue import Ask, CallTurn, Listen, Practised, Say
from coach.dialogue.practice.choosing import all_items, kinds
from coach.learning.exercise import MOST_HELP
from coach.learning.learned import Learned
from coach.method import default_method
from coach.method.last_layer import build
from coach.method.method import cases_of
from coach.simulation import Learner, random_cube
from tests.dialogue.lessons import LANGUAGE, Alone, Held, hold

METHOD = default_method()
STEPS = [step.id for step in METHOD.steps]


def at_level(help: int, of: tuple[str, str] | None = None) -> Learned:
    """A learner who is at that level with everything, or with one case alone."""
    learned = Learned(METHOD.name, today=date(2026, 11, 29), fades=True)
    for step in METHOD.steps:
        for case in cases_of(step):
            if of in (None, (step.id, case.id)):
                for level in range(MOST_HELP, help, -1):
                    learned.add("do", step.id, case.id, level, "unaided")
    return learned


def exercises(held: Held) -> list[Practised]:
    return [act for act in held.acts if isinstance(act, Practised)]


@pytest.mark.parametrize("help", range(MOST_HELP + 1))
@pytest.mark.parametrize("step", STEPS)
@pytest.mark.parametrize("seed", range(4))
def test_at_every_level_the_cube_is_solved_and_nothing_fails(step: str, help: int, seed: int) -> None:
    held = hold(random_cube(step, Random(seed)), step, seed, learned=at_level(help))
    assert held.end.outcome == "done" and held.learner.cube.solved
    done = exercises(held)
    assert not any("read me the cube" in say.text for say in held.said)
    assert {each.result for each in done} <= {"unaided"}
    sequences = [act for act in held.acts if isinstance(act, Ask) and act.query.asks == "do"]
    assert sequences or help > 2 or not done


LINE = build(flips=(0, 1, 0, 1), twists=(1, 1, 1, 0))
FLIP = next(case.sequence for case in METHOD.top_steps[0].cases if case.id == "line")
LINE_KNOWN = ("top-cross", "line")
Deed = Callable[[Alone], None]


def lesson(learned: Learned, said: Mapping[int, str], deed: Deed = lambda learner: None) -> Held:
    """A lesson from a line on top. At the Listen of that number the learner does something and then says that."""

    def answer(learner: Learner, listen: Listen, number: int) -> str | None:
        if number in said:
            assert isinstance(learner, Alone)
            deed(learner)
        return said.get(number)

    return hold(LINE, "top-cross", 3, answer, learned=learned, truthful=False)


def first(asked: str, held: Held) -> int:
    """The number of the first Listen for that."""
    listens = [act for act in held.acts if isinstance(act, Listen)]
    return next(number for number, listen in enumerate(listens) if listen.asked == asked)


def asks_to_do(held: Held) -> int:
    return sum(isinstance(act, Ask) and act.query.asks == "do" for act in held.acts)


@pytest.mark.parametrize("help", (0, 1, 2))
def test_who_asks_for_a_hint_has_been_helped(help: int) -> None:
    at = first("do", lesson(at_level(help, LINE_KNOWN), {}))
    learned = at_level(help, LINE_KNOWN)
    held = lesson(learned, {at: "give me a hint"})
    assert held.learner.cube.solved
    assert any("front, right, top" in say.text for say in held.said)
    assert exercises(held)[0].result == "helped"
    assert learned.help("top-cross", "line") == help


@pytest.mark.parametrize("far", range(7))
@pytest.mark.parametrize("help", (0, 1, 2))
def test_call_it_finds_out_how_far_the_learner_is_and_calls_all_from_then_on(help: int, far: int) -> None:
    at = first("do", lesson(at_level(help, LINE_KNOWN), {}))
    held = lesson(at_level(help, LINE_KNOWN), {at: "call it for me"}, lambda learner: learner.go_on(far))
    assert held.learner.cube.solved
    assert exercises(held)[0].result == "helped"
    assert asks_to_do(held) == 1


def test_a_slip_alone_is_found_at_the_check_and_is_no_success() -> None:
    done: list[Alone] = []

    def slip(learner: Alone) -> None:
        if learner not in done:
            done.append(learner)
            learner.go_on()
            learner.cube = learner.cube.do((Turn("R"),))

    at = first("do", lesson(at_level(1, LINE_KNOWN), {}))
    learned = at_level(1, LINE_KNOWN)
    held = lesson(learned, {at: "done", at + 1: "yes"}, slip)
    assert held.learner.cube.solved
    assert exercises(held)[0].result in ("failed", "unclear"), "unclear where the cube has to be read"
    assert learned.help("top-cross", "line") >= 1, "and less help does not follow"


def test_who_puts_it_right_alone_has_succeeded() -> None:
    done: list[Alone] = []

    def mend(learner: Alone) -> None:
        if learner not in done:
            done.append(learner)
            learner.go_on()
        learner.cube = learner.cube.do(parse("R R'"))

    at = first("do", lesson(at_level(1, LINE_KNOWN), {}))
    held = lesson(at_level(1, LINE_KNOWN), {at: "done", at + 1: "no", at + 2: "done"}, mend)
    assert held.learner.cube.solved
    assert exercises(held)[0].result == "unaided"


def test_who_wants_to_try_it_alone_does_the_rest_and_what_comes_alone_and_nothing_is_kept() -> None:
    plain = lesson(Learned(METHOD.name), {})
    at = first("turn", plain)
    held = lesson(Learned(METHOD.name), {at: "let me try it alone"})
    assert held.learner.cube.solved
    assert asks_to_do(held) > 1 and held.end.turns >= plain.end.turns
    assert not exercises(held)


def test_the_whole_sequence_is_told_in_mid_run_and_the_place_is_kept() -> None:
    plain = lesson(Learned(METHOD.name), {})
    at = first("turn", plain) + 2
    held = lesson(Learned(METHOD.name), {at: "tell me the whole sequence"})
    assert held.learner.cube.solved and held.end.turns == plain.end.turns
    assert any("So the front layer goes clockwise, then the right layer goes up" in say.text for say in held.said)


@pytest.mark.parametrize("more", range(4))
def test_once_more_takes_it_back_and_does_it_again(more: int) -> None:
    plain = lesson(Learned(METHOD.name), {})
    at = first("turn", plain) + more
    held = lesson(Learned(METHOD.name), {at: "once more so I learn it"})
    assert held.learner.cube.solved
    assert held.end.turns == plain.end.turns + 12


def test_a_sequence_is_introduced_when_it_comes_for_the_first_time() -> None:
    def introduced(learned: Learned) -> list[str]:
        name = "This is called the flip by the right side."
        return [say.text for say in lesson(learned, {}).said if name in say.text]

    new = introduced(Learned(METHOD.name))
    assert len(new) == 1 and "First in with front, right, top. Then out with right, top, front." in new[0]
    assert not introduced(at_level(3, LINE_KNOWN))


def test_the_bottom_cross_is_learned_by_its_rule_but_led_by_the_shortest_way() -> None:
    cube = random_cube("bottom-cross", Random(5))
    led = hold(cube, "bottom-cross", 5, learned=Learned(METHOD.name))
    learner = hold(cube, "bottom-cross", 5, learned=Learned(METHOD.name, fades=True))
    assert any("shortest way" in say.text for say in led.said)
    assert not any("shortest way" in say.text for say in learner.said)
    cases = {each.case for each in exercises(learner) if each.step == "bottom-cross"}
    assert cases and cases <= {case.id for case in cases_of(METHOD.step("bottom-cross"))}
    assert not any("I don't know any more" in say.text for say in learner.said)


def test_a_step_known_by_heart_is_called_from_where_it_is_if_nothing_is_done_yet() -> None:
    at = first("do", lesson(at_level(0), {}))
    held = lesson(at_level(0), {at: "call it for me"})
    assert held.learner.cube.solved
    assert asks_to_do(held) == 1 and held.end.turns > 6
    assert not any("read me the cube" in say.text for say in held.said)


def test_a_step_known_by_heart_that_went_wrong_is_a_failure_and_the_cube_is_read() -> None:
    done: list[Alone] = []

    def slip(learner: Alone) -> None:
        if learner not in done:
            done.append(learner)
            learner.go_on()
            learner.cube = learner.cube.do((Turn("R"),))

    at = first("do", lesson(at_level(0), {}))
    learned = at_level(0)
    held = lesson(learned, {at: "done"}, slip)
    assert held.learner.cube.solved
    whole = [each.result for each in exercises(held) if (each.step, each.case) == ("top-cross", "")]
    assert whole == ["failed"]
    assert any("read me the cube" in say.text for say in held.said)


def test_words_of_groups_are_explained_in_mid_run_and_the_place_is_kept() -> None:
    plain = lesson(Learned(METHOD.name), {})
    at = first("turn", plain) + 1
    held = lesson(Learned(METHOD.name), {at: "what does lift mean"})
    assert any(say.text.startswith("To lift is") for say in held.said)
    assert held.end.turns == plain.end.turns


def test_who_wants_it_repeated_hears_the_case_and_the_hold_with_the_question() -> None:
    held = lesson(at_level(1, LINE_KNOWN), {})
    at = first("do", held)
    before = [say.text for say in listens_and_says(held)[at][-3:]]
    for said in ({at: "say that again"}, {at: "give me a hint", at + 1: "say that again"}):
        again = listens_and_says(lesson(at_level(1, LINE_KNOWN), said))[at + len(said)]
        text = " ".join(say.text for say in again)
        assert "You have a line" in before[0] and all(each.removesuffix(".") in text for each in before[:2]), text
        assert "say done" in text.lower()


def listens_and_says(held: Held) -> list[list[Say]]:
    """What was said before each Listen."""
    found: list[list[Say]] = [[]]
    for act in held.acts:
        if isinstance(act, Listen):
            found.append([])
        elif isinstance(act, Say):
            found[-1].append(act)
    return found


def test_who_wants_to_be_quizzed_says_the_next_sequence_done_and_it_is_recorded() -> None:
    at = first("turn", lesson(at_level(4, LINE_KNOWN), {}))
    learned = at_level(4)

    def answer(learner: Learner, listen: Listen, number: int) -> str | None:
        if number == at:
            return "quiz me"
        if listen.asked == "recite":
            calls = [LANGUAGE.sentences.call(turn, "plain") for turn in FLIP]
            return ", ".join(calls)
        return None

    held = hold(LINE, "top-cross", 3, answer, learned=learned)
    assert held.learner.cube.solved
    words = [each for each in exercises(held) if each.kind == "recite"]
    assert [(each.step, each.case, each.result) for each in words] == [("top-cross", "line", "unaided")]
    assert sum(isinstance(act, Ask) and act.query.asks == "recite" for act in held.acts) == 1


def test_a_sequence_is_one_thing_to_say_in_whichever_case_it_was_done() -> None:
    learned = at_level(4)
    learned.sequences = METHOD.sequence_of
    assert {learned.saying("top-cross", case).case for case in ("dot", "corner")} == {"dot"}
    said = {learned.saying(*each) for each in METHOD.sequence_of}
    assert said > {*kinds(all_items(METHOD), "recite")}, "but one of a turn or two is not asked for in practice"


def quizzed(step: str, seed: int, said: str = "quiz me") -> Held:
    """A lesson from that step in which the learner wants to be quizzed once, in the pause after the first turn."""
    asked: list[int] = []

    def answer(learner: Learner, listen: Listen, number: int) -> str | None:
        if listen.asked == "turn" and not asked:
            asked.append(number)
            return said
        if listen.asked == "recite":
            return "tell me the whole sequence"
        return None

    return hold(random_cube(step, Random(seed)), step, seed, answer, learned=at_level(4), most=3000)


@pytest.mark.parametrize("seed", range(4))
def test_a_single_turn_is_not_asked_for_and_the_next_longer_sequence_is(seed: int) -> None:
    held = quizzed("bottom-cross", seed)
    says = [(say.text, isinstance(say, Ask) and say.query.asks == "recite", say) for say in held.said]
    recited = [at for at, (_, recite, _) in enumerate(says) if recite]
    assert recited, "sooner or later there is something to say"
    before = [say for _, _, say in says[: recited[0]] if isinstance(say, CallTurn) and say.n == say.of]
    told = [text for text, _, _ in says[: recited[0]] if "nothing to recall" in text]
    short = [say for say in before if say.of == 1 and say.turn == Turn("F", 2)]
    assert len(told) == bool(short), "once"
    assert held.end.outcome == "done"


def test_single_turns_occur_in_the_bottom_cross() -> None:
    texts = [say.text for seed in range(4) for say in quizzed("bottom-cross", seed).said]
    assert any("nothing to recall" in text for text in texts)


def test_who_was_not_quizzed_because_nothing_came_is_told_so() -> None:
    """The top only has to be turned into place."""
    cube = Cube().do(parse("U"))

    def answer(learner: Learner, listen: Listen, number: int) -> str | None:
        return "quiz me" if number == 0 else None

    held = hold(cube, "top-edges", 1, answer, learned=at_level(4))
    assert held.end.outcome == "done"
    texts = [say.text for say in held.said]
    assert any("I ask you for its turns" in text for text in texts)
    assert texts[-2].startswith("You wanted a quiz")
