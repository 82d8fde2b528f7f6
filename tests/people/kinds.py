"""People who do not behave like a faultless one, each in one way."""

from __future__ import annotations

import json
import os
import re
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

from tests.people.cube import Cube
from tests.people.person import Faultless, Line, Person

_EDGES = {"back": "U1", "left": "U3", "right": "U5", "front": "U7"}
_SIDES = {"back": "B", "left": "L", "right": "R", "front": "F"}
_CORNERS = {frozenset(("front", "left")): "U6", frozenset(("front", "right")): "U8",
            frozenset(("back", "left")): "U0", frozenset(("back", "right")): "U2"}  # fmt: skip


class Naming(Person):
    """Tells the six words when asked for them; once it takes something back instead."""

    names_when_asked = True

    def __init__(self, cube: Cube, names: Mapping[str, str], random: Random, step: str = "") -> None:
        super().__init__(cube, names, random, step)
        self._takes_back = random.choice((1, 2, 3, 9))

    def reply(self) -> str:
        if self.asked and self.asked.get("about") == "colour":
            self._takes_back -= 1
            if not self._takes_back:
                self.answered = True
                return self.random.choice(("that's wrong", "No, wait, that's wrong.", "sorry, wrong"))
        return super().reply()


class Newcomer(Person):
    """Says in own words what is done, not what the step is called; by its name only when asked once more."""

    HOW_FAR: Mapping[str, Sequence[str]] = {
        "bottom-cross": ("It's all scrambled.", "I haven't done anything yet.", "Nothing is done.", "the first step"),
        "bottom-corners": ("The {down} cross is there.", "The cross on the bottom is done.", "the second step"),
        "middle-edges": ("One layer is done.", "The whole bottom layer is finished.", "the third step"),
        "top-cross": ("Two layers are done.", "The first two layers are finished.", "the fourth step",
                      "The bottom and the middle are done, only the top is left."),
        "top-face": ("The {up} cross on top is done.", "Two layers and the cross on top.", "the fifth step"),
        "top-corners": ("The top is {up} but its sides aren't right.", "The whole top is {up}.", "the sixth step"),
        "top-edges": ("All the corners are right, only the edges on top are left.", "the last step"),
    }  # fmt: skip

    def __init__(self, cube: Cube, names: Mapping[str, str], random: Random, step: str = "") -> None:
        super().__init__(cube, names, random, step)
        self.told = 0
        """How often the person had to say where they are."""

    def where_i_am(self) -> str:
        self.told += 1
        if self.told > 2:
            return super().where_i_am()
        said = self.random.choice(self.HOW_FAR[self.step])
        return said.format(up=self.words[self.cube["U4"]], down=self.words[self.cube["D4"]])


class Literal(Person):
    """Obeys every sentence that tells how to hold the cube, by what is seen, and every turn of the cube as well."""

    def listen_to(self, line: Line) -> None:
        if line["act"] == "rotate":  # a sentence that comes with the turn is obeyed, too
            self._obey_holds(line["text"])
        super().listen_to(line)

    def obey_text(self, text: str) -> None:
        super().obey_text(text)
        self._obey_holds(text)

    def _obey_holds(self, text: str) -> None:
        for sentence in re.split(r"[.!]", text):
            match = re.search(r"\b(?:hold|turn) (?:it|(?:the|your) (?:whole )?cube) so that (.*)", sentence, re.I)
            if match and "comes to" not in match[1]:
                self._bring_about(match[1].lower())

    def _bring_about(self, told: str) -> None:
        places = re.findall(r"\b(back|left|right|front)\b", told)
        if re.search("edges|line", told) and len(places) == 2:
            self._turn_top(shown={_EDGES[place] for place in places}, of=set(_EDGES.values()))
        elif match := re.search(r"(front|back) (left|right) corner (?:has|shows) \w+ on its (\w+)", told):
            self._corner(match)
        elif "corner" in told and len(places) == 2:
            self._turn_top(shown={_CORNERS[frozenset(places)]}, of=set(_CORNERS.values()))
        elif "side" in told and len(places) == 1:
            self._side(_SIDES[places[0]], whole="finished" in told or "done" in told)

    def _turn_top(self, shown: set[str], of: set[str]) -> None:
        up = self.cube["U4"]
        self.turn_until(lambda cube: cube["U4"] == up and {spot for spot in of if cube[spot] == up} == shown)

    def _corner(self, match: re.Match[str]) -> None:
        up, face = self.cube["U4"], _SIDES[match[3]]
        begins = {"F": "front left", "R": "front right", "B": "back right", "L": "back left"}
        place = 0 if begins[face] == f"{match[1]} {match[2]}" else 2
        self.turn_until(lambda cube: cube["U4"] == up and cube[f"{face}{place}"] == up)

    def _side(self, face: str, whole: bool) -> None:
        up = self.cube["U4"]

        def seen(cube: Cube) -> bool:
            row = cube.row(face, 1)
            return cube["U4"] == up and row[0] == row[2] and (not whole or row[1] == row[0])

        self.turn_until(seen)

    def reply(self) -> str:
        if not self.asked and self.last.get("act") != "turn":
            return "ready"
        return super().reply()


