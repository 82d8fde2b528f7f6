"""Which of the learner's six words are warned of."""

from __future__ import annotations

from itertools import combinations

import pytest

from coach.language import USUAL_COLOURS
from coach.language.en.marks import ALIKE, distance
from tests.language.en.sounds import dictionary
from tests.language.en.sounds import distance as by_dictionary
from tests.loaded import load

LANGUAGE = load()
LINES = """
    white yellow green blue orange red smooth bumpy rings cuts stars dots lines holes felt velvet paper sand circles
    triangles squares hearts black pink purple brown silver gold grey rough ruff bump lump cut cat glue grain wide
    light knight write rubber foam moon sun tape fur cork wool string button wax ridges waves spots empty letters
"""
WORDS = LINES.split()


def test_the_usual_colours_and_marks_far_apart_are_not_warned_of() -> None:
    assert LANGUAGE.clashes(tuple(USUAL_COLOURS.values())) == []
    assert LANGUAGE.clashes(("smooth", "rings", "felt", "stars", "holes", "velvet")) == []


@pytest.mark.parametrize(
    ("one", "other"), [("white", "wide"), ("rough", "ruff"), ("bump", "lump"), ("bumpy", "bump"), ("blue", "glue")]
)
def test_two_words_that_sound_alike_are_told(one: str, other: str) -> None:
    assert LANGUAGE.clashes((one, "rings", other, "felt")) == [(one, other)]


@pytest.mark.parametrize(
    ("word", "own"),
    [("dots", "dot"), ("two lines", "line"), ("crossed", "cross"), ("write", "right"), ("dotty", "dot")],
)
def test_words_that_mean_something_to_the_coach_are_told(word: str, own: str) -> None:
    assert (word, own) in LANGUAGE.clashes((word, "rings", "felt"))


def test_rough_sounds_agree_with_a_dictionary_of_pronunciations() -> None:
    known = [word for word in WORDS if word in dictionary()]
    pairs = list(combinations(known, 2))
    assert len(pairs) > 1000
    differing = [pair for pair in pairs if (distance(*pair) <= ALIKE) != (by_dictionary(*pair) <= ALIKE)]
    assert len(differing) <= 0.002 * len(pairs), differing
