"""Lessons in memory: the core and a simulated learner, with no sound, no process and no clock."""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from typing import Final, Protocol, TypeAlias

from coach.dialogue.acts import Act, End, Event, Heard, Listen, Say, Silence
from coach.language import Language
from coach.simulation.learner import COLOURS, Learner
from coach.simulation.slipping import SlippingLearner

Answer: TypeAlias = Callable[[Listen], Event]

_LOOKS: Final = {
    "look-top-edges": ("a dot", "a cross", "back and left", "front and right", "a line from left to right"),
    "look-top-corners": ("none", "all four", "front left", "back right", "front left and front right"),
}
_SIDES: Final = ("front", "back", "left", "right")


class Course(Protocol):
    """What those who hold a lesson need from it."""

    def start(self) -> list[Act]: ...

    def handle(self, event: Event) -> list[Act]: ...


def hold(lesson: Course, learner: Learner, answer: Answer, most: int = 1600) -> list[Act]:
    """All acts of a lesson in which `learner` does as told and `answer` answers. Raises RuntimeError if it has not
    ended after `most` answers."""
    acts, held = lesson.start(), list[Act]()
    for _ in range(most):
        for act in acts:
            if isinstance(act, Say):
                learner.hear(act)
        held += acts
        last = acts[-1]
        if isinstance(last, End):
            return held
        assert isinstance(last, Listen)
        acts = lesson.handle(answer(last))
    last_words = [act.text for act in held if isinstance(act, Say)][-10:]
    raise RuntimeError(f"the lesson did not end within {most} answers: {last_words}")


def answering(
    learner: Learner,
    language: Language,
    notices: Callable[[], bool] = lambda: False,
    heard_as: Callable[[str, Listen], str] = lambda text, listen: text,
) -> Answer:
    """The learner's own answers, heard as `heard_as` says. If a slip is noticed, which `notices` decides for each, the
    learner says so in the pause after the turn."""
    told = 0

    def answer(listen: Listen) -> Event:
        nonlocal told
        text = learner.answer(listen.asked)
        slipped = len(learner.slipped) if isinstance(learner, SlippingLearner) else 0
        if listen.asked == "turn" and slipped > told:
            told = slipped
            text = "I turned wrongly" if notices() else ""
        if not text:
            return Silence(listen.seconds)
        text = heard_as(text, listen)
        return Heard.read(text, language.read(text, listen.asked, listen.scene), listen.asked)

    return answer


def misheard(text: str, listen: Listen, random: Random) -> str:
    """Another answer of the same kind: yes for no, another shape, another colour in a row, another side."""
    if listen.asked in _LOOKS:
        return random.choice(_LOOKS[listen.asked])
    if listen.asked in ("row", "face"):
        colours = text.split(", ")
        colours[random.randrange(len(colours))] = random.choice(list(COLOURS.values()))
        return ", ".join(colours)
    if listen.asked == "piece":
        words = text.split(" ")
        sides = [number for number, word in enumerate(words) if word.strip(",") in _SIDES]
        if not sides:  # then the answer denied that the previous piece is in
            return "top layer, front"
        words[random.choice(sides)] = random.choice(_SIDES)
        return " ".join(words)
    return "no" if text.startswith(("yes", "yeah", "okay")) else "yes"
