"""The kinds of questions in one table, with how each is answered."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from coach.language.meaning import Question


@dataclass(frozen=True)
class Manner:
    """How a question is answered."""

    open: bool = False
    """Whether people mostly answer it in their own words, by describing what they see."""
    seconds: float = 8.0
    """How long a learner has to find the answer before the question is repeated."""
    between: bool = False
    """Whether it only waits for the learner to be ready, with nothing to answer later."""
    busy: bool = False
    """Whether the learner's hands are busy meanwhile, so that silence counts as an answer."""


QUESTIONS: Final[Mapping[Question, Manner]] = {
    "look-top-edges": Manner(open=True),
    "look-top-corners": Manner(open=True),
    "claim": Manner(),
    "piece": Manner(open=True, seconds=20.0),
    "row": Manner(open=True, seconds=12.0),
    "face": Manner(open=True, seconds=20.0),
    "ready": Manner(between=True, busy=True),
    "continue": Manner(between=True),
    "other": Manner(),
    "turn": Manner(between=True, busy=True),
    "do": Manner(seconds=60.0),
    "recite": Manner(open=True, seconds=20.0),
    "hold": Manner(open=True, seconds=20.0),
    "hands": Manner(open=True, seconds=30.0),
}

STEP_SUBJECTS: Final = ("step", "return", "next-step")
"""Subjects of questions that are answered with a step, often by describing it."""

BETWEEN: Final = frozenset(asked for asked, manner in QUESTIONS.items() if manner.between)
BUSY: Final = frozenset(asked for asked, manner in QUESTIONS.items() if manner.busy)
"""For a reader that knows more moments than there are questions now."""


_AGREED_TO: Final = ("stop", "stopped", "heard")
_WHETHER_SO: Final = ("solved", "right", "begun", "done", "lower-layers", "hold-meant")


def asks_whether_so(asked: Question, about: str = "") -> bool:
    """Whether the question is whether something is so, which is not answered by an okay as a wish or an offer is."""
    return about not in _AGREED_TO if asked == "claim" else asked == "other" and about in _WHETHER_SO


def is_open(asked: Question, about: str = "") -> bool:
    """Whether people mostly answer the question in their own words; `about` as in `Scene`."""
    return QUESTIONS[asked].open or (asked == "other" and about in STEP_SUBJECTS)
