"""One run: a sequence called turn by turn, with everything the learner may say in the pauses."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from coach.cube import Turn, inverse
from coach.dialogue.acts import Heard, Query, Silence
from coach.dialogue.doubt import ask_aside
from coach.dialogue.meant import meant
from coach.dialogue.replies import goes_on, yes_or_no
from coach.dialogue.saying import Talking
from coach.dialogue.signals import ChangeCourse, Interrupt, Leaving, StopLessonError
from coach.dialogue.solving.slipped import Slipped, said_of
from coach.dialogue.talk import Talk
from coach.language.commands import Trait, has

_WITH_CARE: Final = 1.6
"""Multiply the pause by this after a turn that has often gone wrong."""
_ASIDES_IN_A_PAUSE: Final = 2
"""Ask whether the turn is done once this many remarks that were not for the coach have held up the next call."""
_OF_THIS_TURN: Final = frozenset({"reversed", "twice", "half-done", "neighbour", "mirror"})
"""Kinds of slips that are about the last call if they are mentioned in the pause after it."""


class Run:
    """The turns of one sequence, which may belong to a case. `moved` is called with every turn that the learner is
    assumed to have done."""

    def __init__(self, talk: Talk, turns: tuple[Turn, ...], moved: Callable[[Turn], None], case: str = "") -> None:
        self.talk, self.turns, self.moved, self.case = talk, turns, moved, case
        self.done = 0
        self.alone = False
        """Whether the learner has done some of it without a call."""
        self._in_pause = False
        """Whether a turn has been called and may not have been done yet."""
        self._told_done = 0
        """The number of turns up to the last one that the learner has said is done."""
        self._denied = -1
        """The number of turns called when the learner last said that none is done."""
        self._told_all = False
        """Whether they have said last that all of it is done, not only the turn called last."""
        self._last: Turn | None = None
        """The turn that was called last, forwards or back."""
        self.went_back = False
        """Whether that one took another back."""
        self._taking_back = False
        """Whether all turns are being taken back."""
        self._undoing = False
        """Whether that is so and the learner may want to keep them."""
        self._went_wrong = False
        """Whether the learner has said so while they leave, when nothing is looked into any more."""

    @property
    def called(self) -> int:
        """The number of face turns called; turns of the whole cube do not count."""
        return sum(not turn.whole for turn in self.turns[: self.done])

    @property
    def count(self) -> int:
        """The number of face turns in the run."""
        return sum(not turn.whole for turn in self.turns)

    @property
    def last(self) -> Turn | None:
        """The turn that was called last, forwards or back, if it was one of a face."""
        return None if self._last is None or self._last.whole else self._last

    @property
    def to_come(self) -> int:
        """The number of face turns still to be called, or to be taken back."""
        return self.called if self._taking_back else self.count - self.called

    def call_all(self, most: int | None = None) -> Talking[Slipped | None]:
        """Call the turns that are left, one by one, until something goes wrong; at most `most` face turns."""
        until = self.count if most is None else self.called + most
        while self.done < len(self.turns) and self.called < until:
            yield from self._call_next()
            if slipped := (yield from self._give_time()):
                return slipped
        return None

    def _give_time(self) -> Talking[Slipped | None]:
        """Wait for the turn to be done, and do what the learner asks for meanwhile."""
        try:
            yield from self.pause()
        except Interrupt as interrupt:
            return (yield from self.obey(interrupt))
        return None

    def obey(self, interrupt: Interrupt) -> Talking[Slipped | None]:
        """Do what the learner asks for in mid-run, or report that something went wrong."""
        if interrupt.command in ("restart-run", "correct", "edges-again", "not-again"):
            return (yield from self._from_first(interrupt))
        if interrupt.command == "none-done":
            yield from self._from_last_done()
            return None
        if interrupt.command == "back":
            self._in_pause = False  # whoever wants it taken back has done it
            return (yield from self._back())
        if interrupt.command in ("read", "nobody"):
            raise interrupt  # the cube will be read as it is now, or nobody does the run
        this = interrupt.command == "mistake" and self._is_this_turn()
        return Slipped("this" if this else said_of(interrupt.command))

    def _from_first(self, interrupt: Interrupt) -> Talking[Slipped | None]:
        """Take back what was really turned; then the run begins again, or the answer before it is put right."""
        try:
            yield from self.ask_about_last()
        except Interrupt as wrong:
            return Slipped(said_of(wrong.command))
        undone = yield from self.undo()
        if isinstance(undone, Slipped):
            return undone
        if undone and interrupt.command != "restart-run":
            raise interrupt
        if undone:
            yield from self.talk.tell("turn.from-first")
        return None

    def _from_last_done(self) -> Talking[None]:
        """Go on after the last turn that the learner has said is done: they have done none of those called since."""
        called = self.turns[self._told_done : self.done]
        for turn in reversed(called):
            self.done -= 1
            self.moved(*inverse((turn,)))
        self._in_pause = False
        yield from self.talk.tell("turn.from-there")
        if any(turn.whole for turn in called):
            yield from self.talk.tell_hold()

    def _is_this_turn(self) -> bool:
        """Whether the learner has said what they did wrongly at the turn that has just been called."""
        hints, told = self.talk.hints, self.talk.telling
        if self._last and meant(told, (self._last,)):
            return True
        if not self.done or "earlier" in hints or not hints & _OF_THIS_TURN:
            return False
        return told.faces <= {self.turns[self.done - 1].face}

    def leave(self, why: Leaving, onwards: bool = False) -> Talking[None]:
        """Before the learner leaves, take the run back, or finish it if that is shorter (or if `onwards`), so that
        nothing is left half done; then raise `why`. If the learner is no longer there, or says stop again, the run
        stays as it is and the exception raised says so."""
        begun = 0 < self.done < len(self.turns)
        if why.closed or why.open or not begun:
            raise why
        if not why.here:
            why.open = True
            raise why
        stops = isinstance(why, StopLessonError)
        try:
            try:
                yield from self.ask_about_last()
            except Interrupt:
                self._went_wrong = True
            if onwards or self.count - self.called < self.called:
                yield from self._finish(stops)
            elif self.done:
                yield from self._take_all_back(stops)
        except StopLessonError as again:
            again.open = True
            raise
        why.open = why.open or self._went_wrong
        raise why

    def _take_all_back(self, stops: bool) -> Talking[None]:
        yield from self.talk.tell("turn.back-first", n=self.called)
        if stops:
            yield from self.talk.tell("turn.stop-again")
        yield from self.undo(quietly=True)

    def ask_about_last(self) -> Talking[None]:
        """In the pause after a call, ask the learner whether it has been done. Raises Interrupt where they tell instead
        that something went wrong."""
        turn = self.turns[self.done - 1] if self.done and self._in_pause else None
        self._in_pause = False
        if turn is None or turn.whole or self._undoing or self.went_back:
            return
        if (yield from self._has_done(turn)) is False:
            self.done -= 1
            self.moved(*inverse((turn,)))

    def _has_done(self, turn: Turn) -> Talking[bool | None]:
        """Whether the learner has done the turn that was called last, as far as they tell. Raises Interrupt where they
        tell instead that something went wrong."""
        try:
            return (yield from self._ask_done(turn))
        except Interrupt as interrupt:
            if has(interrupt.command, Trait.WRONG):
                raise
            return None

    def _ask_done(self, turn: Turn) -> Talking[bool | None]:
        if self.talk.pupils:  # some of a class have and some have not
            yield from self.talk.tell("class.last-turn")
            event = yield from self.talk.moment(self._patience())
            if isinstance(event, Heard) and yes_or_no(event) is False:
                yield from self.talk.wait("reply.waiting")
            return True
        forms = self.talk.forms("turn.did-you", call=self.talk.phrases.call(turn, self.talk.style))

        def take(heard: Heard) -> bool | None:
            denied = heard.says("not-done") or (heard.meaning is None and heard.says("no-first"))
            return False if denied else yes_or_no(heard)

        return (yield from self.talk.ask(Query("other", about="done"), forms, take))

    def _finish(self, stops: bool) -> Talking[None]:
        """Call the rest, whatever is said in the pauses."""
        yield from self.talk.tell("turn.finish-first", n=self.count - self.called)
        if stops:
            yield from self.talk.tell("turn.stop-again")
        while self.done < len(self.turns):
            try:
                yield from self._call_next()
                yield from self.pause()
            except ChangeCourse:
                continue
            except Interrupt as interrupt:
                if interrupt.command == "none-done":
                    yield from self._from_last_done()
                self._went_wrong = self._went_wrong or has(interrupt.command, Trait.WRONG)

    def _call_next(self, joined: bool = False) -> Talking[None]:
        """Call the next turn, in one breath with the one before if it is `joined` to it."""
        turn = self.turns[self.done]
        self._do(turn, 1)
        if turn.whole:
            yield from self.talk.turn_cube((turn,), self.case)
            return
        first = f"turn.first-{self.talk.style}"
        if not self.talk.turns and self.talk.phrases.has(first):
            yield from self.talk.tell(first)
        last = self.done == len(self.turns) and self.count > 1
        yield from self.talk.call(turn, self.called, self.turns, self.case, "turn.last" if last else "", joined)

    def _back(self) -> Talking[Slipped | None]:
        if not self.done:
            yield from self.talk.tell("reply.not-now")
            return None
        yield from self._take_back("turn.back")
        return (yield from self._give_time())

    def undo(self, quietly: bool = False) -> Talking[bool | Slipped]:
        """Take back all turns that were called, one by one, and tell whether they are; `quietly`, where the learner
        leaves and has been told. A no stops it, and the run goes on; so does saying that something went wrong, or that
        the cube will be read."""
        if self.called and not quietly:
            yield from self.talk.tell("turn.undo", n=self.called)
        self._undoing, self._taking_back = not quietly, True
        try:
            while self.done:
                yield from self._take_back("")
                try:
                    wanted = yield from self.pause()
                except ChangeCourse:
                    continue  # it is being undone already
                except Interrupt as interrupt:
                    if slipped := self._wrong_in_undoing(interrupt, quietly):
                        return slipped
                    continue
                if not wanted:
                    yield from self._keep()
                    break
        finally:
            self._undoing = self._taking_back = False
        return not self.done

    def _wrong_in_undoing(self, interrupt: Interrupt, quietly: bool) -> Slipped | None:
        """What the learner says of the cube while turns are taken back."""
        wrong = has(interrupt.command, Trait.WRONG)
        if quietly:
            self._went_wrong = self._went_wrong or wrong
            return None
        if interrupt.command == "read":
            raise interrupt
        return Slipped(said_of(interrupt.command)) if wrong else None

    def once_more(self) -> Talking[Slipped | None]:
        """Give the turn that was called last its time again: it may not have been done."""
        if not self.done or self.turns[self.done - 1].whole:
            return None
        yield from self.talk.remind_of(self.turns[self.done - 1])
        return (yield from self._give_time())

    def _keep(self) -> Talking[None]:
        """Stop taking back turns: the remaining ones stay after all."""
        turn = self.turns[self.done]
        if not turn.whole and (yield from self._has_done(*inverse((turn,)))) is not True:
            self._do(turn, 1)
        yield from self.talk.tell("turn.kept")

    def _take_back(self, key: str) -> Talking[None]:
        number = self.called
        (turn,) = inverse(self.turns[self.done - 1 : self.done])
        self._do(turn, -1)
        if turn.whole:
            yield from self.talk.turn_cube((turn,), self.case)
        else:
            yield from self.talk.call(turn, number, self.turns, self.case, key)

    def _do(self, turn: Turn, step: int) -> None:
        self.done += step
        self._told_done = min(self._told_done, self.done)
        self._last, self.went_back = turn, step < 0
        self.moved(turn)

    def _goes_on(self) -> Talking[bool]:
        """Whether to go on after many unclear remarks: not if the learner says that the turn is not done."""
        turn = self._last
        if turn is None or turn.whole or (yield from self._ask_done(turn)) is not False:
            return True
        yield from self.talk.remind_of(turn)
        return False

    def _patience(self) -> float:
        """The time to wait for the turn that has just been called."""
        often = self.done and self.talk.record.often(self.turns[self.done - 1])
        return self.talk.pace.seconds * (_WITH_CARE if often else 1)

    def pause(self) -> Talking[bool]:
        """Leave time to do a turn, until it runs out or the learner says to go on. False if they have said no."""
        self._in_pause = True
        while True:
            try:
                agreed = yield from self._pause()
                break
            except Interrupt as interrupt:
                if interrupt.command == "what-next":
                    yield from self._tell_next()
                elif interrupt.command != "none-done" or (yield from self._none_done()):
                    raise
        self._in_pause = False
        return agreed

    def _tell_next(self) -> Talking[None]:
        """Tell what comes after the turn that was called last, which may not have been done yet."""
        back = self._taking_back
        coming = inverse(self.turns[: self.done]) if back else self.turns[self.done :]
        if not coming:
            yield from self.talk.aside("turn.next-none")
        elif coming[0].whole:
            yield from self.talk.aside("turn.next-whole")
        else:
            yield from self.talk.aside("turn.next", call=self.talk.phrases.call(coming[0], self.talk.style))
        for turn in self.talk.called:
            yield from self.talk.remind_of(turn)

    def _none_done(self) -> Talking[bool]:
        """Whether the learner has done none of several turns, the last of which they know they have not; if it is only
        what was called last, that is said again. Who says so once more, or names a number, means more than was told."""
        since = 0 if self._denied == self.done else self._told_done
        if last := self.talk.telling.back:
            since = min([at for at in range(self.done) if not self.turns[at].whole][-last:], default=0)
        self._denied = self.done
        called = sum(not turn.whole for turn in self.turns[since : self.done])
        if called > len(self.talk.called) and not self._taking_back:
            event = yield from ask_aside(self.talk, self.talk.words("ask.none-done", n=called), "none-done")
            if isinstance(event, Heard) and (yes_or_no(event) or event.aside.telling.how == "none"):
                self._told_done = since
                return True
        yield from self.talk.repeat()
        yield from self.talk.aside("turn.not-yet")
        return False

    def _pause(self) -> Talking[bool]:
        silences, asides, asked = 0, 0, False
        while True:
            event = yield from self.talk.listen("turn", self._patience(), take=goes_on)
            on_word = self.talk.pace.on_word  # the learner may have asked for it just now
            if isinstance(event, Heard):
                if goes_on(event):
                    self._told_done, self._told_all = self.done, event.says("did-all")
                    return True
                if self._undoing and yes_or_no(event) is False:
                    return False
                yield from self.talk.aside("turn.not-understood", asides % 2)
                asides += 1
                if asides > _ASIDES_IN_A_PAUSE and not on_word:
                    if asked or (yield from self._goes_on()):
                        return True
                    asides, asked = 0, True
            elif isinstance(event, Silence):
                if not on_word:
                    return True
                silences += 1
                if silences <= 2:
                    yield from self.talk.remind(silences - 1)
