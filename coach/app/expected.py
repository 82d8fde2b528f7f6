"""What the recognisers may know of a moment of the lesson: the language, the question and the scene combined."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from coach.dialogue import Listen
from coach.language import Language, Question, Reading, Scene
from coach.language.questions import is_open
from coach.speech.turns.listening import Expectation


@dataclass(frozen=True)
class Expected:
    """An answer to a question; implements `hearing.ExpectedAnswer` with `Meaning` as the type of its meanings."""

    language: Language
    asked: Question
    scene: Scene = field(default_factory=Scene)

    @property
    def open(self) -> bool:
        """Whether people mostly answer in their own words."""
        return is_open(self.asked, self.scene.about)

    @property
    def before(self) -> str:
        """What might have been said before the answer."""
        return self.language.before(self.asked)

    @property
    def words(self) -> tuple[tuple[str, ...], ...]:
        """The words that answers are made of, if they are few, in each manner of answering."""
        return self.language.words(self.asked)

    @property
    def repeats(self) -> bool:
        """Whether the same may be said twice over: of turns from memory, two in a row may be alike."""
        return self.asked == "recite"

    def same(self, one: str, other: str) -> bool:
        """Whether two phrases are the same answer."""
        meanings = [self.language.understand(text, self.asked, self.scene) for text in (one, other)]
        return meanings[0] is not None and meanings[0] == meanings[1]

    def respell(self, text: str) -> str:
        """A transcript in the lesson's spelling."""
        return self.language.respell(text, self.asked)

    def settle(self, writings: Sequence[tuple[str, float]]) -> Reading:
        """What the writings mean together."""
        return self.language.settle(writings, self.asked, self.scene)


def expectation(language: Language, listen: Listen, seconds: float, also: Sequence[str] = ()) -> Expectation:
    """What to listen for at this moment, and for how long; `also`: other phrases that may be said."""
    answer = Expected(language, listen.asked, listen.scene)
    phrases = (*language.phrases(listen.asked, listen.scene), *also)
    return Expectation(phrases, seconds, answer, answer.same, listen.asked)
