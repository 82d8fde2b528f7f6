"""Runs whose turns may be called several in one breath: one after another, and then one pause with time for all."""

from __future__ import annotations

from collections.abc import Callable
from itertools import takewhile
from math import ceil
from typing import Final

from coach.cube import Turn
from coach.dialogue.saying import Talking
from coach.dialogue.solving.running import Run
from coach.dialogue.solving.slipped import Slipped
from coach.dialogue.talk import Talk

_MOST: Final = 3
"""Call so many turns that nobody knows by heart in one breath at most; an estimate without a source."""
_ALONG: Final = 0.5
"""The share of a pause that each further turn of a breath adds where the learner turns along: one turn is done while
the next is called. An estimate without a source."""


def in_one_breath(left: int) -> int:
    """How many of the turns that are left to call in the next breath, so that all breaths are about as long."""
    return ceil(left / ceil(left / _MOST)) if left else 0


def pauses(turns: int) -> float:
    """How many pauses a breath of so many turns takes where the learner turns along."""
    return 1 + _ALONG * (max(turns, 1) - 1)


class BreathRun(Run):
    """A run that can call several turns in one breath."""

    def __init__(self, talk: Talk, turns: tuple[Turn, ...], moved: Callable[[Turn], None], case: str = "") -> None:
        super().__init__(talk, turns, moved, case)
        self._called: tuple[Turn, ...] = ()
        """The turns called in the last breath."""

    def _breath(self, turns: int) -> Talking[Slipped | None]:
        """Call so many turns in one breath, and leave time for all of them."""
        self._called = ()
        for _ in range(turns):
            yield from self._call_next(joined=bool(self._called))
        return (yield from self._give_time())

    def _call_next(self, joined: bool = False) -> Talking[None]:
        turn = self.turns[self.done]
        self._called = (*self._called, turn) if joined else (turn,)
        yield from super()._call_next(joined)

    def _take_back(self, key: str) -> Talking[None]:
        self._called = ()
        yield from super()._take_back(key)

    def _pauses(self) -> float:
        """How many pauses the last breath takes."""
        return max(1, len(self._called))

    def _patience(self) -> float:
        """The time to wait for the turns that have just been called."""
        seconds = super()._patience()
        return seconds if self.talk.pace.on_word else seconds * self._pauses()

    def _is_this_turn(self) -> bool:
        return len(self._called) < 2 and super()._is_this_turn()  # otherwise it may be any of those in the breath

    def ask_about_last(self) -> Talking[None]:
        """In the pause after some calls, ask the learner about one after the other, the last one first, until one has
        been done."""
        for _ in range(max(1, len(self._called))):
            done = self.done
            yield from super().ask_about_last()
            if self.done == done:
                return


class SetUpRun(BreathRun):
    """A run that brings the cube into a case. Its turns are not what is practised, so whoever is used to calls hears a
    few of them in one breath; one at a time once something has gone wrong in such turns, or on the learner's word."""

    @property
    def in_breaths(self) -> bool:
        """Whether several turns are called in one breath now."""
        attempts = self.talk.attempts
        return attempts.breaths and attempts.learned.used_to_it and not self.talk.pace.on_word

    def call_all(self, most: int | None = None) -> Talking[Slipped | None]:
        """Call the turns that are left until something goes wrong; at most `most` face turns."""
        until = self.count if most is None else self.called + most
        while self.done < len(self.turns) and self.called < until:
            if slipped := (yield from self._breath(self._next_breath(until - self.called))):
                return slipped
        return None

    def _next_breath(self, most: int) -> int:
        """How many turns to call next; a turn of the whole cube is called by itself."""
        faces = len([*takewhile(lambda turn: not turn.whole, self.turns[self.done :])])
        return max(1, min(in_one_breath(faces), most)) if self.in_breaths else 1

    def _pauses(self) -> float:
        return pauses(len(self._called))
