"""A person with a cube: hears the coach's lines as they stand in the session log, and answers with a line of text."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from random import Random
from typing import Any

from tests.people import words
from tests.people.cube import HOLDS, Cube

Line = Mapping[str, Any]

YES = ("yes", "Yes.", "yes it is", "yeah", "Yes, that's right.")
NO = ("no", "No, it isn't.", "nope")
READY = ("ready", "I'm ready.", "okay, ready")
STILL_ASKED = re.compile(
    r"again|did not get|didn't (get|catch)|say yes|take (all )?(the|your) time|i('m| am)? wait|no hurry|still there|"
    r"you can say|at any time", re.I,
)  # fmt: skip
"""After words like these what was asked before is still asked."""
_WHICH_COLOUR = re.compile(r"\b(which|what) (colour|mark|word)|what do you call", re.I)
_FACE_NAMED = {
    "U": r"\btop\b", "D": r"\bbottom\b|\bunderneath\b", "B": r"\bback\b", "R": r"\bright\b", "L": r"\bleft\b",
    "F": r"\bfront\b|fac(es|ing) you|towards you",
}  # fmt: skip
_TOP_AND_FRONT = re.compile(r"(?P<top>on top|up)\b|(?P<front>in front|facing you|towards you|at the front)", re.I)


class Person:
    """Does what is called and answers truly, as soon as asked. Other people are made of this one."""

    blameless = True
    """Whether nothing that this person does may be taken for a mistake."""
    may_read = False
    """Whether this person offers to read the cube."""
    names_when_asked = False
    """Whether the words for the faces are told when the coach asks for them, not on the command line."""

    def __init__(self, cube: Cube, names: Mapping[str, str], random: Random, step: str = "") -> None:
        self.cube, self.words, self.random = cube, dict(names), random
        self.step = step
        """The step that the person thinks to be at."""
        self.asked: Line | None = None
        self._question: Line = {}
        """What was asked last, also where other things have been said since."""
        self.last: Line = {}
        self.said = ""
        self.answered = False
        self.over = False

    @property
    def solved(self) -> bool:
        """Whether the cube is."""
        return self.cube.solved

    # What the coach says

    def hear(self, line: Line) -> None:
        """Take in a line of the log."""
        if line["event"] == "say":
            self.listen_to(line)
            self.last = line
        elif line["event"] == "end":
            self.over = True

    def listen_to(self, line: Line) -> None:
        """The coach says something: obey, or keep the question in mind."""
        act = line["act"]
        if act == "turn":
            self.asked, self._question = None, {}
            self.do(line["turn"])
        elif act == "rotate":
            self.asked = None if self.answered else self.asked
            self.do(line["rotation"])
        elif act == "ask":
            self.asked, self.answered, self._question = line, False, line
        elif act == "tell" and self._question and self._question["text"] in line["text"]:
            self.asked, self.answered = self._question, False  # said once more
        elif act == "tell" and self.answered and not STILL_ASKED.search(line["text"]):
            self.asked = None
        if act != "rotate":  # there the act says it all
            self.obey_text(line["text"])

    def do(self, turn: str) -> None:
        """Turn a layer, or the whole cube."""
        self.cube.do(turn)

    def obey_text(self, text: str) -> None:
        """Hold the cube with this on top and that in front, where a sentence says so."""
        for sentence in re.split(r"[.?!]", text):
            if re.search(r"\bhold\b", sentence, re.I) and (held := self._top_and_front(sentence)):
                self._hold(*held)

    def _top_and_front(self, sentence: str) -> tuple[str, str] | None:
        named = [w for w in re.findall(r"[a-z]+", sentence.lower()) if w in self.words.values()]
        places = [match.lastgroup for match in _TOP_AND_FRONT.finditer(sentence)]
        if len(named) != 2 or set(places) != {"top", "front"}:
            return None
        return (named[0], named[1]) if places[0] == "top" else (named[1], named[0])

    def _hold(self, up: str, front: str) -> None:
        self.turn_until(lambda cube: (self.words[cube["U4"]], self.words[cube["F4"]]) == (up, front))

    def turn_until(self, seen: Any) -> bool:
        """Turn the whole cube until it looks so; False, and the cube as it was, where it never does."""
        for hold in HOLDS:
            held = self.cube.copy().do(hold)
            if seen(held):
                self.cube.stickers = held.stickers
                return True
        return False

    # What the person says

    def answer(self) -> str:
        """What is said now that the coach listens; "" is silence."""
        self.said = self.reply()
        return self.said

    def reply(self) -> str:
        """The answer to what is asked; where nothing is, mostly none."""
        if self.asked:
            self.answered = True
            return self.truth(self.asked)
        if self.last.get("act") == "turn":
            return self.random.choice(("", "", "", "next", "okay"))
        return self.random.choice(("", "", "ready"))

    def truth(self, asked: Line) -> str:
        """The answer to a question, from the cube in the hands."""
        asks, pick = asked["asks"], self.random.choice
        if asks in ("look-top-edges", "look-top-corners"):
            return self._look(words.edges if asks == "look-top-edges" else words.corners, asks)
        if asks in ("row", "face"):
            seen = self.cube.face(asked["face"]) if asks == "face" else self.cube.row(asked["face"], asked["row"])
            return words.stickers([self.words[letter] for letter in seen], self.random)
        if asks == "piece":
            return self._piece(asked["piece"])
        if asks == "claim" or asked.get("claim"):
            return pick(NO if self.wrong(asked.get("claim", ())) else YES)
        if asks == "ready":
            return pick(READY)
        if asks == "do":  # none of them knows a sequence by heart
            return pick(("call it for me", "Please call it for me."))
        if asks == "other":
            return self._other(asked, asked.get("about", ""))
        return pick(("yes", "Yes please.")) if asks == "continue" else "yes"

    def wrong(self, claim: Sequence[Sequence[Any]]) -> int:
        """How many stickers are not as it is claimed."""
        return sum(self.words[self.cube[f"{face}{place}"]] != colour for face, place, colour in claim)

    def _look(self, worded: Any, asks: str) -> str:
        spots = words.EDGES if asks == "look-top-edges" else words.CORNERS
        shown = [spot for spot in spots if self.cube[spot] == self.cube["U4"]]
        return str(worded(shown, self.words[self.cube["U4"]], self.random))

    def _piece(self, colours: Sequence[str]) -> str:
        letters = {name: letter for letter, name in self.words.items()}
        lies = self.cube.piece(letters.get(colour, "") for colour in colours)
        if not lies:
            return "I can't find that one."
        return words.piece(lies, letters[colours[0]], colours[0], self.random)

    def _other(self, asked: Line, about: str) -> str:
        if about == "step":
            return self.where_i_am()
        if about == "begun":
            return self.random.choice(NO)
        if about == "lower-layers":
            return self.random.choice(YES if self.cube.lower_layers_whole() else NO)
        if about == "colour" or _WHICH_COLOUR.search(asked["text"]):
            face = asked.get("face") or self._face_named(asked["text"])
            return self.random.choice(("{}", "It's {}.")).format(self.words[self.cube[f"{face}4"]])
        if about == "pairs":
            return "yes" if self._pairs(asked["text"]) else "no"
        if about == "return" or "last time" in asked["text"].lower():
            return "yes" if self.step.replace("-", " ") in asked["text"].lower() else "no"
        if about == "heard":
            return "yes" if _bare(self.said) and _bare(self.said) in _bare(asked["text"]) else "no"
        return "yes"

    def _face_named(self, text: str) -> str:
        return next((face for face, named in _FACE_NAMED.items() if re.search(named, text, re.I)), "F")

    def _pairs(self, text: str) -> bool:
        """Whether the colours that are said to be opposite are so."""
        opposite = {frozenset((self.words[a], self.words[b])) for a, b in ("FB", "RL", "UD")}
        said = re.findall(r"(\w+) (?:is )?opposite (?:to )?(\w+)", text) or re.findall(r"(\w+) and (\w+)", text)
        return all(frozenset(pair) in opposite for pair in said)

    def where_i_am(self) -> str:
        """The answer to the first question."""
        name = self.step.replace("-", " ")
        return self.random.choice(("{}", "The {}.", "I'm at the {}.")).format(name)


class Faultless(Person):
    """Makes no mistake, whatever the faces are called."""


def _bare(text: str) -> str:
    return " ".join(re.findall(r"[a-z']+", text.lower()))
