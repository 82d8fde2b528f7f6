"""Twenty lessons at once in one process: each one ends as it would alone."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace
from pathlib import Path
from random import Random
from threading import Condition
from threading import Event as Signal
from typing import Any

import pytest

from coach.app.runtime import Runtime, Seat
from coach.app.session import run
from coach.app.workers import Workers
from coach.dialogue import Adjust, Ask, End, Event, Listen, Query, Say
from coach.dialogue.lesson import ALL_STEPS, Lesson, Settings
from coach.method import default_method
from coach.records.log import SessionLog
from coach.simulation import COLOURS, Learner, random_cube
from coach.simulation.holding import answering
from coach.simulation.slipping import SlippingLearner

LESSONS = 20
MARKS = dict(zip("FBRLUD", ("rough", "smooth", "bumpy", "furry", "ridged", "velvet"), strict=True))


@pytest.fixture(scope="module")
def runtime() -> Iterator[Runtime]:
    with Runtime() as made:
        yield made


class Table:
    """Where the learners sit: one answers at a time, and who is next is drawn by lot."""

    def __init__(self, seed: int, learners: int) -> None:
        self._random, self._changed = Random(seed), Condition()
        self._here, self._waiting = learners, set[int]()
        self._next: int | None = None
        self.order: list[int] = []

    def wait(self, number: int) -> None:
        with self._changed:
            self._waiting.add(number)
            self._draw()
            self._changed.wait_for(lambda: self._next == number)
            self._next = None
            self._waiting.remove(number)
            self.order.append(number)

    def leave(self) -> None:
        with self._changed:
            self._here -= 1
            self._draw()

    def _draw(self) -> None:
        """Once everybody waits the lot falls on one of them."""
        if self._next is None and self._waiting and len(self._waiting) == self._here:
            self._next = self._random.choice(sorted(self._waiting))
            self._changed.notify_all()


@dataclass
class Sitting:
    """A learner at the coach: each has another cube, another step to begin with, other words."""

    number: int
    seat: Seat
    table: Table | None = None
    log: list[dict[str, Any]] = field(default_factory=list)

    def __post_init__(self) -> None:
        random = Random(self.number)
        step = ALL_STEPS[self.number % len(ALL_STEPS)]
        cube = random_cube(step, random)
        self.felt = self.number in (3, 11)
        slips = self.number % 4 == 1
        self.learner = SlippingLearner(cube, random, self._slip) if slips else Learner(cube, random)
        settings = Settings(MARKS) if self.felt else Settings()
        self.lesson = Lesson(default_method(), self.seat.language.sentences, step, settings, self.seat.language.offers)
        self._answer = answering(self.learner, self.seat.language, lambda: True, self._in_own_words)

    def _slip(self, call: int, say: Say) -> str:
        return "reversed" if call == 6 else ""

    def hold(self, path: Path) -> End:
        log = SessionLog(path)
        try:
            return run(self.lesson, self, log)
        finally:
            log.close()
            self.seat.close()
            if self.table:
                self.table.leave()
            lines = map(json.loads, path.read_text("utf-8").splitlines())
            self.log = [{key: line[key] for key in line if key != "t"} for line in lines]

    def say(self, say: Say) -> None:
        self.learner.hear(replace(say, query=_seen(say.query)) if isinstance(say, Ask) else say)

    def _in_own_words(self, text: str, listen: Listen) -> str:
        return _put(text, {COLOURS[face]: mark for face, mark in MARKS.items()}) if self.felt else text

    def adjust(self, adjust: Adjust) -> None:
        pass

    def listen(self, listen: Listen) -> Event | None:
        if self.table:
            self.table.wait(self.number)
        return self._answer(listen)


def _seen(query: Query) -> Query:
    """What is asked, in colours in place of marks."""
    colours = {mark: COLOURS[face] for face, mark in MARKS.items()}
    claim = tuple(one._replace(colour=colours.get(one.colour, one.colour)) for one in query.claim)
    return replace(query, claim=claim, piece=tuple(colours.get(word, word) for word in query.piece))


def _put(text: str, words: dict[str, str]) -> str:
    """`text` with other words in place of some."""
    return re.sub(rf"\b({'|'.join(words)})\b", lambda found: words[found[0]], text)


def test_twenty_lessons_at_once_end_as_each_would_alone(runtime: Runtime, tmp_path: Path) -> None:
    table = Table(1, LESSONS)
    together = [Sitting(number, runtime.seat(), table) for number in range(LESSONS)]
    paths = [tmp_path / f"{number}.jsonl" for number in range(LESSONS)]
    with ThreadPoolExecutor(LESSONS) as pool:
        ends = list(pool.map(Sitting.hold, together, paths))
    assert table.order[:LESSONS] != sorted(table.order[:LESSONS]), "nobody was interleaved with anybody"
    for number, (held, end) in enumerate(zip(together, ends, strict=True)):
        alone = Sitting(number, runtime.seat())
        assert alone.hold(tmp_path / f"alone-{number}.jsonl") == end
        assert held.log == alone.log
        assert (end.outcome, held.learner.cube.solved) == ("done", True), number
    assert sum(end.slips for end in ends), "nobody has turned wrongly"


def test_what_waits_for_a_closed_lesson_is_dropped_and_others_go_on(runtime: Runtime) -> None:
    begun, go_on = Signal(), Signal()
    with runtime.seat() as one, runtime.seat() as other:

        def long_look() -> str:
            begun.set()
            go_on.wait()
            return "looked"

        running = one.looks.submit(long_look)
        begun.wait()
        waiting = [one.looks.submit(str) for _ in range(3)]
        next_one = other.looks.submit(str, "heard")
        one.close()
        go_on.set()
        assert all(look.cancelled() for look in waiting)
        assert (running.result(), next_one.result()) == ("looked", "heard")
        with pytest.raises(RuntimeError, match="over"):
            one.looks.submit(str)


def test_a_lesson_gives_back_its_first_pass_and_the_next_one_gets_it(runtime: Runtime) -> None:
    with runtime.seat() as one, runtime.seat() as other:
        firsts = [seat.recognition("pocketsphinx").first for seat in (one, other)]
        assert firsts[0] is not firsts[1]
    with runtime.seat() as later:
        assert later.recognition("pocketsphinx").first in firsts


def test_workers_take_one_job_of_each_lesson_in_turn() -> None:
    done: list[str] = []
    begun, go = Signal(), Signal()
    workers = Workers("test")
    first, second = workers.share(), workers.share()

    def hold_up() -> None:
        begun.set()
        go.wait()

    first.submit(hold_up)
    begun.wait()
    jobs = [first.submit(done.append, f"first {n}") for n in range(3)]
    jobs += [second.submit(done.append, f"second {n}") for n in range(2)]
    go.set()
    for job in jobs:
        job.result()
    workers.close()
    assert done == ["first 0", "second 0", "first 1", "second 1", "first 2"]


def test_a_closed_runtime_leaves_no_thread_at_work() -> None:
    with Runtime() as one, one.seat() as seat:
        seat.looks.submit(str).result()
    with pytest.raises(RuntimeError, match="over"):
        one.seat().looks.submit(str)
