"""The conversation's core, met with meanings instead of words: what it asks, what it does when interrupted, and
that nothing said to it breaks it or keeps it for ever."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.cube import PLACE_NUMBER, POSITIONS, Cube, all_shown
from coach.dialogue import Ask, Bye, CallTurn, End, Event, Heard, Listen, Rotate, Say, Silence, SlipFound
from coach.dialogue.lesson import Lesson, Settings
from coach.dialogue.pace import Pace
from coach.language.meaning import Command, Meaning
from coach.method import default_method
from coach.method.last_layer import build, orientation_states
from coach.simulation import random_cube
from tests.dialogue.hands import CORNERS, EDGES, Hands, command, new_lesson, play
from tests.dialogue.hearing import utter

STATES = orientation_states()
LINE = build(flips=(0, 1, 0, 1), twists=(1, 2, 0, 0))
TWO_UP = build(twists=(1, 2, 0, 0))
COMMANDS: tuple[Command, ...] = (
    "next", "repeat", "restart-run", "back", "wait", "resume", "slower", "faster", "louder", "softer", "mistake",
    "lost", "correct", "where", "help", "explain", "ready", "yes", "no", "unsure", "stop", "done-top",
    "layers-broken", "on-my-word", "read",
)  # fmt: skip
UNTRUE = {"next", "resume", "ready", "yes", "no", "done-top"}
"""Commands that are answers to a question; said at random they may be untrue."""


def crossed(cube: Cube) -> bool:
    return all_shown(cube.faces, EDGES)


def to_first_turn(cube: Cube, step: str) -> Hands:
    """A lesson up to the first called turn, with full answers."""
    lesson, hands = new_lesson(step), Hands(cube)
    hands.take(lesson.start())
    while not hands.turns and not hands.end:
        hands.take(lesson.handle(hands.answer()))
    return hands


# Questions


def test_from_the_top_cross_at_most_3_questions_come_before_the_first_turn_but_in_4_states() -> None:
    """In the four a cross is there already: three of the six with no corner up, where one yes/no question cannot
    settle which of four sides to hold in front; and where all is solved, which the front and two rows of the sides
    have to show."""
    asked = {
        cube: [say.query.asks for say in to_first_turn(cube, "top-cross").questions_before_turn()] for cube in STATES
    }
    assert Counter(map(len, asked.values())) == {2: 189, 3: 23, 4: 3, 5: 1}
    many = {cube: asks for cube, asks in asked.items() if len(asks) >= 4}
    assert all(map(crossed, many))
    ups = sorted(sum(cube.faces[PLACE_NUMBER[place]] == "U" for place in CORNERS) for cube in many)
    assert ups == [0, 0, 0, 4]
    assert [asks for asks in many.values() if asks[-1] == "claim"] == 3 * [
        ["look-top-edges", "look-top-corners", "claim", "claim"]
    ]


def test_from_the_top_face_at_most_3_questions_come_before_the_first_turn() -> None:
    asked = {cube: len(to_first_turn(cube, "top-face").questions_before_turn()) for cube in STATES if crossed(cube)}
    done = [cube for cube in asked if all(cube.faces[PLACE_NUMBER[place]] == "U" for place in CORNERS)]
    assert max(number for cube, number in asked.items() if cube not in done) == 3
    # Where the step is done already, the next one begins, for which the coach must know which side is in front.
    assert [asked[cube] for cube in done] == [4]


@pytest.mark.parametrize("vague", ["top-cross", "top-face"])
def test_after_a_vague_answer_the_places_are_asked_for(vague: str) -> None:
    """A line, or two corners, leaves the hold open; then the question is which way or where, and it stays at 3."""
    lesson, hands = new_lesson(vague), Hands(LINE if vague == "top-cross" else TWO_UP)
    hands.take(lesson.start())
    hands.take(lesson.handle(hands.vague()))
    assert hands.question.text in (
        "Does the line run from left to right?",
        "Where is that? Say for example: front left.",
    )
    while not hands.turns:
        hands.take(lesson.handle(hands.answer()))
    assert len(hands.questions_before_turn()) <= 3


@pytest.mark.parametrize("number", range(0, 216, 7))
def test_nothing_is_asked_that_the_coach_knows(number: int) -> None:
    """But for the check after a run, which says what must be there."""
    cube = STATES[number]
    lesson = new_lesson("top-face" if crossed(cube) and number % 2 else "top-cross")

    def answer(hands: Hands) -> Event:
        since_turn = [say for say in hands.says if isinstance(say, Ask | CallTurn)][-2:]
        checks = isinstance(since_turn[0], CallTurn)
        asked = hands.question
        known = lesson.knowledge.top.patterns
        if hands.listen.asked == "claim" and known and not checks:
            claims = [(PLACE_NUMBER[f"{face}{place}"], colour) for face, place, colour in asked.query.claim]
            assert len({all((p[i] == "U") == (colour == "yellow") for i, colour in claims) for p in known}) == 2
        if hands.listen.asked == "row" and known:
            start = PLACE_NUMBER[f"{asked.query.face}0"]
            assert len({pattern[start : start + 3] for pattern in known}) > 1
        if hands.listen.asked.startswith("look"):
            places = EDGES if hands.listen.asked == "look-top-edges" else CORNERS
            assert len(lesson.knowledge.top.views(places)) > 1
        return hands.answer()

    hands = play(lesson, Hands(cube), answer)
    assert hands.end and hands.end.outcome == "done"
    assert hands.cube.solved


def test_a_case_that_is_known_from_the_step_before_is_not_looked_for_again() -> None:
    """The whole top told at the first question: the corners are not asked for once the cross is there."""
    lesson, hands = new_lesson("top-cross"), Hands(LINE)
    hands.take(lesson.start())
    hands.take(lesson.handle(hands.look((*EDGES, *CORNERS, "F0", "F2", "R0", "R2", "L0", "L2", "B0", "B2"))))
    play_on(lesson, hands)
    asks = [say.query.asks for say in hands.asked]
    assert "look-top-corners" not in asks
    assert hands.cube.solved


def play_on(lesson: Lesson, hands: Hands) -> None:
    for _ in range(400):
        if hands.end:
            return
        hands.take(lesson.handle(hands.answer()))
    raise AssertionError("no end")


# Reports that cannot be


ODD = [
    ("top-cross", Meaning(edges=1), "can't be one edge or three"),
    ("top-cross", Meaning(edges=3), "can't be one edge or three"),
    ("top-cross", Meaning(look={"U1": True, "U3": True, "U5": True, "U7": False}), "can't be one edge or three"),
    ("top-cross", Meaning(look={"U1": False, "U3": False, "U5": True, "U7": False}), "can't be one edge or three"),
    ("top-face", Meaning(corners=3), "can't be three corners"),
    ("top-face", Meaning(look={"U0": True, "U2": True, "U6": False, "U8": True}), "can't be three corners"),
    ("top-cross", Meaning(shape="line", edges=4), "doesn't fit"),
    ("top-cross", Meaning(look={"U1": True, "U7": False}, shape="line", edges=2), None),
    ("top-cross", Meaning(look={"U1": True, "U7": False}, shape="dot"), "doesn't fit"),
]


@pytest.mark.parametrize(("step", "meaning", "words"), ODD)
def test_an_odd_report_is_not_believed_and_asked_about(step: str, meaning: Meaning, words: str | None) -> None:
    lesson, hands = new_lesson(step), Hands(LINE if step == "top-cross" else TWO_UP)
    hands.take(lesson.start())
    before = len(hands.says)
    hands.take(lesson.handle(utter("odd", meaning)))
    assert not hands.turns
    told = " ".join(hands.texts[before:])
    assert hands.question.query.asks in ("look-top-edges", "look-top-corners")
    assert words is None or words in told
    play_on(lesson, hands)
    assert hands.cube.solved


def test_told_that_one_edge_is_up_it_does_not_say_that_one_cannot_be() -> None:
    """Only one place was told; of the others nothing was said."""
    lesson, hands = new_lesson("top-cross"), Hands(build(flips=(0, 0, 1, 1), twists=(0, 0, 0, 0)))
    hands.take(lesson.start())
    hands.take(lesson.handle(hands.look(("U1",))))
    assert "There can't be" not in " ".join(hands.texts)
    play_on(lesson, hands)
    assert hands.cube.solved


def test_a_top_without_a_cross_at_the_top_face_goes_back_to_the_cross() -> None:
    lesson, hands = new_lesson("top-face"), Hands(LINE)
    hands.take(lesson.start())
    hands.take(lesson.handle(hands.look((*EDGES, *CORNERS))))
    assert any("top cross first" in text for text in hands.texts)
    play_on(lesson, hands)
    assert hands.cube.solved


@pytest.mark.parametrize(
    ("cube", "step", "words"),
    [
        (build(flips=(1, 0, 0, 0)), "top-cross", "the wrong way round"),
        (build(flips=(1, 1, 1, 0)), "top-cross", "the wrong way round"),
        (build(twists=(1, 0, 0, 0)), "top-face", "twisted"),
    ],
)
def test_a_cube_that_no_turning_can_solve_is_told_so(cube: Cube, step: str, words: str) -> None:
    hands = play(new_lesson(step), Hands(cube), truthful=False)
    assert hands.end and hands.end.outcome == "unsolvable"
    assert not hands.turns
    assert any(words in text for text in hands.texts[-3:])


def test_lower_layers_that_turn_out_broken_have_the_cube_read() -> None:
    cube = Cube().do("R U R' F2 D")
    hands = play(new_lesson("top-cross"), Hands(cube), lambda hands: _honest_about_layers(hands), truthful=False)
    assert hands.end and hands.end.outcome == "done"
    assert hands.cube.solved


def _honest_about_layers(hands: Hands) -> Event:
    about = hands.question.query.about if hands.listen.asked == "other" else None
    return command("no") if about == "lower-layers" else hands.answer()


# The check after a run


@pytest.mark.parametrize(("step", "cube"), [("top-cross", LINE), ("top-face", TWO_UP)])
def test_a_no_to_what_is_there_after_all_changes_nothing(step: str, cube: Cube) -> None:
    said: list[str] = []

    def answer(hands: Hands) -> Event:
        if hands.listen.asked == "claim" and hands.question.text.startswith("Now you should have") and not said:
            said.append("no")
            return command("no")
        return hands.answer()

    plain = play(new_lesson(step), Hands(cube))
    hands = play(new_lesson(step), Hands(cube), answer)
    assert said
    assert any(text.startswith("Let's find out") for text in hands.texts)
    assert hands.turns[: len(RUN)] == plain.turns[: len(RUN)]
    assert not any(isinstance(act, SlipFound) for act in hands.acts)
    assert hands.cube.solved


def test_whoever_says_no_to_everything_that_must_be_there_is_not_corrected_for_it() -> None:
    def answer(hands: Hands) -> Event:
        checked = hands.listen.asked == "claim" and "you should have" in hands.question.text
        return command("no") if checked else hands.answer()

    hands = play(new_lesson("top-cross"), Hands(LINE), answer)
    assert hands.turns[: len(RUN)] == RUN
    assert not any(isinstance(act, SlipFound) for act in hands.acts)
    assert hands.cube.solved


# Commands at any moment


def moments(cube: Cube, step: str) -> int:
    """How often the coach listens in the plain lesson."""
    return sum(isinstance(act, Listen) for act in play(new_lesson(step), Hands(cube)).acts)


def interrupted(cube: Cube, step: str, at: int, name: Command) -> tuple[Hands, bool]:
    """The lesson in which command `name` is said at the `at`-th moment; whether it could be said truthfully."""
    said = []

    def answer(hands: Hands) -> Event:
        if sum(isinstance(act, Listen) for act in hands.acts) == at + 1 and not said:
            truthful = name not in UNTRUE or hands.listen.asked in ("turn", "ready")
            said.append(truthful)
            return command(name) if truthful else hands.answer()
        if hands.says[-1].text == "I'm waiting. Say go on when you're ready.":
            return command("resume")
        return hands.answer()

    return play(new_lesson(step), Hands(cube), answer), said[0]


@pytest.mark.parametrize("name", COMMANDS)
def test_a_command_at_any_moment_leaves_coach_and_cube_together(name: Command) -> None:
    """play() compares what the coach knows with the cube at every moment. The moments are every fourth one, from
    another beginning for each command; fewer for those that have the whole cube read."""
    cube, step = (LINE, "top-cross") if COMMANDS.index(name) % 2 else (TWO_UP, "top-face")
    every = 16 if name in ("read", "layers-broken") else 4
    for at in range(COMMANDS.index(name) % 4, moments(cube, step), every):
        hands, truthful = interrupted(cube, step, at, name)
        assert hands.end
        if name == "stop":
            assert hands.end.outcome == "stopped"
        elif truthful:
            assert hands.end.outcome == "done"
            assert hands.cube.solved


RUN = ["F", "R", "U", "R'", "U'", "F'"]
BACK = {"F": "F'", "R": "R'", "U": "U'", "R'": "R", "U'": "U", "F'": "F"}


def in_the_run(number: int, name: Command) -> list[str]:
    """The turns called when `name` is said after turn `number` of the first run."""

    def answer(hands: Hands) -> Event:
        return command(name) if len(hands.turns) == number and not said and not said.append(1) else hands.answer()

    said: list[int] = []
    return play(new_lesson("top-cross"), Hands(LINE), answer).turns


@pytest.mark.parametrize("number", range(1, 7))
def test_back_takes_back_one_turn_and_calls_it_again(number: int) -> None:
    last = RUN[number - 1]
    assert in_the_run(number, "back")[: len(RUN) + 2] == [*RUN[:number], BACK[last], last, *RUN[number:]]


@pytest.mark.parametrize("number", range(1, 7))
def test_starting_again_undoes_the_run_and_calls_it_from_the_first_turn(number: int) -> None:
    undone = [BACK[turn] for turn in reversed(RUN[:number])]
    assert in_the_run(number, "restart-run")[: 2 * number + 6] == [*RUN[:number], *undone, *RUN]


@pytest.mark.parametrize("name", ["restart-run", "correct"])
def test_a_no_while_turns_are_taken_back_keeps_the_others(name: Command) -> None:
    def answer(hands: Hands) -> Event:
        if hands.listen.asked == "other" and hands.question.query.about == "done":
            return command("yes")
        here = {3: name, 4: "no"}.get(len(hands.turns))
        return command(here) if here and here not in said and not said.append(here) else hands.answer()

    said: list[str] = []
    hands = play(new_lesson("top-cross"), Hands(LINE), answer)
    assert hands.turns[:8] == [*RUN[:3], BACK[RUN[2]], *RUN[2:]][:8]
    assert "All right, the rest stays as it is. We go on from here." in hands.texts
    assert hands.cube.solved


@pytest.mark.parametrize("name", ["mistake", "lost"])
@pytest.mark.parametrize("number", range(1, 7))
def test_whoever_thinks_wrongly_that_they_slipped_loses_no_turn(number: int, name: Command) -> None:
    assert in_the_run(number, name)[: len(RUN)] == RUN


def test_repeating_never_has_a_turn_done_twice() -> None:
    lesson, hands = new_lesson("top-cross"), Hands(LINE)
    hands.take(lesson.start())
    while not hands.turns:
        hands.take(lesson.handle(hands.answer()))
    for _ in range(3):
        hands.take(lesson.handle(command("repeat")))
    assert hands.turns == ["F"]
    assert hands.texts[-1] == "I said: The front layer goes clockwise."


def test_louder_and_softer_change_nothing_else() -> None:
    lesson, hands = new_lesson("top-cross"), Hands(LINE)
    hands.take(lesson.start())
    for name in ("louder", "louder", "softer"):
        hands.take(lesson.handle(command(name)))
    assert hands.louder == 1
    assert hands.texts[-1] == hands.question.text
    assert hands.listen.asked == "look-top-edges"


def test_the_limits_of_the_pace_are_told_and_what_to_do_instead() -> None:
    lesson, hands = new_lesson("top-cross", Settings(pace=Pace(14.0))), Hands(LINE)
    hands.take(lesson.start())
    while not hands.turns:
        hands.take(lesson.handle(hands.answer()))
    hands.take(lesson.handle(command("slower")))
    assert hands.listen.seconds == 15.0
    hands.take(lesson.handle(command("slower")))
    assert "on my word" in hands.texts[-1]
    hands.take(lesson.handle(command("on-my-word")))
    hands.take(lesson.handle(Silence(60.0)))
    assert len(hands.turns) == 1, "it waits for the word"
    hands.take(lesson.handle(command("next")))
    assert len(hands.turns) == 2


@pytest.mark.parametrize(("step", "cube"), [("top-cross", LINE), ("top-face", TWO_UP)])
def test_a_wrong_answer_taken_back_in_mid_run_does_no_harm(step: str, cube: Cube) -> None:
    """The coach is misled, undoes what it called, and asks anew; at the end all is well."""
    for number in range(1, 6):
        lesson, hands = new_lesson(step), Hands(cube)
        hands.take(lesson.start())
        wrong = {"U1": True, "U3": True, "U5": False, "U7": False}
        if step == "top-face":
            wrong = {"U0": False, "U2": False, "U6": True, "U8": False}
        hands.take(lesson.handle(utter("wrong", Meaning(look=wrong))))
        while len(hands.turns) < number:
            hands.take(lesson.handle(command("ready") if hands.listen.asked == "ready" else Silence(2.5)))
        hands.take(lesson.handle(command("correct")))
        play_on(lesson, hands)
        assert hands.end and hands.end.outcome == "done"
        assert hands.cube.solved


# Never for ever, never the same three times


OBEYED = {
    "stop", "repeat", "help", "where", "explain", "slower", "faster", "louder", "softer", "on-my-word", "wait",
}  # fmt: skip
"""Commands that are carried out each time they are said."""
USELESS: dict[str, Event] = {
    "silence": Silence(8.0),
    "noise": utter("blah", None),
    "another answer": utter("red green", Meaning(colours=("red", "green"))),
    "another piece": utter("up front", Meaning(place="UF", shows={"white": "U"})),
    "an odd number": utter("three", Meaning(corners=3, edges=1)),
    **{name: command(name) for name in COMMANDS if name not in OBEYED},
}
STEPS = ("top-cross", "top-face", "bottom-cross", "middle-edges", "top-corners", None)


@pytest.mark.parametrize("step", STEPS)
@pytest.mark.parametrize("name", USELESS)
def test_the_same_said_for_ever_ends_and_is_never_met_with_the_same_words_three_times_running(
    name: str, step: str | None
) -> None:
    hands = play(new_lesson(step), Hands(LINE), lambda _: USELESS[name], most=300, truthful=False)
    assert hands.end
    texts = hands.texts
    assert not any(first == second == third for (first, second), (_, third) in pairwise(pairwise(texts)))


@pytest.mark.parametrize("name", ["silence", "noise"])
@pytest.mark.parametrize("step", STEPS)
def test_a_question_gets_plainer_and_is_not_said_three_times(name: str, step: str | None) -> None:
    hands = play(new_lesson(step), Hands(LINE), lambda _: USELESS[name], truthful=False)
    asked = hands.asked
    assert len(asked) >= 3
    assert max(Counter(say.text for say in asked).values()) < 3
    assert any("say" in say.text.lower() for say in asked[:3]), "it offers what can be said"
    assert hands.end and hands.end.outcome == "stopped"
    assert step is None or "start from" in hands.texts[-1]


LOOKS = st.dictionaries(st.sampled_from([*EDGES, *CORNERS, "F0", "F1", "L2", "R0"]), st.booleans(), max_size=8)
COLOUR = st.sampled_from(["white", "yellow", "green", "blue", "orange", "red", "pink"])
MEANINGS = st.builds(
    Meaning,
    look=LOOKS,
    shape=st.sampled_from([None, None, "dot", "corner", "line", "cross"]),
    edges=st.sampled_from([None, None, 0, 1, 2, 3, 4]),
    corners=st.sampled_from([None, None, 0, 1, 2, 3, 4]),
    place=st.sampled_from([None, None, *POSITIONS]),
    shows=st.dictionaries(COLOUR, st.sampled_from("URFDLB"), max_size=3),
    colours=st.lists(COLOUR, max_size=9).map(tuple),
    command=st.sampled_from([None, None, *COMMANDS[:20], *COMMANDS[21:]]),
)
EVENTS = st.one_of(
    st.just(Silence(3.0)),
    st.just(utter("", None)),
    st.sampled_from(COMMANDS).filter(lambda name: name != "stop").map(command),
    MEANINGS.map(lambda meaning: utter("top cross", meaning)),
)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(EVENTS, max_size=50),
    st.sampled_from([None, "bottom-cross", "bottom-corners", "top-cross", "top-face", "top-edges"]),
    st.sampled_from(["teach", "brief"]),
    st.booleans(),
)
def test_whatever_it_means_nothing_breaks_the_lesson_and_silence_ends_it(
    events: list[Event], step: str | None, manner: str, ask_colours: bool
) -> None:
    lesson = new_lesson(step, Settings(manner=manner, ask_colours=ask_colours))
    acts = lesson.start()
    for event in [*events, *(150 * [Silence(8.0)])]:
        assert all(isinstance(act, End) == (act is acts[-1] and lesson.ended) for act in acts)
        assert all(act.text for act in acts if isinstance(act, Say))
        if lesson.ended:
            break
        acts = lesson.handle(event)
    assert lesson.ended
    assert lesson.handle(Silence(1.0)) == []


def test_the_same_events_lead_to_the_same_acts() -> None:
    first, second = (play(new_lesson("top-cross"), Hands(STATES[77])).acts for _ in range(2))
    assert first == second


@pytest.mark.parametrize("number", [0, 1, 2, 4, 7, 12, 20])
def test_the_lesson_can_be_stopped_from_outside_at_any_moment(number: int) -> None:
    lesson, hands = new_lesson("top-cross"), Hands(LINE)
    hands.take(lesson.start())
    for _ in range(number):
        hands.take(lesson.handle(hands.answer()))
    hands.take(lesson.stop())
    assert hands.end and hands.end.outcome == "stopped"
    assert isinstance(hands.says[-1], Bye)
    counts = Counter(map(type, hands.says))
    assert hands.end.turns == counts[CallTurn]
    assert hands.end.questions == counts[Ask]


def test_a_called_turn_tells_its_step_its_case_and_its_sequence() -> None:
    hands = play(new_lesson("bottom-corners"), Hands(random_cube("bottom-corners", Random(3))))
    cases = {(step.id, case.id): case.sequence for step in default_method().steps
             for case in getattr(step, "cases", ())}  # fmt: skip
    called = [act for act in hands.acts if isinstance(act, CallTurn)]
    for call in called:
        turns = [turn for turn in call.sequence if not turn.whole]
        assert turns[call.n - 1] == call.turn and len(turns) == call.of
        lines_up = all(turn.face == "U" for turn in call.sequence)
        assert lines_up or not call.case or call.sequence == cases[call.step, call.case]
    assert {call.step for call in called} >= {"bottom-corners", "middle-edges", "top-corners"}
    assert all(call.case for call in called if call.step in ("top-cross", "top-face"))
    rotations = [act for act in hands.acts if isinstance(act, Rotate)]
    assert all((act.step, act.case) in cases for act in rotations if act.case)
    assert any(act.case for act in rotations)


# More is said than was asked


def to_claim(cube: Cube, *said: Heard) -> tuple[Lesson, Hands]:
    """A lesson from the top cross up to the answer to its first claim."""
    lesson, hands = new_lesson("top-cross"), Hands(cube)
    hands.take(lesson.start())
    for heard in said:
        hands.take(lesson.handle(heard))
    assert hands.listen.asked == "claim"
    return lesson, hands


@pytest.mark.parametrize("word", [None, "no", "yes"])
def test_a_description_counts_for_more_than_the_yes_or_no_it_comes_with(word: Command | None) -> None:
    """ "No, it goes from front to back" answers the question though it may be about another way to see it."""
    lesson, hands = to_claim(LINE, utter("a line", Meaning(shape="line")))
    look = {place: hands.shows(place) for place in EDGES}
    hands.take(lesson.handle(utter("described", Meaning(look=look, command=word))))
    assert [say.query.asks for say in hands.asked] == ["look-top-edges", "claim", "ready"]
    play_on(lesson, hands)
    assert hands.cube.solved


def test_a_description_that_cannot_be_leaves_the_yes_or_no() -> None:
    lesson, hands = to_claim(LINE, utter("a line", Meaning(shape="line")))
    word: Command = "yes" if hands.claim_holds() else "no"
    hands.take(lesson.handle(utter("odd", Meaning(shape="dot", command=word))))
    play_on(lesson, hands)
    assert hands.cube.solved


def test_what_is_seen_instead_of_what_must_be_there_is_not_asked_for_again() -> None:
    lesson, hands = new_lesson("top-cross"), Hands(LINE)
    hands.take(lesson.start())
    while "you should have" not in hands.texts[-1]:
        hands.take(lesson.handle(hands.answer()))
    seen = {"U1": False, "U3": True, "U5": True, "U7": False}
    hands.take(lesson.handle(utter("no, a line", Meaning(look=seen, command="no"))))
    assert "Let's find out" in " ".join(hands.texts[-2:])
    assert hands.question.query.asks != "look-top-edges"


def test_which_way_the_cube_is_held_can_be_asked_in_every_hold() -> None:
    lesson, hands = new_lesson("bottom-cross"), Hands(Cube().do("R U2 F L' D2 B U' R2 F D' L2 U B2"))
    hands.take(lesson.start())
    for _ in range(60):
        hands.take(lesson.handle(utter("which way do I hold it", Meaning(command="explain"))))
        told = next(text for text in reversed(hands.texts) if text.startswith("Hold the cube with"))
        assert told == f"Hold the cube with {hands.colour('U4')} on top and {hands.colour('F4')} facing you."
        hands.take(lesson.handle(hands.answer()))


def to_text(words: str, lesson: Lesson, hands: Hands) -> None:
    """On with full answers until the coach says `words`."""
    hands.take(lesson.start())
    while words not in hands.texts[-1]:
        hands.take(lesson.handle(hands.answer()))


@pytest.mark.parametrize("name", ["wait", "no"])
@pytest.mark.parametrize(("cube", "words"), [(LINE, "Say ready"), (TWO_UP, "I'll begin in a moment")])
def test_it_begins_no_run_before_the_learner_holds_it_right(cube: Cube, words: str, name: Command) -> None:
    lesson, hands = new_lesson("top-cross" if cube is LINE else "top-face"), Hands(cube)
    if words == "I'll begin in a moment":
        lesson.talk.questions = 3
    to_text(words, lesson, hands)
    hands.take(lesson.handle(command(name)))
    assert "I'm waiting" in hands.texts[-1]
    hands.take(lesson.handle(Silence(120.0)))
    hands.take(lesson.handle(command("slower")))
    hands.take(lesson.handle(command("wait")))
    assert not hands.turns, "it still waits"
    hands.take(lesson.handle(command("resume")))
    play_on(lesson, hands)
    assert hands.cube.solved


def test_while_the_whole_cube_is_turned_everything_can_be_said() -> None:
    lesson, hands = new_lesson("bottom-corners"), Hands(Cube().do("L U2 L'"))
    hands.take(lesson.start())
    while not isinstance(hands.says[-1], Rotate):
        hands.take(lesson.handle(hands.answer()))
    rotated = hands.cube
    for name in ("repeat", "where", "help", "slower"):
        said = len(hands.says)
        hands.take(lesson.handle(command(name)))
        assert len(hands.says) > said, name
    assert hands.cube == rotated
    play_on(lesson, hands)
    assert hands.cube.solved


# What was not heard surely

UNSURE = utter("", None, 0.4, (command("stop"), utter("a line", Meaning(shape="line"))))


def asked_whether(*answers: Event) -> tuple[Lesson, Hands]:
    """A lesson in which the first answer was not heard surely, with the answers to whether it was meant."""
    lesson, hands = new_lesson("top-cross"), Hands(LINE)
    hands.take(lesson.start())
    hands.take(lesson.handle(UNSURE))
    for answer in answers:
        assert hands.texts[-1] in ("Did you mean: stop the lesson?", "A line: is that it?")
        hands.take(lesson.handle(answer))
    return lesson, hands


def test_what_was_not_heard_surely_is_asked_about_and_not_done() -> None:
    _, hands = asked_whether()
    assert hands.texts[-1] == "Did you mean: stop the lesson?"
    assert not hands.end


def test_a_yes_makes_it_said() -> None:
    _, hands = asked_whether(command("yes"))
    assert hands.end
    assert hands.end.outcome == "stopped"


def test_a_no_asks_for_the_other_and_then_the_question_again() -> None:
    lesson, hands = asked_whether(command("no"), command("no"))
    assert hands.question.query.asks == "look-top-edges"
    play_on(lesson, hands)
    assert hands.cube.solved


def test_the_second_guess_may_be_right() -> None:
    lesson, hands = asked_whether(command("no"), command("yes"))
    assert hands.question.query.asks != "look-top-edges"
    play_on(lesson, hands)
    assert hands.cube.solved


@pytest.mark.parametrize("event", [Silence(8.0), utter("mumble", None)])
def test_no_answer_to_that_is_no_answer_at_all(event: Event) -> None:
    lesson, hands = asked_whether(event)
    assert hands.question.query.asks == "look-top-edges"
    play_on(lesson, hands)
    assert hands.cube.solved


@pytest.mark.parametrize("number", [1, 3, 6])
@pytest.mark.parametrize("said", ["no", "I turned nothing yet", "but I didn't do it, there is nothing to take back"])
def test_a_turn_that_was_called_and_not_made_is_not_taken_back(number: int, said: str) -> None:
    def answer(hands: Hands) -> Event:
        if hands.listen.asked == "other" and hands.question.query.about == "done":
            hands.cube = hands.cube.do(BACK[RUN[number - 1]])  # it had not been made
            return command("no") if said == "no" else utter(said, None)
        here = len(hands.turns) == number and not asked and not asked.append(1)
        return command("restart-run") if here else hands.answer()

    asked: list[int] = []
    hands = play(new_lesson("top-cross"), Hands(LINE), answer)
    undone = [BACK[turn] for turn in reversed(RUN[: number - 1])]
    assert hands.turns[: 2 * number - 1 + 6] == [*RUN[:number], *undone, *RUN]
    assert hands.cube.solved
