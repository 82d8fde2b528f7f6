"""Saying: the learner says the turns of a sequence aloud, and the coach follows silently.

It helps after a pause and corrects at the end of a group. A doubt is asked about, and what is not understood counts for
nothing.
"""

from __future__ import annotations

from typing import Final

from coach.cube import Turn, parse
from coach.dialogue.acts import Heard, Query, Silence
from coach.dialogue.doubt import ask_aside, may_be_misheard
from coach.dialogue.recital import Followed, Recital
from coach.dialogue.replies import command_of, yes_or_no
from coach.dialogue.retelling import whether
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt
from coach.dialogue.talk import Talk
from coach.language.commands import Trait, has
from coach.learning.exercise import Item, Result
from coach.method import NamedSequence

_BY_GROUPS: Final = 4
"""From this level up, the calls of each group are told before it is said."""
_TOLD: Final = 3
"""At this level, the whole sequence is told first."""
_NAMES: Final = 2
"""At this level, only the names of the groups are told first."""
_MOST_MISTAKES: Final = 4
_MOST_HINTS: Final = 4
_MOST_UNCLEAR: Final = 3
"""End it after so many mistakes, hints, or answers in a row that are not understood."""


class Reciting:
    """One recital at the level of help `help`."""

    def __init__(self, talk: Talk, sequence: NamedSequence, item: Item, help: int) -> None:
        self.talk, self.sequence, self.item, self.help = talk, sequence, item, help
        self._recital = Recital(group.turns for group in sequence.groups)
        self._complete = False
        self._doubted = -1
        """The number of the last group in which the learner was asked what they had said."""
        self._told = -1
        """The number of the last group that was told before the learner said it."""

    def go(self) -> Talking[Result]:
        """Hear the sequence said; the result."""
        calls = (self.talk.calls_of(group.turns, "plain") for group in self.sequence.groups)
        self.talk.parts = tuple((self._group_name(at), each) for at, each in enumerate(calls))
        try:
            return (yield from self._hear())
        finally:
            self.talk.parts = ()

    def _hear(self) -> Talking[Result]:
        yield from self._tell_first()
        query = Query("recite", step=self.item.step, case=self.item.case, help=self.help)
        key = "recite.ask-parts" if self.help >= _BY_GROUPS else "recite.ask"
        yield from self.talk.pose(self.talk.words(key, name=self._name), query)
        unclear = 0
        while not self._complete:
            yield from self._tell_group()
            try:
                event = yield from self.talk.listen("recite", self.talk.patience("recite"), take=_answers)
            except Interrupt as interrupt:  # what was said before was wrong
                event = interrupt.heard
                if not (event.meaning and event.meaning.turns):
                    yield from self.talk.aside("recite.go-on")
                    continue
            if isinstance(event, Heard) and not _answers(event):
                if event.says("only-um") or event.says("only-okay"):
                    continue
                unclear += 1
                if unclear == _MOST_UNCLEAR:
                    yield from self.talk.tell("recite.unclear")
                    return "unclear"
                yield from self.talk.aside("recite.not-understood")
                continue
            unclear = 0
            if isinstance(event, Heard) and not (yield from self._is_meant(event)):
                yield from self.talk.aside("recite.not-understood")
                continue
            yield from self._follow(event)
            if self._recital.mistakes >= _MOST_MISTAKES or self._recital.hints >= _MOST_HINTS:
                return (yield from self._give_up())
        return (yield from self._finish())

    @property
    def _name(self) -> str:
        return self.sequence.say(self.talk.phrases.code, "name")

    # What is told before

    def _tell_first(self) -> Talking[None]:
        if self.help == _TOLD:
            yield from self._tell_whole()
        elif self.help == _NAMES:
            groups = range(len(self.sequence.groups))
            names = self.talk.joined("by-heart.and", [*map(self._group_name, groups)])
            yield from self.talk.tell("recite.names", name=self._name, names=names)

    def _tell_whole(self) -> Talking[None]:
        yield from self.talk.tell("recite.whole", name=self._name, calls=self._calls(self.sequence.turns))

    def _tell_group(self) -> Talking[None]:
        """Tell the group that comes next, at the level at which each is told."""
        number = self._recital.group
        if self.help >= _BY_GROUPS and number > self._told:
            self._told = number
            calls = self._calls(self.sequence.groups[number].turns)
            form = 0 if len(self.sequence.groups) == 1 else 1 if not number else 2
            yield from self.talk.tell("recite.group", form, name=self._group_name(number), calls=calls)

    def _group_name(self, number: int) -> str:
        return self.sequence.groups[number].say(self.talk.phrases.code, "name")

    def _calls(self, turns: tuple[Turn, ...]) -> str:
        return self.talk.calls_of(turns)

    # What is said

    def _is_meant(self, heard: Heard) -> Talking[bool]:
        """Whether the learner has said what was heard. If it would be a mistake and was not heard surely, they are
        asked, once in a group."""
        turns, group = _turns(heard), self._recital.group
        if not may_be_misheard(heard) or group == self._doubted or not self._recital.is_wrong(turns, _corrects(heard)):
            return True
        self._doubted = group
        event = yield from ask_aside(self.talk, whether(self.talk, heard), "heard")
        return isinstance(event, Heard) and yes_or_no(event) is True

    def _follow(self, event: Heard | Silence) -> Talking[None]:
        command = None if isinstance(event, Silence) else command_of(event)
        if isinstance(event, Heard) and (turns := _turns(event)):
            followed = self._recital.hear(turns, _corrects(event))
            self._complete = followed.verdict == "complete"
            if followed.verdict == "wrong":
                yield from self._correct(followed)
            else:
                self.talk.count_useful()
            return
        if command == "whole-sequence":
            self._recital.hint()
            yield from self._tell_whole()
            return
        followed = self._recital.give_up_group()
        self._complete = followed.verdict == "complete"
        if followed.verdict == "wrong":
            yield from self._correct(followed)
        elif not self._complete:
            yield from self.talk.tell("recite.hint", calls=self._calls(self._recital.hint()))

    def _correct(self, followed: Followed) -> Talking[None]:
        if followed.left_out:
            missing, before = self._calls(followed.left_out), self._calls(followed.further[:1])
            yield from self.talk.tell("recite.left-out", missing=missing, before=before)
            return
        comes = self._calls((followed.comes,)) if followed.comes else ""
        key = "recite.end" if not comes else "recite.after" if followed.right else "recite.first"
        form = int(len(followed.right) > 1) if followed.right else int(followed.group > 0)
        right, name = self._calls(followed.right), self._group_name(followed.group)
        yield from self.talk.tell(key, form if comes else 0, right=right, comes=comes, name=name)

    # How it ends

    def _give_up(self) -> Talking[Result]:
        yield from self.talk.tell("recite.later")
        yield from self._tell_whole()
        return "failed"

    def _finish(self) -> Talking[Result]:
        recital = self._recital
        result: Result = "failed" if recital.mistakes else "helped" if recital.hints else "unaided"
        yield from self.talk.tell("recite.mended" if recital.mistakes else "recite.right", name=self._name)
        return result


def _turns(heard: Heard) -> tuple[Turn, ...]:
    return tuple(parse(" ".join(heard.meaning.turns))) if heard.meaning and heard.meaning.turns else ()


def _corrects(heard: Heard) -> bool:
    """Whether it takes back what was said before."""
    return command_of(heard) == "correct" or heard.says("corrects")


def _answers(heard: Heard) -> bool:
    """Whether it says turns, or that the learner cannot go on or thinks that they are through."""
    command = command_of(heard)
    said = heard.meaning is not None and bool(heard.meaning.turns)
    stuck = command in ("hint", "unsure", "call-it", "whole-sequence", "no")
    return said or stuck or has(command, Trait.DONE | Trait.YES)
