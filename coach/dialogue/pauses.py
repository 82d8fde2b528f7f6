"""What is said while turns are called, or a hold is taken, and must not be taken for going on: turns that were not done
or too many, a turn that is not done yet, another hold than was told."""

from __future__ import annotations

import re
from typing import Literal, TypeAlias

from coach.dialogue.acts import Heard, Tell
from coach.dialogue.meant import meant
from coach.dialogue.moment import Moment
from coach.dialogue.saying import Talking
from coach.language.commands import Trait, has
from coach.language.meaning import Question, Scene
from coach.language.phrases import Phrases
from coach.language.questions import QUESTIONS

Told: TypeAlias = Literal["held", "slipped", "not-done"]


def said_again(talk: Moment, heard: Heard, asked: Question) -> Talking[bool]:
    """Say the call again where a turn is not done yet, and the hold where it is not taken; whether that was so. The
    learner has all the time they need then. Raises Interrupt where turns have gone wrong by it."""
    told = told_in_pause(talk.phrases, heard, asked, talk.scene)
    if asked == "turn" and _told_otherwise(talk, heard):
        told = "slipped"
    if told is None:
        return False
    talk.count_useless(asked)
    if told == "slipped" or (told == "held" and asked == "turn"):
        raise talk.interrupt("mistake", heard)
    if told == "held":
        talk.needs_longer = True
        yield Tell(talk.hold())
        yield from talk.aside("ask.ready")
    else:
        yield from talk.repeat()
        yield from talk.aside("turn.not-yet")
    return True


def _told_otherwise(talk: Moment, heard: Heard) -> bool:
    """Whether they tell plainly of the turn called last that they did another, though it may sound like going on."""
    meanings = [heard.meaning, *(guess.meaning for guess in heard.guesses)]
    if not any(meaning and has(meaning.command, Trait.OF_TURN) for meaning in meanings):
        return False
    telling = talk.phrases.telling(heard.text)
    return telling.plain and bool(meant(telling, talk.called))


def told_in_pause(phrases: Phrases, heard: Heard, asked: Question, scene: Scene) -> Told | None:
    """What plain words tell of the turns or the hold; None where they tell nothing of them, or nobody is turning."""
    if not QUESTIONS[asked].busy:
        return None
    if _held_otherwise(phrases, heard.text, scene):
        return "held"
    if phrases.holds("slipped", heard.text):
        return "slipped"
    # Other things may not have been done: then it is not said to the coach.
    not_done = asked == "turn" and heard.meaning is not None and phrases.holds("not-done", heard.text)
    return "not-done" if not_done else None


def _held_otherwise(phrases: Phrases, text: str, scene: Scene) -> bool:
    """Whether they hold the cube wrong by their own words, or by the side that they say is in front."""
    if phrases.holds("held-wrong", text):
        return True
    if not phrases.holds("in-front", text):
        return False
    named = {name for name in scene.names if re.search(rf"\b{re.escape(name)}\b", text, re.IGNORECASE)}
    return bool(named) and (scene.colours["F"] in named) == phrases.holds("denied", text)
