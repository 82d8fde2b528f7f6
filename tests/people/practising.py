"""Somebody who practises by heart: does sequences as far as they are not called, at times wrongly, notices it or not,
asks for help, and is misheard at times. Their own cube says what was right."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from random import Random

from tests.people import heart
from tests.people.cube import Cube
from tests.people.person import Line, Person
from tests.people.tries import Count, Try, instead, reached

_OF_A_TURN = ("left-out", "other-way", "doubled", "other-face", "top-extra")
"""A turn left out, done the other way, twice or on another side, or the top turned besides."""
_OF_ALL = ("wrong-hold",)
_ALONE = ("wrong-sequence", "stopped")
"""Another sequence, or the sequence only begun: only on one's own."""
_HABITS = {"left-out": 3, "other-way": 3}
"""Slips that are made more often than others."""
_TWO = 0.15
"""The chance that a second turn goes wrong, too."""
_FACING = re.compile(r"with (?:the )?([a-z]+) (?:sides? )?(?:facing|towards) you", re.I)
_PIECE = re.compile(r"\b[Tt]he ((?:[a-z]+, )?[a-z]+ and [a-z]+) (?:edge|corner)\b")
_WITHIN = ("right", "begun", "heard")
"""What is asked about within a try."""
_CORRECTED = re.compile(r"\b(comes?|came|that was|should be|the next part|it goes|last one)\b", re.I)
_OPPOSITE = {
    "left": "right", "right": "left", "up": "down", "down": "up", "clockwise": "anticlockwise",
    "anticlockwise": "clockwise", "front": "back", "back": "front",
}  # fmt: skip


@dataclass
class Ways:
    """How somebody practises: the chances for a slip in a try, to notice it, to ask for a hint, to have all called, to
    say that a turn was wrong that was right, to say yes without a look, and to be misheard."""

    slips: float = 0.25
    notices: float = 0.4
    hints: float = 0.12
    gives_up: float = 0.04
    doubts: float = 0.03
    careless: float = 0.05
    misheard: float = 0.05
    lesson: bool = False
    """Whether what was done is judged as a lesson looks at it."""


