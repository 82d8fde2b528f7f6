"""One learner's records during a lesson or practice, which carries on without them if they are unusable."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path

from coach.learning.exercise import Exercise
from coach.learning.times import Attempt, Penalty
from coach.records.nickname import shown, similar
from coach.records.store import RecordsError, Store


class Records:
    """What the learner has practised, and storage for more. Nothing is stored for `name` None. A problem with the file
    is reported once, in a sentence, and never raised: from then on nothing is stored."""

    def __init__(self, name: str | None, tell: Callable[[str], None], path: Path | None = None) -> None:
        self._name, self._tell = name or "", tell
        self._store: Store | None = None
        self.exercises: list[Exercise] = []
        """All of them in order, including those that were not stored."""
        self.attempts: list[Attempt] = []
        """The timed solves, likewise."""
        if name is not None:
            try:
                self._store = Store(path)
                self.exercises = self._store.exercises(name)
                self.attempts = self._store.attempts(name)
                if not (self.exercises or self.attempts):
                    self._greet_new(name, self._store.learners())
            except RecordsError as error:
                self._give_up(error)

    def _greet_new(self, name: str, known: Sequence[str]) -> None:
        """Tell a new learner whose name is nearly that of another one: it may have been typed otherwise."""
        if alike := similar(name, known):
            meant = " or ".join(alike)
            self._tell(f"{shown(name)} is new here. Did you mean {meant}? Then end this, and use that name.")

    @property
    def kept(self) -> bool:
        """Whether exercises are stored."""
        return self._store is not None

    def add(self, exercise: Exercise) -> None:
        """Add a finished exercise."""
        self.exercises.append(exercise)
        self._write(lambda store: store.add(self._name, exercise))

    def add_attempt(self, attempt: Attempt) -> None:
        """Add a timed solve."""
        self.attempts.append(attempt)
        self._write(lambda store: store.add_attempt(self._name, attempt))

    def judge_last(self, penalty: Penalty) -> None:
        """Give the last timed solve another penalty."""
        judged = self.attempts[-1] = self.attempts[-1].with_penalty(penalty)
        self._write(lambda store: store.judge_attempt(self._name, judged))

    def close(self) -> None:
        """Close the file."""
        if self._store:
            try:
                self._store.close()
            except RecordsError as error:
                self._give_up(error)

    def _write(self, work: Callable[[Store], None]) -> None:
        if self._store:
            try:
                work(self._store)
            except RecordsError as error:
                self._give_up(error)

    def _give_up(self, error: RecordsError) -> None:
        store, self._store = self._store, None
        self._tell(f"{error} We go on without records.")
        if store:
            with suppress(RecordsError):
                store.close()
