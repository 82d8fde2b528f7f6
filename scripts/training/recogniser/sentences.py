"""What is said to learn from: what people say in lessons, and between it sentences that have nothing to do with one.

Of the speakers only those to learn from: calibration and unseen are for judging.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import cycle
from pathlib import Path
from random import Random

from benches.answers import lines, question_of

_ANSWERS = Path(__file__).resolve().parents[3] / "models/answers-en"
FOLDERS = (_ANSWERS / "lines", _ANSWERS / "earlier")
EVERY = 8  # one of so many is general: without them the recogniser unlearns the rest of the language
_LONGEST = 190  # letters of a sentence of a lesson
_GENERAL = re.compile(r"[A-Za-z ,.'!?;-]{16,109}")  # no numbers, names of files, verse


@dataclass(frozen=True)
class Sentence:
    """Something said, and the question that it answers in a lesson."""

    text: str
    asked: str
    general: bool = False


def of_lessons(files: Iterable[Path]) -> list[Sentence]:
    """What people said in these files of lines, each once for a question."""
    found: dict[tuple[str, str], Sentence] = {}
    for line in lines(files):
        text = " ".join(line.get("said", "").split())
        if 0 < len(text) <= _LONGEST:
            asked = question_of(line)
            found.setdefault((text.lower(), asked), Sentence(text, asked))
    return list(found.values())


def general(files: Iterable[Path]) -> list[Sentence]:
    """Plain sentences of texts; of sayings with a line of "%" between them, what comes before the name ("--")."""
    found: dict[str, Sentence] = {}
    for file in files:
        for saying in file.read_text("utf-8", errors="ignore").split("\n%\n"):
            words = " ".join(saying.split("--")[0].split())
            for text in re.split(r"(?<=[.!?]) ", words):
                if _GENERAL.fullmatch(text):
                    found.setdefault(text, Sentence(text, "other", general=True))
    return list(found.values())


def in_turn(lessons: Sequence[Sentence], others: Sequence[Sentence], random: Random) -> Iterator[Sentence]:
    """Sentences without end in random order, each kind from its beginning again when all were said; where there are
    general ones, one of EVERY."""
    of_lesson, beside = (cycle(random.sample(each, len(each))) for each in (lessons, others))
    at = 0
    while lessons:
        at += 1
        yield next(beside) if others and at % EVERY == 0 else next(of_lesson)
