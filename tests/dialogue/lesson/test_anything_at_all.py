"""Meanings at random, fitting the question or not, among a learner's true answers, from every step and in
both manners: the conversation never breaks, never says the same thing three times running, and ends."""

from __future__ import annotations

from random import Random

import pytest

from coach.cube import Cube
from coach.dialogue import End, Event, Listen, Say, Silence
from coach.dialogue.lesson import ALL_STEPS, Lesson, Settings
from coach.language.meaning import Command, Meaning
from coach.method import default_method
from coach.simulation import Learner, random_cube, scrambled
from tests.dialogue.hearing import utter
from tests.dialogue.lessons import LANGUAGE
from tests.loaded import load

COMMANDS: tuple[Command, ...] = (
    "next", "repeat", "restart-run", "back", "wait", "resume", "slower", "faster", "louder", "softer", "mistake",
    "lost", "correct", "where", "help", "explain", "ready", "yes", "no", "unsure", "done-top", "layers-broken",
    "on-my-word", "read",
)  # fmt: skip
COLOURS = ("white", "yellow", "red", "orange", "green", "blue", "pink")
PLACES = (*(f"U{i}" for i in range(9)), "F0", "L2")
SILENCE_ENDS_IT_WITHIN = 300


def meaning(random: Random) -> Meaning | None:
    """Any meaning, or none."""
    kind = random.randrange(7)
    if kind <= 1:
        return Meaning(command=random.choice(COMMANDS))
    if kind == 2:
        return Meaning(look={place: random.random() < 0.5 for place in random.sample(PLACES, random.randint(1, 5))})
    if kind == 3:
        return Meaning(shape=random.choice(("dot", "corner", "line", "cross")), edges=random.choice((None, 0, 1, 3, 4)))
    if kind == 4:
        return Meaning(corners=random.randrange(5))
    if kind == 5:
        shows = {random.choice(COLOURS): random.choice("URFDLB")} if random.random() < 0.7 else {}
        return Meaning(place=random.choice((None, "UF", "UFR", "DBL", "FL", "DF")), shows=shows)
    return Meaning(colours=tuple(random.choices(COLOURS, k=random.choice((1, 3, 3, 3, 9)))))


def event(random: Random, learner: Learner, listen: Listen, wild: float) -> Event:
    """The learner's own answer, or with the chance `wild` anything."""
    if random.random() < wild:
        chosen = meaning(random) if random.random() < 0.8 else None
        return utter("pink", chosen) if chosen or random.random() < 0.5 else Silence(1.0)
    text = "" if listen.asked == "turn" else learner.answer()
    return utter(text, LANGUAGE.understand(text, listen.asked, listen.scene), at=listen) if text else Silence(1.0)


def lead(cube: Cube, step: str | None, settings: Settings, random: Random, wild: float, events: int) -> list[str]:
    """Lead a lesson through so many events, then be silent until it ends; all that the coach said."""
    lesson = Lesson(default_method(), load().sentences, step, settings, LANGUAGE.offers)
    learner, texts = Learner(cube, random), []
    acts = lesson.start()
    for number in range(events + SILENCE_ENDS_IT_WITHIN):
        for act in acts:
            if isinstance(act, Say):
                learner.hear(act)
                texts.append(act.text)
        last = acts[-1]
        if isinstance(last, End):
            return texts
        assert isinstance(last, Listen)
        acts = lesson.handle(event(random, learner, last, wild) if number < events else Silence(1.0))
    raise AssertionError(f"silence does not end the lesson: {texts[-6:]}")


@pytest.mark.parametrize("seed", range(48))
def test_nothing_that_is_said_breaks_the_conversation(seed: int) -> None:
    random = Random(seed)
    step = (None, *ALL_STEPS)[seed % 8]
    cube = scrambled(random) if random.random() < 0.5 else random_cube(step or "", random)
    settings = Settings(manner=("teach", "brief")[seed // 8 % 2], ask_colours=random.random() < 0.15)
    texts = lead(cube, step, settings, random, random.choice((0.1, 0.3, 0.9)), random.randint(0, 150))
    assert not any(a == b == c for a, b, c in zip(texts, texts[1:], texts[2:], strict=False))


@pytest.mark.parametrize(("step", "seed"), [("top-cross", 1), ("top-edges", 3)])
def test_lower_layers_that_are_not_done_are_no_fault_of_the_cube(step: str, seed: int) -> None:
    """In the brief manner the cube is read; what was taken to be done is doubted before the cube is."""
    lesson = Lesson(default_method(), load().sentences, step, Settings(manner="brief"), LANGUAGE.offers)
    learner = Learner(scrambled(Random(seed)), Random(seed))
    acts = lesson.start()
    while not lesson.ended:
        for act in acts:
            if isinstance(act, Say):
                learner.hear(act)
        listen = acts[-1]
        assert isinstance(listen, Listen)
        acts = lesson.handle(event(Random(seed), learner, listen, 0.0))
    assert isinstance(acts[-1], End)
    assert acts[-1].outcome == "done"
    assert learner.cube.solved
