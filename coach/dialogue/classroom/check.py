"""The check at a milestone: who is not there goes once more, or on with their own coach, so that nobody is lost."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from coach.belief.classroom.mishaps import Aftermath
from coach.cube import Claim, Turn
from coach.dialogue.acts import SendOff, Sight
from coach.dialogue.classroom import wording
from coach.dialogue.classroom.hands import Hands
from coach.dialogue.classroom.leading import Leading
from coach.dialogue.classroom.rescue import Rescue
from coach.dialogue.classroom.sights import BOTTOM, LOWER_LAYERS, SOLVED, claimed, sight
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
        self._rescue = Rescue(talk, hands, leading)
        self.others = False
        """Whether there may be cubes in the class that are not as thought."""

    def between(self, turns: tuple[Turn, ...]) -> Talking[None]:
        """Between two runs, find out after `turns` who still has the whole bottom, and help the others."""

        def whole(send_off: str = "") -> Talking[int]:
            return (yield from self._claim("class.bottom", BOTTOM, send_off))

        yield from self._restored(whole, turns)

    def go(self, turns: tuple[Turn, ...]) -> Talking[None]:
        """Find out who is there, after `turns` in the last run; afterwards the class is of those who are."""
        if self._pupils.late:  # what they have done is no slip in these turns
            self.others, turns = True, ()
        size = self._pupils.join()
        there = yield from self._there()
        if there < size:
            yield from self.talk.tell("class.not-there", int(size - there > 1), n=size - there)
            rescued = yield from self._restored(self._whole_below, turns)
            if rescued or there < self._led:
                there = yield from self._there()
            if there < self._led:
                self.others = True
                yield from self.talk.tell("class.once-more")
                yield from self._again()
                yield from self._there("class.put-together")
        if self._led:
            yield from self.talk.tell("class.there", int(self._pupils.away > 0))

    def _restored(self, whole: Callable[[str], Talking[int]], turns: tuple[Turn, ...]) -> Talking[bool]:
        """Help those whose lower layers are not `whole` after `turns`, as far as that is short, and leave the others to
        their own coach. The result is whether anything was done for them."""
        missing = self._led - (yield from whole(""))
        if not missing:
            return False
        self.others = True
        helped = bool(turns) and (yield from self._rescue.go(Aftermath.of_unlike(self.unison, turns), missing))
        yield from whole("class.own-coach")
        return helped

    @property
    def _led(self) -> int:
        return self._pupils.size or 0

    def _there(self, send_off: str = "") -> Talking[int]:
        """How many have all that shows that the step is done. Who has not is sent off by the sentence `send_off`, if
        there is one."""
        if self.step.align:
            yield from self._leading.all_face()
            return (yield from self._claim("class.solved", SOLVED, send_off))
        done = wording.words(self.talk, self.step, "done")
        milestone, there = self.unison.milestone, self._led
        keys = ("class.done",) if len(milestone) == 1 else ("class.done-sides", "class.done-layers")
        for key, about in zip(keys, milestone, strict=True):
            if there == self._led:
                forms = self.talk.forms(key, done=done)
                there = yield from self._count(sight(about, self.talk.colours), forms, send_off)
        return there

    def _whole_below(self, send_off: str) -> Talking[int]:
        """How many have their two lower layers finished."""
        yield from self._leading.all_face()
        return (yield from self._claim("class.lower", LOWER_LAYERS, send_off))

    def _claim(self, key: str, claim: Claim, send_off: str) -> Talking[int]:
        return (yield from self._count(claimed(claim, self.talk.colours), self.talk.forms(key), send_off))

    def _count(self, seen: Sight, forms: Sequence[str], send_off: str) -> Talking[int]:
        """How many have this. Where others have not, the sentence `send_off` leaves them to their own coach."""
        yield from self._leading.no_rest()
        number = yield from self._hands.count(seen, forms, self._led)
        if send_off and number < self._led:
            self._pupils.send_off(self._led - number)
            yield from self.talk.say(SendOff(self.talk.words(send_off)))
        return number
