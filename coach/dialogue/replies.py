"""What an answer amounts to: yes or no, going on, waiting."""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic

from coach.dialogue.acts import Heard
from coach.dialogue.saying import T
from coach.language.commands import Trait, has
from coach.language.meaning import Command, Question


def command_of(heard: Heard) -> Command | None:
    """The command in what was heard, if any."""
    return heard.meaning.command if heard.meaning else None


def says_whether(heard: Heard) -> bool:
    """Whether the answer is a yes or a no."""
    return yes_or_no(heard) is not None


def goes_on(heard: Heard) -> bool:
    """Whether the learner says to go on."""
    return yes_or_no(heard) is True


def waits(heard: Heard) -> bool:
    """Whether the coach should wait."""
    return has(command_of(heard), Trait.WAITS)


def resumes(heard: Heard, asked: Question) -> bool:
    """Whether the learner ends a wait by saying to go on; a yes that may be the answer to `asked` does not count."""
    command = command_of(heard)
    return has(command, Trait.RESUMES) or (asked == "continue" and command == "yes")


def yes_or_no(heard: Heard) -> bool | None:
    """Whether the answer is a yes or a no; None if neither."""
    command = command_of(heard)
    return True if has(command, Trait.YES) else False if has(command, Trait.NO) else None


def answered(heard: Heard) -> tuple[bool, Heard] | None:
    """A yes or a no with all that is said along with it; None if it is neither."""
    answer = yes_or_no(heard)
    return None if answer is None else (answer, heard)


class Answer(Generic[T]):
    """What `take` makes of what is heard. Each answer is taken only once, and the result is remembered."""

    def __init__(self, take: Callable[[Heard], T | None]) -> None:
        self._take = take
        self._heard: Heard | None = None
        self.value: T | None = None

    def __call__(self, heard: Heard) -> bool:
        if heard is not self._heard:
            self._heard, self.value = heard, self._take(heard)
        return self.value is not None