class Forgetful(Person):
    """Asks what was said before doing it, and picks the cube up in another hold now and then."""

    blameless = False
    _ASKS = ("what was that?", "Can you repeat that, please?", "which turn was that", "say that again", "Sorry, what?")

    def __init__(self, cube: Cube, names: Mapping[str, str], random: Random, step: str = "") -> None:
        super().__init__(cube, names, random, step)
        self._left_to_do = ""
        self._laid_down = 0
        self._calls = 0
        self._lays_down = random.randrange(5, 25)

    def listen_to(self, line: Line) -> None:
        if self._left_to_do:  # said again, or not: it is remembered now
            turn, self._left_to_do = self._left_to_do, ""
            self.cube.do(turn)
        super().listen_to(line)

    def do(self, turn: str) -> None:
        if self.random.random() < 0.1:
            self._left_to_do = turn
        else:
            super().do(turn)

    def reply(self) -> str:
        if self._left_to_do:
            return self.random.choice(self._ASKS)
        if self._laid_down:
            self._laid_down -= 1
            if self._laid_down:
                return ""
            self.cube.do(self.random.choice(("y", "y'", "y2", "", "x")))
            return "go on"
        self._calls += self.last.get("act") == "turn"
        if self._calls == self._lays_down and not self.asked:
            self._calls += 1
            self._laid_down = 2
            return "wait a moment"
        if self.asked and self.random.random() < 0.05:
            return "what did you say?"
        return super().reply()


class Doubtful(Person):
    """Doubts or asks before a claim is answered; truly when it is asked again."""

    DOUBTS = ("I'm not sure if it's right.", "why do we do this first?", "what do we do next?", "I can't see",
              "I don't know if that's right", "what does that mean?", "hm, is that how it should be?")  # fmt: skip
    ALMOST = ("almost, one is missing", "nearly, all but one")

    def __init__(self, cube: Cube, names: Mapping[str, str], random: Random, step: str = "") -> None:
        super().__init__(cube, names, random, step)
        self._doubted = False

    def reply(self) -> str:
        if self.asked and self.asked["asks"] == "claim" and not self._doubted and self.random.random() < 0.6:
            self._doubted = True
            self.answered = True
            if self.wrong(self.asked["claim"]) == 1:
                return self.random.choice(self.ALMOST)
            return self.random.choice(self.DOUBTS)
        self._doubted = False
        return super().reply()


class InPain(Person):
    """The hand hurts in a pause; after a while it goes on, or that is all for today."""

    PAIN = ("my hand hurts", "Ow, my hand hurts.", "my hands are aching", "my wrist is sore")

    def __init__(self, cube: Cube, names: Mapping[str, str], random: Random, step: str = "") -> None:
        super().__init__(cube, names, random, step)
        self._hurts_at = {random.randrange(2, 40), random.randrange(2, 40)}
        self.stops = random.random() < 0.3
        self._resting = self._calls = 0
        self.turned_in_pain = 0

    def listen_to(self, line: Line) -> None:
        self.turned_in_pain += bool(self._resting) and line["act"] == "turn"
        super().listen_to(line)

    def reply(self) -> str:
        if self._resting:
            self._resting -= 1
            if self._resting:
                return ""
            return "stop" if self.stops and len(self._hurts_at) == 1 else "carry on"
        if self.last.get("act") == "turn":
            self._calls += 1
            if self._calls in self._hurts_at:
                self._hurts_at.discard(self._calls)
                self._resting = 3
                return self.random.choice(self.PAIN)
        return super().reply()


class Stopping(Person):
    """Says stop in the middle of a run, does what is still called, and comes back another day."""

    def __init__(self, cube: Cube, names: Mapping[str, str], random: Random, step: str = "") -> None:
        super().__init__(cube, names, random, step)
        self.stops_at, self._calls = random.randrange(1, 70), 0
        self.stopped = False

    def reply(self) -> str:
        if not self.asked and self.last.get("act") == "turn" and not self.stopped:
            self._calls += 1
            if self._calls >= self.stops_at and self.last["n"] < self.last["of"]:
                self.stopped = True
                return "stop"
        return super().reply()

    def next_day(self, step: str) -> Faultless:
        """The same person with the same cube in whatever hold, who knows what the coach said last."""
        self.cube.do(self.random.choice(("", "y", "x2", "z'", "x y2")))
        return Faultless(self.cube, self.words, self.random, step)


