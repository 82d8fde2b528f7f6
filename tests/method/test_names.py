"""Sequences and groups have names that cannot be taken for one another, by the ear of a learner or a recogniser."""

from __future__ import annotations

from itertools import combinations

import pytest

from coach.cube import write
from coach.method import Method, default_method, mirrored_method
from tests.language.en.sounds import dictionary, distance

LEAST = 4.0
"""Phones: twice what phrases of one moment differ by, since names are said among other words and weeks apart."""
METHODS = [default_method(), mirrored_method(default_method())]
EITHER_HAND = pytest.mark.parametrize("method", METHODS, ids=lambda method: method.hand)


def plain(name: str) -> str:
    letters = "".join(each if each.isalpha() or each == "'" else " " for each in name.lower())
    return " ".join(letters.split()).removeprefix("the ")


def named(method: Method) -> list[tuple[str, str]]:
    """Every name with its turns."""
    parts = [each for sequence in method.sequences for each in (sequence, *sequence.groups)]
    return [(plain(part.say("en", "name")), write(part.turns)) for part in parts]


@EITHER_HAND
def test_every_name_is_made_of_known_words(method: Method) -> None:
    assert {word for name, _ in named(method) for word in name.split()} <= dictionary().keys()


@EITHER_HAND
def test_names_of_different_turns_sound_different(method: Method) -> None:
    pairs = combinations(dict.fromkeys(named(method)), 2)
    apart = {(one, other): distance(one, other) for (one, turns), (other, others) in pairs if turns != others}
    assert {pair: far for pair, far in apart.items() if far < LEAST} == {}
