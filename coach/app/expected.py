"""What the ears may know of a moment of the lesson: the language, the question and the scene in one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from coach.language import Language, Question, Reading, Scene
from coach.language.questions import is_open


@dataclass(frozen=True)
class Expected:
    """An answer to a question, as `hearing.ExpectedAnswer` of speech asks for it; its meanings are a `Meaning`."""

    language: Language
    asked: Question
    scene: Scene = field(default_factory=Scene)

    @property
    def open(self) -> bool:
        """Whether people mostly answer it in their own words."""
        return is_open(self.asked, self.scene.about)

    @property
    def before(self) -> str:
        """What could have been said before the answer."""
        return self.language.before(self.asked)

    def respell(self, text: str) -> str:
        """A transcript in the lesson's spelling."""
        return self.language.respell(text, self.asked)

    def settle(self, writings: Sequence[tuple[str, float]]) -> Reading:
        """What its writings mean together."""
        return self.language.settle(writings, self.asked, self.scene)
