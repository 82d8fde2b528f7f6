"""The commands in one table: what a learner may say in a word or two, and its consequences."""

from __future__ import annotations

from collections.abc import Mapping
from enum import Flag, auto
from typing import Final

from coach.language.meaning import Command


class Trait(Flag):
    """A property of a command; `has` tests for it."""

    ANYTIME = auto()
    """It has a meaning whatever was asked; a learner who interrupts the coach with it has not answered a question."""
    INTERRUPTS = auto()
    """It changes where the lesson is, so the current activity ends."""
    WRONG = auto()
    """Something is wrong on the cube."""
    GRAVE = auto()
    """It changes the lesson, so it needs more certainty than others."""
    MISSED = auto()
    """It must not be missed: if it may have been said in the pause after a call, the coach asks."""
    ASKS_BACK = auto()
    """The coach says something more. This is counted, since a sentence that is never understood leads nowhere."""
    WAITS = auto()
    """It makes the coach wait."""
    RESUMES = auto()
    """It ends the waiting."""
    ONWARD = auto()
    """After an interruption, it makes the coach say the rest."""
    YES = auto()
    """It answers a yes/no question with yes."""
    NO = auto()
    """It answers a yes/no question with no."""
    PLAIN = auto()
    """It only answers. To confirm it, the question is asked again: "no: is that it?" is hard to answer."""
    DONE = auto()
    """What was called or asked for is done: the lesson goes on accordingly."""
    OF_TURN = auto()
    """A learner who tells what they did instead of a turn may seem to say it."""


_ANSWER: Final = Trait(0)
_GRAVER: Final = Trait.ANYTIME | Trait.INTERRUPTS | Trait.GRAVE

COMMANDS: Final[Mapping[Command, Trait]] = {
    "yes": Trait.YES | Trait.PLAIN | Trait.OF_TURN,
    "no": Trait.NO | Trait.PLAIN,
    "unsure": _ANSWER,
    "next": Trait.YES | Trait.DONE | Trait.RESUMES | Trait.ONWARD | Trait.OF_TURN,
    "ready": Trait.YES | Trait.DONE | Trait.RESUMES | Trait.OF_TURN,
    "done": Trait.DONE,
    "resume": Trait.YES | Trait.RESUMES | Trait.ONWARD,
    "done-top": Trait.YES | Trait.GRAVE,
    "repeat": Trait.ANYTIME | Trait.ASKS_BACK,
    "where": Trait.ANYTIME | Trait.ASKS_BACK,
    "help": Trait.ANYTIME | Trait.ASKS_BACK,
    "explain": Trait.ANYTIME | Trait.ASKS_BACK | Trait.OF_TURN,
    "wait": Trait.ANYTIME | Trait.WAITS | Trait.OF_TURN,
    "more-time": Trait.ANYTIME | Trait.WAITS | Trait.OF_TURN,
    "pain": Trait.ANYTIME | Trait.WAITS,
    "slower": Trait.ANYTIME,
    "faster": Trait.ANYTIME,
    "louder": Trait.ANYTIME,
    "softer": Trait.ANYTIME,
    "on-my-word": Trait.ANYTIME,
    "stop": Trait.ANYTIME | Trait.GRAVE | Trait.MISSED,
    "back": _GRAVER | Trait.MISSED,
    "restart-run": _GRAVER | Trait.MISSED,
    "mistake": _GRAVER | Trait.MISSED | Trait.WRONG | Trait.OF_TURN,
    "lost": _GRAVER | Trait.MISSED | Trait.WRONG,
    "layers-broken": _GRAVER | Trait.WRONG,
    "correct": _GRAVER,
    "read": Trait.ANYTIME | Trait.INTERRUPTS,
    "hint": Trait.ANYTIME | Trait.ASKS_BACK,
    "call-it": Trait.ANYTIME,
    "alone": Trait.ANYTIME | Trait.GRAVE,
    "whole-sequence": Trait.ANYTIME | Trait.ASKS_BACK,
    "quiz": Trait.ANYTIME | Trait.ASKS_BACK,
    "once-more": Trait.ANYTIME | Trait.ASKS_BACK,
    "how-am-i-doing": Trait.ANYTIME | Trait.ASKS_BACK,
}

_TRAITS: Final[Mapping[str, Trait]] = dict(COMMANDS.items())


def has(command: str | None, traits: Trait) -> bool:
    """Whether it is a command with one of these traits."""
    return bool(_TRAITS.get(command or "", Trait(0)) & traits)
