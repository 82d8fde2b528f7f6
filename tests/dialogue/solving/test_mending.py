"""Lessons in which something goes wrong: it is found, put right, and the lesson goes on where it was."""

from __future__ import annotations

import json
from pathlib import Path
from random import Random
from statistics import median

import pytest

from coach.app.session import run
from coach.belief.slips.possible import can_be
from coach.belief.top.belief import pattern_of
from coach.cube import Cube, Turn, parse
from coach.dialogue import Act, Ask, CallTurn, End, Event, Heard, Listen, Say, Silence, SlipFound
from coach.dialogue.lesson import Lesson
from coach.dialogue.talk import Talk
from coach.language.meaning import Meaning
from coach.method import default_method
from coach.records.log import SessionLog
from coach.simulation import Learner, holding, random_cube
from coach.simulation.holding import answering
from coach.simulation.slipping import SLIPS, SlippingLearner
from tests.dialogue.hands import Hands, command, new_lesson
from tests.dialogue.hearing import utter
from tests.loaded import load

LANGUAGE = load()
STEPS = [step.id for step in default_method().steps]


def hold(learner: Learner, step: str, tells: bool = False) -> list[Act]:
    """A lesson with answers as in life; where the learner `tells`, a slip is noticed at once."""
    lesson = Lesson(default_method(), load().sentences, step, None, LANGUAGE.offers)
    return holding.hold(lesson, learner, answering(learner, LANGUAGE, lambda: tells), most=700)


def turns(acts: list[Act]) -> int:
    return sum(isinstance(act, CallTurn) for act in acts)


def slips(acts: list[Act]) -> list[SlipFound]:
    return [act for act in acts if isinstance(act, SlipFound)]


def slipping(step: str, seed: int, kind: str) -> SlippingLearner:
    """A learner with one slip at a random turn of the lesson that goes well."""
    cube = random_cube(step, Random(seed))
    plain = turns(hold(Learner(cube, Random(seed)), step))
    at = Random(seed).randrange(max(plain, 1))
    return SlippingLearner(cube, Random(seed), lambda number, say: kind if number == at else "")


@pytest.mark.parametrize("kind", SLIPS)
@pytest.mark.parametrize("step", STEPS)
def test_after_one_slip_of_any_kind_the_cube_is_solved(step: str, kind: str) -> None:
    learner = slipping(step, STEPS.index(step) + 10 * SLIPS.index(kind), kind)
    acts = hold(learner, step)
    assert learner.cube.solved
    assert isinstance(acts[-1], End)
    assert acts[-1].outcome == "done"


def test_with_the_question_for_the_next_piece_the_last_one_may_be_denied() -> None:
    learner = slipping("bottom-corners", 2, "reversed")
    says = [act for act in hold(learner, "bottom-corners") if isinstance(act, Say)]
    searched = [say.text for say in says].index(load().sentences.forms("slip.search")[0])
    before = [say for say in says[:searched] if isinstance(say, Ask)][-1]
    assert before.query.asks == "piece"
    assert before.query.about == "placed"
    assert "say no" in before.text
    assert " corner" in before.text
    assert learner.cube.solved


def test_whoever_denies_a_piece_that_is_in_is_asked_for_the_next_one_all_the_same() -> None:
    learner = Learner(random_cube("bottom-corners", Random(4)), Random(4))
    denied = []

    def heard_as(text: str, listen: Listen) -> str:
        if listen.scene.about != "placed" or denied:
            return text
        denied.append(listen)
        return "no it's not"

    lesson = Lesson(default_method(), load().sentences, "bottom-corners", None, LANGUAGE.offers)
    acts = holding.hold(lesson, learner, answering(learner, LANGUAGE, heard_as=heard_as))
    assert denied
    assert not slips(acts)
    assert learner.cube.solved


def test_whoever_denies_check_after_check_is_believed_in_the_end() -> None:
    """A learner who says no to every check, whatever is seen: at last the cube is read."""
    learner = Learner(random_cube("middle-edges", Random(3)), Random(3))

    def heard_as(text: str, listen: Listen) -> str:
        return "no" if listen.asked == "claim" else text

    lesson = Lesson(default_method(), load().sentences, "middle-edges", None, LANGUAGE.offers)
    answer = answering(learner, LANGUAGE, heard_as=heard_as)
    acts = lesson.start()
    nothing, (reading,) = (load().sentences.forms(key) for key in ("slip.none", "read.begin"))
    texts: list[str] = []
    while reading not in texts:
        for act in acts:
            if isinstance(act, Say):
                learner.hear(act)
                texts.append(act.text)
        assert isinstance(acts[-1], Listen)
        acts = lesson.handle(answer(acts[-1]))
    assert 1 <= sum(text in nothing for text in texts) <= 2
    assert nothing[0] not in texts, "it is not said to be as it should be where that is denied"


