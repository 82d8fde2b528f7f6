"""Telling: the coach describes a case, and the learner says what it is called and how to hold the cube for it.

What is asked for is a `Matter`: a case of the top (here), or how a piece is placed and what comes next (`placing`).
What was said of the case and of the hold is put together over several answers; a hold that is not understood is told,
and the learner says whether they meant it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from typing import Final

from coach.belief.top import TOP_CORNERS, TOP_EDGES
from coach.belief.top.belief import shapes
from coach.dialogue.acts import Heard, Query, Tell
from coach.dialogue.doubt import may_be_misheard
from coach.dialogue.practice.describing import described
from coach.dialogue.replies import command_of
from coach.dialogue.retelling import whether
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt
from coach.dialogue.solving import wording
from coach.dialogue.talk import Talk
from coach.language.commands import Trait, has
from coach.language.meaning import Meaning
from coach.learning.exercise import Item, Result
from coach.method import Case, Step

_TOLD: Final = 4
"""From this level of help up, the case is told before it is asked for."""
_HELPS: Final = ("hint", "call-it", "whole-sequence", "explain")
_STUCK: Final = (*_HELPS, "unsure", "no")
"""What a learner says who cannot tell; the first of these ask for help."""
_MOST_ASKED: Final = 6
"""Leave it after so many answers that do not settle it."""
_EDGE_AT: Final = {"F": "U7", "R": "U5", "B": "U1", "L": "U3"}


@dataclass(frozen=True)
class Judged:
    """Whether the case was named rightly, and the hold; None if nothing was surely said of it."""

    name: bool | None = None
    hold: bool | None = None

    def with_more(self, later: Judged) -> Judged:
        """What both answers come to: the later one counts where it says anything."""
        return Judged(
            self.name if later.name is None else later.name, self.hold if later.hold is None else later.hold
        )


@dataclass(frozen=True)
class Matter:
    """What is described and asked for: what is `seen`, what is `wanted` of it (it chooses the words of the question),
    the right answer as it is `told`, and the statement of the `hold`. `judge` judges an answer; what is `given` need
    not be said. What is `easy` is asked for without being told first. `doubts` has the words to ask whether an answer
    is really meant, before it counts as wrong."""

    seen: str
    wanted: str
    told: str
    judge: Callable[[Meaning], Judged]
    hold: str = ""
    given: Judged = field(default_factory=Judged)
    about: str = ""
    easy: bool = False
    doubts: Callable[[Meaning], tuple[str, ...]] = lambda meaning: ()


def of_top(talk: Talk, step: Step, case: Case, pattern: str) -> Matter:
    """The matter of a case of the top; `pattern` is a top in that case."""
    name, hold = (case.say(talk.phrases.code, what).format(**talk.gaps) for what in ("name", "hold"))
    wanted = "name" if step.look != "row" else "way" if len(case.hold.same) > 1 else "side"
    told = talk.words("telling.told", name=name, statement=hold)
    given = Judged(name=True if wanted == "side" else None)
    return Matter(described(talk, step, pattern), wanted, told, partial(judged, step, case), hold, given)


def judged(step: Step, case: Case, meaning: Meaning) -> Judged:
    """What an answer tells about the case and its hold."""
    return Judged(_names(step, case, meaning), _holds(step, case, meaning))


def _names(step: Step, case: Case, meaning: Meaning) -> bool | None:
    if step.look == "look-top-edges":
        named = meaning.case or meaning.shape or _shape(meaning)
        return None if named is None else named == case.id
    if step.look == "look-top-corners":
        wanted = case.count["corners"]
        told = wording.number_of(meaning, meaning.corners, TOP_CORNERS)
        # Who only names the corner that comes to the front left may have any number of them.
        return None if told is None or (told == 1 != wanted and meaning.corners is None) else told == wanted
    return _goes(case, meaning)


def _shape(meaning: Meaning) -> str | None:
    if any(place not in meaning.look for place in TOP_EDGES):
        return None
    up = frozenset(place for place in TOP_EDGES if meaning.look[place])
    return next((name for name in ("dot", "line", "corner", "cross") if up in shapes(name)), None)


def _goes(case: Case, meaning: Meaning) -> bool | None:
    """Whether the way that the edges go round is told rightly, where the case has one; the right or the left is named
    besides the side for the hold."""
    ways = [_EDGE_AT[place[0]] for group in case.hold.same[1:] for place in group if place[0] in "RL"]
    if not ways:
        return None
    told = [place for place in ("U3", "U5") if meaning.look.get(place)]
    return None if len(told) != 1 else told == ways[:1]


def _holds(step: Step, case: Case, meaning: Meaning) -> bool | None:
    look = meaning.look
    if case.hold.shows:
        told = [look.get(place) for place in case.hold.shows]
        if all(told):
            return True
        from_above = all(place[0] == "U" for place in case.hold.shows)  # the side of a corner is rarely told surely
        return False if from_above and False in told and any(look.values()) else None
    if not case.hold.same:
        return True  # any side may face the learner
    side = _EDGE_AT[case.hold.same[0][0][0]]
    if look.get(side):
        return True
    ways = {"U3", "U5"} if len(case.hold.same) > 1 else set()
    return False if {place for place, up in look.items() if up} - ways else None


class TellingCase:
    """One question about `matter`, for the thing to know `item`, at the level of help `help`. `upset` is what is done
    about a cube that something has happened to."""

    def __init__(
        self, talk: Talk, item: Item, help: int, matter: Matter, upset: Callable[[], Talking[None]] | None = None
    ) -> None:
        self.talk, self.item, self.help, self.matter, self._upset = talk, item, help, matter, upset
        self._helped = False

    def go(self) -> Talking[Result]:
        """Ask until all is told; the result."""
        matter = self.matter
        forms = self._forms("ask")
        if self._told:
            yield from self.talk.tell_less("telling.new", seen=matter.seen)
            yield from self.talk.say(Tell(matter.told), joined=True)
            forms = (*self._forms("own"), *forms[1:])
        so_far, asked_again, doubted = matter.given, False, False
        asked = 0
        while None in (so_far.name, so_far.hold):
            heard = (yield from self._ask(forms)) if asked < _MOST_ASKED else None
            asked += 1
            if heard is None:
                return (yield from self._unclear(so_far))
            command = command_of(heard)
            if command == "repeat":
                yield from self._again()
            elif command in _HELPS:
                self._helped = True
                yield from self.talk.say(Tell(matter.told))
            elif heard.meaning:
                gives_up = command in ("unsure", "no")
                now = so_far if gives_up else so_far.with_more(matter.judge(heard.meaning))
                fails = gives_up or False in (now.name, now.hold)
                if fails and not doubted and (meant := self._doubts(heard, gives_up)):
                    doubted = True
                    fails = yield from self._meant(meant)
                    now = now if fails else so_far
                if fails:
                    return (yield from self._wrong("telling.gives-up" if command == "unsure" else "telling.wrong"))
                so_far = now
            if asked_again and so_far.hold is None and so_far.name:
                return (yield from self._own_word())
            asked_again = asked_again or bool(so_far.name)
            forms = self.talk.forms("telling.more-side") if so_far.name else self._forms("more")
        return (yield from self._right())

    @property
    def _told(self) -> bool:
        """Whether the answer is told before it is asked for."""
        return self.help >= _TOLD and not self.matter.easy

    def _again(self) -> Talking[None]:
        """Describe it once more, and tell what has been told of it."""
        yield from self.talk.tell("telling.imagine", seen=self.matter.seen)
        if self._told or self._helped:
            yield from self.talk.say(Tell(self.matter.told))

    def _forms(self, kind: str) -> tuple[str, ...]:
        """The question for what is wanted: to "ask" it first, to have the told said as "own", to have "more" said."""
        return self.talk.forms(f"telling.{kind}-{self.matter.wanted}", seen=self.matter.seen)

    def _ask(self, forms: tuple[str, ...]) -> Talking[Heard | None]:
        query = Query("hold", about=self.matter.about, step=self.item.step, case=self.item.case, help=self.help)
        for _ in range(_MOST_ASKED):
            try:
                return (yield from self.talk.ask(query, forms, _answers))
            except Interrupt as interrupt:
                if _of_cube(interrupt) and self._upset:
                    yield from self._upset()
                else:
                    yield from self.talk.tell("telling.go-on")
        return None

    def _doubts(self, heard: Heard, gives_up: bool) -> tuple[str, ...]:
        """The words to ask whether an answer is meant that would be wrong; none if that is sure."""
        assert heard.meaning
        sure = () if gives_up else self.matter.doubts(heard.meaning)
        return sure or ((whether(self.talk, heard),) if may_be_misheard(heard) else ())

    def _meant(self, forms: tuple[str, ...]) -> Talking[bool]:
        return (yield from self.talk.insist(Query("other", about="hold-meant"), forms))

    def _own_word(self) -> Talking[Result]:
        """The hold was not understood: the learner tells whether they meant the right one."""
        if not (yield from self._meant(self.talk.forms("telling.meant", statement=self.matter.hold))):
            return "failed"
        return (yield from self._right())

    def _unclear(self, so_far: Judged) -> Talking[Result]:
        if so_far.name and so_far.hold is None:
            return (yield from self._own_word())
        yield from self.talk.tell("telling.unclear", told=self.matter.told)
        return "unclear"

    def _right(self) -> Talking[Result]:
        yield from self.talk.tell("practice.right")
        return "helped" if self._helped else "unaided"

    def _wrong(self, key: str) -> Talking[Result]:
        yield from self.talk.tell(key, told=self.matter.told)
        return "failed"


def _answers(heard: Heard) -> Heard | None:
    """The answer, if it tells something, or that the learner cannot; whatever else they want is none."""
    meaning, command = heard.meaning, command_of(heard)
    if meaning is None or (command == "explain" and (heard.aside.word or meaning.step)):
        return None  # a word is asked about, not the hold
    beside = meaning == Meaning(command=command, change=meaning.change)
    wants = meaning.change or (has(command, Trait.ANYTIME) and command not in ("repeat", *_STUCK))
    return None if beside and wants else heard


def _of_cube(interrupt: Interrupt) -> bool:
    """Whether it is about the cube, not about what was said."""
    if interrupt.command == "mistake":
        return not interrupt.heard.says("corrects")
    return interrupt.command not in ("correct", "back", "restart-run")
