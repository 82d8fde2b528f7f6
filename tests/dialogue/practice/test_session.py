"""Whole sessions with somebody who does it rightly, wrongly, is misheard, stops, or has no solved cube."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from random import Random

import pytest

from coach.belief.evidence import Answered
from coach.cube import Cube, Turn, parse
from coach.dialogue import Ask, CallTurn, End, Event, Heard, Listen, Practised, Rotate, Tell
from coach.dialogue.acts import Bye
from coach.dialogue.attempts import Attempts, Try
from coach.dialogue.moment import USELESS_IN_A_ROW
from coach.dialogue.practice.choosing import all_items, kinds
from coach.dialogue.practice.session import Practice
from coach.language.meaning import Change, Meaning, Wished
from coach.learning.exercise import Exercise
from coach.method import default_method
from tests.dialogue.hands import COLOURS, command
from tests.dialogue.hearing import utter
from tests.dialogue.practice.pupil import Practising, Wrongly, fresh, hold, knows, practice
from tests.learning.made import tried
from tests.loaded import load

STEPS = [step.id for step in default_method().steps]
ITEMS = all_items(default_method())


def at_level(help: int) -> list[Exercise]:
    """Exercises after which everything is done at that level of help."""
    return [tried(0, each, "unaided", item) for item in ITEMS for each in range(4, help, -1)]


def only_doing(help: int, focus: str, minutes: float = 8.0):  # type: ignore[no-untyped-def]
    one = practice(fresh(at_level(help)), minutes, focus)
    one._items = kinds(one._items, "do")
    return one


def counts(pupil: Practising) -> list[tuple[int, int, int, int]]:
    """For each exercise: how often it was done rightly and wrongly, and how often it was noted as a success and as a
    failure. A success may be noted later than a failure that came after it."""
    keys = {(ask.query.step, ask.query.case, ask.query.help) for ask, _ in pupil.tries}
    found = []
    for key in keys:
        done = [right for ask, right in pupil.tries if (ask.query.step, ask.query.case, ask.query.help) == key]
        noted = [each.result for each in pupil.practised if (each.step, each.case, each.help) == key]
        found.append((done.count(True), done.count(False), noted.count("unaided"), noted.count("failed")))
    return found


# Who is heard


@pytest.mark.parametrize("wish", [Meaning(change=Change(step="top-face")), command("quiz").meaning])
def test_a_wish_that_is_followed_gives_the_whole_time_again(wish: Meaning) -> None:
    one = practice(fresh(at_level(1)), 60.0, "top-cross")
    one._items = kinds(one._items, "recite")
    one.start()
    one.handle(command("yes"))
    one.talk._useless = USELESS_IN_A_ROW - 2
    one.handle(utter("that, please", wish))
    while one.talk._useless > 1 and not one.ended:
        one.handle(command("unsure"))
    assert not one.ended


# Who does it rightly


@pytest.mark.parametrize("focus", STEPS)
@pytest.mark.parametrize("help", range(5))
def test_what_is_done_rightly_counts_as_such_at_every_level(help: int, focus: str) -> None:
    pupil = hold(one := only_doing(help, focus), Practising(Cube()))
    assert {each.result for each in pupil.practised} == {"unaided"}
    assert {each.step for each in pupil.practised} == {focus}
    assert pupil.practised[0].help == help
    assert pupil.end and pupil.end.outcome == "done" and knows(one, pupil)


def test_a_session_has_all_three_kinds_of_exercises() -> None:
    pupil = hold(practice(fresh(at_level(1)), 20.0, "top-cross"), Practising(Cube()))
    assert {each.kind for each in pupil.practised} == {"do", "recite", "hold"}
    assert {each.result for each in pupil.practised} == {"unaided"}


def test_the_level_of_help_falls_with_every_success() -> None:
    pupil = hold(practice(minutes=20.0, focus="top-cross"), Practising(Cube()))
    first = [each for each in pupil.practised if each.case == pupil.practised[0].case and each.kind == "do"]
    assert [each.help for each in first[:4]] == [4, 3, 2, 1]


def test_with_all_turns_called_nothing_is_left_to_the_learner() -> None:
    pupil = hold(only_doing(4, "top-face", 1.5), Practising(Cube()))
    assert not pupil.tries and pupil.turns


@pytest.mark.parametrize("help", (0, 1))
def test_the_hold_is_left_to_who_needs_little_help(help: int) -> None:
    pupil = hold(only_doing(help, "top-face", 4.0), Practising(Cube()))
    assert pupil.tries and not any(isinstance(act, Rotate) for act in pupil.acts)


def test_only_the_name_of_the_step_is_told_without_help() -> None:
    pupil = hold(only_doing(0, "top-corners", 4.0), Practising(Cube()))
    told = [act.text for act in pupil.acts if isinstance(act, Tell)]
    assert any("top corners" in text for text in told)
    assert not any("matching corners" in text for text in told)


# Who does it wrongly


def slipping(random: Random, share: float, kind: str) -> Wrongly:
    """Slips of a kind in so many of the sequences."""

    def wrongly(pupil: Practising, turns: tuple[Turn, ...]) -> tuple[Turn, ...]:
        if random.random() >= share:
            return turns
        made = list(turns)
        at = random.choice([number for number, turn in enumerate(made) if not turn.whole])
        if kind == "skipped":
            del made[at]
        elif kind == "reversed":
            made[at] = made[at].inverse
        elif kind == "twice":
            made[at] = Turn(made[at].face, 1 if made[at].quarters == 2 else 2)
        else:
            made.insert(0, Turn("U", random.choice([1, 2, 3]), 3))
        return tuple(made)

    return wrongly


@pytest.mark.parametrize("kind", ("skipped", "reversed", "twice", "held"))
@pytest.mark.parametrize("seed", range(3))
def test_no_success_counts_as_a_failure_and_no_failure_as_a_success(kind: str, seed: int) -> None:
    random = Random(f"{kind}{seed}")
    pupil = Practising(Cube(), wrongly=slipping(random, 0.3, kind))
    hold(only_doing(random.choice((0, 1, 2)), random.choice(STEPS), 12.0), pupil, truthful=False)
    assert pupil.tries
    for right, wrong, successes, failures in counts(pupil):
        assert successes <= right and failures <= wrong


@pytest.mark.parametrize("seed", (0, 4, 6, 14, 18))
def test_what_is_read_counts_more_than_one_yes_to_a_row_that_was_told(seed: int) -> None:
    """Somebody turns much more than was asked for, says yes to the first row that is not as claimed, and looks at the
    cube from then on. Of the first twenty seeds, ten come to such a row."""
    random, nodded = Random(seed), False

    def wrongly(pupil: Practising, turns: tuple[Turn, ...]) -> tuple[Turn, ...]:
        if len(pupil.tries) != 1:
            return turns
        return turns + tuple(Turn(random.choice("URFL"), random.choice((1, 3))) for _ in range(5))

    def answer(pupil: Practising) -> Event:
        nonlocal nodded
        event = pupil.answer()
        denied = isinstance(event, Heard) and event.meaning == Meaning(command="no")
        if denied and not nodded and len(pupil.question.query.claim) == 3:
            nodded = True
            return command("yes")
        return event

    pupil = hold(only_doing(0, "top-face", 12.0), Practising(Cube(), wrongly=wrongly), answer, truthful=False)
    assert nodded
    assert not [text for text in pupil.texts if text.startswith("By all you've told me")]
    assert sum(each.result == "unaided" for each in pupil.practised) <= sum(right for _, right in pupil.tries)


@pytest.mark.parametrize("seed", range(4))
def test_who_is_misheard_has_not_failed(seed: int) -> None:
    random = Random(seed)

    def misheard(pupil: Practising) -> Event:
        event = pupil.answer()
        said = event.meaning.command if isinstance(event, Heard) and event.meaning else None
        if said in ("yes", "no") and random.random() < 0.1:
            return command("no" if said == "yes" else "yes")
        return event

    pupil = Practising(Cube())
    hold(only_doing(1, random.choice(STEPS[3:]), 12.0), pupil, misheard, truthful=False)
    assert "failed" not in {each.result for each in pupil.practised}


def test_who_asks_for_a_hint_is_noted_as_helped() -> None:
    asked: set[int] = set()

    def answer(pupil: Practising) -> Event:
        if pupil.listen.asked == "do" and len(pupil.asked) not in asked and not asked:
            asked.add(len(pupil.asked))
            return command("hint")
        return pupil.answer()

    pupil = hold(only_doing(1, "top-cross", 4.0), Practising(Cube()), answer)
    assert [each.result for each in pupil.practised][:2] == ["helped", "unaided"]


# Whenever it ends


def test_it_ends_in_good_order_wherever_the_learner_is_gone() -> None:
    whole = hold(practice(fresh(at_level(2)), 6.0), Practising(Cube()))
    listens = sum(isinstance(act, Listen) for act in whole.acts)
    for number in range(0, listens, 5):
        one, pupil = practice(fresh(at_level(2)), 6.0), Practising(Cube())
        pupil.take(one.start())
        for _ in range(number):
            pupil.take(one.handle(pupil.answer()))
        pupil.take(one.stop())
        assert isinstance(pupil.acts[-2], Bye) and isinstance(pupil.acts[-1], End), number
        assert {each.result for each in pupil.practised} <= {"unaided", "unclear"}


def test_stop_ends_it_at_once_and_says_what_is_due() -> None:
    def answer(pupil: Practising) -> Event:
        return utter("stop", Meaning(command="stop")) if pupil.practised else pupil.answer()

    pupil = hold(practice(fresh(at_level(1)), 30.0), Practising(Cube()), answer)
    assert pupil.end and pupil.end.outcome == "stopped"
    assert "practised" in pupil.texts[-1]


@pytest.mark.parametrize("minutes", (2.0, 5.0, 15.0))
def test_a_session_lasts_about_as_long_as_wished(minutes: float) -> None:
    one = practice(minutes=minutes)
    hold(one, Practising(Cube()))
    assert minutes * 60 <= one._elapsed() <= minutes * 60 + 240


def test_the_clock_handed_in_decides() -> None:
    seconds = iter(range(0, 100_000, 60))
    one = practice(minutes=10.0)
    one._elapsed = lambda: float(next(seconds))
    pupil = hold(one, Practising(Cube()))
    assert 1 <= len(pupil.practised) <= 10


def test_a_rest_is_suggested_every_ten_minutes() -> None:
    pupil = hold(practice(minutes=25.0), Practising(Cube()))
    assert sum(ask.query.about == "rest" for ask in pupil.asked) == 2


def test_no_rest_is_suggested_where_hardly_any_time_is_left_nor_for_the_time_before() -> None:
    assert not any(ask.query.about == "rest" for ask in hold(practice(minutes=12.0), Practising(Cube())).asked)
    one, pupil = practice(minutes=20.0), Practising(Cube())
    one._estimate = 550.0  # solving the cube first, say
    hold(one, pupil)
    first = next(at for at, act in enumerate(pupil.acts) if isinstance(act, Ask) and act.query.about == "rest")
    assert any(isinstance(act, Practised) for act in pupil.acts[:first])


def test_who_wants_more_in_the_end_gets_it() -> None:
    asked: list[int] = []

    def answer(pupil: Practising) -> Event:
        if pupil.listen.asked == "other" and pupil.question.query.about == "solve-last":
            asked.append(len(pupil.practised))
            if len(asked) == 1:
                return utter("one more please", Meaning(change=Change(exercise="other")))
        return pupil.answer()

    pupil = hold(practice(minutes=4.0, focus="top-cross"), Practising(Cube()), answer)
    assert pupil.end and len(pupil.practised) > asked[0]


def test_a_wish_for_something_in_words_is_followed_though_the_time_is_over() -> None:
    one, pupil = practice(minutes=4.0), Practising(Cube())
    given: list[int] = []

    def answer(pupil: Practising) -> Event:
        if one._elapsed() >= one._until and not given:
            given.append(len(pupil.asked))
            return command("quiz")
        return pupil.answer()

    hold(one, pupil, answer)
    assert any(ask.query.asks in ("recite", "hold") for ask in pupil.asked[given[0] :])


def test_the_goodbye_tells_what_was_done_alone_and_what_waits() -> None:
    before = [tried(-9, each, "unaided", item) for item in ITEMS for each in (4, 3, 2)]
    said = hold(practice(fresh(before), 6.0), Practising(Cube())).texts[-1]
    assert "What you did alone today: the flip" in said and "for next time" in said and "of them" not in said, said


def test_who_skips_what_they_are_asked_gets_something_else_at_once() -> None:
    given: list[int] = []

    def answer(pupil: Practising) -> Event:
        if pupil.listen.asked in ("recite", "hold") and not given:
            given.append(len(pupil.asked))
            return utter("skip this", Meaning(change=Change(exercise="other")))
        return pupil.answer()

    pupil = hold(practice(minutes=12.0), Practising(Cube()), answer)
    before, after = pupil.asked[given[0] - 1].query, pupil.asked[given[0]].query
    assert (before.step, before.case, before.asks) != (after.step, after.case, after.asks)


def test_a_cube_that_is_a_mess_is_read_only_when_it_is_needed_again() -> None:
    given: list[int] = []

    def answer(pupil: Practising) -> Event:
        if pupil.listen.asked == "hold" and not given:
            given.append(len(pupil.acts))
            return utter("my cube is a mess now", Meaning(command="mistake"))
        return pupil.answer()

    pupil = hold(practice(minutes=14.0), Practising(Cube()), answer)
    told = next(act for act in pupil.acts[given[0] :] if isinstance(act, Tell))
    assert "when we need it again" in told.text and pupil.end and pupil.practised


def test_a_sequence_practised_before_is_not_explained_in_full_again() -> None:
    pupil = hold(practice(fresh(at_level(3)), 6.0), Practising(Cube()))
    assert not any("This is called" in text for text in pupil.texts)
    done = [tried(0, 4, "unaided", item) for item in kinds(ITEMS, "do") if item.case == "dot"]
    pupil = hold(practice(fresh(done), 6.0, "top-cross"), Practising(Cube()))
    assert not any("This is called the flip by the top" in text for text in pupil.texts)


def test_before_anything_was_chosen_no_step_is_said_to_be_practised() -> None:
    one, pupil = practice(minutes=10.0), Practising(Cube())
    pupil.take(one.start())
    pupil.take(one.handle(command("where")))
    assert any(text == "We practise for about 10 minutes." for text in pupil.texts), pupil.texts


def test_who_has_had_enough_at_the_rest_stops() -> None:
    def answer(pupil: Practising) -> Event:
        return command("no") if pupil.question.query.about == "rest" else pupil.answer()

    pupil = hold(practice(minutes=25.0), Practising(Cube()), answer)
    assert pupil.end and pupil.end.outcome == "stopped"


# What is practised


def test_a_wish_for_a_step_is_followed() -> None:
    said: list[bool] = []

    def answer(pupil: Practising) -> Event:
        if pupil.practised and not said:
            said.append(True)
            return utter("let's practise the top edges", Meaning(change=Change(step="top-edges")))
        return pupil.answer()

    pupil = hold(practice(fresh(at_level(1)), 12.0), Practising(Cube()), answer)
    assert {each.step for each in pupil.practised[3:]} == {"top-edges"}  # two were over, one was under way


@pytest.mark.parametrize("steps", (slice(3), slice(3, 5), slice(3, None)))
def test_a_method_of_few_steps_can_be_practised(steps: slice) -> None:
    few = replace(default_method(), steps=default_method().steps[steps])
    one = Practice(few, load().sentences, fresh(), 6.0)
    pupil = hold(one, Practising(Cube()))
    assert pupil.practised and {each.result for each in pupil.practised} == {"unaided"}
    assert {each.step for each in pupil.practised} <= {step.id for step in few.steps}


def test_where_we_are_is_told_in_minutes() -> None:
    one, pupil = practice(minutes=10.0), Practising(Cube())
    pupil.take(one.start())
    pupil.take(one.handle(pupil.answer()))
    pupil.take(one.handle(command("where")))
    assert any("About 10 minutes are left" in text or "About 9 minutes" in text for text in pupil.texts)


def test_a_wish_at_the_beginning_is_answered() -> None:
    one, pupil = practice(minutes=4.0), Practising(Cube())
    pupil.take(one.start())
    pupil.take(one.handle(utter("the top face by heart, please", Meaning(change=Change(step="top-face")))))
    assert any("we practise the top face" in text for text in pupil.texts)
    assert pupil.question.query.about == "solved"
    for _ in range(400):
        if pupil.end:
            break
        pupil.take(one.handle(pupil.answer()))
    assert {each.step for each in pupil.practised} == {"top-face"}


def said_once(pupil: Practising, said: str, after: int = 1) -> Event:
    """The command `said` once, after so many exercises; otherwise the pupil's own answer."""
    given = sum(isinstance(act, Tell) and act.text.startswith("All right.") for act in pupil.acts)
    now = len(pupil.practised) == after and not given and pupil.listen.asked in ("recite", "hold", "turn")
    return command(said) if now else pupil.answer()  # type: ignore[arg-type]