class Confusing(Person):
    """Cannot tell two of the colours apart: says either for either, and sees no difference but beside a middle."""

    def __init__(self, cube: Cube, names: Mapping[str, str], random: Random, step: str = "") -> None:
        super().__init__(cube, names, random, step)
        self.alike = (self.words["R"], self.words["L"])

    def truth(self, asked: Line) -> str:
        said = super().truth(asked)
        if asked["asks"] in ("row", "face"):
            either = re.compile("|".join(map(re.escape, self.alike)))
            return either.sub(lambda _: self.random.choice(self.alike), said)
        return said

    def wrong(self, claim: Sequence[Sequence[Any]]) -> int:
        if self.asked and "the same as the middle" in self.asked["text"]:
            return super().wrong(claim)
        seen = [(self.words[self.cube[f"{face}{place}"]], colour) for face, place, colour in claim]
        return sum(word != colour and not {word, colour} <= set(self.alike) for word, colour in seen)


class Reader(Person):
    """Reads the cube to the coach, and makes no mistake."""

    may_read = True

    def where_i_am(self) -> str:
        return "I'll read you the cube."


class Waiting(Person):
    """Takes long for an answer, or says things of no use first; then the answer itself, never a yes to go on."""

    USELESS = ("hm", "let me see", "um", "where did I put my glasses", "uh", "so", "la la la")

    def __init__(self, cube: Cube, names: Mapping[str, str], random: Random, step: str = "") -> None:
        super().__init__(cube, names, random, step)
        self._before: Line | None = None
        self._to_come: list[str] = []

    def reply(self) -> str:
        if self.asked and self.asked["asks"] not in ("ready", "continue"):
            if self._is_new(self.asked) and self.random.random() < 0.4:
                silent = self.random.random() < 0.5
                self._to_come = ["" if silent else self.random.choice(self.USELESS) for _ in range(3)]
            self._before = self.asked
            if self._to_come:
                return self._to_come.pop()
        return super().reply()

    def _is_new(self, asked: Line) -> bool:
        """Whether it is not the question before in other words."""
        kinds = ("asks", "piece", "claim", "face", "row", "about")
        before = self._before
        return before is None or any(before.get(kind) != asked.get(kind) for kind in kinds)


class Anything(Person):
    """Obeys, but says whatever comes: lines of other people, noise, other languages, very long lines."""

    blameless = False

    def __init__(self, cube: Cube, names: Mapping[str, str], random: Random, step: str = "") -> None:
        super().__init__(cube, names, random, step)
        self._sense = random.choice((0.1, 0.5, 0.8))

    def reply(self) -> str:
        if self.random.random() < self._sense:
            return super().reply()
        return self.random.choice(lines())


_NOISE = (
    "", "", "\x00\x07\x1b[2J", "ÿþ\u202e\u200b", "yes " * 3000, "front left " * 2000, "a" * 20_000, "¿dónde está?",
    "左上是黄色", "нет, не так", "ja genau", "{up} {0} %s", "😀😀", "-1", "U R U' R'", '{"command": "yes"}', "?", "...",
    "yes no yes no", "stop it, dog", "white white white", "the cube", "all of them, none of them, one of them",
)  # fmt: skip


@cache
def lines() -> Sequence[str]:
    """What people say, as far as it is here, and noise."""
    said = []
    for folder in examples():
        for path in sorted(folder.glob("*.jsonl")):
            said += [json.loads(line)["said"] for line in path.read_text("utf-8").splitlines() if line]
    said = [text for text in said if "stop" not in text]
    return (*said, *_NOISE * max(1, len(said) // 60))


def examples() -> Sequence[Path]:
    """Where lines of people stand, if they are here."""
    shared = os.environ.get("TURNCALLER_SHARED")
    folders = [Path(shared)] if shared else [parent / "shared" for parent in Path(__file__).resolve().parents]
    return [folder / "examples" for folder in folders if (folder / "examples").is_dir()][:1]


KINDS: Mapping[str, type[Person]] = {
    "marks": Faultless, "colours": Faultless, "naming": Naming, "newcomer": Newcomer, "literal": Literal,
    "forgetful": Forgetful,
    "doubtful": Doubtful, "pain": InPain, "stopping": Stopping, "reader": Reader, "waiting": Waiting,
    "confusing": Confusing, "anything": Anything,
}  # fmt: skip
