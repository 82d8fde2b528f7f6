"""Somebody who practises by heart: does sequences as far as they are not called, at times wrongly, notices it or not,
asks for help, and is misheard at times. Their own cube says what was right."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from random import Random

from tests.people import heart
from tests.people.cube import HOLDS, Cube
from tests.people.person import Line, Person

SLIPS = ("left-out", "other-way", "wrong-sequence", "stopped")
"""A turn left out or done the other way, another sequence, the sequence only begun: the last two only on one's own."""
_FACING = re.compile(r"with (?:the )?([a-z]+) (?:sides? )?(?:facing|towards) you", re.I)
_WITHIN = ("right", "begun", "heard")
"""What is asked about within a try."""
_CORRECTED = re.compile(r"\b(comes?|came|that was|should be|the next part|it goes|last one)\b", re.I)


def upright(cube: Cube) -> tuple[str, ...]:
    """Its stickers, however it is held."""
    return next(
        tuple(held.stickers) for turn in HOLDS if (held := cube.copy().do(turn))["U4"] == "U" and held["F4"] == "F"
    )


@dataclass(eq=False)
class Try:
    """An exercise as it really went."""

    kind: str
    step: str
    case: str
    help: int
    before: Cube
    slip: str = ""
    at: int = 0
    """The turn of the sequence at which it goes wrong, from 0."""
    targets: frozenset[tuple[str, ...]] = frozenset()
    """The cube as it should be then, in any hold."""
    should_be: Cube | None = None
    """The same as they hold it."""
    held: Cube | None = None
    """The cube in the hold, before the first turn."""
    done: int = 0
    """So many turns of the sequence were gone through."""
    asked: bool = False
    """Whether help was asked for, or a slip told."""
    right: bool | None = None
    """Whether the cube was as it should be when they said so, or when the last turn had been called."""

    @property
    def turns(self) -> Sequence[str]:
        """The sequence; none of a whole step."""
        return heart.SEQUENCES.get((self.step, self.case), ())

    @property
    def key(self) -> tuple[str, str, str]:
        """What was tried."""
        return self.kind, self.step, self.case

    def mistaken(self, result: str) -> str:
        """Which mistake it is to record this result: "failed", though it was right; "success", though it was wrong and
        no help was asked for; none."""
        if result == "failed" and self.right and not self.asked:
            return "failed"
        if self.right is False and (result == "unaided" or (result == "helped" and not self.asked)):
            return "success"
        return ""


@dataclass
class Ways:
    """How somebody practises: the chances for a slip in a try, to notice it, to ask for a hint, to have all called, and
    to be misheard."""

    slips: float = 0.25
    notices: float = 0.4
    hints: float = 0.12
    gives_up: float = 0.04
    misheard: float = 0.05