def test_who_wants_to_be_quizzed_is_asked_in_words_next() -> None:
    pupil = hold(practice(minutes=12.0), Practising(Cube()), lambda pupil: said_once(pupil, "quiz"))
    asked = next(at for at, act in enumerate(pupil.acts) if isinstance(act, Tell) and "in words" in act.text)
    kinds_after = [act.kind for act in pupil.acts[asked:] if isinstance(act, Practised)]
    assert "recite" in kinds_after[:3]


def test_a_wish_in_the_middle_of_turns_is_said_to_wait_for_them() -> None:
    one, pupil = practice(minutes=6.0), Practising(Cube())
    pupil.take(one.start())
    while pupil.listen.asked != "turn":
        pupil.take(one.handle(pupil.answer()))
    pupil.take(one.handle(command("quiz")))
    said = [act.text for act in pupil.acts if isinstance(act, Tell)]
    assert load().sentences.say("by-heart.quiz-next", 1) in said


@pytest.mark.parametrize("number", (0, 3, 8, 14))
@pytest.mark.parametrize("wish", ("words", "hold"))
def test_something_in_words_comes_next_wherever_it_is_wished_for(wish: str, number: int) -> None:
    """Also while the cube is still brought into a case: that waits."""
    given: list[int] = []

    def answer(pupil: Practising) -> Event:
        if pupil.listen.asked == "turn":
            given.append(len(pupil.acts))
            if len(given) == number + 1:
                return utter("ask me", Meaning(change=Change(exercise=wish)))  # type: ignore[arg-type]
        return pupil.answer()

    pupil = hold(practice(minutes=6.0), Practising(Cube()), answer)
    after = [act for act in pupil.acts[given[number] :] if isinstance(act, Ask)]
    first = next(ask for ask in questions(after) if ask.query.asks != "do")
    assert first in questions(after)[:2]
    assert first.query.asks == ("hold" if wish == "hold" else "recite")


