"""About how long it takes to say, to turn, and to answer: for a session without a clock."""

from __future__ import annotations

from typing import Final

from coach.dialogue.acts import Act, Ask, Bye, CallTurn, Event, Heard, Rotate, Silence, Tell
from coach.dialogue.pace import Pace

_A_WORD: Final = 0.4
"""The seconds that a spoken word takes: 150 words a minute, common practice, no source."""
_BEFORE_ANSWER: Final = 1.5
_TURNING_CUBE: Final = 3.0
_ALONE: Final = 10.0
"""The seconds that a learner takes before they answer, to turn the whole cube, and to do a sequence on their own;
estimates without a source."""
_MOST_PAUSES: Final = 4
"""A silence takes no longer than the pauses of a group of turns: whoever types an empty line has not waited."""


def estimated(what: Act | Event, pace: Pace) -> float:
    """About how many seconds it takes, by the learner's pace."""
    match what:
        case CallTurn(text=text):
            return _A_WORD * len(text.split())  # the pause after it is a silence, or an answer
        case Rotate(text=text):
            return _A_WORD * len(text.split()) + _TURNING_CUBE
        case Ask(text=text, query=query):
            return _A_WORD * len(text.split()) + (_ALONE if query.asks == "do" else 0.0)
        case Tell(text=text) | Bye(text=text):
            return _A_WORD * len(text.split())
        case Heard(text=text):
            return _BEFORE_ANSWER + _A_WORD * len(text.split())
        case Silence(seconds=seconds):
            return min(seconds, _MOST_PAUSES * pace.pause)
        case _:
            return 0.0
