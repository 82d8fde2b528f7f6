"""Cubes that are all alike, because everybody has scrambled a solved one by the same calls: the scramble, and the lower
steps as for one known cube. Nothing is asked about them but hands, to find whose cube has become another one."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Final, TypeAlias

from coach.belief.classroom.mishaps import Aftermath
from coach.belief.evidence import Facts, claim_of
from coach.belief.whereabouts import stickers_at_home
from coach.cube import FACE_PLACES, Turn, from_faces, turned
from coach.dialogue.acts import SendOff
from coach.dialogue.classroom import wording
from coach.dialogue.classroom.hands import Hands
from coach.dialogue.classroom.leading import Leading
from coach.dialogue.classroom.rescue import Rescue
from coach.dialogue.lesson.lower_steps import LowerStep
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.solving.running import Run
from coach.dialogue.solving.slipped import Slipped
from coach.dialogue.solving.wording import claimed, row_words
from coach.dialogue.talk import Talk
from coach.method import PlacingStep, PlannedStep

_TOGETHER: Final = 6
"""Call this many turns between two checks: what happened among more takes too many questions."""
_SEEN: Final = "FRLU"
"""The sides that are quickly looked at, the quickest first."""
_ROWS: Final = 3
"""Compare so many rows at most."""
Row: TypeAlias = tuple[str, int]
"""A face, and the number of one of its rows, from 0."""
_ALL_ROWS: Final[tuple[Row, ...]] = tuple((face, number) for face in _SEEN for number in range(3))


class Alike:
    """What is known of all the cubes, and how it is checked by hands."""

    def __init__(
        self, talk: Talk, knowledge: Knowledge, hands: Hands, leading: Leading, scramble: tuple[Turn, ...]
    ) -> None:
        self.talk, self.knowledge, self.leading = talk, knowledge, leading
        self._hands, self._pupils = hands, hands.pupils
        self._to_call, self._all = scramble, len(scramble)
        self._rescue = Rescue(talk, hands, leading)
        self._begin()

    def _begin(self) -> None:
        """Note that all cubes are as thought."""
        self._before, self._held = self.knowledge.reading.pattern, self.knowledge.held
        self._turns: tuple[Turn, ...] = ()

    def scramble(self) -> Talking[None]:
        """Have everybody scramble a solved cube, or do what is left of that."""
        if len(self._to_call) == self._all:
            yield from self.talk.tell("class.scramble", n=self._all)
            yield from self.leading.all_face()
            yield from self.leading.ready("class.solved-now")
            self.knowledge.take_as_solved()
            self._begin()
        run = Run(self.talk, self._to_call, self.moved)
        try:
            yield from self.call(run)
        finally:
            self._to_call = self._to_call[run.done :]
        yield from self.compare()

    def call(self, run: Run) -> Talking[None]:
        """Call all turns of `run`, with a check whenever some have been called since the last one."""
        while run.done < len(run.turns):
            until = run.done + _TOGETHER - self._unchecked
            yield from self.leading.call(run, min(until, len(run.turns)))
            if self._unchecked >= _TOGETHER:
                yield from self.compare()

    def moved(self, turn: Turn) -> None:
        """Follow a turn that all have done."""
        self.knowledge.move((turn,))
        self.follow(turn)

    def follow(self, turn: Turn) -> None:
        """Note a turn that is followed already, for the next check."""
        self._turns = (*self._turns, turn)

    @property
    def _unchecked(self) -> int:
        """The number of turns since the last check."""
        return sum(not turn.whole for turn in self._turns)

    def check(self, facts: Facts, forms: Sequence[str]) -> Talking[None]:
        """Find out by hands whose cube is another one than thought, and help them or leave them to their own coach. All
        others then hold theirs as before."""
        self._pupils.join()
        seen = claimed(claim_of(facts), self.knowledge.colours)

        def count() -> Talking[int]:
            return (yield from self._hands.count(seen, forms, self._size))

        there, came = (yield from count()), self._pupils.meet()
        late = there < self._size <= there + came
        if there < self._size and not late:
            there = yield from self._help(there, count)
        if there < self._size:
            self._pupils.send_off(self._size - there)
            yield from self.talk.say(SendOff(self.talk.words("class.late-alike" if late else "class.own-coach-alike")))
        yield from self.leading.all_face(self.knowledge.held)
        self._begin()

    def _help(self, there: int, count: Callable[[], Talking[int]]) -> Talking[int]:
        """Help all but those who are `there`; the result is the `count` afterwards. Whom that does not help may have
        slipped in the repair."""
        missing = self._size - there
        yield from self.talk.tell("class.not-there", int(missing > 1), n=missing)
        first = Aftermath.of_alike(from_faces(self._before), self._turns)
        afters = [first] if self._unchecked else []
        while afters and there < self._size:
            after = afters.pop()
            if (yield from self._rescue.go(after, self._size - there, self._held)):
                yield from self.leading.all_face(self.knowledge.held)
                there = yield from count()
            if after is first:
                afters = [first.after_repair(turns) for turns in self._rescue.repairs]
        return there

    @property
    def _size(self) -> int:
        return self._pupils.size or 0

    def compare(self) -> Talking[None]:
        """Have the rows compared that tell most about slips since the last check, if there may be any."""
        if not self._unchecked:
            return
        pattern, rows, told = self.knowledge.reading.pattern, [], []
        for row in telling_rows(self._before, self._turns):
            rows += [(place, pattern[place]) for place in _places(row)]
            colours = ", ".join(self.knowledge.colour(pattern[place]) for place in _places(row))
            told.append(self.talk.part("class.row", 0, colours=colours, **row_words(self.talk, row[0], row[1] + 1)))
        forms = self.talk.forms("class.rows", rows=self.talk.joined("class.and", told))
        yield from self.check(tuple(rows), forms)


def telling_rows(before: str, turns: Sequence[Turn]) -> list[Row]:
    """The rows that together tell most of the slips in `turns` on the cube `before`."""
    right = turned(before, turns)
    changed = [{place for place in range(54) if slip[place] != right[place]} for slip in _after_slips(before, turns)]
    rows: list[Row] = []
    while len(rows) < _ROWS and any(changed):
        found = {row: sum(not places.isdisjoint(_places(row)) for places in changed) for row in _ALL_ROWS}
        rows.append(max(_ALL_ROWS, key=found.__getitem__))
        changed = [places for places in changed if places.isdisjoint(_places(rows[-1]))]
    return rows


def _places(row: Row) -> range:
    face, number = row
    start = FACE_PLACES[face][3 * number]
    return range(start, start + 3)


def _after_slips(before: str, turns: Sequence[Turn]) -> Iterator[str]:
    """The cube after the turns with one of them left out, done twice, the other way, or at a side nearby."""
    for at, turn in enumerate(turns):
        if turn.whole:
            continue
        others = [Turn(face, turn.quarters) for face in _SEEN if face != turn.face]
        for done in ((), (turn, turn), (turn.inverse,), *((other,) for other in others)):
            yield turned(before, (*turns[:at], *done, *turns[at + 1 :]))


class AlikeStep(LowerStep):
    """One of the lower steps of cubes that are all alike."""

    def __init__(self, alike: Alike, step: PlacingStep | PlannedStep) -> None:
        super().__init__(alike.talk, step, alike.knowledge)
        self._alike = alike

    def _call(self, run: Run, check: Callable[[Run], Talking[Slipped | None]] | None = None) -> Talking[bool]:
        """Call `run`; whose cube becomes another one is found by the checks."""
        self.run = run
        yield from self._alike.call(run)
        self.run = None
        return True

    def _rotated(self, turn: Turn) -> None:
        super()._rotated(turn)
        self._alike.follow(turn)

    def _check_piece(self, piece: str) -> Talking[None]:
        """Nothing is asked about one piece: the rows tell more."""
        yield from self._alike.compare()

    def _confirm(self, forms: Sequence[str], pieces: Sequence[str]) -> Talking[None]:
        """Have it found out by hands who has `pieces` at home."""
        yield from self._alike.compare()
        facts = stickers_at_home(self.knowledge.reading, pieces)
        done = wording.words(self.talk, self.step, "done")
        yield from self._alike.check(facts, self.talk.forms("class.done-sides", done=done))
        self.knowledge.confirmed = True

    def _obey(self, interrupt: Interrupt) -> Talking[None]:
        yield from self.talk.tell("class.later")
