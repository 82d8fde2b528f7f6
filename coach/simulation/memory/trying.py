"""One try at a sequence by a simulated learner, with as much told as the level of help says."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from coach.learning.exercise import Result
from coach.method.sequences import NamedSequence
from coach.simulation.memory.mind import Link, Mind, links

TOLD: Final = {4: 99, 3: 99, 2: 2, 1: 1, 0: 0}
"""How many links the coach tells before it leaves the learner to go on, by the level of help."""


@dataclass(frozen=True)
class Tried:
    """How a try went: its result, how many turns were called in the end, how many the learner did without that, and how
    many times they stopped to think or to ask."""

    result: Result
    called: int
    alone: int
    hints: int


def attempt(mind: Mind, step: str, case: str, sequence: NamedSequence, help: int) -> Tried:
    """Try it. After a failure the coach calls the whole sequence, so what was not recalled is studied."""
    chain = links(step, case, sequence)
    sizes = (0, *(len(group.turns) for group in sequence.groups))
    result: Result = "unaided"
    called = alone = hints = 0
    before: Link | None = None
    for number, (link, turns) in enumerate(zip(chain, sizes, strict=True)):
        given = number < TOLD[help] or result == "failed"
        if not given and not mind.recalls(link, before):
            given, hints = True, hints + 1
            result = "helped" if mind.random.random() < mind.habits.asks else "failed"
        if given:
            mind.told(link)
        before = None if given else link
        called, alone = called + turns * given, alone + turns * (not given)
        if turns and mind.slips(link, turns) and mind.random.random() > mind.habits.notices:
            result = "failed"
    return Tried(result, called, alone, hints)
