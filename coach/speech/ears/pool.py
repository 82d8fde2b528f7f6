"""First passes for many lessons: each hears one learner at a time, and is reused when the lesson is over."""

from threading import Lock

from coach.speech.ears import engines
from coach.speech.ears.recogniser import Recogniser


class FirstPasses:
    """Lends recognisers. A shareable model is loaded only once. Thread-safe."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._made: dict[str | None, Recogniser] = {}  # the first of each engine
        self._free: dict[str, list[Recogniser]] = {}

    def borrow(self, engine: str | None = None) -> Recogniser:
        """A free recogniser with that engine, or the best one available. Raises ModelError."""
        with self._lock:
            if engine not in self._made:
                self._made[engine] = engines.choose(engine)
                return self._made[engine]
            free = self._free.get(self._made[engine].name)
            return free.pop() if free else self._made[engine].another()

    def give_back(self, recogniser: Recogniser) -> None:
        """Return a recogniser that is no longer used."""
        recogniser.forget()
        with self._lock:
            self._free.setdefault(recogniser.name, []).append(recogniser)
