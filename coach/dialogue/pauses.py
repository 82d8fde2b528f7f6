"""What is said while turns are called or a hold is taken and must not be taken for "go on": turns left out or too many
turns, a turn that is not done yet, a wrong hold."""

from __future__ import annotations

from typing import Final, Literal, TypeAlias

from coach.dialogue.acts import Heard
from coach.dialogue.meant import meant
from coach.dialogue.moment import Moment
from coach.dialogue.replies import goes_on
from coach.dialogue.saying import Talking
from coach.language.commands import Trait, has
from coach.language.meaning import Question
from coach.language.questions import QUESTIONS

_AFTER_CALLS: Final = ("turn", "claim", "piece", "row", "face", "look-top-edges", "look-top-corners")
_ON_PIECES: Final = ("piece", "look-top-edges", "look-top-corners")
"""Questions about what is to be seen: where it does not go with the cube, it is what was told or turned before."""

Told: TypeAlias = Literal["held", "slipped", "not-done"]


def said_again(talk: Moment, heard: Heard, asked: Question) -> Talking[bool]:
    """Repeat the call if a turn is not done yet, or the hold if it is not taken, and tell whether either was so. The
    learner then has all the time they need. Raises Interrupt if turns have gone wrong, or none is done."""
    if heard.aside.telling.how == "none" and _of_calls(talk, asked):
        talk.count_useless(asked)
        raise talk.interrupt("none-done" if asked == "turn" else "mistake", heard)
    if asked in _ON_PIECES and heard.meaning is None and heard.says("misfit"):
        talk.count_useless(asked)
        raise talk.interrupt("mistake" if talk.calls else "correct", heard)
    told = told_in_pause(heard, asked)
    if asked == "turn" and _told_otherwise(talk, heard, told):
        told = "slipped"
    if told is None:
        return False
    talk.count_useless(asked)
    if told == "slipped" or (told == "held" and asked == "turn"):
        raise talk.interrupt("mistake", heard)
    if told == "held":
        if heard.says("misfit") and talk.misfit_at == talk.turns:
            raise talk.interrupt("lost", heard)
        talk.misfit_at = talk.turns if heard.says("misfit") else talk.misfit_at
        if talk.rows and talk.hold_told:  # it does not help to say it once more
            raise talk.interrupt("held", heard)
        talk.needs_longer = True
        yield from talk.tell_hold()
        yield from talk.aside("ask.ready")
    else:
        yield from talk.repeat()
        yield from talk.aside("turn.not-yet")
    return True


def _of_calls(talk: Moment, asked: Question) -> bool:
    """Whether turns were called that may not be done, and nothing was begun since that has none."""
    return bool(talk.calls) and asked in _AFTER_CALLS


def _told_otherwise(talk: Moment, heard: Heard, told: Told | None) -> bool:
    """Whether the learner says plainly that they did something other than the last calls, although it may sound like
    "go on" or like a turn that is not done yet."""
    meanings = [heard.meaning, *(guess.meaning for guess in heard.guesses)]
    if told is None and not any(meaning is None or has(meaning.command, Trait.OF_TURN) for meaning in meanings):
        return False
    telling, calls = heard.aside.telling, talk.calls if talk.called else ()
    slips = meant(telling, calls) if telling.plain else ()
    of_last = any(slip.at == len(calls) - 1 for each in slips for slip in each)
    return bool(slips) and not (told == "not-done" and of_last)


def _broken(heard: Heard) -> bool:
    """Whether it is the cube that they find wrong, not how they hold it."""
    return "broken" in heard.aside.hints or (heard.meaning is not None and has(heard.meaning.command, Trait.WRONG))


def told_in_pause(heard: Heard, asked: Question) -> Told | None:
    """What plain words say about the turns or the hold; None if they say nothing about them or nobody is turning."""
    if not QUESTIONS[asked].busy:
        return None
    misfit = heard.says("misfit")
    broken = asked == "ready" and misfit and (heard.says("not-in") or _broken(heard))
    if heard.says("held-wrong") or (asked == "ready" and misfit and not broken):
        return "held"
    if heard.says("slipped") or broken or (misfit and goes_on(heard)):
        return "slipped"
    # Something else may not be done yet: then it is not said to the coach.
    return "not-done" if asked == "turn" and heard.meaning is not None and heard.says("not-done") else None