@pytest.mark.parametrize("wish", ("words", "hold", "recite"))
def test_what_has_failed_twice_is_not_asked_at_each_wish(wish: Wished) -> None:
    session = practice()
    learned = session.talk.attempts.learned
    for _ in range(12):
        session.talk.attempts.wish = wish
        item = session._next()
        assert item and item not in session._tried[-1:]
        session._tried.append(item)
        learned.add(item.kind, item.step, item.case, 4, "failed")
    assert max(Counter(session._tried[:8]).values()) <= 2


def test_who_wants_something_else_leaves_an_exercise_in_words_at_once() -> None:
    said: list[Ask] = []

    def answer(pupil: Practising) -> Event:
        if pupil.listen.asked == "recite" and not said:
            said.append(pupil.question)
            return utter("something else", Meaning(change=Change(exercise="other")))
        return pupil.answer()

    one = practice(minutes=6.0)
    one._items = kinds(one._items, "recite")
    pupil = hold(one, Practising(Cube()), answer)
    assert pupil.practised[0].case != said[0].query.case


def test_nothing_is_asked_for_in_words_twice_running() -> None:
    pupil = hold(practice(fresh(at_level(1)), 20.0), Practising(Cube()))
    both = list(zip(pupil.practised, pupil.practised[1:], strict=False))
    assert not any(one.kind != "do" and (one.kind, one.case) == (two.kind, two.case) for one, two in both)


