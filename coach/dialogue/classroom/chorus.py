"""A class says a sequence together before it does it; the better it is known, the less is said and called."""

from __future__ import annotations

from collections import Counter
from typing import Final

from coach.dialogue.acts import Heard, Tell
from coach.dialogue.replies import says_whether, yes_or_no
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt
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
            if not (yield from self._spoken(_SECONDS_A_TURN * len(group.turns))):
                yield from talk.tell("class.skipped")
                return

    def _spoken(self, seconds: float) -> Talking[bool]:
        """Leave the class time to say a part; False if they would rather not. Whatever else is heard is the chorus, or
        praise for it, so it gets no reply."""
        try:
            event = yield from self.talk.listen("ready", seconds, take=_is_for_chorus)
        except Interrupt:
            yield from self.talk.tell("class.later")
            return True
        self.talk.count_useful()
        if isinstance(event, Heard) and yes_or_no(event) is False:
            yield from self.talk.wait("reply.waiting")
        return not (isinstance(event, Heard) and _skips(event))


def _skips(heard: Heard) -> bool:
    """Whether they would rather do something else."""
    change = heard.meaning.change if heard.meaning else None
    return change is not None and change.exercise is not None


def _is_for_chorus(heard: Heard) -> bool:
    """Whether it is about the part that is being said."""
    return _skips(heard) or says_whether(heard)
