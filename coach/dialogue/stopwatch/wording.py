"""Results of timed solves in the coach's sentences."""

from __future__ import annotations

from collections.abc import Sequence

from coach.dialogue.talk import Talk
from coach.learning.times import FIVE, Result, standing

_TEN_MINUTES = 600


def spoken(talk: Talk, result: Result) -> str:
    """The result for use within a sentence: "41.32 seconds", "1 minute and 5.20 seconds", "a DNF"."""
    if result is None:
        return talk.part("stopwatch.no-result")
    whole, hundredths = divmod(result, 100)
    minutes, left = divmod(whole, 60)
    seconds = f"{left}" if whole >= _TEN_MINUTES else f"{left}.{hundredths:02}"
    if not minutes:
        return talk.part("stopwatch.seconds", seconds=seconds)
    return talk.part("stopwatch.minutes", int(minutes > 1), minutes=minutes, seconds=seconds)


def how(talk: Talk, results: Sequence[Result]) -> str:
    """How the learner with these results is doing."""
    stands = standing(results)
    best = talk.words("stopwatch.best", int(stands.best is not None), best=spoken(talk, stands.best))
    enough = stands.count >= FIVE
    return f"{best} {talk.words('stopwatch.average', int(enough), average=spoken(talk, stands.average))}"
