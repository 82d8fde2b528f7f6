"""A no that comes with its reason is a no: what was claimed is looked into, and no step ends over it."""

from __future__ import annotations

from random import Random

import pytest

from coach.belief.evidence import Answered, chances_of, stickers_meant
from coach.cube import PLACE_NUMBER
from coach.dialogue import Act, Ask, End, Event, Heard, Listen, Say, Silence
from coach.dialogue.lesson import Lesson
from coach.method import default_method
from coach.simulation import random_cube
from coach.simulation.learner import COLOURS
from coach.simulation.slipping import SLIPS, SlippingLearner
from tests.loaded import load

LANGUAGE = load()
SIDES = {"F": "in front", "B": "at the back", "L": "on the left", "R": "on the right", "U": "on top", "D": "underneath"}
REASONS = ("no, there's {colour} {side}", "no there's still a {colour} one {side}", "nope, {colour} {side}",
           "nah, I see {colour} {side}", "no because there is a {colour} bit {side}")  # fmt: skip
LOOKING = {LANGUAGE.sentences.forms(key)[0] for key in ("slip.search", "slip.told")}


class Explaining(SlippingLearner):
    """Gives a true reason with every no to a check."""

    asked: Ask | None = None
    denied = 0

    def hear(self, say: Say) -> None:
        super().hear(say)
        self.asked = say if isinstance(say, Ask) else self.asked

    def reason(self) -> str:
        """A sticker that is not as claimed; "" if there is none or nothing was claimed."""
        claim = self.asked.query.claim if self.asked else ()
        real = self.cube.faces
        seen = [(face, COLOURS[real[PLACE_NUMBER[f"{face}{place}"]]], colour) for face, place, colour in claim]
        wrong = [(face, shown) for face, shown, colour in seen if shown != colour]
        if not wrong:
            return ""
        face, shown = self.random.choice(wrong)
        return self.random.choice(REASONS).format(colour=shown, side=SIDES[face])


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("step", ["bottom-corners", "middle-edges"])
def test_a_no_with_its_reason_is_looked_into(step: str, seed: int) -> None:
    slips = Random(seed)
    at = slips.randrange(4, 20)
    kind = slips.choice(SLIPS)
    learner = Explaining(random_cube(step, Random(seed)), Random(seed), lambda number, say: kind * (number == at))
    lesson = Lesson(default_method(), LANGUAGE.sentences, step, None, LANGUAGE.offers)
    acts, denied = lesson.start(), False
    for _ in range(900):
        for act in acts:
            if isinstance(act, Say):
                learner.hear(act)
        if denied:
            assert LOOKING & {act.text for act in acts if isinstance(act, Say)}
        if isinstance(acts[-1], End):
            break
        acts, denied = answered(lesson, learner, acts)
    assert learner.cube.solved


def answered(lesson: Lesson, learner: Explaining, acts: list[Act]) -> tuple[list[Act], bool]:
    """What follows the learner's answer, and whether that was a no to a check, with its reason."""
    listen = acts[-1]
    assert isinstance(listen, Listen)
    text = learner.answer(listen.asked)
    check = text.startswith("no") and not lesson.talk.searching and len(listen.scene.claimed) > 8
    denies = check and bool(reason := learner.reason())
    if denies:
        text = reason
    event: Event = Silence(listen.seconds)
    if text:
        event = Heard.read(text, LANGUAGE.read(text, listen.asked, listen.scene), listen.asked)
    return lesson.handle(event), denies


def test_a_reason_is_about_the_pieces_that_were_asked_about() -> None:
    facts = tuple((PLACE_NUMBER[place], face) for place, face in (("F6", "F"), ("F7", "F"), ("L8", "L"), ("D0", "D")))
    assert {place for place, _ in stickers_meant(facts, "F", "B")} == {place for place, _ in facts}
    assert {face for _, face in stickers_meant(facts, "F", "B")} == {"B"}
    assert not stickers_meant(facts, "B", "B")
    assert not stickers_meant(facts[:2], "F", "F")


def test_a_cube_that_does_not_show_the_reason_is_less_likely_but_not_ruled_out() -> None:
    facts = ((PLACE_NUMBER["F6"], "F"), (PLACE_NUMBER["F7"], "F"))
    chances = chances_of(["F" * 54, "R" * 54, "B" * 54], not_up=False)[:, [place for place, _ in facts]]
    right, red, blue = Answered(facts, yes=False, because=stickers_meant(facts, "F", "B")).chance(chances)
    assert right == 0 < red < blue
