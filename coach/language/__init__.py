"""One folder per spoken language: text to meaning, and the words that can be said and heard.

`load("en")` gives a `Language`; nothing here knows the conversation.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from coach.language.meaning import QUESTIONS, USUAL_COLOURS, Meaning, Question, Scene


@dataclass(frozen=True)
class Language:
    """A spoken language, by its code."""

    code: str

    def understand(self, text: str, asked: Question, scene: Scene | None = None) -> Meaning | None:
        """What `text` means as an answer to `asked`; None when nothing of it is of use. Never raises."""
        from coach.language.en.understand import understand

        return understand(text, asked, scene or Scene())

    def doubtful(self, text: str, asked: Question, scene: Scene | None = None) -> bool:
        """Whether a description, as it was heard, says what cannot be so together, or is of something else."""
        from coach.language.en.understand import doubtful

        return doubtful(text, asked, scene or Scene())

    def before(self, asked: Question) -> str:
        """What could have been said before an answer to `asked`: a recogniser that is told leans to its words."""
        from coach.language.en.transcripts import before

        return before(asked)

    def respell(self, text: str, asked: Question) -> str:
        """What a recogniser wrote down, with the lesson's words in place of those that sound like them."""
        from coach.language.en.transcripts import respell

        return respell(text, asked)

    def phrases(self, asked: Question, scene: Scene | None = None) -> tuple[str, ...]:
        """Every phrase a recogniser should be limited to in that moment, commands included."""
        from coach.language.en.vocabulary import phrases

        return phrases(asked, scene or Scene())

    def offers(self, asked: Question, scene: Scene | None = None) -> tuple[str, ...]:
        """The few easily heard answers to offer to a learner who does not know what to say."""
        from coach.language.en.vocabulary import offers

        return offers(asked, scene or Scene())

    def clashes(self, words: Sequence[str]) -> list[tuple[str, str]]:
        """Of the learner's words for colours or marks, those that sound alike or mean something to the coach."""
        from coach.language.en.marks import clashes

        return clashes(words)


@lru_cache(maxsize=4)
def load(code: str = "en") -> Language:
    """The language with that code. Raises ValueError when there is none."""
    if code != "en":
        raise ValueError(f"There is no language {code!r} here. Use 'en'.")
    language = Language(code)
    for asked in QUESTIONS:
        language.understand("left", asked)  # reads the files now, so that the first answer is not kept waiting
    return language


__all__ = ["QUESTIONS", "USUAL_COLOURS", "Language", "Meaning", "Question", "Scene", "load"]