class Watched(SlippingLearner):
    """Remembers how the cube was when the last run began."""

    began = Cube()

    def hear(self, say: Say) -> None:
        if isinstance(say, CallTurn) and say.n == 1:
            self.began = self.cube
        super().hear(say)


def explained(kind: str, seed: int, words: str = "I turned wrongly") -> tuple[bool, int]:
    """Whether a slip that is noticed at once is told as it was, and after how many questions."""
    cube = random_cube("top-cross", Random(seed))
    learner = Watched(cube, Random(seed), lambda number, say: kind if number == 1 + seed % 6 else "")
    lesson, told, asked = Lesson(default_method(), load().sentences, "top-cross", None, LANGUAGE.offers), False, 0
    acts = lesson.start()
    while True:
        for act in acts:
            if isinstance(act, Say):
                learner.hear(act)
            if isinstance(act, SlipFound):
                # As far as the coach knows the cube: not the order of the top pieces.
                return pattern_of(learner.began.do(act.explains)) == pattern_of(learner.cube), asked
            if isinstance(act, End):
                return learner.cube.solved, asked  # what was done came to the same
        listen = acts[-1]
        assert isinstance(listen, Listen)
        text = learner.answer(listen.asked)
        if learner.slipped and listen.asked == "turn" and not told:
            text, told = words, True
        asked += told and listen.asked != "turn"
        meaning = LANGUAGE.understand(text, listen.asked, listen.scene)
        acts = lesson.handle(utter(text, meaning, at=listen) if text else Silence(1.0))


def test_a_slip_that_is_noticed_is_told_as_it_was() -> None:
    told = [explained(kind, seed) for kind in SLIPS for seed in range(8)]
    assert sum(truly and asked <= 5 for truly, asked in told) >= 0.9 * len(told)


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("left-out", "I skipped a turn"),
        ("twice", "oops I did it twice"),
        ("reversed", "I turned the wrong way"),
    ],
)
def test_who_says_what_went_wrong_is_asked_less(kind: str, words: str) -> None:
    plain = [explained(kind, seed) for seed in range(12)]
    said = [explained(kind, seed, words) for seed in range(12)]
    assert sum(truly for truly, _ in said) >= sum(truly for truly, _ in plain) - 1
    # Not their sum: where the cube is taken as it is, nothing is told and all questions to the end are counted.
    assert median(asked for _, asked in said) < median(asked for _, asked in plain)


def test_what_the_learner_said_of_a_slip_does_not_count_for_the_next_one() -> None:
    talk = Talk(load().sentences)
    talk.hints = utter("I turned it TWICE").aside.hints
    assert talk.hints == {"twice"}
    list(talk.call(Turn("R"), 1))
    assert not talk.hints


@pytest.mark.parametrize("seed", range(14))
def test_whoever_does_all_right_is_never_corrected(seed: int) -> None:
    step = STEPS[seed % len(STEPS)]
    learner = Learner(random_cube(step, Random(seed)), Random(seed))
    assert not slips(hold(learner, step))
    assert learner.cube.solved


@pytest.mark.parametrize("seed", range(3))
def test_a_whole_solve_with_a_slip_now_and_then_ends_solved(seed: int) -> None:
    random = Random(seed)

    def slip(number: int, say: Say) -> str:
        return random.choice(SLIPS) if random.random() < 0.03 else ""

    learner = SlippingLearner(random_cube("bottom-cross", Random(seed)), Random(seed), slip)
    hold(learner, "bottom-cross", tells=True)
    assert learner.cube.solved


def test_a_turn_that_went_wrong_twice_is_called_with_care_and_given_more_time() -> None:
    lesson, hands = new_lesson("top-cross"), Hands(random_cube("top-cross", Random(3)))
    lesson.talk.record.turns.update({Turn("R"): 2})
    hands.take(lesson.start())
    pauses = {}
    while len(hands.turns) < 6:
        hands.take(lesson.handle(hands.answer()))
        if hands.turns and hands.listen.asked == "turn":
            pauses[hands.turns[-1]] = hands.listen.seconds
    assert "Slowly, the right layer goes up." in hands.texts
    assert pauses["R"] > pauses["U"]


