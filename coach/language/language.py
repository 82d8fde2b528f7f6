"""What the coach needs from a spoken language: its sentences, what answers mean, what a recogniser should expect."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Sequence
from dataclasses import replace
from typing import Protocol

from coach.language.aside import Aside
from coach.language.meaning import Meaning, Question, Reading, Scene
from coach.language.phrases import Phrases


class Language(Protocol):
    """A spoken language. Nothing here ever raises, whatever the learner says."""

    @property
    @abstractmethod
    def code(self) -> str:
        """The language code, such as "en"; method files store their words under it."""

    # What the coach says

    @property
    @abstractmethod
    def sentences(self) -> Phrases:
        """The coach's own sentences, for a learner who looks at the cube."""

    # What the learner says

    @abstractmethod
    def settle(self, writings: Sequence[tuple[str, float]], asked: Question, scene: Scene | None = None) -> Reading:
        """What an answer to `asked` means, and how surely, given several writings, each with its share."""

    def read(self, text: str, asked: Question, scene: Scene | None = None) -> Reading:
        """The same for an answer with a single writing, including its aside."""
        return replace(self.settle([(text, 1.0)], asked, scene), aside=self.aside(text, asked, scene))

    def understand(self, text: str, asked: Question, scene: Scene | None = None) -> Meaning | None:
        """What `text` surely means as an answer to `asked`; None if nothing of it is of use."""
        return self.read(text, asked, scene).meaning

    def aside(self, text: str, asked: Question, scene: Scene | None = None) -> Aside:
        """What an answer to `asked` says besides its meaning."""
        return Aside()

    def prepare(self) -> None:
        """Load what answers need, so that the first one is not delayed."""

    # What a recogniser should expect

    @abstractmethod
    def phrases(self, asked: Question, scene: Scene | None = None) -> tuple[str, ...]:
        """Every phrase to limit a recogniser to in this moment, including commands."""

    @property
    def onward(self) -> tuple[str, ...]:
        """What can be said besides, by who has cut the coach off and wants the rest."""
        return ()

    @abstractmethod
    def before(self, asked: Question) -> str:
        """What might have been said before an answer to `asked`: it biases a recogniser towards its words."""

    def words(self, asked: Question) -> tuple[tuple[str, ...], ...]:
        """The words that answers to `asked` are made of, if they are few, in each manner of answering: a recogniser
        tries to do with them alone."""
        return ()

    @abstractmethod
    def respell(self, text: str, asked: Question) -> str:
        """A recogniser's transcript, with the lesson's words in place of those that sound like them; "" for one that
        cannot be what was said."""

    # What the learner can say

    @abstractmethod
    def offers(self, asked: Question, scene: Scene | None = None) -> tuple[str, ...]:
        """A few easily recognised answers to offer to a learner who does not know what to say."""

    @abstractmethod
    def clashes(self, words: Sequence[str]) -> list[tuple[str, str]]:
        """Those of the learner's words for colours or marks that sound alike or mean something to the coach."""
