"""What is practised next.

First what is due for review. Then one new thing at a time until it holds, with whatever was begun and does not hold
yet before anything new. Once all holds, everything in turn, what is likeliest to be forgotten first. Among what comes
next in this order, what the cube offers already is taken, or else what takes the fewest turns to get there; where those
are many, something in words comes first, once.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from datetime import date
from typing import Final

from coach.dialogue.practice.placing import choices
from coach.language.meaning import Wished
from coach.learning import schedule
from coach.learning.exercise import Exercise, Item, Kind, by_item
from coach.learning.schedule import Schedule
from coach.method import Case, Method, PlacingCase, Step, cases_of

MOST_TRIES: Final = 6
"""Leave a thing that does not hold for another day after this many tries in a session, if there is anything else."""
_FEW: Final = 4
"""So few turns into a case are no reason to put something in words before it."""

_FAILED: Final = 2
_A_WHILE: Final = 4
WORDS: Final[Sequence[Wished | None]] = ("words", "recite", "hold")
"""The wishes for something in words."""

Cost = Callable[[Item], int]
"""The number of turns that it takes to bring the cube into the case."""


def all_items(method: Method) -> tuple[Item, ...]:
    """Everything to know by heart, in the order in which it is taught: the last layer first, then down. A sequence that
    serves in several cases is said only once, and one of a turn or two is not worth saying. What comes next is asked
    when each step is known by itself."""
    found: list[Item] = []
    said: set[str] = set()
    for step in method.to_learn:
        cases = [(case, case.named) for case in cases_of(step) if case.named]
        found += [Item(step.id, case.id, "do", method.name) for case, _ in cases]
        for case, named in cases:
            if named.id not in said and named.worth_saying:
                said.add(named.id)
                found.append(Item(step.id, case.id, "recite", method.name))
        found += [Item(step.id, case.id, "hold", method.name) for case, _ in cases if is_told(step, case)]
    return (*found, *choices(method))


def is_told(step: object, case: Case | PlacingCase) -> bool:
    """Whether a learner can be asked for the case and its hold in words alone: not where any side may face them, unless
    the case has a name that says more than is seen."""
    if not (isinstance(step, Step) and isinstance(case, Case)):
        return True
    return bool(case.hold.shows or case.hold.same) or step.look == "look-top-edges"


def holds(exercises: Sequence[Exercise]) -> bool:
    """Whether an item holds for now: the last time, it was done alone."""
    return bool(exercises) and exercises[-1].alone


def choose(
    items: Sequence[Item],
    exercises: Sequence[Exercise],
    tried: Sequence[Item],
    today: date,
    planner: Schedule,
    cost: Cost = lambda item: 0,
) -> Item | None:
    """The item to practise next, out of `items` in the order of teaching; None only if there are none. `exercises` are
    all that are known of the learner, `tried` the items of this session in their order."""
    history = {item: done for item, done in by_item(exercises).items() if item in items}
    planned = schedule.reviews(history, today, planner)
    if due := schedule.due(planned, today):
        return _easiest(due, tried, cost)
    weak = [item for item in items if not holds(history.get(item, ())) and tried.count(item) < MOST_TRIES]
    if weak:
        return _one_of(weak, history.keys(), tried, cost)
    rest = [item for item in planned if item not in tried[-1:]] or [*items]
    seldom = min(map(tried.count, rest), default=0)
    in_turn = [item for item in rest if tried.count(item) == seldom]
    return _easiest(in_turn, tried, cost) if in_turn else None


def _one_of(weak: Sequence[Item], begun: Collection[Item], tried: Sequence[Item], cost: Cost) -> Item:
    """The one to go on with: the one at hand, one begun earlier, or else something new of the step that comes first."""
    if tried and tried[-1] in weak:
        return tried[-1]
    if known := [item for item in weak if item in begun]:
        return _easiest(known, tried, cost)
    first = weak[0]
    return min((item for item in weak if (item.step, item.kind) == (first.step, first.kind)), key=cost)


def _easiest(equals: Sequence[Item], tried: Sequence[Item], cost: Cost) -> Item:
    """Out of things equal in rank, the one that takes the least to get there."""
    doing = min(kinds(equals, "do"), key=cost, default=None)
    words = [item for item in equals if item.kind != "do"]
    if doing is None or (words and cost(doing) > _FEW and tried[-1:] and tried[-1].kind == "do"):
        return words[0]
    return doing


def wished(wish: Wished, items: Sequence[Item], tried: Sequence[Item]) -> tuple[Item, ...]:
    """Those of `items` that come next by the learner's wish; none if nothing is like that. What is asked for in words
    alternates, and what was asked for last is not asked again. Something else than that is in words, too."""
    last = next((item for item in reversed(tried) if item.kind != "do"), None)
    if wish == "do":
        same = [item for item in kinds(items, "do") if last and (item.step, item.case) == (last.step, last.case)]
        return tuple(same) or kinds(items, "do")
    if wish == "other":
        others = [item for item in items if tried and (item.step, item.case) != (tried[-1].step, tried[-1].case)]
        in_words = kinds(others, "recite", "hold") if last in tried[-1:] else ()
        return in_words or tuple(others)
    others = [item for item in kinds(items, "recite", "hold") if item != last]
    if wish != "words":
        return kinds(others, wish) or kinds(items, wish)
    first: Kind = "hold" if last and last.kind == "recite" else "recite"
    return kinds(others, first) or tuple(others) or kinds(items, "recite", "hold")


def for_now(items: Sequence[Item], exercises: Sequence[Exercise], tried: Sequence[Item]) -> Sequence[Item]:
    """`items` without what comes later, if anything is left: what was just asked for in words, and for a while what
    has failed twice in a row."""
    history = by_item(exercises)
    later = {item for item in tried[-1:] if item.kind != "do"}
    for item in {*tried[-_A_WHILE:]}:
        results = [each.result for each in history.get(item, ())][-_FAILED:]
        later |= {item} if results == ["failed"] * _FAILED else set()
    return [item for item in items if item not in later] or items


def kinds(items: Sequence[Item], *wanted: Kind) -> tuple[Item, ...]:
    """Those of `items` that are of the kinds wanted."""
    return tuple(item for item in items if item.kind in wanted)
