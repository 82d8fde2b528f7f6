"""Runs that a class does in unison: who takes part, how each holds the cube, and the calls."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

from coach.belief.classroom.mishaps import Aftermath
from coach.cube import Turn
from coach.dialogue.acts import Claimed, Heard, Query, Sight, TakePart, Tell, TurnIntoHold
from coach.dialogue.replies import yes_or_no
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt, Leaving
from coach.dialogue.solving.running import Run
from coach.dialogue.talk import Talk

_FROM: Final[Mapping[str, Turn]] = {"L": Turn("U", 1, 3), "R": Turn("U", 3, 3), "B": Turn("U", 2, 3)}
"""How to bring the front to the front, by the side that is there instead."""

_MOMENT: Final = 10.0
"""Give a class this many seconds to find out who takes part."""


class Leading:
    """Leads the runs of a class."""

    def __init__(self, talk: Talk) -> None:
        self.talk = talk
        self.run: Run | None = None
        self._said: list[TakePart | TurnIntoHold | Tell] = []
        """Who takes part in the present run, and how it is held."""
        self._all = True
        """Whether nobody rests."""
        self._lost: list[int] = []
        """After how many turns of the present run somebody has lost their place."""

    def hold(self) -> str:
        """How the cube is held now, in words. In the midst of a run nothing that was true at its beginning may be so
        any more; who is not sure of their hold rests."""
        if self.run and self.run.done:
            self._rests(self.run)
            return self.talk.words("class.hold-kept")
        holds = [say.text for say in self._said if not isinstance(say, TakePart)]
        return " ".join(holds) or self.talk.words("class.hold")

    def begin(
        self, text: str, cases: Sequence[Sight], holds: Sequence[TurnIntoHold | Tell] = (), wait: bool = True
    ) -> Talking[None]:
        """Say who takes part in what follows and how they hold the cube, and `wait` until everybody does."""
        self._said = [TakePart(text, tuple(cases), self.talk.step()), *holds]
        self._all = False
        for number, say in enumerate(self._said):
            yield from self.talk.say(say, joined=number > 0)
        if wait:
            yield from self.ready()

    def all_face(self, held: Mapping[str, str] | None = None) -> Talking[None]:
        """Have everybody turn the whole cube until it is `held` like this, by the words for its faces; the same side is
        on top all along. Without it, the side is in front that was there at the start."""
        held = held or self.talk.colours
        ways = tuple(((Claimed("F", 4, held[side]),), turn) for side, turn in _FROM.items())
        facing = TurnIntoHold(self.talk.words("class.facing", front=held["F"]), ways, self.talk.step())
        yield from self.for_all([facing], held["U"])

    def for_all(self, holds: Sequence[TurnIntoHold | Tell] = (), top: str = "") -> Talking[None]:
        """Have everybody take part in what follows, also those who rest, and hold the cube like this; all see the
        colour of the `top` there."""
        anybody = ((Claimed("U", 4, top or self.talk.colours["U"]),),)
        yield from self.begin(self.talk.words_less("class.everybody"), anybody, holds, wait=False)
        self._all = True

    def no_rest(self) -> Talking[None]:
        """The same before hands go up, if somebody rests: who does might leave theirs down."""
        if not self._all:
            yield from self.for_all()

    def call(self, run: Run, until: int | None = None) -> Talking[None]:
        """Call the turns of a run to its end, or up to number `until`. Nobody waits for who has lost their place: the
        next check finds them."""
        self._lost = self._lost if run.done else []
        self.run, until = run, len(run.turns) if until is None else until
        try:
            while run.done < until:
                try:
                    if (yield from run.call_all(until - run.done)):
                        self._rests(run)
                        yield from self.talk.tell("class.lost")
                except Interrupt as said:
                    self._raise_if_spared(said)
                    yield from self.talk.tell("class.later")
        except Leaving as why:
            yield from run.leave(why)
            raise
        finally:
            self.run, self._said = None, []

    def _rests(self, run: Run) -> None:
        """Somebody rests from here on."""
        if run.done not in self._lost:
            self._lost.append(run.done)

    def _raise_if_spared(self, said: Interrupt) -> None:
        if said.command == "nobody" and not self._all:
            raise said

    def unless_spared(self, work: Talking[None]) -> Talking[None]:
        """Do what some are to do, until nobody is said to need it."""
        try:
            yield from work
        except Interrupt as said:
            if said.command != "nobody":
                raise
            yield from self.talk.tell("class.spared")

    def after(self, aftermath: Aftermath) -> Aftermath:
        """What may have happened in the present run, with those who have lost their place and rest."""
        begun = len(aftermath.begun)
        last = begun + len(aftermath.turns)
        return replace(aftermath, stopped=tuple(at - begun for at in self._lost if begun < at <= last))

    def soon(self) -> Talking[None]:
        """Leave a moment to find out who takes part."""
        yield from self.talk.tell_less("hold.soon")
        yield from pause(self.talk, _MOMENT)

    def ready(self, key: str = "class.ready") -> Talking[None]:
        """Wait until everybody holds the cube right, or whatever the sentence `key` asks for."""
        forms = self.talk.forms(key)
        while True:
            try:
                if not (yield from self.talk.insist(Query("ready"), forms)):
                    yield from self.talk.wait("reply.waiting")
                return
            except Interrupt as said:
                self._raise_if_spared(said)
                for say in self._said:  # to hear again, not to do twice
                    yield from self.talk.aside("reply.again", text=say.text)
                forms = self.talk.forms(key)[1:]


def pause(talk: Talk, seconds: float) -> Talking[None]:
    """Leave the class this long, or as long as is wished for."""
    try:
        event = yield from talk.moment(seconds)
    except Interrupt:
        yield from talk.tell("class.later")
        return
    if isinstance(event, Heard) and yes_or_no(event) is False:
        yield from talk.wait("reply.waiting")
