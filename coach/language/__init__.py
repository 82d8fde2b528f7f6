"""One folder per spoken language: text to meaning, the coach's sentences, and the words that can be said and heard.

`load("en")` returns a `Language`. The modules of this folder itself know no particular language and nothing of the
conversation; each language is reached only through the registry.
"""

from coach.language.language import Language
from coach.language.meaning import USUAL_COLOURS, Change, Command, Meaning, Question, Reading, Scene
from coach.language.questions import QUESTIONS
from coach.language.registry import load, register

__all__ = [
    "QUESTIONS", "USUAL_COLOURS", "Change", "Command", "Language", "Meaning", "Question", "Reading", "Scene", "load",
    "register",
]  # fmt: skip
