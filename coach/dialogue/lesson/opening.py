"""The opening of a lesson: the greeting, the learner's words for the colours, and the step to begin with."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from coach.belief.whereabouts import stickers_at_home, with_home
from coach.dialogue.acts import Heard, Query
from coach.dialogue.replies import yes_or_no
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.solving.looking import confirm
from coach.dialogue.talk import Talk
from coach.language.commands import Trait, has
from coach.method import Step
from coach.method.method import AnyStep

READ: Final = "read"
"""Stands in for the step if the learner does not know it and the cube is to be read."""


@dataclass(frozen=True)
class LastTime:
    """Where the previous lesson ended: at `step` and, if `unread`, in the middle of something."""

    step: str
    unread: bool = False


def find_step(talk: Talk, steps: Sequence[str], last: LastTime | None) -> Talking[str]:
    """The step to begin with, out of `steps`, or READ."""
    if last and last.step in steps:
        answer = yield from _go_on_there(talk, steps, last)
        if answer:
            return answer
    for form in range(_MOST_UNKNOWN):
        answer = yield from _ask(talk, "ask.step", "step", lambda heard: _step(heard, steps, last))
        if answer != _LAST:
            return answer
        yield from talk.tell("return.unknown", form)
    return READ


_LAST: Final = "last"
"""Stands in for the step if the learner wants to go on where they were, but nobody knows where that is."""
_MOST_UNKNOWN: Final = 2
"""Have the cube read after this many such answers."""


def take_as_done(knowledge: Knowledge, steps: Sequence[AnyStep], number: int) -> None:
    """Know of the cube no more than that everything before step `number` is done."""
    knowledge.forget_all()
    for done in steps[:number]:
        if not isinstance(done, Step):
            knowledge.reading = with_home(knowledge.reading, done.pieces)
    first = steps[number]
    if isinstance(first, Step):
        knowledge.open_top(first.permutes)
        knowledge.top = knowledge.top.meeting(first.needs)
    knowledge.begin_trail()


def still_so(talk: Talk, knowledge: Knowledge, before: Sequence[AnyStep]) -> Talking[bool]:
    """Whether everything in the steps `before` is done, as far as the learner can tell quickly."""
    done = [step for step in before if not isinstance(step, Step)]
    key = f"check.{done[-1].id}" if done else ""
    if not done or not talk.phrases.has(key):
        return True
    pieces = [piece for step in done for piece in step.pieces]
    facts = stickers_at_home(knowledge.reading, pieces)
    try:
        return (yield from confirm(talk, knowledge, talk.forms(key), facts))
    except Interrupt:
        return False


def _go_on_there(talk: Talk, steps: Sequence[str], last: LastTime) -> Talking[str]:
    """The step that was reached last time, or READ; "" if the learner does not want to go on there."""

    def take(heard: Heard) -> str | None:
        yes = yes_or_no(heard)
        if yes is not None:
            return (READ if last.unread else last.step) if yes else ""
        return _step(heard, steps, last)

    key = "return.unread" if last.unread else "return.ask"
    return (yield from _ask(talk, key, "return", take, step=talk.phrases.part(f"steps.{last.step}")))


def _ask(talk: Talk, key: str, about: str, take: Callable[[Heard], str | None], **values: object) -> Talking[str]:
    """Ask until there is an answer. A learner who says that they are lost is asked to read the cube."""
    while True:
        try:
            return (yield from talk.until(Query("other", about=about), talk.forms(key, **values), take))
        except Interrupt as interrupt:
            if interrupt.command == "read" or has(interrupt.command, Trait.WRONG):
                return READ
            yield from talk.tell("reply.not-now")


def _step(heard: Heard, steps: Sequence[str], last: LastTime | None) -> str | None:
    """The step that an answer names; READ if the learner does not know it."""
    meaning = heard.meaning
    if meaning is None:
        return None
    if meaning.command == "unsure":
        return READ
    if meaning.command == "resume":
        return last.step if last else _LAST
    step = meaning.step or (meaning.change.step if meaning.change else None)
    return step if step in steps and meaning.command is None else None
