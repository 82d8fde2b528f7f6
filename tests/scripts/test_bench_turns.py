"""The bench of turns said from memory counts what was heard against what was said."""

from __future__ import annotations

import pytest

from coach.cube import parse
from scripts.benches.turns import STYLES, Count, call, compared, recitals
from tests.loaded import load


@pytest.mark.parametrize(
    ("said", "heard", "right", "wrong"),
    [
        ("R U R'", "R U R'", 3, 0),
        ("R U R'", "", 0, 0),
        ("R U R'", "R R'", 2, 0),
        ("R U R'", "R U' R'", 2, 1),
        ("R U R'", "R U R' R'", 3, 1),
        ("R U", "F D", 0, 2),
    ],
)
def test_turns_are_compared_in_their_order(said: str, heard: str, right: int, wrong: int) -> None:
    assert compared(parse(said), parse(heard)) == (right, wrong)


@pytest.mark.parametrize("style", STYLES)
def test_what_is_said_in_a_style_means_the_turns(style: str) -> None:
    for said in recitals(style, 30):
        assert len(said.texts) == len(said.said)
        for text, turns in zip(said.texts, said.said, strict=True):
            meaning = load().understand(text, "recite")
            assert meaning is not None
            assert meaning.turns == tuple(map(str, turns)), text


def test_half_of_the_recitals_have_one_slip() -> None:
    slips = [said for said in recitals("plain", 100) if said.slip]
    assert 35 <= len(slips) <= 65
    assert all(said.said != said.groups for said in slips)
    assert all(said.said == said.groups for said in recitals("plain", 100) if not said.slip)


def test_a_slip_is_noticed_unless_the_recital_is_complete() -> None:
    said = next(said for said in recitals("plain", 100) if said.slip == "other way")
    heard, misheard, asked_again = Count(), Count(), Count()
    heard.recital(said, said.said)
    misheard.recital(said, said.groups)
    asked_again.recital(said, [() for _ in said.said])
    assert (heard.whole["noticed"], misheard.whole["noticed"], asked_again.whole["noticed"]) == (1, 0, 1)


def test_a_half_turn_is_called_in_its_own_way() -> None:
    (turn,) = parse("R2")
    assert call(turn, {"call": "{f} {w}", "half": "{call} twice"}) == "right up twice"
    assert call(turn, {"call": "{f} {c}", "half": "{f} half turn"}) == "right half turn"
