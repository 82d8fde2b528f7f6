"""What is said in full at first is said shortly later; and who slipped once is watched no longer after good runs."""

from __future__ import annotations

from random import Random

from coach.belief.slips.explanations import Slip
from coach.cube import Cube, Turn
from coach.dialogue import Event
from coach.dialogue.lesson import Lesson
from coach.dialogue.record import Record
from coach.simulation import scrambled
from tests.dialogue.hands import Hands, new_lesson, play


def one_slip(seed: int, at: int) -> tuple[Lesson, Hands]:
    """A solve in which the `at`-th face turn is done twice, and nothing else goes wrong."""
    lesson, hands = new_lesson("bottom-cross"), Hands(scrambled(Random(seed)))

    def answer(hands: Hands) -> Event:
        if len(hands.turns) >= at and not slipped:
            slipped.append(hands.turns[at - 1])
            hands.cube = hands.cube.do(slipped[0])
        return hands.answer()

    slipped: list[str] = []
    play(lesson, hands, answer, truthful=False)
    assert hands.end and hands.end.outcome == "done" and hands.cube.solved and slipped
    return lesson, hands


def test_a_turn_that_went_wrong_is_called_like_any_other_after_some_good_runs() -> None:
    record, called = Record(), (Turn("R"),)
    for _ in range(2):
        record.check(True)
        record.add(Slip("reversed", 0, (Turn("R", 3),)), called, 0)
    for _ in range(4):
        record.check(True)
    assert record.often(Turn("R")), "what was passed before the slip does not count"
    record.check(True)
    assert not record.often(Turn("R"))


def test_after_a_slip_what_is_asked_becomes_short_and_asks_one_thing() -> None:
    for seed in range(3):
        lesson, hands = one_slip(seed, 12)
        assert lesson.talk.slips == 1
        claims = [say.text for say in hands.asked if say.query.asks == "claim"]
        rows = [text for text in claims if " row of the " in text and "two lower layers" not in text]
        assert len(rows) > 2 and sum("Let's make sure" in text for text in rows) == 2
        pieces = [text for text in claims if "everything placed before it" in text]
        assert pieces and not any(text.startswith("Check all round") for text in pieces[2:])
        assert all(text.count("?") == 1 for text in claims)


def test_what_is_said_before_each_piece_becomes_short() -> None:
    lesson, hands = new_lesson("bottom-corners"), Hands(scrambled(Random(5)))
    hands.cube = build_cross(hands)
    play(lesson, hands)
    placed = [text for text in hands.texts if "say no." in text]
    assert placed[0].startswith("The white") and "should be in its place now" in placed[0]
    assert all(text.startswith("If that one isn't in its place, say no.") for text in placed[2:]) and placed[2:]
    asked = [say.text for say in hands.asked if say.query.asks == "piece"]
    assert all(text.count("?") == 1 for text in asked) and asked


def build_cross(hands: Hands) -> Cube:
    """The cube once the bottom cross is done."""
    lesson, other = new_lesson("bottom-cross"), Hands(hands.cube)
    other.take(lesson.start())
    while not any("bottom corners" in text for text in other.texts):
        other.take(lesson.handle(other.answer()))
    return other.cube
