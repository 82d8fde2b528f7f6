"""One folder per spoken language: text to meaning, and the words that can be said and heard.

`load("en")` gives a `Language`; nothing here knows the conversation.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from coach.language.meaning import QUESTIONS, USUAL_COLOURS, Meaning, Question, Reading, Scene

if TYPE_CHECKING:
    from coach.language.en.understand import Understanding


@dataclass(frozen=True)
class Language:
    """A spoken language, by its code, with its reader of answers. One serves any number of lessons."""

    code: str
    understanding: Understanding

    def understand(self, text: str, asked: Question, scene: Scene | None = None) -> Meaning | None:
        """What `text` surely means as an answer to `asked`; None when nothing of it is of use. Never raises."""
        return self.read(text, asked, scene).meaning

    def read(self, text: str, asked: Question, scene: Scene | None = None) -> Reading:
        """What `text` may mean as an answer to `asked`, and how surely. Never raises."""
        return self.settle([(text, 1.0)], asked, scene)

    def settle(self, writings: Sequence[tuple[str, float]], asked: Question, scene: Scene | None = None) -> Reading:
        """The same for an answer that a recogniser wrote down in several ways, each with its share."""
        return self.understanding.settled(writings, asked, scene or Scene())

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


def load(code: str = "en") -> Language:
    """The language with that code, loaded anew: about 90 MB. Raises ValueError when there is none."""
    if code != "en":
        raise ValueError(f"There is no language {code!r} here. Use 'en'.")
    from coach.language.en.understand import Understanding

    language = Language(code, Understanding())
    for asked in ("look-top-edges", "look-top-corners"):
        language.understand("left", asked)  # loads all now, so that the first answer is not kept waiting
    return language


__all__ = ["QUESTIONS", "USUAL_COLOURS", "Language", "Meaning", "Question", "Reading", "Scene", "load"]
