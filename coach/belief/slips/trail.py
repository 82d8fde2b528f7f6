"""What was called and what was said since the cube was last known. Slips are found from this."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import takewhile
from typing import TypeAlias

from coach.belief.evidence import Answered, Fell, Look, Observation, Stickers
from coach.cube import Turn, inverse, turned

Event: TypeAlias = Turn | Observation


@dataclass(frozen=True)
class Trail:
    """The patterns that the cube may have had at the beginning, and everything that has happened since.

    "-", and with `not_up` also ".", is any colour but the top's; otherwise "." is any colour at all. `runs` has the
    numbers of the events at which runs began; `begun` counts all that have begun since the lesson did. `doubted` is the
    trail as it was believed to be before a slip was found on it, with everything since, in case there was no slip or a
    different one. `coming` is what would have been called next, which a learner who is ahead has already done.
    """

    origins: tuple[str, ...]
    not_up: bool = False
    events: tuple[Event, ...] = ()
    runs: tuple[int, ...] = ()
    doubted: Trail | None = None
    coming: tuple[Turn, ...] = ()
    begun: int = 0

    def calling(self, turns: Iterable[Turn]) -> Trail:
        """The trail with `turns` called."""
        turns = tuple(turns)
        doubted = self.doubted and self.doubted.calling(turns)
        return replace(self, events=(*self.events, *turns), doubted=doubted, coming=())

    def hearing(self, observation: Observation) -> Trail:
        """The trail with something said."""
        doubted = self.doubted and self.doubted.hearing(observation)
        return replace(self, events=(*self.events, observation), doubted=doubted)

    def beginning_run(self) -> Trail:
        """The trail with a run that begins now."""
        doubted = self.doubted and self.doubted.beginning_run()
        return replace(self, runs=(*self.runs, len(self.events)), doubted=doubted, begun=self.begun + 1)

    def leading_to(self, patterns: Iterable[str]) -> Trail:
        """The trail with beginnings from which the calls lead to `patterns`. The others stay, in case that is wrong."""
        back = inverse(self.turns)
        finer = sorted(turned(pattern, back) for pattern in patterns)
        return replace(self, origins=(*dict.fromkeys((*finer, *self.origins)),), doubted=None)

    def of_stickers(self) -> Trail:
        """The same trail without `not_up`."""
        if not self.not_up:
            return self
        origins = tuple(pattern.replace(".", "-") for pattern in self.origins)
        return replace(self, origins=origins, not_up=False, doubted=self.doubted and self.doubted.of_stickers())

    def without_word(self, observation: Observation) -> Trail:
        """The trail without `observation`, which was wrong; unchanged if it was not said."""
        said = [number for number, event in enumerate(self.events) if event == observation]
        if not said:
            return self
        return replace(self.without(said[-1]), doubted=self.doubted and self.doubted.without_word(observation))

    def without_last_word(self) -> Trail:
        """The trail without what was said last, which was wrong; unchanged if nothing was said."""
        harmless = Fell(turned=False)  # it is no answer that can be taken back
        said = [n for n, event in enumerate(self.events) if not isinstance(event, Turn) and event != harmless]
        if not said:
            return self
        doubted = self.doubted and self.doubted.without_last_word()
        return replace(self.without(said[-1]), doubted=doubted)

    def without(self, event: int) -> Trail:
        """The trail without the event of that number, and with nothing doubted any more."""
        runs = tuple(run - (run > event) for run in self.runs)
        return replace(self, events=self.events[:event] + self.events[event + 1 :], runs=runs, doubted=None)

    def with_done(
        self, done: Mapping[int, tuple[Turn, ...]], fallen: Mapping[int, tuple[Turn, ...]] | None = None
    ) -> Trail:
        """The trail with what was really `done` instead of the calls with these numbers (0: the first), and what turned
        when the cube had `fallen` after so many calls. The number after the last call stands for what was done after
        all of them. The present trail becomes the doubted one, unless nothing was done otherwise."""
        fallen = fallen or {}
        events: list[Event] = []
        runs, calls = [], 0
        for number, event in enumerate(self.events):
            if number in self.runs:
                runs.append(len(events))
            if isinstance(event, Turn):
                events += done.get(calls, (event,))
                calls += 1
            elif isinstance(event, Fell) and calls in fallen:
                events += fallen[calls]
            else:
                events.append(event)
        runs += [len(events)] * (len(self.events) in self.runs)
        doubted = replace(self, doubted=None) if done or fallen else self.doubted
        return replace(self, events=(*events, *done.get(calls, ())), runs=tuple(runs), doubted=doubted)

    def recent(self, calls: int) -> Trail:
        """The last runs that together have at least `calls` calls; what came before is taken to be right."""
        number = len(self.turns) - calls
        begin = max((run for run in self.runs if self._calls_before(run) <= number), default=0)
        patterns = self.origins
        for event in self.events[:begin]:
            patterns = tuple(_after(pattern, event) for pattern in patterns)
        runs = tuple(run - begin for run in self.runs if run >= begin)
        return replace(self, origins=patterns, events=self.events[begin:], runs=runs, doubted=None)

    def last(self, calls: int) -> Trail:
        """Only the last calls, without what was said."""
        return Trail(self.origins, self.not_up, self.turns[-calls:])

    @property
    def unconfirmed(self) -> int:
        """How many faces have been turned since the last claim was answered."""
        answers = [number for number, event in enumerate(self.events) if isinstance(event, Answered)]
        since = self.events[answers[-1] :] if answers else self.events
        return sum(isinstance(event, Turn) and not event.whole for event in since)

    @property
    def denials(self) -> int:
        """How many checks have been denied since the last one was passed."""
        checks = (event.yes for event in reversed(self.events) if isinstance(event, Answered) and event.check)
        return sum(1 for _ in takewhile(lambda yes: not yes, checks))

    @property
    def disputed(self) -> bool:
        """Whether a check has been denied, and nothing has been read since that would show who is right."""
        later = takewhile(lambda event: not isinstance(event, Stickers | Look), reversed(self.events))
        checks = [event.yes for event in later if isinstance(event, Answered) and len(event.facts) > 1]
        return bool(checks) and not checks[0]

    @property
    def read(self) -> tuple[Observation, ...]:
        """What the learner has read or told of the stickers since the last call, beside answers to claims."""
        since = takewhile(lambda event: not isinstance(event, Turn), reversed(self.events))
        return tuple(event for event in since if not isinstance(event, Turn | Answered | Fell))

    def _calls_before(self, event: int) -> int:
        return sum(isinstance(event, Turn) for event in self.events[:event])

    def run_of(self, call: int) -> tuple[int, tuple[Turn, ...]]:
        """The run that call number `call` belongs to: the number of its first call, and its calls."""
        starts = self.run_starts
        start = max(number for number in starts if number <= call)
        end = min((number for number in starts if number > start), default=len(self.turns))
        return start, self.turns[start:end]

    def number_of_run(self, call: int) -> int:
        """The number of the run that call number `call` belongs to, among all that have begun since the lesson did."""
        return self.begun - sum(self._calls_before(run) > call for run in self.runs)

    @property
    def last_run(self) -> int:
        """The number of the first call of the last run."""
        return max(self.run_starts)

    @property
    def run_starts(self) -> list[int]:
        """The numbers of the calls that runs begin with; what comes before the first run counts as a run, too."""
        calls = map(self._calls_before, self.runs)
        return [0, *(number for number in calls if number < len(self.turns))]

    @property
    def turns(self) -> tuple[Turn, ...]:
        """The turns called, of faces and of the whole cube."""
        return tuple(event for event in self.events if isinstance(event, Turn))

    @property
    def turned(self) -> bool:
        """Whether any face was turned, or may have turned in a fall, so that something may have gone wrong."""
        return self.fallen or any(not turn.whole for turn in self.turns)

    @property
    def fallen(self) -> bool:
        """Whether the cube fell after the last call, and something may have turned."""
        since = takewhile(lambda event: not isinstance(event, Turn), reversed(self.events))
        return any(isinstance(event, Fell) and event.turned is not False for event in since)


def _after(pattern: str, event: Event) -> str:
    """The pattern after a turn was done or stickers were read."""
    if isinstance(event, Turn):
        return turned(pattern, (event,))
    if not isinstance(event, Stickers):
        return pattern
    read = dict(event.facts)
    return "".join(read.get(place, letter) for place, letter in enumerate(pattern))
