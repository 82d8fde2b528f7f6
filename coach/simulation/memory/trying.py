"""One try at an exercise by a simulated learner, with as much told as the level of help says."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from coach.learning.exercise import MOST_HELP, Result
from coach.method.sequences import NamedSequence
from coach.simulation.memory.mind import Link, Mind, links

_TOLD: Final = {MOST_HELP: 99, 3: 99, 2: 2, 1: 1, 0: 0}
"""How many links the coach tells before it leaves the learner to go on, by the level of help."""
_SAID: Final = 0.5
"""What saying a group counts for where doing it counts 1: practice transfers less to another use (Pan & Rickard 2018,
Psychological Bulletin 144:710, d 0.40; the share is a guess)."""


@dataclass(frozen=True)
class Tried:
    """How a try went: its result, how many turns were called in the end, how many the learner did or said without that,
    how many links they had to think of, and how many times they were at a loss."""

    result: Result
    called: int = 0
    alone: int = 0
    links: int = 0
    losses: int = 0


def do(mind: Mind, step: str, case: str, sequence: NamedSequence, help: int) -> Tried:
    """Do the sequence. After a failure the coach calls the whole of it, so what was not recalled is studied."""
    chain = links(step, case, sequence)
    sizes = (0, *(len(group.turns) for group in sequence.groups))
    result: Result = "unaided"
    called = alone = thought = losses = 0
    before: Link | None = None
    for number, (link, turns) in enumerate(zip(chain, sizes, strict=True)):
        given = number < _TOLD[help] or result == "failed"
        thought += not given
        if not given and not mind.recalls(link, before):
            given, losses = True, losses + 1
            result = "helped" if mind.random.random() < mind.habits.asks else "failed"
        if given:
            mind.told(link)
        before = None if given else link
        called, alone = called + turns * given, alone + turns * (not given)
        if turns and mind.slips(link, turns) and mind.random.random() > mind.habits.notices:
            result = "failed"
    return Tried(result, called, alone, thought, losses)


def recite(mind: Mind, step: str, case: str, sequence: NamedSequence) -> Tried:
    """Say the turns of the sequence; what is not recalled is told, group by group."""
    groups = links(step, case, sequence)[1:]
    lost = [not mind.recalls(link, share=_SAID) for link in groups]
    for link, at_a_loss in zip(groups, lost, strict=True):
        if at_a_loss:
            mind.told(link)
    turns = len(sequence.turns)
    return Tried("failed" if any(lost) else "unaided", 0, turns, len(groups), sum(lost))


def tell_hold(mind: Mind, step: str, case: str, sequence: NamedSequence) -> Tried:
    """Name the case and its hold."""
    link = links(step, case, sequence)[0]
    known = mind.recalls(link)
    if not known:
        mind.told(link)
    return Tried("unaided" if known else "failed", links=1, losses=int(not known))
