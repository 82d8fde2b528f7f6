"""One learner's records during a lesson or practice, which carries on without them if they are unusable."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from coach.learning.exercise import Exercise
from coach.records.store import RecordsError, Store


class Records:
    """What the learner has practised, and storage for more. Nothing is stored for `name` None. A problem with the file
    is reported once, in a sentence, and never raised: from then on nothing is stored."""

    def __init__(self, name: str | None, tell: Callable[[str], None], path: Path | None = None) -> None:
        self._name, self._tell = name or "", tell
        self._store: Store | None = None
        self.exercises: list[Exercise] = []
        """All of them in order, including those that were not stored."""
        if name is not None:
            try:
                self._store = Store(path)
                self.exercises = self._store.exercises(name)
            except RecordsError as error:
                self._give_up(error)

    @property
    def kept(self) -> bool:
        """Whether exercises are stored."""
        return self._store is not None

    def add(self, exercise: Exercise) -> None:
        """Add a finished exercise."""
        self.exercises.append(exercise)
        if self._store:
            try:
                self._store.add(self._name, exercise)
            except RecordsError as error:
                self._give_up(error)

    def close(self) -> None:
        """Close the file."""
        if self._store:
            try:
                self._store.close()
            except RecordsError as error:
                self._give_up(error)

    def _give_up(self, error: RecordsError) -> None:
        store, self._store = self._store, None
        self._tell(f"{error} We go on without records.")
        if store:
            with suppress(RecordsError):
                store.close()
