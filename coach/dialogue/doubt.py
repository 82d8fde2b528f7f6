"""Asking whether something was meant: words that were not heard surely, and the wish to stop."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from coach.dialogue.acts import Ask, Event, Heard, Listen, Query, Silence
from coach.dialogue.moment import Moment
from coach.dialogue.replies import command_of, yes_or_no
from coach.dialogue.retelling import whether
from coach.dialogue.saying import Talking
from coach.dialogue.signals import StopLessonError

_SURELY: Final = 0.85
"""What would make a failure of an exercise counts without a question if it was heard at least so surely. Confidences
are calibrated; a misheard direction among several turns is seldom heard this surely. An estimate without a source."""


def may_be_misheard(heard: Heard) -> bool:
    """Whether what would make a failure has to be asked about before it counts; what was typed has not."""
    return heard.confidence is not None and heard.confidence < _SURELY


def means_stop(talk: Moment, heard: Heard) -> Talking[bool]:
    """Whether the learner wants to stop. They are asked, unless that is all they have said or they only want to finish
    something first."""
    if heard.says("only-stop"):
        return True
    if _only_finishes(heard):
        return False
    event = yield from ask_aside(talk, talk.words("ask.stop"), "stop")
    if not isinstance(event, Heard):
        return False
    if event.says("goes-on") and not event.says("yes-first"):
        return False
    return says_stop(event)


def class_goes_on(talk: Moment, seconds: float) -> Talking[None]:
    """A class that gets nowhere is sent home only if it says so, or is silent for so many seconds."""
    event = yield from ask_aside(talk, talk.words("class.stop"), "stop", seconds)
    if isinstance(event, Silence):
        raise StopLessonError("lesson.silent")
    if says_stop(event):
        raise StopLessonError(here=not talk.hurts)
    talk.count_useful()


def says_stop(answer: Event) -> bool:
    """Whether the answer to "do you want to stop?" is a yes: "no, I don't want to stop" is none."""
    if not isinstance(answer, Heard) or answer.says("no-first"):
        return False
    return yes_or_no(answer) is True or command_of(answer) == "stop"


def _only_finishes(heard: Heard) -> bool:
    """Whether the learner only wants to finish what they are doing."""
    return heard.says("finishes") and not heard.says("stop")


def make_sure(talk: Moment, guesses: Sequence[Heard]) -> Talking[Event]:
    """Ask about each of `guesses` in turn; the result is the one that was said, or else what was said instead."""
    for guess in guesses:
        if command_of(guess) == "stop" and _only_finishes(guess):
            continue
        event = yield from ask_aside(talk, whether(talk, guess), "heard")
        if isinstance(event, Silence):
            return event
        answer = yes_or_no(event)
        if answer or (answer is None and event.says("yes-first")):
            return guess
        if answer is None and not event.says("no-first"):
            return replace(event, guesses=())
    return Heard("", None)


def ask_aside(talk: Moment, text: str, about: str, seconds: float = 0.0) -> Talking[Event]:
    """The answer to a yes/no question that is asked while another question is open, within so many seconds if more than
    usual."""
    talk.questions += 1
    yield Ask(text, Query("other", about=about))
    seconds = max(seconds, talk.patience("claim"))
    event = yield Listen("claim", seconds, replace(talk.scene, about=about, claim={}, claimed=()))
    assert event is not None
    return event
