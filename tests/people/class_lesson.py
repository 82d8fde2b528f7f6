"""Lessons with classes of another make, in memory: they are handed what the session log would have of each act, and
what the teacher says is read as a typed line is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from random import Random

from coach.cube.scramble import scramble
from coach.dialogue import Act, End, Heard, Listen, Silence
from coach.dialogue.classroom import ClassLesson
from coach.dialogue.lesson import Settings
from coach.method import default_method
from coach.records.entries import entries
from coach.records.profile import FACE_WORDS, Profile
from tests.loaded import load
from tests.people.class_of import Class, Ways
from tests.people.cube import Cube
from tests.people.person import Line
from tests.people.starts import start
from tests.people.words import ARRANGEMENTS, USUAL, option

LONGEST = 2000
"""So many times the coach listens at most in a lesson that gets anywhere."""
_FIRST = "top-cross"
_ONE_COLOUR = ("top-cross", "top-face")
"""The steps after which the top is all one colour."""
_CALLED = list(ARRANGEMENTS)


@dataclass
class ClassHeld:
    """What became of a class."""

    room: Class
    log: list[Line] = field(default_factory=list)
    loop: bool = False

    @property
    def says(self) -> list[Line]:
        """What the coach said."""
        return [line for line in self.log if line["event"] == "say"]

    @property
    def end(self) -> Line:
        """The last line, where the lesson ended in good order."""
        return self.log[-1] if self.log and self.log[-1]["event"] == "end" else {}

    @property
    def counts(self) -> int:
        """How often hands were asked for, besides the number of them all."""
        return sum(line["act"] == "ask" and line["asks"] == "hands" and line["about"] != "size" for line in self.says)

    @property
    def counts_to_one_colour(self) -> int:
        """How many until the top is all one colour."""
        later = [n for n, line in enumerate(self.says) if line["act"] == "run" and line["step"] not in _ONE_COLOUR]
        return ClassHeld(self.room, self.log[: self.log.index(self.says[later[0]])] if later else self.log).counts

    @property
    def turns(self) -> int:
        """How many turns were called."""
        return sum(line["act"] == "turn" for line in self.says)

    def runs(self, *steps: str) -> int:
        """How many runs with turns were led in these steps, or in all; one that goes on after a check is the same."""
        led, counted = False, 0
        for line in self.says:
            if line["act"] == "run":
                led = not steps or line["step"] in steps
            elif line["act"] == "turn":
                counted, led = counted + (led and line["n"] == 1), False
        return counted

    @property
    def runs_to_one_colour(self) -> int:
        """How many until the top is all one colour."""
        return self.runs(*_ONE_COLOUR)

    def transcript(self) -> list[str]:
        """The lesson as it was, a line for each thing said."""
        told, counts = [], iter(self.room.counts)
        for line in self.log:
            if line["event"] == "say" and line["text"]:
                act = line.get("turn") or line.get("rotation") or line.get("asks") or line["act"]
                told.append(f"coach ({act}): {line['text']}")
            elif line["event"] == "hear":
                meaning = line["meaning"]
                up = f"  ({next(counts, ('', '?', '?'))[1:]} up, told)" if meaning and "number" in meaning else ""
                told.append(f"    teacher: {line['text']!r}  = {meaning}{up}")
        return told


def lead(room: Class, scrambled: Sequence[str] | int | None = None, most: int = LONGEST) -> ClassHeld:
    """Hold a lesson with a class; with a scramble, of that seed, if there is one."""
    language, held = load(), ClassHeld(room)
    given = scramble(Random(f"scramble {scrambled}")) if scrambled is not None else ()
    words = option(room.words).split(",")
    profile = Profile().named(dict(zip(FACE_WORDS, words, strict=True)))
    settings = Settings(profile.held(), scramble=given)
    step = None if given else _FIRST
    lesson = ClassLesson(default_method(), language.sentences, step, settings, language.offers)
    acts: Sequence[Act] = lesson.start()
    for _ in range(most):
        for act in acts:
            for fields in entries(act):
                held.log.append(fields)
                room.hear(fields)
        if isinstance(acts[-1], End):
            return held
        listen = acts[-1]
        assert isinstance(listen, Listen)
        event: Heard | Silence = Silence(listen.seconds)
        if text := room.answer():
            reading = language.read(text, listen.asked, listen.scene)
            event = Heard.read(text, reading, listen.asked)
        held.log += entries(event)
        acts = lesson.handle(event)
    held.loop = True
    return held


def class_of(number: int, seed: int, ways: Ways | None = None, scrambled: bool = False) -> Class:
    """A random class: last layers to be done, or solved cubes for a scramble; every other class has odd colours."""
    random, ways = Random(f"class {seed}"), ways or Ways()
    words = ARRANGEMENTS[_CALLED[seed % len(_CALLED)]] if seed % 2 else USUAL
    cubes = [Cube() if scrambled else start(_FIRST, random) for _ in range(number + ways.come)]
    return Class(cubes[:number], words, random, ways, cubes[number:])