@pytest.mark.parametrize(
    ("style", "text"),
    [("plain", "And the last one: slowly, the right layer goes down."),
     ("letters", "And the last one: slowly, R prime.")],
)  # fmt: skip
def test_a_careful_call_keeps_its_capitals_and_gets_no_others(style: str, text: str) -> None:
    talk = Talk(load().sentences, style=style)
    talk.record.turns.update({Turn("R", 3): 2})
    (said,) = talk.call(Turn("R", 3), 6, key="turn.last")
    assert isinstance(said, Say)
    assert said.text == text


def test_in_mid_run_the_run_goes_on_once_it_is_put_right() -> None:
    lesson, hands = new_lesson("top-cross"), Hands(random_cube("top-cross", Random(3)))
    hands.take(lesson.start())
    while hands.turns[-1:] != ["R"]:
        hands.take(lesson.handle(hands.answer()))
    hands.cube = hands.cube.do("R2")  # it went down instead of up
    hands.take(lesson.handle(command("mistake")))
    while not slips(hands.acts):
        hands.take(lesson.handle(hands.answer()))
    found = slips(hands.acts)[0]
    assert found.explains.endswith("R'")
    assert parse(found.repair) == parse("R2")
    while len(hands.turns) < 7:
        hands.take(lesson.handle(hands.answer()))
    assert hands.turns[:7] == ["F", "R", "R2", "U", "R'", "U'", "F'"]


@pytest.mark.parametrize("told", [3, 0])
def test_who_does_not_read_a_whole_face_reads_it_row_by_row(told: int) -> None:
    lesson, hands = new_lesson("top-cross"), Hands(random_cube("top-cross", Random(3)))
    hands.take(lesson.start())
    while len(hands.turns) < 4:
        hands.take(lesson.handle(hands.answer()))
    hands.cube = hands.cube.do("U2")
    hands.take(lesson.handle(command("mistake")))
    rows = []
    while not slips(hands.acts) and not hands.end:
        asks = hands.question.query.asks
        event = hands.answer()
        if asks == "face" and hands.listen.asked == "face":
            assert isinstance(event, Heard)
            assert event.meaning
            event = utter("part", Meaning(colours=event.meaning.colours[:told])) if told else utter("mumble", None)
        elif asks == "row":
            rows.append(hands.question.query.row)
        hands.take(lesson.handle(event))
    assert rows[: 3 - told // 3] == [*range(1 + told // 3, 4)]
    assert slips(hands.acts)


class Scripted:
    """A shell that answers as a simulated learner does, and says once that a turn went wrong."""

    def __init__(self, learner: SlippingLearner) -> None:
        self.learner, self.told = learner, 0

    def say(self, say: Say) -> None:
        self.learner.hear(say)

    def listen(self, listen: Listen) -> Event:
        text = "" if listen.asked == "turn" else self.learner.answer()
        if listen.asked == "turn" and len(self.learner.slipped) > self.told:
            text, self.told = "I turned wrongly", len(self.learner.slipped)
        return utter(text, LANGUAGE.understand(text, listen.asked, listen.scene), at=listen) if text else Silence(1.0)

    def adjust(self, adjust: object) -> None:
        pass


def test_the_log_tells_what_was_done_and_what_put_it_right(tmp_path: Path) -> None:
    learner = SlippingLearner(
        random_cube("top-cross", Random(3)), Random(3), lambda number, say: "reversed" if number == 1 else ""
    )
    lesson = Lesson(default_method(), load().sentences, "top-cross", None, LANGUAGE.offers)
    log = SessionLog(tmp_path / "log.jsonl")
    end = run(lesson, Scripted(learner), log)
    log.close()
    events = [json.loads(line) for line in (tmp_path / "log.jsonl").read_text("utf-8").splitlines()]
    found = [event for event in events if event["event"] == "slip"]
    assert [(event["explains"], event["repair"]) for event in found] == [("F R'", "R2")]
    assert events[-1]["event"] == "end"
    assert events[-1]["slips"] == 1
    assert end.outcome == "done"


def test_what_no_cube_looks_like_is_believed_of_none() -> None:
    on_top = ("RLL", "R.R", "FBL", "R..")
    sides = "".join(row + face * 6 for row, face in zip(on_top, "RLBF", strict=True))
    assert not can_be(sides + "U" * 9 + "D" * 9)
    assert can_be("".join("..." + face * 6 for face in "RLBF") + "U" * 9 + "D" * 9)
