"""English, behind the coach's `Language` interface."""

from __future__ import annotations

from collections.abc import Sequence

from coach.language.aside import Aside
from coach.language.en import marks, transcripts, vocabulary
from coach.language.en.asides import asides
from coach.language.en.sentences import sentences
from coach.language.en.understand import Understanding
from coach.language.language import Language
from coach.language.meaning import Question, Reading, Scene
from coach.language.phrases import Phrases


class English(Language):
    """Everyday English; the learned reader works out what answers mean."""

    code = "en"

    def __init__(self) -> None:
        self.understanding = Understanding()

    @property
    def sentences(self) -> Phrases:
        return sentences()

    def settle(self, writings: Sequence[tuple[str, float]], asked: Question, scene: Scene | None = None) -> Reading:
        return self.understanding.settled(writings, asked, scene or Scene())

    def aside(self, text: str, asked: Question, scene: Scene | None = None) -> Aside:
        return asides().read(text, asked, scene or Scene())

    def phrases(self, asked: Question, scene: Scene | None = None) -> tuple[str, ...]:
        return vocabulary.phrases(asked, scene or Scene())

    @property
    def onward(self) -> tuple[str, ...]:
        return tuple(asides().ways("onward"))

    def before(self, asked: Question) -> str:
        return transcripts.before(asked)

    def words(self, asked: Question) -> tuple[tuple[str, ...], ...]:
        return transcripts.words(asked)

    def respell(self, text: str, asked: Question) -> str:
        return transcripts.respell(text, asked)

    def offers(self, asked: Question, scene: Scene | None = None) -> tuple[str, ...]:
        return vocabulary.offers(asked, scene or Scene())

    def clashes(self, words: Sequence[str]) -> list[tuple[str, str]]:
        return marks.clashes(words)

    def prepare(self) -> None:
        for asked in ("look-top-edges", "look-top-corners"):
            self.understand("left", asked)


def load() -> Language:
    """English with its own reader, which takes about 90 MB once an answer has been read."""
    return English()