def test_who_wants_it_once_more_in_words_has_it_once_more() -> None:
    one = practice(minutes=6.0)
    one._items = kinds(one._items, "recite")
    pupil = hold(one, Practising(Cube()), lambda pupil: said_once(pupil, "once-more", 4))
    assert [each.case for each in pupil.practised[4:6]] == [pupil.practised[4].case] * 2


def test_without_a_solved_cube_only_words_are_practised() -> None:
    def answer(pupil: Practising) -> Event:
        return command("no") if pupil.question.query.about == "solve-first" else pupil.answer()

    pupil = hold(practice(minutes=6.0), Practising(Cube().do("F R U R' U' F'")), answer)
    assert {each.kind for each in pupil.practised} <= {"recite", "hold"} and pupil.practised
    assert not any(isinstance(act, CallTurn) for act in pupil.acts)


def test_a_cube_that_is_not_solved_is_solved_first() -> None:
    pupil = Practising(Cube().do("F R U R' U' F' U"))

    def answer(pupil: Practising) -> Event:
        if pupil.question.query.about == "step" and pupil.listen.asked == "other":
            return utter("top cross", Meaning(step="top-cross"))
        return pupil.answer()

    one = practice(minutes=12.0)
    hold(one, pupil, answer)
    assert pupil.practised and knows(one, pupil)


