"""How sure what was heard must be, by what is at stake."""

import math
from dataclasses import dataclass

from coach.audio import pocketsphinx_engine
from coach.audio.recogniser import Alternative, Heard
from coach.language import Language
from coach.language.meaning import Question, Scene

# Commands that do little harm when heard by mistake: the first look alone may settle them where it is sure.
LIGHT = frozenset((
    "next", "ready", "repeat", "wait", "resume", "slower", "faster", "louder", "softer", "where", "help", "explain",
    "yes", "no", "unsure",
))  # fmt: skip
# How sure it must be, for each engine whose confidence was calibrated. Measured on 25 November 2026 on single
# words by 95 speakers in the moments claim, turn, ready and continue (66 to 75 phrases): 70 of 160 light
# answers came so surely, all of them with the right meaning; of other words 1.0% did, of talk that is not
# for the coach, background and noise none. At 0.8 two more came wrongly, and 1.4% of other words.
_AT_ONCE = {pocketsphinx_engine.NAME: 0.85}

# Commands that change the lesson, and how sure they must be after all looks. On the recordings told of in
# second_look.py, clean, 95.3% of the words said come so surely and rightly instead of 96.9%, and 1.8% of other
# words instead of 3.3%.
GRAVE = frozenset(("stop", "restart-run", "mistake", "lost", "back", "correct", "layers-broken", "done-top"))
_SURELY = 0.6


@dataclass(frozen=True)
class Stakes:
    """What an answer to a question may be acted on."""

    language: Language
    asked: Question
    scene: Scene | None = None

    def __call__(self, first: Heard) -> bool:
        """Whether what a first look heard may stand by itself: it is sure, and little is at stake."""
        return first.confidence >= _AT_ONCE.get(first.engine, math.inf) and self._command(first.text) in LIGHT

    def weighed(self, heard: Heard) -> Heard:
        """The same, or nothing useful where a command that changes the lesson was not heard surely."""
        if not heard.text or heard.confidence >= _SURELY or self._command(heard.text) not in GRAVE:
            return heard
        alternatives = (Alternative(heard.text, heard.confidence), *heard.alternatives)
        return Heard("", heard.confidence, heard.engine, alternatives)

    def _command(self, text: str) -> str | None:
        meant = self.language.understand(text, self.asked, self.scene) if text else None
        return meant.command if meant else None
