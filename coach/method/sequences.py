"""Sequences as things to learn: each has a name, groups of a few turns, and a reason why it works."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Final

from coach.cube import Cube, Turn, write
from coach.method.errors import MethodError

_LEAST, _MOST = 2, 4
"""The fewest and the most turns of a group: as many as people remember together and say in one breath."""
_TOO_FEW: Final = 2
_NO_TURNS: Final = Cube()


@dataclass(frozen=True)
class Spoken:
    """Something that the method file has words for, in one or more languages."""

    words: Mapping[str, Mapping[str, str]] = field(default_factory=dict, compare=False, kw_only=True)

    def say(self, language: str, what: str) -> str:
        """The method file's words, such as its "name"; "" if there are none."""
        return self.words.get(language, {}).get(what, "")


@dataclass(frozen=True)
class Group(Spoken):
    """A few turns of a sequence that belong together. Its only words are a "name"."""

    turns: tuple[Turn, ...]


@dataclass(frozen=True)
class NamedSequence(Spoken):
    """Turns to be learned by heart. Its words are a "name", and "why" it works."""

    id: str
    turns: tuple[Turn, ...]
    groups: tuple[Group, ...]

    def __str__(self) -> str:
        return f"{write(self.turns)} (sequence {self.id!r})"

    @property
    def worth_saying(self) -> bool:
        """Whether there is enough of it to be said from memory: a turn or two are not."""
        return len(self.turns) > _TOO_FEW

    @property
    def order(self) -> int:
        """The number of runs, at least two, after which everything is where it was: a way to practise on any cube."""
        times, after = 1, Cube().do(self.turns)
        while after != _NO_TURNS:
            times, after = times + 1, after.do(self.turns)
        return times


def check_groups(sequences: Iterable[NamedSequence]) -> None:
    """Prove that the groups of each sequence, one after the other, make up the sequence. Raises MethodError."""
    for sequence in sequences:
        grouped = tuple(turn for group in sequence.groups for turn in group.turns)
        if grouped != sequence.turns:
            at = next((n for n, (a, b) in enumerate(zip(grouped, sequence.turns, strict=False), 1) if a != b), None)
            where = f"They differ at turn {at}." if at else f"There are {len(grouped)} and {len(sequence.turns)} turns."
            raise MethodError(
                f"In sequence {sequence.id!r}: the groups, one after the other, are {write(grouped)}, but turns is "
                f"{write(sequence.turns)}. {where} Change the one or the other."
            )
        least = min(_LEAST, len(sequence.turns))
        for number, group in enumerate(sequence.groups, 1):
            if not least <= len(group.turns) <= _MOST:
                raise MethodError(
                    f"In group number {number} of sequence {sequence.id!r}: {write(group.turns) or 'no turns'} cannot "
                    f"be a group. A group has two to four turns, unless the whole sequence is a single one."
                )