def test_what_is_known_and_due_is_practised_first() -> None:
    exercises = [tried(day, 1, "unaided", ITEMS[2]) for day in (-60, -56, -50)]
    pupil = hold(practice(fresh(exercises), 3.0), Practising(Cube()))
    first = pupil.tries[0][0].query
    assert (first.step, first.case) == (ITEMS[2].step, ITEMS[2].case)
    assert any("review" in text for text in pupil.texts)


def test_every_exercise_that_is_noted_was_asked_for_or_called() -> None:
    pupil = hold(practice(fresh(at_level(2)), 12.0), Practising(Cube()))
    asked = {(ask.query.asks, ask.query.step, ask.query.case, ask.query.help) for ask in questions(pupil.asked)}
    assert all((each.kind, each.step, each.case, each.help) in asked for each in pupil.practised if each.help <= 2)


def questions(asked: Sequence[Ask]) -> list[Ask]:
    return [ask for ask in asked if ask.query.asks in ("do", "recite", "hold")]


def test_the_same_answers_lead_to_the_same_session() -> None:
    first, second = (hold(practice(minutes=5.0), Practising(Cube())).acts for _ in range(2))
    assert first == second and any(isinstance(act, Practised) for act in first)


def test_what_was_done_before_a_check_that_stays_disputed_is_no_success() -> None:
    attempts = Attempts(fresh())
    before, now = (Try("top-face", "two-up", (), 0) for _ in range(2))
    assert not [*attempts.ended(before)], "it waits for a check"
    attempts.now = now
    assert [each.result for each in attempts.disputed()] == ["unclear"]
    assert [each.result for each in attempts.ended(now)] == ["unclear"]


