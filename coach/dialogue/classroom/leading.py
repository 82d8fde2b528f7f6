"""Runs that a class does in unison: who takes part, how each holds the cube, and the calls."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from coach.cube import Turn
from coach.dialogue.acts import Claimed, Heard, Query, Sight, TakePart, Tell, TurnIntoHold
from coach.dialogue.replies import yes_or_no
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt, Leaving
from coach.dialogue.solving.led import LedRun
from coach.dialogue.solving.running import Run, Slipped
from coach.dialogue.talk import Talk

_FROM: Final[Mapping[str, Turn]] = {"L": Turn("U", 1, 3), "R": Turn("U", 3, 3), "B": Turn("U", 2, 3)}
"""How to bring the front to the front, by the side that is there instead."""

_MOMENT: Final = 10.0
"""Give a class this many seconds to find out who takes part."""


class InUnison(Run):
    """A run of many pupils: nobody waits for one who has lost their place, who is found at the next check."""

    def obey(self, interrupt: Interrupt) -> Talking[Slipped | None]:
        """Take back turns where that is wanted; all else that went wrong has to wait."""
        if interrupt.command in ("back", "restart-run") and not (yield from super().obey(interrupt)):
            return None
        yield from self.talk.tell("class.lost")
        return None


class UnisonSequence(InUnison, LedRun):
    """A sequence of the method in unison."""


class UnisonTurns(InUnison):
    """Turns that belong to no sequence, in unison."""


class Leading:
    """Leads the runs of a class."""

    def __init__(self, talk: Talk) -> None:
        self.talk = talk
        self.run: Run | None = None
        self._said: list[TakePart | TurnIntoHold | Tell] = []
        """Who takes part in the present run, and how it is held."""

    @property
    def hold(self) -> str:
        """How the cube is held now, in words."""
        holds = [say.text for say in self._said if not isinstance(say, TakePart)]
        return " ".join(holds) or self.talk.words("class.hold")

    def begin(
        self, text: str, cases: Sequence[Sight], holds: Sequence[TurnIntoHold | Tell] = (), wait: bool = True
    ) -> Talking[None]:
        """Say who takes part in what follows and how they hold the cube, and `wait` until everybody does."""
        self._said = [TakePart(text, tuple(cases), self.talk.step()), *holds]
        for number, say in enumerate(self._said):
            yield from self.talk.say(say, joined=number > 0)
        if wait:
            yield from self._ready()

    def facing(self, text: str) -> TurnIntoHold:
        """Turning the whole cube, with its top on top, until the side that was in front at the start is there."""
        ways = tuple(((Claimed("F", 4, self.talk.colours[side]),), turn) for side, turn in _FROM.items())
        return TurnIntoHold(text, ways, self.talk.step())

    def everybody(self) -> tuple[Sight, ...]:
        """What everybody has who holds the cube with its top on top."""
        return ((Claimed("U", 4, self.talk.up),),)

    def call(self, run: Run) -> Talking[None]:
        """Call the turns of a run to its end."""
        self.run = run
        try:
            yield from run.call_all()
        except Leaving as why:
            yield from run.leave(why)
            raise
        finally:
            self.run, self._said = None, []

    def soon(self) -> Talking[None]:
        """Leave a moment to find out who takes part."""
        yield from self.talk.tell_less("hold.soon")
        event = yield from self.talk.moment(_MOMENT)
        if isinstance(event, Heard) and yes_or_no(event) is False:
            yield from self.talk.wait("reply.waiting")

    def _ready(self) -> Talking[None]:
        """Wait until everybody holds the cube right."""
        forms = self.talk.forms("class.ready")
        while True:
            try:
                if not (yield from self.talk.insist(Query("ready"), forms)):
                    yield from self.talk.wait("reply.waiting")
                return
            except Interrupt:
                for say in self._said:  # to hear again, not to do twice
                    yield from self.talk.aside("reply.again", text=say.text)
                forms = self.talk.forms("class.ready")[1:]