class Practising(Person):
    """Practises, with ways of their own."""

    blameless = False

    def __init__(
        self, cube: Cube, names: Mapping[str, str], random: Random, step: str = "", ways: Ways | None = None
    ) -> None:
        super().__init__(cube, names, random, step)
        self.ways = ways or Ways()
        self.tries: list[Try] = []
        self.recorded: list[tuple[Line, int]] = []
        """What was recorded, each with the number of tries begun by then."""
        self._now: Try | None = None
        self._front = ""
        """The colour that was said to face them."""
        self._spoken_of: list[str] = []
        """The letters of the piece that was spoken of last."""
        self._layers = ""
        """What was said of layers last."""
        self._hints = 0
        self._mends = False
        self._tells = False
        """Whether a slip was noticed that has not been told."""
        self._over = False
        """Whether the coach has gone on from the last try."""
        self._whole_step = False
        """Whether a whole step is asked for, rather than a sequence."""
        self._group, self._corrected = 0, False
        self._wrongly_held = ""
        self.answers = self.misheard = 0
        """How many there were, and how many of them were misheard."""
        self._calls = 0
        """The turns of a sequence called since they last had time to answer."""

    # What the coach says

    def hear(self, line: Line) -> None:
        if line["event"] == "exercise":
            self.recorded.append((line, len(self.tries)))
        elif line["event"] == "slip" and self._now and self._now.right is None and self._is_astray(self._now):
            self._now.right = False  # the coach has found it before they said anything
        super().hear(line)

    def listen_to(self, line: Line) -> None:
        self._layers = line["text"] if " layer" in line["text"] else self._layers
        if match := _FACING.search(line["text"]):
            self._front = match[1].lower()
        if match := _PIECE.search(line["text"]):
            letters = {word: letter for letter, word in self.words.items()}
            self._spoken_of = [letters[word] for word in re.findall(r"[a-z]+", match[1]) if word in letters]
        if line["act"] in ("turn", "rotate"):
            self._corrected = False
        self._whole_step = line["act"] == "ask" and line["asks"] == "do" and not line.get("case")
        if line["act"] == "ask" and line["asks"] in ("do", "recite", "hold") and not self._whole_step:
            self._asked_for(line)
        elif line["act"] in ("turn", "rotate") or (line["act"] == "ask" and line.get("about") not in _WITHIN):
            self._over = self._now is not None and self._now.right is not None
        if line["act"] == "tell" and self._now and self._now.kind == "recite" and _CORRECTED.search(line["text"]):
            self._corrected = True
        if line["act"] == "turn" and self._called(line):
            self.asked, self._question = None, {}
            return
        super().listen_to(line)

    def _called(self, line: Line) -> bool:
        """Whether this is the next turn of a sequence, which is then done, rightly or not."""
        key = (line.get("step", ""), line.get("case", ""))
        turns = heart.SEQUENCES.get(key, ())
        number = line["n"] - 1
        if number >= len(turns) or line["of"] != len(turns) or turns[number] != line["turn"]:
            return False
        now = self._now
        if number == 0 and not (now and (now.step, now.case) == key and now.done == 0 and now.right is None):
            now = self._begin("do", *key, 4)
        if now is None or now.done != number or now.right is not None:
            return False
        if self._calls and now.help == 4:
            now.help = 3  # several in one breath
        self._calls += 1
        self._turn(now)
        return True

    def _asked_for(self, line: Line) -> None:
        kind, step, case, now = line["asks"], line["step"], line["case"], self._now
        same = now is not None and (now.kind, now.step, now.case) == (kind, step, case)
        if now and same and (now.right is None or self._mends):
            now.help = line.get("help", now.help)
        elif not same or kind != "do" or self._over:
            self._begin(kind, step, case, line.get("help", 4))

    def _begin(self, kind: str, step: str, case: str, help: int) -> Try:
        self._now = now = Try(kind, step, case, help, self.cube.copy())
        self._hints = self._group = 0
        self._mends = self._tells = self._over = self._corrected = False
        if self.random.random() < self.ways.slips:
            self._plan_slip(now)
        self.tries.append(now)
        return now

    def _plan_slip(self, now: Try) -> None:
        kinds = [*_OF_A_TURN, *_OF_ALL, *(_ALONE if now.help < 2 else ())]
        kind = self.random.choices(kinds, [_HABITS.get(kind, 1) for kind in kinds])[0]
        now.at = self.random.randrange(max(1, len(now.turns)))
        if kind not in _OF_A_TURN:
            now.whole = kind
            return
        now.slips[now.at] = kind
        if self.random.random() < _TWO:
            now.slips[self.random.randrange(max(1, len(now.turns)))] = self.random.choice(_OF_A_TURN)

    # What they do

    def _turn(self, now: Try) -> None:
        """The next turn of the sequence, or what is done instead of it."""
        if now.done == 0:
            self._look_ahead(now)
            if now.whole == "wrong-hold":
                self._wrongly_held = self.random.choice(heart.SIDEWAYS[1:])
                self.cube.do(self._wrongly_held)
                self._may_tell()
        turn = now.turns[now.done]
        if now.done in now.slips:
            turn = instead(now.slips[now.done], turn, self.random)
            self._may_tell()
        self.cube.do(turn)
        now.done += 1
        if now.done == len(now.turns) and now.whole == "wrong-hold" and self.random.random() < 0.5:
            self.cube.do(" ".join(3 * [self._wrongly_held]))  # held as before

    def _look_ahead(self, now: Try) -> None:
        """What the cube should be like after the sequence."""
        ways = (now.help < 2 and heart.ways(now.before, now.step, now.case, self._spoken_of)) or ("",)
        now.targets = tuple(now.before.copy().do(" ".join((way, *now.turns))) for way in ways)
        now.should_be = self.cube.copy().do(" ".join(now.turns))
        now.held = self.cube.copy()

    def _may_tell(self) -> None:
        self._tells = self._tells or self.random.random() < self.ways.notices

    def _hold_it(self, now: Try) -> None:
        """Take the hold for the case, where it was not told by turns of the cube."""
        ways = heart.ways(self.cube, now.step, now.case, self._spoken_of)
        told = [way for way in ways if self.words[self.cube.copy().do(way)["F4"]] == self._front]
        if ways and now.help < 2:
            self.cube.do(told[0] if told else "" if "" in ways else ways[0])
        self._front = ""

    def _do_rest(self, now: Try) -> None:
        if now.done == 0:
            self._hold_it(now)
        others = [turns for turns in heart.SEQUENCES.values() if turns != now.turns]
        wrong = " ".join(self.random.choice(others))
        while now.done < len(now.turns):
            begun = now.whole == "wrong-sequence" and now.done == 0
            if begun or (now.whole == "stopped" and now.done == now.at):
                self._leave_rest(now)
                self.cube.do(wrong if begun else "")
                self._may_tell()
                return
            self._turn(now)

    def _leave_rest(self, now: Try) -> None:
        """Go through the rest without doing it."""
        if now.done == 0:
            self._look_ahead(now)
        now.done = len(now.turns)

    def _mend_alone(self, now: Try) -> None:
        if now.should_be and not self._is_right(now):
            self.cube.stickers = list(now.should_be.stickers)
        self._tells = self._mends = False

    def _is_right(self, now: Try) -> bool:
        return any(reached(self.cube, target, now.step, self.ways.lesson) for target in now.targets)

    def _is_astray(self, now: Try) -> bool:
        """Whether what was done so far of the sequence is not what it should be. How far the top is turned does not
        matter only after all of it."""
        done, loosely = " ".join(now.turns[: now.done]), self.ways.lesson and now.done == len(now.turns)
        return now.held is not None and not reached(self.cube, now.held.copy().do(done), now.step, loosely)

    # What they say

    def reply(self) -> str:
        self._calls = 0
        text = self._reply()
        now = self._now
        if now and now.kind == "do" and now.done == len(now.turns) and now.right is None and not now.asked:
            now.right = self._is_right(now)
        return self._as_heard(text)

    def _reply(self) -> str:
        now, asked = self._now, self.asked
        if asked and self._whole_step:
            self.answered = True
            return "call it for me"  # only single sequences are their own
        if asked and asked["asks"] in ("do", "recite", "hold") and now:
            self.answered = True
            return {"do": self._do, "recite": self._recite, "hold": self._hold_told}[now.kind](now)
        if asked and asked.get("about") == "right" and now:
            self.answered = True
            doubts = self._is_right(now) and self.random.random() < self.ways.doubts
            if not doubts and (self._is_right(now) or not self._tells):
                return "yes"
            self._mends, now.right = True, None
            return self.random.choice(("no", "No, it isn't."))
        if asked and asked.get("about") == "begun" and now:
            self.answered = True
            return "yes" if now.done > (now.help >= 2) else "no"
        called = not asked and now and now.kind == "do" and now.help >= 2 and self.last.get("act") == "turn"
        if now and called and (self._tells or self.random.random() < self.ways.doubts / len(now.turns)):
            self._tells, now.told = False, True
            return "I turned wrongly"
        if asked and asked["asks"] == "piece" and self.wrong(asked.get("claim", ())) and self.random.random() < 0.5:
            self.answered = True
            return "no"  # others only answer where the next one is
        if asked and asked["asks"] == "claim" and self.random.random() < self.ways.careless:
            self.answered = True
            return "yes"
        return super().reply()

    def _do(self, now: Try) -> str:
        if self._mends:
            self._mend_alone(now)
            now.right = self._is_right(now)
            return "done"
        alone = now.done < len(now.turns)
        if alone and self._hints < 2 and self.random.random() < self.ways.hints:
            self._hints, now.asked = self._hints + 1, True
            return self.random.choice(("give me a hint", "hint please", "I need a hint"))
        if alone and self.random.random() < self.ways.gives_up:
            now.told = True
            return "call it for me"
        if alone:
            self._do_rest(now)
        now.right = self._is_right(now)
        return self.random.choice(("done", "Done.", "I've done it."))

    def _recite(self, now: Try) -> str:
        groups = heart.GROUPS[now.step, now.case]
        if self._corrected and self._group:
            self._group -= 1
        self._corrected = False
        turns = list(groups[min(self._group, len(groups) - 1)])
        slipping = bool(now.slips) and now.at % len(groups) == self._group
        self._group += 1
        if slipping:
            kind = now.slips.pop(now.at)
            now.slips.clear()
            now.said_wrongly, now.right = kind, False
            done = instead(kind, turns[0], self.random).split()
            turns[:1] = done if done or len(turns) > 1 else [heart.other_way(turns[0])]
        if self._group >= len(groups) and now.right is None:
            now.right = True
        return heart.said(turns)

    def _hold_told(self, now: Try) -> str:
        wrong = bool(now.slips or now.whole)
        now.right = not wrong if now.right is None else now.right
        now.slips.clear()
        now.whole = ""
        number = self.random.randrange(2)
        return heart.wrong_hold(now.case) if wrong else heart.hold(now.step, now.case, number, self._layers)

    def _as_heard(self, text: str) -> str:
        """What arrives of it."""
        self.answers += bool(text)
        if not text or self.random.random() >= self.ways.misheard:
            return text
        self.misheard += 1
        word, pick = re.sub(r"[^a-z ]", "", text.lower()), self.random.choice
        if word.startswith(("yes", "yeah", "okay", "ready")):
            return "no"
        if word.startswith(("no", "nope")) and word != "none":
            return "yes"
        if "done" in word:
            return pick(("give me a hint", "no", "hm"))
        parts = text.split()
        colours = [at for at, part in enumerate(parts) if part.strip(".,;").lower() in self.words.values()]
        sides = [at for at, part in enumerate(parts) if part.strip(".,;").lower() in _OPPOSITE]
        if not colours and not sides:
            return "hm"
        at = pick(colours or sides)
        wrong = pick(list(self.words.values())) if colours else _OPPOSITE[parts[at].strip(".,;").lower()]
        parts[at] = pick((wrong, wrong, "")) + parts[at][len(parts[at].strip(".,;")) :]
        return " ".join(parts)

    # What became of it

    def count(self) -> Count:
        """Compare what was recorded with what happened. A record may have waited for a check for longer than that of a
        later try of the same: it goes with one that was like that, if there is one. What is unclear may
        have ended before all of it was called, so that its level is not known: it goes with the first."""
        count, left = Count(), list(enumerate(self.tries))
        for line, begun in self.recorded:
            if not line.get("case"):
                continue
            tries = [(number, each) for number, each in left if number < begun and each.key == _key(line)]
            if not tries:
                count.unknown.append(f"{_key(line)} {line['result']}")
                continue
            alike = [each for each in tries if each[1].help == line["help"] and line["result"] != "unclear"] or tries
            fitting = [each for each in alike if not each[1].mistaken(line["result"])]
            count.doubtful += 0 < len(fitting) < len(alike)
            left.remove(found := (fitting or alike)[0])
            count.add(found[1], line["result"])
        return count


def _key(line: Line) -> tuple[str, str, str]:
    return line["kind"], line["step"], line["case"]
