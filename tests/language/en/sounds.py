"""How alike phrases sound: the edit distance between their pronunciations, in phones.

The pronunciations are those of PocketSphinx's American English dictionary (`cmudict-en-us.dict` of the package
`pocketsphinx`, from the CMU Pronouncing Dictionary). Putting in, leaving out or changing a phone costs 1, changing
it within its class half as much. The classes are the usual ones of phonetics (manner for consonants, place for
vowels, gliding vowels by themselves; from memory); that half is half as much is a plain choice, not a measurement.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from functools import cache
from itertools import combinations, product
from pathlib import Path

import pytest

Phones = tuple[str, ...]

_CLASSES = (
    "P B T D K G",  # stops
    "F V TH DH S Z SH ZH CH JH",  # fricatives, and stops that end in one
    "M N NG",  # nasals
    "L R W Y",  # liquids and glides
    "HH",
    "IY IH EY EH AE",  # front vowels
    "AA AO AH ER OW UH UW",  # other vowels
    "AY AW OY",  # vowels that glide far
)
CLASS = {phone: number for number, phones in enumerate(_CLASSES) for phone in phones.split()}


@cache
def dictionary() -> dict[str, tuple[Phones, ...]]:
    """Every pronunciation of every word."""
    pocketsphinx = pytest.importorskip("pocketsphinx")
    known: defaultdict[str, list[Phones]] = defaultdict(list)
    path = Path(pocketsphinx.get_model_path(), "en-us", "cmudict-en-us.dict")
    for line in path.read_text("utf-8").splitlines():
        word, *phones = line.split()
        known[word.split("(")[0]].append(tuple(phones))
    return {word: tuple(ways) for word, ways in known.items()}


def distance(one: str, other: str) -> float:
    """The least distance between any pronunciations of two phrases."""
    return _distance(*_differing(one.split(), other.split()))


def close_pairs(phrases: Sequence[str], least: float) -> Iterator[tuple[float, str, str]]:
    """The pairs that are closer than `least`, each with its distance."""
    shapes = {phrase: _shape(phrase.split()) for phrase in phrases}
    for one, other in combinations(phrases, 2):
        # Pronunciations of a word differ little: what is far in the first ones need not be looked at closely.
        if _apart(shapes[one], shapes[other]) < least + 2 and (found := distance(one, other)) < least:
            yield found, one, other


def _shape(words: Sequence[str]) -> Counter[int]:
    return Counter(CLASS[phone] for word in words for phone in dictionary()[word][0])


def _apart(one: Counter[int], other: Counter[int]) -> float:
    """The distance is at least this, by how many phones of each class there are."""
    more, fewer = (one - other).total(), (other - one).total()
    return max(more, fewer)


def _differing(one: list[str], other: list[str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Both without the words that they begin and end with alike."""
    while one and other and one[0] == other[0]:
        one, other = one[1:], other[1:]
    while one and other and one[-1] == other[-1]:
        one, other = one[:-1], other[:-1]
    return tuple(one), tuple(other)


@cache
def _distance(one: tuple[str, ...], other: tuple[str, ...]) -> float:
    return min(_edits(first, second) for first in _ways(one) for second in _ways(other))


def _ways(words: tuple[str, ...]) -> Iterator[Phones]:
    for choice in product(*(dictionary()[word] for word in words)):
        yield tuple(phone for word in choice for phone in word)


def _edits(one: Phones, other: Phones) -> float:
    row = [float(at) for at in range(len(other) + 1)]
    for first in one:
        before, row = row, [row[0] + 1]
        for at, second in enumerate(other):
            change = 0.0 if first == second else 0.5 if CLASS[first] == CLASS[second] else 1.0
            row.append(min(before[at + 1] + 1, row[at] + 1, before[at] + change))
    return row[-1]
