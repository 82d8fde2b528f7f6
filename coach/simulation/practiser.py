"""A simulated learner who practises by heart: does, says and tells what comes to mind, and learns by it."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from coach.cube import PLACE_NUMBER, Cube, Turn, parse
from coach.dialogue import Ask, CallTurn, Query, Say
from coach.dialogue.practice.placing import NEXT_PIECE, NEXT_STEP
from coach.language import Question
from coach.method import Case, Method, NamedSequence, PlacingCase, cases_of
from coach.simulation.learner import COLOURS, Learner
from coach.simulation.memory.mind import Link, Mind, links

_WORDS: Final[Mapping[str, str]] = {
    "R": "right side up", "R'": "right side down", "U": "top to the left", "U'": "top to the right",
    "F": "front clockwise", "F'": "front anticlockwise", "R2": "right side up, twice", "U2": "top to the left, twice",
    "F2": "front clockwise, twice",
}  # fmt: skip
_AWAY: Final = parse("y2")
_FACING: Final = re.compile(r"with (\w+) facing you")


@dataclass
class _Try:
    """A sequence that is being done, and how far it is. `kept` is the cube as it should be by now; `wrong` whether
    something has gone wrong, and `seen` whether that was noticed."""

    step: str
    case: Case | PlacingCase
    sequence: NamedSequence
    kept: Cube
    number: int = 0
    """So many turns were done, or were thought to be."""
    group: int = 0
    """The group that comes next."""
    held: bool = False
    wrong: bool = False
    seen: bool = False
    hints: int = 0

    @property
    def chain(self) -> tuple[Link, ...]:
        """What is to be recalled."""
        return links(self.step, self.case.id, self.sequence)


class Practiser(Learner):
    """A learner with a memory. Whatever is called is studied; what is not has to be recalled."""

    def __init__(self, cube: Cube, mind: Mind, method: Method) -> None:
        super().__init__(cube, mind.random)
        self.mind = mind
        self._cases = {
            (step.id, case.id): (step, case, case.named) for step in method.steps for case in cases_of(step)
        }
        self._try: _Try | None = None
        self._doing = False
        """Whether the coach waits for a sequence to be done."""
        self._front = ""
        """The colour that is to face them, if the coach has told."""
        self._chosen = ""
        """What they choose to do next."""
        self._layers = ""
        """What was said of layers last."""
        self._said: list[bool] = []
        """Which groups of a recital came to mind."""

    def hear(self, say: Say) -> None:
        """Take in what the coach says."""
        self._layers = say.text if " layer" in say.text else self._layers
        if match := _FACING.search(say.text):
            self._front = match[1]
        match say:
            case CallTurn(turn=turn, n=n, of=of, step=step, case=case) if self._is_next(step, case, turn, n, of):
                self._asked = None
                self._called(turn)
            case Ask(query=query) if query.asks == "hold" and query.case in (NEXT_PIECE, NEXT_STEP):
                self._asked, self._try = query, None
                self._chosen = _chosen(query, self._layers)
            case Ask(query=query) if query.asks in ("do", "recite", "hold"):
                self._begin(query)
            case _:
                super().hear(say)

    def answer(self, asked: Question = "other") -> str:
        """What the learner says."""
        query = self._asked
        if query and query.asks == "do" and self._try:
            return self._do(self._try, query.help or 0)
        if query and query.asks == "recite" and self._try:
            return self._recite(self._try)
        if query and query.asks == "hold":
            return self._tell_hold(self._try) if self._try else self._chosen
        if query and query.about == "right" and self._try:
            return "no" if self._try.seen else "yes"
        if query and query.about == "begun" and self._try:
            return "yes" if self._try.number else "no"
        return super().answer(asked)

    # Called turns

    def _is_next(self, step: str, case: str, turn: Turn, n: int, of: int) -> bool:
        found = self._cases.get((step, case))
        if not found or not found[2] or len(found[2].turns) != of or found[2].turns[n - 1] != turn:
            return False
        if n == 1 and (self._try is None or self._try.number):
            self._try = _Try(step, found[1], found[2], self.cube)
        return self._try is not None and self._try.number == n - 1

    def _called(self, turn: Turn) -> None:
        now = self._try
        assert now
        if not now.number:
            self.mind.told(now.chain[0])
            now.held = True
        self._turn(now, turn, slips=self.mind.slips(("turn", str(turn), 0), 1))
        if now.number == sum(len(group.turns) for group in now.sequence.groups[: now.group + 1]):
            self.mind.told(now.chain[1 + now.group])
            now.group += 1

    def _turn(self, now: _Try, turn: Turn, slips: bool) -> None:
        now.kept, now.number = now.kept.do((turn,)), now.number + 1
        if slips:
            now.wrong = True
            now.seen = now.seen or self.random.random() < self.mind.habits.notices
        else:
            self.do((turn,))

    # On their own

    def _begin(self, query: Query) -> None:
        self._asked = query
        now = self._try
        over = now is None or (now.number == len(now.sequence.turns) and not now.seen)
        if now is None or over or (now.step, now.case.id) != (query.step, query.case) or query.asks != "do":
            if query.asks == "recite" and self._said and now and (now.step, now.case.id) == (query.step, query.case):
                return
            _, case, sequence = self._cases[query.step, query.case]
            assert sequence
            self._try, self._said = _Try(query.step, case, sequence, self.cube), []

    def _do(self, now: _Try, help: int) -> str:
        """Do as much as comes to mind, or ask for a hint; put right what was seen to be wrong."""
        if now.seen:
            self.cube, now.seen, now.wrong = now.kept, False, False
            return "done"
        if not now.held and not self._hold(now, help):
            return "give me a hint"
        before: Link | None = None
        while now.group < len(now.sequence.groups):
            link, group = now.chain[1 + now.group], now.sequence.groups[now.group]
            done = now.number - sum(len(earlier.turns) for earlier in now.sequence.groups[: now.group])
            if done or now.hints > now.group:  # its first turn was called, or it was told
                self.mind.told(link)
                before = None
            elif self.mind.recalls(link, before):
                before = link
            elif self.random.random() < self.mind.habits.asks:
                now.hints += 1
                return "give me a hint"
            else:
                self._leave_out(now, group.turns)
                continue
            rest = group.turns[done:]
            wrong = self.mind.slips(link, len(rest))
            for number, turn in enumerate(rest):
                self._turn(now, turn, slips=wrong and number == 0)
            now.group += 1
        return "done"

    def _hold(self, now: _Try, help: int) -> bool:
        """Take the hold; False where a hint is wanted for it."""
        link = now.chain[0]
        if help or now.hints:
            self.mind.told(link)
        elif not self.mind.recalls(link):
            if self.random.random() < self.mind.habits.asks:
                now.hints += 1
                return False
            self.do(_AWAY)  # some other hold
            now.kept, now.held, now.hints = self.cube, True, 0
            return True
        if isinstance(now.case, Case) and help < 2:
            self._turn_about(now.case.holds(self.cube.faces))
        now.kept, now.held, now.hints = self.cube, True, 0
        return True

    def _turn_about(self, ways: Sequence[Sequence[Turn]]) -> None:
        """Turn the whole cube into a hold for the case: the one with the front that was told, if any was."""
        fronts = [COLOURS[self.cube.do(way).faces[PLACE_NUMBER["F4"]]] for way in ways]
        if ways:
            self.do(ways[fronts.index(self._front)] if self._front in fronts else ways[0])
        self._front = ""

    def _leave_out(self, now: _Try, turns: Sequence[Turn]) -> None:
        """Go on without a group that does not come to mind."""
        now.kept, now.number, now.group = now.kept.do(turns), now.number + len(turns), now.group + 1
        now.wrong = True

    # In words

    def _recite(self, now: _Try) -> str:
        """The next group; a group that did not come to mind is said once it has been told."""
        number = min(len([known for known in self._said if known]), len(now.sequence.groups) - 1)
        link = now.chain[1 + number]
        if self._said and not self._said[-1]:
            self.mind.told(link)
            self._said[-1] = True
        elif not self.mind.recalls(link, share=0.5):
            self._said.append(False)
            return "give me a hint"
        else:
            self._said.append(True)
        return ", ".join(_WORDS[str(turn)] for turn in now.sequence.groups[number].turns)

    def _tell_hold(self, now: _Try) -> str:
        link = now.chain[0]
        if self.mind.recalls(link):
            if isinstance(now.case, PlacingCase):
                return f"{_AT[now.case.at]}, {now.sequence.say('en', 'name')}"
            return _HELD.get(now.case.id, "I don't know")
        self.mind.told(link)
        return "I don't know"


def _chosen(query: Query, text: str) -> str:
    """What they choose as the next step or piece: that is never forgotten."""
    if query.case == NEXT_STEP:
        return query.step.replace("-", " ")
    return f"the one in the {'top' if 'top layer' in text else 'middle'} layer"


_AT: Final[Mapping[str, str]] = {
    "UF": "at the front", "DF": "at the front", "UR": "on the right", "UL": "on the left", "FR": "at the front right",
    "FL": "at the front left", "UFR": "at the front right", "UFL": "at the front left", "DFR": "at the front right",
    "DFL": "at the front left",
}  # fmt: skip
"""Where a piece comes for its sequence."""
_HELD: Final[Mapping[str, str]] = {
    "dot": "a dot, any side can face me",
    "corner": "a corner shape, at the back and left",
    "line": "a line, from left to right",
    "none-up": "no corner is up, and the front left one points left",
    "one-up": "one corner is up, the front left",
    "two-up": "two corners are up, and the front left one points to me",
    "one-pair": "at the left",
    "to-the-right": "the finished side is at the back, and it goes to the right",
    "to-the-left": "the finished side is at the back, and it goes to the left",
}
"""What a learner says of a case and its hold."""