@dataclass
class Count:
    """Tries against what was recorded of them."""

    tries: int = 0
    failed_though_right: list[str] = field(default_factory=list)
    success_though_wrong: list[str] = field(default_factory=list)
    wrong: int = 0
    unclear: int = 0
    unknown: list[str] = field(default_factory=list)
    """Exercises of which nobody knows when they were tried."""

    def add(self, tried: Try, result: str) -> None:
        """Count a try and what was recorded of it."""
        asked = ", asked" * tried.asked
        what = f"{tried.kind} {tried.case} at {tried.help}, slip {tried.slip or 'none'}{asked}: {result}"
        self.tries += 1
        self.wrong += tried.right is False
        self.unclear += result == "unclear"
        if mistake := tried.mistaken(result):
            (self.failed_though_right if mistake == "failed" else self.success_though_wrong).append(what)

    def __add__(self, other: Count) -> Count:
        return Count(*(getattr(self, name) + getattr(other, name) for name in self.__dataclass_fields__))


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
            now.slip = self.random.choice(SLIPS)
            now.at = self.random.randrange(max(1, len(now.turns)))
        self.tries.append(now)
        return now

    # What they do

    def _turn(self, now: Try) -> None:
        """The next turn of the sequence, or what is done instead of it."""
        if now.done == 0:
            ways = (now.help < 2 and heart.holds(now.before, now.step, now.case)) or ("",)
            now.targets = frozenset(upright(now.before.copy().do(" ".join((way, *now.turns)))) for way in ways)
            now.should_be = self.cube.copy().do(" ".join(now.turns))
            now.held = self.cube.copy()
        turn = now.turns[now.done]
        if now.slip in ("left-out", "other-way") and now.at == now.done:
            self._tells = self.random.random() < self.ways.notices
            if now.slip == "other-way":
                self.cube.do(heart.other_way(turn))
        else:
            self.cube.do(turn)
        now.done += 1

    def _hold_it(self, now: Try) -> None:
        """Take the hold for the case, where it was not told by turns of the cube."""
        ways = heart.holds(self.cube, now.step, now.case)
        told = [way for way in ways if self.words[self.cube.copy().do(way)["F4"]] == self._front]
        if ways and now.help < 2:
            self.cube.do(told[0] if told else "" if "" in ways else ways[0])
        self._front = ""

    def _do_rest(self, now: Try) -> None:
        if now.done == 0:
            self._hold_it(now)
        if now.slip == "wrong-sequence" and now.done == 0:
            others = [turns for turns in heart.SEQUENCES.values() if turns != now.turns]
            wrong = self.random.choice(others)
            self._turn_none(now)
            self.cube.do(" ".join(wrong))
            self._tells = self.random.random() < self.ways.notices
            return
        while now.done < len(now.turns):
            if now.slip == "stopped" and now.done == now.at:
                self._turn_none(now)
                self._tells = self.random.random() < self.ways.notices
                return
            self._turn(now)

    def _turn_none(self, now: Try) -> None:
        """Go through the rest without doing it."""
        if now.done == 0:
            kept, stickers = now.slip, list(self.cube.stickers)
            now.slip = ""
            self._turn(now)
            now.slip, self.cube.stickers = kept, stickers
        now.done = len(now.turns)

    def _mend_alone(self, now: Try) -> None:
        if now.should_be and not self._is_right(now):
            self.cube.stickers = list(now.should_be.stickers)
        self._tells = self._mends = False

    def _is_right(self, now: Try) -> bool:
        return upright(self.cube) in now.targets

    def _is_astray(self, now: Try) -> bool:
        """Whether what was done so far of the sequence is not what it should be."""
        done = " ".join(now.turns[: now.done])
        return now.held is not None and upright(self.cube) != upright(now.held.copy().do(done))

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
            if self._is_right(now) or not self._tells:
                return "yes"
            self._mends, now.right = True, None
            return self.random.choice(("no", "No, it isn't."))
        if asked and asked.get("about") == "begun" and now:
            self.answered = True
            return "yes" if now.done > (now.help >= 2) else "no"
        if not asked and now and self._tells and now.kind == "do" and now.help >= 2 and self.last.get("act") == "turn":
            self._tells, now.asked = False, True
            return "I turned wrongly"
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
            now.asked = True
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
        slipping = now.slip in ("left-out", "other-way") and now.at % len(groups) == self._group
        self._group += 1
        if slipping:
            now.slip = ""
            now.right = False
            turns[0] = heart.other_way(turns[0])
        if self._group >= len(groups) and now.right is None:
            now.right = True
        return heart.said(turns)

    def _hold_told(self, now: Try) -> str:
        wrong = now.slip in ("left-out", "other-way")
        now.right = not wrong if now.right is None else now.right
        now.slip = ""
        number = self.random.randrange(2)
        return heart.wrong_hold(now.case) if wrong else heart.hold(now.step, now.case, number, self._layers)

    def _as_heard(self, text: str) -> str:
        """What arrives of it."""
        now = self._now
        if not text or self.random.random() >= self.ways.misheard or (now and now.kind != "do" and self.asked
                and self.asked["asks"] == now.kind):  # fmt: skip
            return text
        word = re.sub(r"[^a-z ]", "", text.lower())
        if word.startswith(("yes", "yeah", "okay", "ready")):
            return "no"
        if word.startswith(("no", "nope")):
            return "yes"
        if "done" in word:
            return self.random.choice(("give me a hint", "no", "hm"))
        if word in self.words.values():
            return self.random.choice(list(self.words.values()))
        return text

    # What became of it

    def count(self) -> Count:
        """Compare what was recorded with what happened. What is recorded may have waited for a check for longer than a
        later try: it goes with a try begun by then that was like that, if there is one."""
        count, left = Count(), list(enumerate(self.tries))
        for line, begun in self.recorded:
            if not line.get("case"):
                continue
            tries = [(number, each) for number, each in left if number < begun and each.key == _key(line)]
            if not tries:
                count.unknown.append(f"{_key(line)} {line['result']}")
                continue
            found = min(tries, key=lambda each: (bool(each[1].mistaken(line["result"])), each[1].help != line["help"]))
            left.remove(found)
            count.add(found[1], line["result"])
        return count


def _key(line: Line) -> tuple[str, str, str]:
    return line["kind"], line["step"], line["case"]
