"""What a learner says in a test, with all that its words tell beside their meaning."""

from __future__ import annotations

from coach.dialogue import Heard, Listen
from coach.language import Meaning, Scene, load

_LANGUAGE = load("en")


def utter(
    text: str,
    meaning: Meaning | None = None,
    confidence: float | None = None,
    guesses: tuple[Heard, ...] = (),
    at: Listen | None = None,
) -> Heard:
    """`text`, taken to mean `meaning`; said `at` that moment, or in the pause after a call."""
    asked, scene = (at.asked, at.scene) if at else ("turn", Scene())
    return Heard(text, meaning, confidence, guesses).with_asides(lambda said: _LANGUAGE.aside(said, asked, scene))
