"""What an answer comes to: yes or no, going on, waiting."""

from __future__ import annotations

from coach.dialogue.acts import Heard
from coach.language.meaning import Question


def command_of(heard: Heard) -> str | None:
    """The command in it, if any."""
    return heard.meaning.command if heard.meaning else None


def says_whether(heard: Heard) -> bool:
    """Whether it is a yes or a no."""
    return yes_or_no(heard) is not None


def goes_on(heard: Heard) -> bool:
    """Whether the learner says to go on."""
    return yes_or_no(heard) is True


def waits(heard: Heard) -> bool:
    """Whether the coach is to wait."""
    return heard.meaning is not None and heard.meaning.command in ("wait", "more-time", "pain")


def resumes(heard: Heard, asked: Question) -> bool:
    """Whether who was waited for says to go on; what may be the answer to `asked` is none."""
    command = heard.meaning.command if heard.meaning else None
    return command in ("resume", "ready", "next") or (asked == "continue" and command == "yes")


def yes_or_no(heard: Heard) -> bool | None:
    """Whether the answer is a yes or a no; None if neither."""
    command = heard.meaning.command if heard.meaning else None
    if command in ("yes", "ready", "next", "resume", "done-top"):
        return True
    return False if command == "no" else None