def test_the_row_that_decides_is_read_out_and_not_told() -> None:
    pupil = hold(only_doing(1, "top-face"), Practising(Cube()))
    rows = [ask for ask in pupil.asked if ask.query.asks == "row"]
    assert rows
    assert not any(colour in ask.text for ask in rows for colour in COLOURS.values())


@pytest.mark.parametrize("more", ("U", "U'", "U2"))
def test_a_row_that_is_read_twice_is_believed_whatever_was_heard_in_between(more: str) -> None:
    """Somebody turns the top besides, reads a row that is not as it should be, and the yes to what was heard of it is
    misheard as a no."""
    misheard, heard = False, list[bool]()
    session = only_doing(1, "top-face")

    def wrongly(pupil: Practising, turns: tuple[Turn, ...]) -> tuple[Turn, ...]:
        return turns if pupil.tries else turns + parse(more)

    def answer(pupil: Practising) -> Event:
        nonlocal misheard
        if not heard:
            events = [event for event in session.knowledge.trail.events if isinstance(event, Answered)]
            heard.extend(event.yes for event in events if len(event.facts) == 3)
        event, query = pupil.answer(), pupil.question.query
        if query.asks == "claim" and not misheard and event == command("yes"):
            misheard = True
            return command("no")
        return event

    pupil = hold(session, Practising(Cube(), wrongly=wrongly), answer, truthful=False)
    assert misheard
    assert heard[0], "the no was about what was heard"
    assert not [text for text in pupil.texts if text.startswith("By all you've told me")]
    assert pupil.practised[0].result in ("failed", "unclear")


@pytest.mark.parametrize("help", (3, 4))
def test_the_row_that_decides_is_read_out_however_much_is_called(help: int) -> None:
    pupil = hold(only_doing(help, "top-face"), Practising(Cube()))
    assert [ask for ask in pupil.asked if ask.query.asks == "row"]


def test_a_cube_left_unsolved_is_solved_at_the_end_if_they_like() -> None:
    pupil = hold(only_doing(3, "top-face"), Practising(Cube(), solves_last=True))
    assert pupil.cube.solved
    assert not hold(only_doing(3, "top-face"), Practising(Cube())).cube.solved


def test_in_a_sequence_they_are_told_the_last_call() -> None:
    asked: list[str] = []

    def answer(pupil: Practising) -> Event:
        if pupil.listen.asked == "turn" and pupil.listen.until is None and len(asked) < 1:
            asked.append("")
            return command("where")
        return Practising.answer(pupil)

    pupil = hold(only_doing(4, "top-face"), Practising(Cube()), answer)
    assert any("The last turn I called" in text and "practising" in text for text in pupil.texts)
