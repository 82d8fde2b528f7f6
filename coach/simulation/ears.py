"""From the words that were heard to the coach's sentences that they must have been.

Words are misheard, sentences run into one another, and their number is unknown. So this searches for the cheapest way
to read what was heard as a series of known sentences: a word that is wrong, missing or extra costs about 1. A sentence
is understood if its cost is low for its length and no sentence with another meaning comes close.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import SequenceMatcher
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from coach.simulation.repertoire import Line

_SENTENCE: Final = 0.3
"""The fixed cost of a sentence, so that few are preferred to many."""
_MOST: Final = 0.34
"""A sentence that costs more than this per word is not understood."""
_MARGIN: Final = 0.5
"""A sentence is not understood unless it is this much cheaper than any with another meaning."""
_DEAR: Final = np.float32(1e6)
_NUMBERS: Final = (
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty",
)  # fmt: skip
_WORD: Final = re.compile(r"[a-z]+(?:'[a-z]+)?|\d+")

Costs = NDArray[np.float32]
Places = NDArray[np.intp]


@dataclass(frozen=True)
class Sentence:
    """A part of what was heard: a sentence of the coach, or None if it was not understood."""

    line: Line | None
    heard: str


@dataclass(frozen=True)
class _Ending:
    """The cheapest way to read all words so far."""

    cost: float
    begin: int  # the first word of its last sentence
    number: int  # index of that sentence; -1 for a word that belongs to none
    sure: bool = False


class _Beginnings:
    """All beginnings of sentences, each once: since many share their first words, there are seven times fewer of these
    than words in all sentences. Number 0 is the empty one; shorter ones come before longer ones."""

    def __init__(self, texts: Sequence[Sequence[str]]) -> None:
        self.vocabulary = sorted({word for text in texts for word in text})
        number = {word: i for i, word in enumerate(self.vocabulary)}
        all_of_them = {tuple(text[:length]) for text in texts for length in range(len(text) + 1)}
        in_order = sorted(all_of_them, key=lambda words: (len(words), words))
        place = {words: i for i, words in enumerate(in_order)}
        self.whole = np.array([place[tuple(text)] for text in texts])  # where each sentence is complete
        self.last = np.array([number[words[-1]] for words in in_order[1:]])  # the last word of each but number 0
        self.before = np.array([place[words[:-1]] for words in in_order[1:]])  # each but number 0 without that word
        lengths = np.array([len(words) for words in in_order])
        starts = np.searchsorted(lengths, np.arange(1, lengths[-1] + 2)).tolist()
        self.levels = [slice(*ends) for ends in pairwise(starts)]  # slices of those with one word, two, ...

    def __len__(self) -> int:
        return len(self.last) + 1


class Ears:
    """Knows the sentences in `lines`, each by its text."""

    def __init__(self, lines: Mapping[str, Line]) -> None:
        self._lines = tuple(lines.values())
        texts = [words(text) for text in lines]
        self._lengths = [len(text) for text in texts]
        self._beginnings = _Beginnings(texts)
        meanings: dict[Line, int] = {}
        self._meanings = np.array([meanings.setdefault(_meaning(line), len(meanings)) for line in self._lines])
        self._differences: dict[str, Costs] = {}

    def sentences(self, text: str) -> list[Sentence]:
        """What was heard as sentences, in order."""
        heard = words(text)
        endings = self._endings(heard)
        found: list[Sentence] = []
        end = len(heard)
        while end:
            last = endings[end]
            said = " ".join(heard[last.begin : end])
            line = self._lines[last.number] if self._sure(last, endings[last.begin].cost) else None
            if line is None and found and found[0].line is None:  # one gap, however many words it has
                found[0] = Sentence(None, f"{said} {found[0].heard}")
            else:
                found.insert(0, Sentence(line, said))
            end = last.begin
        return found

    def _endings(self, heard: Sequence[str]) -> list[_Ending]:
        """For each number of words from the beginning, the cheapest way to read them."""
        cost = np.full(len(self._beginnings), _DEAR)  # cost of having heard each beginning of a sentence
        begin = np.zeros(len(self._beginnings), np.intp)  # the word at which it began
        endings = [_Ending(0.0, 0, -1)]
        for n in range(len(heard) + 1):
            if n:
                self._hear(heard[n - 1], cost, begin)
                endings.append(self._ending(cost, begin, endings[-1].cost, n))
            cost[0], begin[0] = endings[-1].cost, n
            self._leave_out(cost, begin)
        return endings

    def _hear(self, word: str, cost: Costs, begin: Places) -> None:
        """Process one more word: it is either the next one of a sentence or an extra one."""
        next_cost = cost[self._beginnings.before] + self._wrong(word)[self._beginnings.last]
        next_begin = begin[self._beginnings.before]
        cost += 1
        cost[0] = _DEAR
        better = next_cost < cost[1:]
        np.copyto(begin[1:], next_begin, where=better)
        np.copyto(cost[1:], next_cost, where=better)
        self._leave_out(cost, begin)

    def _wrong(self, word: str) -> Costs:
        """The cost of having heard this, for each known word."""
        if word not in self._differences:
            known = self._beginnings.vocabulary
            self._differences[word] = np.array([_difference(word, one) for one in known], np.float32)
        return self._differences[word]

    def _leave_out(self, cost: Costs, begin: Places) -> None:
        """Account for words of a sentence that were not heard."""
        for level in self._beginnings.levels:
            before = self._beginnings.before[level.start - 1 : level.stop - 1]
            without = cost[before] + 1
            better = without < cost[level]
            np.copyto(cost[level], without, where=better)
            np.copyto(begin[level], begin[before], where=better)

    def _ending(self, cost: Costs, begin: Places, before: float, n: int) -> _Ending:
        """The cheapest way for a sentence to end with word number `n`; `before` is the cost without that word."""
        whole = self._beginnings.whole
        costs, begins = cost[whole] + _SENTENCE, begin[whole]
        best = int(costs.argmin())
        if before + 1 <= costs[best]:
            return _Ending(before + 1, n - 1, -1)
        alike = (begins == begins[best]) & (self._meanings != self._meanings[best])
        rival = costs[alike].min(initial=_DEAR)
        return _Ending(float(costs[best]), int(begins[best]), best, bool(rival - costs[best] >= _MARGIN))

    def _sure(self, ending: _Ending, before: float) -> bool:
        return ending.sure and ending.cost - before - _SENTENCE <= _MOST * self._lengths[ending.number]


def words(text: str) -> list[str]:
    """The words of a text in lower case, with numbers written out."""
    plain = text.lower().replace("\u2019", "'").replace("-", "")
    return [_NUMBERS[int(word)] if word.isdigit() and int(word) < len(_NUMBERS) else word
            for word in _WORD.findall(plain)]  # fmt: skip


def _difference(one: str, other: str) -> float:
    """How differently two words are spelled, 0 to 1."""
    return 0.0 if one == other else 1 - SequenceMatcher(None, one, other, autojunk=False).ratio() / 2


def _meaning(line: Line) -> Line:
    """What a sentence makes the learner do, whatever its words; the same for all that neither ask nor command."""
    return replace(line, say=replace(line.say, text=""))
