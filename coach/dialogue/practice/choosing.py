"""What is practised next.

First all that is known and due for review, and in any case one thing that was begun and is due. Then a new sequence in
the order of teaching, in all its cases and in words; another one the next day, or once that one holds. Then what else
is due, and what is not known yet: first what was done alone on the fewest days, and of that, what was practised longest
ago. All this comes once a session, since practice on another day is worth more than practice at once; then everything
comes again in turn. With all that is due before anything new, simulated learners take a sixth more minutes.

How many turns it takes to bring the cube into a case does not count: what takes many would wait for ever.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Final

from coach.dialogue.practice.placing import NEXT_PIECE, NEXT_STEP, choices
from coach.language.meaning import Wished
from coach.learning import schedule
from coach.learning.exercise import Exercise, History, Item, Kind, by_item
from coach.learning.levels import Sequences
from coach.learning.schedule import Schedule
from coach.method import Case, Method, PlacingCase, Step, cases_of

_FAILED: Final = 2
_A_WHILE: Final = 4
_CHOICES: Final = (NEXT_PIECE, NEXT_STEP)
WORDS: Final[Sequence[Wished | None]] = ("words", "recite", "hold")
"""The wishes for something in words."""


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
    sequences: Sequences,
) -> Item | None:
    """The item to practise next, out of `items` in the order of teaching; None only if there are none. `exercises` are
    all that are known of the learner, `tried` the items of this session in their order."""
    methods = {item.method for item in items}
    history = {item: done for item, done in by_item(exercises).items() if item.method in methods}
    latest = {exercise.item: number for number, exercise in enumerate(exercises)}
    untried = [item for item in items if item not in tried]
    due = to_review(untried, exercises, today, planner)
    if known := [item for item in due if schedule.known(history[item])]:
        return known[0]
    new = _new(untried, history, today, sequences)
    if new and (tried or not due):
        return new[0]
    unknown = [item for item in untried if item in history and not schedule.known(history[item])]
    if now := due or unknown:
        return min(now, key=lambda item: (len(schedule.days_alone(history[item])), latest[item]))
    again = [item for item in items if item in history and item not in tried[-1:]] or items
    return min(again, key=lambda item: (tried.count(item), latest.get(item, -1)), default=None)


def to_review(
    items: Sequence[Item], exercises: Sequence[Exercise], today: date, planner: Schedule
) -> Sequence[Item]:
    """Those of `items` that are due, the likeliest to be forgotten first."""
    history = {item: done for item, done in by_item(exercises).items() if item in items}
    return schedule.due(schedule.reviews(history, today, planner), today)


def _new(untried: Sequence[Item], history: History, today: date, sequences: Sequences) -> Sequence[Item]:
    """What was never practised and may be begun now: step by step in the order of teaching, what is left of the
    sequences that have been begun, and then the others, if all holds of those begun today. A choice counts as a
    sequence of its own, and comes last."""

    def sequence(item: Item) -> tuple[str, str]:
        return item.method, sequences.get((item.step, item.case), item.case)

    begun: dict[tuple[str, str], date] = {}
    for item, done in history.items():
        begun[sequence(item)] = min(done[0].day, begun.get(sequence(item), today))
    steady = all(holds(done) for item, done in history.items() if begun[sequence(item)] == today)
    new = [item for item in untried if item not in history and (steady or sequence(item) in begun)]
    steps = [*dict.fromkeys(item.step for item in untried)]
    return sorted(new, key=lambda item: (item.case in _CHOICES, steps.index(item.step), sequence(item) not in begun))


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
