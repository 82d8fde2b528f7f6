"""A class of another make: pupils with cubes of their own, and a teacher who answers for them. They know what stands in
the session log, to the letter, and nothing else of the coach."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from random import Random
from typing import Any

from tests.people.cube import Cube
from tests.people.heart import SIDEWAYS
from tests.people.person import STILL_ASKED, Line
from tests.people.tries import instead

_SLIPS = ("left-out", "other-way", "doubled", "other-face")
_OFF = re.compile(r"if your hand isn't up\b.*\bcoach of your own", re.I)
_OFF_HALFWAY = re.compile(r"if your bottom isn't all (\w+) and your hand isn't up\b.*\bcoach of your own", re.I)
_LOST = re.compile(r"if you've lost your place, rest\b", re.I)
_BACK = re.compile(r"if you know which turn went wrong, turn it back\b", re.I)
_KNOWS = 0.5
"""The share of those who notice that they turned wrongly who know what they did."""
_EDGES, _CORNERS = ("U1", "U5", "U7", "U3"), ("U0", "U2", "U6", "U8")
_NUMBERS = (
    "nobody", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
)  # fmt: skip


@dataclass(frozen=True)
class Ways:
    """How a class behaves. Where the log leaves open what is meant, one class takes it one way and one the other."""

    slips: float = 0.0
    """The chance that a turn goes wrong."""
    misheld: float = 0.0
    """The chance that a pupil holds the cube with another side in front when the turns of a run begin."""
    unseen: float = 0.0
    """The chance that a pupil holds up no hand, though it should be up, or the other way round."""
    notices: float = 0.0
    """The chance that a pupil who has turned wrongly knows it, and has the teacher say that they are lost."""
    miscounted: float = 0.02
    """The chance that the teacher counts one hand too many or too few."""
    come: int = 0
    """So many come late."""
    leave: int = 0
    """So many have to go before the end."""
    rests_answer: bool = True
    """Whether those who rest hold up a hand like all others."""
    sent_answer: bool = False
    """Whether those do who have gone on with their own coach, and count as some of the class."""
    late_wait: bool = True
    """Whether latecomers hold up no hand before they are led, at a milestone."""


class Pupil:
    """One of the class."""

    def __init__(self, cube: Cube, words: Mapping[str, str], random: Random, ways: Ways) -> None:
        self.cube, self.words, self.random, self.ways = cube, words, random, ways
        self.rests = self.turned = self.sent = self.lost = False
        self.began = False
        """Whether the turns of this run have begun."""
        self.hand = False
        self.slips: list[str] = []
        """What went wrong, in the order in which it did."""
        self.step = self.slipped_in = ""
        """The step that is led, and the one in which something went wrong first."""
        self.dizzy = False
        """Whether a mistake has just been noticed."""
        self.wrong = ("", "")
        """What was done last for another turn, and that turn."""
        self.waits = False
        """Whether somebody who has come late has still to be led."""

    def sees(self, what: str | Sequence[Sequence[Any]]) -> bool:
        """Whether a case or a claim is true of the cube as it is held."""
        if isinstance(what, str):
            return _CASES[what](self.cube)
        return all(self.words[self.cube[f"{face}{place}"]] == colour for face, place, colour in what)

    def hear(self, line: Line) -> None:
        """Take in what is said to the class."""
        act = line["act"]
        if act == "run":
            self.rests = not any(self.sees(each) for each in line["cases"])
            self.turned = self.began = self.lost = False
            self.step = line["step"]
            self.waits = self.waits and self.rests
        elif act == "ask" and line["asks"] == "hands" and line["about"] != "size":
            self._raise(line["about"])
        elif act == "tell" and _OFF.search(line["text"]):
            self.sent = not self.hand
        elif act == "tell" and (halfway := _OFF_HALFWAY.search(line["text"])):
            whole = all(self.words[self.cube[f"D{place}"]] == halfway[1] for place in range(9))
            self.sent = not (self.hand or whole)
        elif act == "tell" and _BACK.search(line["text"]) and self.dizzy and self._happens(_KNOWS):
            self._turn_back()
        elif act == "tell" and _LOST.search(line["text"]) and self.dizzy:
            self.rests = True
        elif act == "rotate" and not self.rests:
            self._rotate(line)
        elif act == "turn" and not self.rests:
            self._turn(line["turn"])

    def _raise(self, about: str | Sequence[Sequence[Any]]) -> None:
        asked = not ((self.rests and not self.ways.rests_answer) or (self.waits and self.ways.late_wait))
        self.hand = asked and self.sees(about) != self._happens(self.ways.unseen)
        if self.hand:
            self.cube.do(self.random.choice(SIDEWAYS))

    def _rotate(self, line: Line) -> None:
        if "if" not in line:
            self.cube.do(line["rotation"])
        elif not self.turned and self.sees(line["if"]):
            self.turned = True
            self.cube.do(line["rotation"])

    def _turn(self, turn: str) -> None:
        if not self.began and self._happens(self.ways.misheld):
            self._slip("held wrongly")
            self.cube.do(self.random.choice(SIDEWAYS[1:]))
        self.began, self.dizzy = True, False
        if self._happens(self.ways.slips):
            slip = self.random.choice(_SLIPS)
            done = instead(slip, turn, self.random)
            self._slip(f"{done or 'nothing'} for {turn}")
            self.dizzy, self.wrong = self._happens(self.ways.notices), (done, turn)
            self.cube.do(done)
        else:
            self.cube.do(turn)

    def _turn_back(self) -> None:
        for turn in reversed(self.wrong[0].split()):
            self.cube.do(turn if "2" in turn else turn.removesuffix("'") if "'" in turn else f"{turn}'")
        self.cube.do(self.wrong[1])
        self.dizzy = False

    def _slip(self, what: str) -> None:
        self.slipped_in = self.slipped_in or self.step
        self.slips.append(what)

    def _happens(self, chance: float) -> bool:
        return bool(chance) and self.random.random() < chance


class Class:
    """A room full of pupils with their teacher."""

    blameless = False
    may_read = False

    def __init__(self, cubes: Sequence[Cube], words: Mapping[str, str], random: Random, ways: Ways | None = None,
                 late: Sequence[Cube] = ()) -> None:  # fmt: skip
        self.words, self.random, self.ways = dict(words), random, ways or Ways()
        self.pupils = [self._pupil(cube) for cube in cubes]
        self.late = list(late)
        self.leaving = self.ways.leave
        self.asked: Line = {}
        """What is asked and not answered."""
        self.last: Line = {}
        """What was asked last."""
        self.miscounts = 0
        """How often the teacher has told a wrong number."""
        self.counts: list[tuple[Any, int, int]] = []
        """What hands were counted for, how many were up, and how many the teacher told."""
        self.over = False

    def _pupil(self, cube: Cube) -> Pupil:
        held = cube.copy().do(self.random.choice(SIDEWAYS))
        return Pupil(held, self.words, Random(self.random.random()), self.ways)

    def hear(self, line: Line) -> None:
        """Take in a line of the log."""
        self.over = self.over or line["event"] == "end"
        if line["event"] != "say":
            return
        for pupil in self.there:
            pupil.hear(line)
        if line["act"] == "ask":
            self.asked = self.last = line
        elif line["act"] == "tell" and STILL_ASKED.search(line["text"]):
            self.asked = self.last
        elif line["act"] in ("turn", "run"):
            self.asked = self.last = {}

    @property
    def there(self) -> list[Pupil]:
        """Those who are led."""
        return [pupil for pupil in self.pupils if not pupil.sent]

    @property
    def sent(self) -> list[Pupil]:
        """Those who have gone on with their own coach."""
        return [pupil for pupil in self.pupils if pupil.sent]

    @property
    def lost(self) -> list[Pupil]:
        """Those whose cubes are not solved, though nobody told them to go on with their own coach."""
        return [pupil for pupil in self.there if not pupil.cube.solved]

    @property
    def solved(self) -> bool:
        """Whether everybody who was led to the end has a solved cube."""
        return not self.lost

    def answer(self) -> str:
        """What the teacher says now that the coach listens; "" is silence."""
        asked, self.asked = self.asked, {}
        if asked.get("asks") == "hands":
            return self._number(asked["about"])
        if asked:
            return self.random.choice(_ANSWERS.get(asked["asks"], ("yes",)))
        return self._notice()

    def _notice(self) -> str:
        """What happens in the room while turns are called."""
        if self.late and self.random.random() < 0.02:
            self.pupils.append(self._pupil(self.late.pop()))
            self.pupils[-1].rests = self.pupils[-1].waits = True
            return self.random.choice(("one more has come in", "One has just come in.", "another one has just come in"))
        if self.leaving and self.random.random() < 0.02:
            self.leaving -= 1
            self.pupils.remove(self.random.choice(self.there))
            return self.random.choice(("one has to go", "One of them has to leave.", "one has gone home"))
        if any(pupil.dizzy and not pupil.rests and not pupil.lost for pupil in self.there):
            for pupil in self.there:
                pupil.lost = pupil.lost or pupil.dizzy
            return self.random.choice(("one of them has lost their place", "They've lost it.", "somebody is lost"))
        return ""

    def _number(self, about: Any) -> str:
        counted = self.pupils if self.ways.sent_answer else self.there
        if about == "size":
            up = size = len(counted)
        else:
            for pupil in self.sent if self.ways.sent_answer else ():
                pupil.hand = pupil.sees(about)
            up, size = sum(pupil.hand for pupil in counted), len(self.there)
        told = up
        if about != "size" and self.random.random() < self.ways.miscounted:
            told = max(0, up + self.random.choice((-1, 1)))
            self.miscounts += told != up
        self.counts.append((about, up, told))
        return said(told, size if about != "size" else 0, self.random)


_ANSWERS: Mapping[str, Sequence[str]] = {
    "ready": ("ready", "We're ready.", "okay, ready", "everybody is ready", "yes, ready"),
    "continue": ("yes", "Go on.", "yes please"),
}


def worded(number: int) -> str:
    """A number below a hundred in words."""
    if number < len(_NUMBERS):
        return _NUMBERS[number]
    tens, ones = divmod(number, 10)
    ten = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")[tens - 2]
    return f"{ten} {_NUMBERS[ones]}" if ones else ten


def said(number: int, size: int, random: Random) -> str:
    """A count as teachers say it, of a class of that `size` (0: nobody knows yet)."""
    word, left = worded(number), size - number
    if number == 0:
        forms = ["nobody", "none", "No one.", "nobody at all", "zero", "not one", "none of them", "no hands"]
    elif number == 1:
        forms = ["one", "just the one", "Only one.", "one hand", "just one", "1", "a single one"]
    else:
        forms = [word, f"{word}.", str(number), f"{word} hands", f"I count {word}.", f"That's {word}."]
        forms += [f"{word} of them"] + [f"just {word}"] * (number < 8)
    if size > 1 and left == 0:
        forms += ["everybody", "Everyone.", "all of them", "all", f"all {word}", "all of us", "the whole class"]
    if size > 4 and left in (1, 2, 3):
        few = worded(left)
        forms += [f"all but {few}", f"everybody but {few}", f"All except {few}.", f"everyone except {few}"]
    return random.choice(forms)


def _spots(number: int, spots: Sequence[str]) -> Callable[[Cube], bool]:
    return lambda cube: sum(cube[spot] == cube["U4"] for spot in spots) == number


def _line(cube: Cube) -> bool:
    shown = [cube[spot] == cube["U4"] for spot in _EDGES]
    return shown in ([True, False, True, False], [False, True, False, True])


def _sides(cube: Cube, spots: str) -> int:
    return sum(len({cube[f"{side}{spot}"] for spot in spots}) == 1 for side in "FRBL")


def _goes_to(side: str) -> Callable[[Cube], bool]:
    """One side is done; with that at the back, the front edge matches the corners on this side."""

    def seen(cube: Cube) -> bool:
        if _sides(cube, "012") != 1:
            return False
        ways = (cube.copy().do(turn) for turn in SIDEWAYS)
        back = next(held for held in ways if held["B0"] == held["B1"] == held["B2"])
        return back["F1"] == back[f"{side}0"]

    return seen


_CASES: Mapping[str, Callable[[Cube], bool]] = {
    "dot": _spots(0, _EDGES), "cross": _spots(4, _EDGES), "line": _line,
    "corner": lambda cube: _spots(2, _EDGES)(cube) and not _line(cube),
    "none-up": _spots(0, _CORNERS), "one-up": _spots(1, _CORNERS), "two-up": _spots(2, _CORNERS),
    "all-up": _spots(4, _CORNERS),
    "no-pair": lambda cube: _sides(cube, "02") == 0, "one-pair": lambda cube: _sides(cube, "02") == 1,
    "all-pairs": lambda cube: _sides(cube, "02") == 4,
    "no-side": lambda cube: _sides(cube, "012") == 0, "all-sides": lambda cube: _sides(cube, "012") == 4,
    "to-the-right": _goes_to("R"), "to-the-left": _goes_to("L"),
}  # fmt: skip
"""What a pupil sees of the cube who has a case, by its name in the log."""
