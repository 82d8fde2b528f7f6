"""What a method teaches, in the words of a language and of a learner."""

from __future__ import annotations

from collections.abc import Mapping

from coach.language.phrases import Phrases
from coach.method import Method, PlacingCase, cases_of
from coach.method.sequences import Spoken

Taught = tuple[tuple[str, str], ...]
"""Ids with their words: sequences by their ids with their names, cases by those of step and case with what they are."""


def taught(method: Method, phrases: Phrases, gaps: Mapping[str, str]) -> Taught:
    """All sequences and cases of a method; `gaps` has the learner's words."""
    sequences = ((each.id, words(each, "name", phrases, gaps)) for each in method.sequences)
    cases = (
        (f"{step.id}/{case.id}", words(case, "name", phrases, gaps)) for step in method.steps for case in cases_of(step)
    )
    return (*sequences, *cases)


def words(spoken: Spoken, what: str, phrases: Phrases, gaps: Mapping[str, str]) -> str:
    """The method's text with the learner's words in its gaps, about no piece in particular."""
    kind = "corner" if isinstance(spoken, PlacingCase) and len(spoken.at) == len("DFR") else "edge"
    return spoken.say(phrases.code, what).format(**gaps, piece=phrases.part(f"by-heart.{kind}"))
