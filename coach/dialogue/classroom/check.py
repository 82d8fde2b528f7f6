"""The check at a milestone: who is not there goes once more, or on with their own coach, so that nobody is lost."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from coach.belief.classroom.halfway import Halfway
from coach.belief.classroom.mishaps import Aftermath
from coach.cube import Claim
from coach.dialogue.acts import Claimed, SendOff, Sight
from coach.dialogue.classroom import wording
from coach.dialogue.classroom.hands import Hands
from coach.dialogue.classroom.leading import Leading
from coach.dialogue.classroom.rescue import Rescue
from coach.dialogue.classroom.sights import BOTTOM, LOWER_LAYERS, SOLVED, claimed, sight
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt
from coach.dialogue.talk import Talk
from coach.method.unison import Unison


class Check:
    """The check at the end of a step. `again` leads so many who are not there through the step once more; `start` is
    the name of the step with which who comes late would have to begin, if it is another one."""

    def __init__(
        self, talk: Talk, unison: Unison, hands: Hands, leading: Leading, again: Callable[[int], Talking[None]],
        start: str = "",
    ) -> None:  # fmt: skip
        self.talk, self.unison, self.step = talk, unison, unison.step
        self._hands, self._pupils, self._leading, self._again = hands, hands.pupils, leading, again
        self._start = start
        self._rescue = Rescue(talk, hands, leading)

    def halfway(self, half: Halfway, part: int | None) -> Talking[bool]:
        """In the midst of a run that `part` of the class take part in (None: nobody knows how many), find out who has
        gone wrong, and help them. All who are well go on in the hold of the run; the result is whether there is
        anybody."""
        held = True
        while True:
            try:
                return (yield from self._halfway(half, part, held))
            except Interrupt as said:
                if said.command != "correct":
                    raise
                yield from self.talk.tell("class.count-again")
                held = False  # a hand went up

    def _halfway(self, half: Halfway, part: int | None, held: bool) -> Talking[bool]:
        """The same; `held` tells whether the cubes are still held as in the run."""
        what = self._rescue.what(half.sight.claim)
        if not held:
            yield from self._leading.for_all(self._rescue.until(half.sight, what))
        well = yield from self._half_done(half, "class.halfway" if held else "class.can", what)
        if well != part and well != self._led:
            self._pupils.join()
            missing = self._led - well - (yield from self._claim("class.resting", BOTTOM, ""))
            if missing > 0:
                self._pupils.slipped = True
                yield from self.talk.tell("class.not-there", int(missing > 1), n=missing)
                yield from self._rescue.go(self._leading.after(half.aftermath), missing, of=well + missing)
                yield from self._leading.for_all(self._rescue.until(half.sight, what))
                able = yield from self._half_done(half, "class.can", what)
                still, well = well + missing - able, able
                if still > 0:
                    resting = claimed(BOTTOM, self.talk.colours)
                    yield from self._send_off("class.own-coach-halfway", still, resting)
        if not well:
            yield from self.talk.tell("class.spared")
            return False
        text = self.talk.words("class.go-on")
        cases = tuple(claimed(claim, self.talk.colours) for claim in half.sight.now)
        yield from self._leading.begin(text, cases, self._rescue.until(half.sight, what, "class.until-mend"))
        return True

    def _half_done(self, half: Halfway, key: str, what: str) -> Talking[int]:
        """How many are well in the midst of a run; who rests is not."""
        seen = claimed(half.sight.claim, self.talk.colours)
        return (yield from self._hands.count(seen, self.talk.forms(key, what=what), self._led))

    def between(self, aftermath: Aftermath) -> Talking[None]:
        """Between two runs, find out who still has the whole bottom, and help the others."""

        def whole(send_off: str = "") -> Talking[int]:
            return (yield from self._claim("class.bottom", BOTTOM, send_off))

        self._pupils.join()
        while True:
            try:
                yield from self._restored(whole, aftermath)
                return
            except Interrupt:  # a count was wrong
                yield from self.talk.tell("class.count-again")

    def go(self, aftermath: Aftermath | None) -> Talking[None]:
        """Find out who is there, after the last run, if there was one; afterwards the class is of those who are."""
        self._pupils.join()
        there = yield from self._there()
        missing, came = self._led - there, self._pupils.meet()
        if missing:
            yield from self.talk.tell("class.not-there", int(missing > 1), n=missing)
            if missing <= came and self._start:
                yield from self._send_off("class.came-late", missing)
            else:
                yield from self._help(aftermath, there)
        if self._led:
            yield from self.talk.tell("class.there", int(self._pupils.away > 0))

    def _help(self, aftermath: Aftermath | None, there: int) -> Talking[None]:
        """Help those who are not there, while so many are, and leave to their own coach whom that does not help."""
        rescued = yield from self._restored(self._whole_below, aftermath)
        if rescued or there < self._led:
            there = yield from self._there()
        if there < self._led:
            yield from self.talk.tell("class.once-more")
            yield from self._again(self._led - there)
            yield from self._there("class.put-together")

    def _restored(self, whole: Callable[[str], Talking[int]], aftermath: Aftermath | None) -> Talking[bool]:
        """Help those whose lower layers are not `whole`, as far as that is short, and leave the others to their own
        coach. The result is whether anything was done for them."""
        missing = self._led - (yield from whole(""))
        if not missing:
            self._pupils.proven = True
            return False
        self._pupils.slipped = True
        if aftermath is None:
            yield from self._send_off("class.own-coach", missing)
            return False
        helped = yield from self._rescue.go(aftermath, missing)
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
        if number < self._led:
            yield from self._hands.sure_of(number)
        if send_off and number < self._led:
            yield from self._send_off(send_off, self._led - number)
        return number

    def _send_off(self, key: str, number: int, unless: tuple[Claimed, ...] = ()) -> Talking[None]:
        """Leave so many to their own coach, those whose hands are not up, `unless` they see this."""
        self._pupils.send_off(number)
        yield from self.talk.say(SendOff(self.talk.words(key, step=self._start), unless))
