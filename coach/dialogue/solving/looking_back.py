"""Reading the whole cube, and what that tells of what was done before."""

from __future__ import annotations

from coach.belief.slips.hindsight import look_back
from coach.dialogue.saying import Talking
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.solving.reading import Reader
from coach.dialogue.talk import Talk


def read_whole(talk: Talk, knowledge: Knowledge, again: bool = False) -> Talking[None]:
    """Have the whole cube read, perhaps `again`. It shows what became of tries that nothing has confirmed, or nobody
    can tell any more."""
    past = knowledge.past
    yield from Reader(talk, knowledge, again).go()
    if talk.attempts.open:
        yield from talk.attempts.looked_back(look_back(past, knowledge.reading.pattern))
