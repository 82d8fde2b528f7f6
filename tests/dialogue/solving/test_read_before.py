"""A row that was read before a search weighs in it: a cube that is not as it should be is never taken to be so."""

from __future__ import annotations

from random import Random

import pytest

from coach.belief.reading.stickers import KnownStickers
from coach.cube import Turn
from coach.dialogue import Heard, Listen
from coach.dialogue.reached import PartOver
from coach.dialogue.saying import Talking
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.solving.mending import Mending
from coach.dialogue.solving.rows import row_meant
from coach.dialogue.talk import Talk
from coach.language.meaning import Meaning, Scene
from coach.method import default_method
from coach.simulation import random_cube
from tests.dialogue.hands import Hands, command
from tests.dialogue.hearing import utter
from tests.loaded import load


def ends(seed: int, more: int, nods: int = 0, misread: bool = False) -> tuple[str, bool]:
    """A sequence is done on a known cube, and `more` turns of any kind after it; then a row is read out and looked
    into, by somebody who says yes to so many claims that are not so; with `misread`, they read that row wrongly and say
    yes to what was heard. How it ended, and whether the cube was as it should be."""
    random = Random(seed)
    cube, turns = random_cube("top-cross", random), random.choice(default_method().sequences).turns
    knowledge = Knowledge(KnownStickers(cube.faces))
    talk = Talk(load().sentences, held=lambda: knowledge.held, hold=lambda: "held", where=lambda: "here")
    mending = Mending(talk, knowledge, explains=True)
    knowledge.begin_run()
    knowledge.move(turns)
    hands = Hands(cube.do(turns).do(Turn(random.choice("URFL"), random.choice((1, 3))) for _ in range(more)))
    right, ended = hands.cube == cube.do(turns), ["as it should be"]

    def flow() -> Talking[None]:
        try:
            if slipped := (yield from mending.confirm_row(1, len(turns))):
                ended[0] = yield from mending.mend(None, slipped.said)
        except PartOver:
            ended[0] = "read"

    going = flow()
    event = None
    while True:
        try:
            act = going.send(event)
        except StopIteration:
            return ended[0], right
        hands.take([act])
        event = hands.answer() if isinstance(act, Listen) else None
        if isinstance(event, Heard) and event.meaning and event.meaning.colours and misread:
            *two, last = event.meaning.colours
            event = utter("row", Meaning(colours=(*two, "blue" if last != "blue" else "red")))
        elif isinstance(act, Listen) and act.asked == "claim" and misread:
            misread, event = False, command("yes")
        elif isinstance(act, Listen) and act.asked == "claim" and nods and not hands.claim_holds():
            nods, event = nods - 1, command("yes")


@pytest.mark.parametrize("nods", range(3))
@pytest.mark.parametrize("more", (1, 2, 3, 5, 7))
def test_a_cube_that_was_read_otherwise_is_not_taken_to_be_as_it_should_be(more: int, nods: int) -> None:
    for seed in (*range(4), 12, 18):
        ended, right = ends(seed, more, nods)
        assert right or ended != "nothing", seed


def test_who_has_misread_one_row_reads_some_more_and_seldom_the_whole_cube() -> None:
    ended = [ends(seed, 0, misread=True)[0] for seed in range(16)]
    assert ended.count("nothing") >= 8 and ended.count("read") <= 2, ended


@pytest.mark.parametrize("form", ["hm I may have misread that, it's {}", "no, {}", "sorry, I misread it. {}"])
def test_a_row_is_put_right_where_it_is_read_back(form: str) -> None:
    words = ["green", "red", "blue"]
    text = form.format(" ".join(words))
    scene = Scene(claim={"F0": False}, claimed=("red",))
    said = utter(text, load().understand(text, "claim", scene), at=Listen("claim", 9.0, scene))
    assert row_meant(["green", "red", "red"])(said) == words
