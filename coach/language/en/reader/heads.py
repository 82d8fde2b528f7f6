"""What the reader can tell about an answer: a probability for every class of each of these heads.

The trainer and the reader share this list. A head is one question about the whole answer with one class per reply; the
first class always means that nothing is said about it. Colours are named by their face: the row "yellow, green" has U
at 0 and F at 1. Tags are the same for each word.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from coach.method.model import STEP_IDS

TOP: Final = tuple(f"U{place}" for place in range(9) if place != 4)
SIDES: Final = tuple(f"{face}{place}" for face in "FRBL" for place in range(3))
CELLS: Final = (*TOP, *SIDES)
EDGES: Final = ("UF", "UR", "UB", "UL", "DF", "DR", "DB", "DL", "FR", "FL", "BR", "BL")
CORNERS: Final = ("UFR", "UFL", "UBR", "UBL", "DFR", "DFL", "DBR", "DBL")
FACES: Final = ("U", "D", "F", "B", "R", "L")
"""The order of these classes, like all orders here, belongs to the trained model, not to the cube."""
STEPS: Final = STEP_IDS
COMMANDS: Final = (
    "yes", "no", "unsure", "next", "ready", "done", "repeat", "restart-run", "back", "wait", "resume", "slower",
    "faster", "louder", "softer", "mistake", "lost", "correct", "where", "help", "explain", "stop", "done-top",
    "layers-broken", "read", "pain", "more-time", "on-my-word", "hint", "call-it", "alone", "whole-sequence", "quiz",
    "once-more", "how-am-i-doing",
)  # fmt: skip
MOST_PEOPLE: Final = 60
MOST_STICKERS: Final = 9
UNSAID: Final = ""
NOTHING: Final = "nothing"
"""The command of an answer that is not for the coach; an answer that only tells something has UNSAID."""
SHOWN, HIDDEN = "shown", "hidden"
UNSEEN: Final = "unseen"
"""A sticker whose colour the learner cannot tell."""
_CASES: Final = ("home", "home-right", "home-wrong", "all", "half", *(f"all-but-{few}" for few in range(1, 7)))


@dataclass(frozen=True)
class Head:
    """One question about an answer, with its classes; `start` is their offset in the row of all classes."""

    name: str
    classes: tuple[str, ...]
    start: int

    @property
    def span(self) -> slice:
        """The slice of its classes in the row of all classes."""
        return slice(self.start, self.start + len(self.classes))

    def at(self, value: str) -> int:
        """The index of a class in the row of all classes. ValueError for an unknown one."""
        return self.start + self.classes.index(value)


def _heads() -> tuple[Head, ...]:
    said: list[tuple[str, tuple[str, ...]]] = [(cell, (SHOWN, HIDDEN)) for cell in CELLS]
    said += [
        ("shape", ("dot", "corner", "line", "cross")),
        ("edges", tuple("01234")),
        ("corners", tuple("01234")),
        ("place", (*EDGES, *CORNERS)),
        ("layer", ("U", "M", "D")),
        *((f"shows-{face}", FACES) for face in FACES),
        ("command", (*COMMANDS, NOTHING)),
        ("step", STEPS),
        ("number", tuple(map(str, range(MOST_PEOPLE + 1)))),
        ("case", _CASES),
        *((f"at-{place}", (*FACES, UNSEEN)) for place in range(MOST_STICKERS)),
    ]
    heads: list[Head] = []
    start = 0
    for name, classes in said:
        heads.append(Head(name, (UNSAID, *classes), start))
        start += len(classes) + 1
    return tuple(heads)


HEADS: Final = _heads()
HEAD: Final = {head.name: head for head in HEADS}
CLASSES: Final = HEADS[-1].span.stop
"""The number of classes of all heads together."""

TURNS: Final = tuple(f"{face}{sign}" for face in "UDFBRL" for sign in ("", "'", "2"))
TAGS: Final = (UNSAID, *TURNS)
"""The tags of a word: which turn begins with it."""
