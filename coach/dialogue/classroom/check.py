"""The check at a milestone: who is not there goes once more, or on with their own coach, so that nobody is lost."""

from __future__ import annotations

from collections.abc import Callable

from coach.cube import Claim
from coach.dialogue.acts import SendOff, Sight
from coach.dialogue.classroom import wording
from coach.dialogue.classroom.hands import Hands
from coach.dialogue.classroom.leading import Leading
from coach.dialogue.classroom.sights import LOWER_LAYERS, SOLVED, claimed, sight
from coach.dialogue.saying import Talking
from coach.dialogue.talk import Talk
from coach.method.unison import Unison


class Check:
    """The check at the end of a step. `again` leads those who are not there through the step once more."""

    def __init__(
        self, talk: Talk, unison: Unison, hands: Hands, leading: Leading, again: Callable[[], Talking[None]]
    ) -> None:
        self.talk, self.unison, self.step = talk, unison, unison.step
        self._hands, self._pupils, self._leading, self._again = hands, hands.pupils, leading, again

    def go(self) -> Talking[None]:
        """Find out who is there; afterwards the class is of those who are."""
        size = self._pupils.join()
        there = yield from self._there()
        if there < size:
            yield from self.talk.tell("class.not-there", int(size - there > 1), n=size - there)
            yield from self._whole_below()
            if there < self._led:
                yield from self._once_more()
        if self._led:
            yield from self.talk.tell("class.there", int(self._pupils.away > 0))

    @property
    def _led(self) -> int:
        return self._pupils.size or 0

    def _there(self) -> Talking[int]:
        """How many have all that shows that the step is done."""
        there = self._led
        if self.step.align:
            yield from self._face("class.all-round")
            return (yield from self._claim("class.solved", SOLVED))
        done = wording.words(self.talk, self.step, "done")
        for number, about in enumerate(self.unison.milestone):
            key = "class.done" if len(self.unison.milestone) == 1 else ("class.done-sides", "class.done-layers")[number]
            forms = self.talk.forms(key, done=done)
            there = min(there, (yield from self._hands.count(sight(about, self.talk.colours), forms, self._led)))
        return there

    def _whole_below(self) -> Talking[None]:
        """Leave those whose two lower layers are not whole to their own coach."""
        yield from self._face("class.all-round")
        whole = yield from self._claim("class.lower", LOWER_LAYERS)
        yield from self._send_off("class.own-coach", self._led - whole, (claimed(LOWER_LAYERS, self.talk.colours),))

    def _once_more(self) -> Talking[None]:
        """Lead those who are not there through the step again; who is not there then has another trouble."""
        yield from self.talk.tell("class.once-more")
        yield from self._again()
        there = yield from self._there()
        if self.step.align:
            unless: tuple[Sight, ...] = (claimed(SOLVED, self.talk.colours),)
        else:
            unless = tuple(sight(about, self.talk.colours) for about in self.unison.milestone)
        yield from self._send_off("class.put-together", self._led - there, unless)

    def _send_off(self, key: str, number: int, unless: tuple[Sight, ...]) -> Talking[None]:
        if number > 0:
            self._pupils.send_off(number)
            yield from self.talk.say(SendOff(self.talk.words(key), unless))

    def _face(self, key: str) -> Talking[None]:
        """Have everybody turn the same side to the front."""
        facing = self._leading.facing(self.talk.words("class.facing", front=self.talk.colours["F"]))
        yield from self._leading.begin(self.talk.words(key), self._leading.everybody(), [facing], wait=False)

    def _claim(self, key: str, claim: Claim) -> Talking[int]:
        told = claimed(claim, self.talk.colours)
        return (yield from self._hands.count(told, self.talk.forms(key), self._led))
