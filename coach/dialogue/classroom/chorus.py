"""A class says a sequence together before it does it; the better it is known, the less is said and called."""

from __future__ import annotations

from collections import Counter
from typing import Final

from coach.dialogue.acts import Tell
from coach.dialogue.classroom.leading import pause
from coach.dialogue.saying import Talking
from coach.dialogue.solving.led import BY_GROUPS
from coach.dialogue.talk import Talk
from coach.learning.exercise import MOST_HELP
from coach.method import NamedSequence

_SECONDS_A_TURN: Final = 2.0
"""Leave a class this long to say each turn."""
_KNOWN: Final = 2
"""Call a sequence part by part once the class has done it this often."""


class Chorus:
    """Which sequences the class has said and done."""

    def __init__(self, talk: Talk) -> None:
        self.talk = talk
        self._done: Counter[str] = Counter()

    def before(self, sequence: NamedSequence) -> Talking[int]:
        """Have a new sequence said in chorus, part by part; the result is the level of help with it."""
        done = self._done[sequence.id]
        self._done[sequence.id] += 1
        if not done and self.talk.manner == "teach" and len(sequence.groups) > 1:
            yield from self.say(sequence)
        return MOST_HELP if done < _KNOWN else BY_GROUPS

    def say(self, sequence: NamedSequence) -> Talking[None]:
        """Have a sequence said in chorus after the coach, part by part."""
        talk = self.talk
        yield from talk.tell_less("class.together", name=sequence.say(talk.phrases.code, "name"))
        for number, group in enumerate(sequence.groups):
            name, calls = group.say(talk.phrases.code, "name"), talk.calls_of(group.turns)
            yield from talk.say(Tell(talk.words("class.say-part", int(number > 0), name=name, calls=calls)))
            yield from pause(talk, _SECONDS_A_TURN * len(group.turns))
