"""Yes and no to a claim: a question is no yes, doubt is no no, and a yes with an exception is a no."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import takewhile
from typing import Final

from coach.language.en.commands import commands, contradicts_itself
from coach.language.en.normalise import HARD, SOFT

_PADDING: Final = frozenset({
    "and", "so", "but", "well", "okay", "yes", "wait", "sorry", "hang", "on", "oh", HARD, SOFT,
})  # fmt: skip
_ASKS: Final = tuple(f"{opening} " for opening in (
    "why", "what", "how", "which", "where", "when", "do i", "do we", "do you", "do the", "does", "did i", "did we",
    "should", "must i", "must it", "is it", "is that", "is this", "are they", "are those", "are these", "am i",
    "can i", "can you", "could you", "would it", "has it", "have i",
))  # fmt: skip
_NO_QUESTION: Final = ("why not ", "does not ", "did i not ")
_HOW_TO: Final = ("what do i", "what do we", "what should i", "what should we", "how do i", "how do we", "what now")
_GOES_ON: Final = (
    "what is next", "what next", "what now", "what comes", "what is coming", "what follows", "what then",
    "what is after", "what is the following", "what is the next",
)  # fmt: skip

_LONG: Final = 12  # who says so much has said more than that


def asks(words: Sequence[str]) -> str | None:
    """What a question asks for: "help" (what to do) or "explain"; None where nothing is asked."""
    said = f"{_opening(words)} "
    if said.startswith(_NO_QUESTION) or not said.startswith(_ASKS):
        return None
    return "help" if said.startswith(_HOW_TO) else "explain"


def goes_on(words: Sequence[str]) -> bool:
    """Whether an answer that has the words of "next" or "ready" means them: a question asks for something else."""
    return not asks(words) or _opening(words).startswith(_GOES_ON)


def _opening(words: Sequence[str]) -> str:
    padding = len(list(takewhile(_PADDING.__contains__, words)))
    return " ".join(words[padding:])


def weighed(words: Sequence[str], command: str | None) -> str | None:
    """The command to a claim, where `command` is what its plain words would be by themselves: yes, no or nothing."""
    plain = [word for word in words if word not in (HARD, SOFT)]
    found = commands().concepts(plain)
    question = asks(words)
    if question and (command or "term" in found) and not (words[0] == command == "yes" and goes_on(words)):
        return question
    if "no_wrong" in found:
        return "yes"
    if {"cannot_sense", "unsure"} & found.keys() and "not_seen" not in found:
        return "unsure" if command or len(plain) < _LONG else None
    if "exception" in found:
        return "no"
    if command and contradicts_itself(words):
        return "unsure"
    return command
