"""scripts/bench calls: what it counts as heard."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.append(str(Path(__file__).resolve().parents[2] / "scripts"))
from benches import calls
from benches.calls import STYLES, Result, nearest

SIDE_UP = tuple(STYLES["side up"].values())


@pytest.mark.parametrize("name", STYLES)
def test_no_style_calls_two_turns_alike(name: str) -> None:
    assert len(set(STYLES[name].values())) == len(STYLES[name]) == 15


@pytest.mark.parametrize(
    ("written", "call"),
    [
        ("right side up", "right side up"),
        ("write side up", "right side up"),
        ("front anti clockwise", "front anticlockwise"),
        ("thank you for watching", ""),
    ],
)
def test_what_was_written_counts_for_the_call_it_is_most_like(written: str, call: str) -> None:
    assert nearest(calls._plain(written), SIDE_UP) == call


def test_opposite_turns_of_a_layer_are_counted_apart_from_other_mistakes() -> None:
    result = Result({"R": "right side up", "R'": "right side down", "U": "top to the left"})
    written = {"right side up": ["right", "side", "down"], "right side down": [], "top to the left": ["top", "to"]}
    chosen = {"right side up": "top to the left", "right side down": "", "top to the left": "top to the left"}
    result.add(True, written, chosen)
    shares = [float(share) for share in result.line(True).split()]
    assert shares == pytest.approx([0, 33.3, 33.3, 33.3, 33.3, 33.3, 0])
    assert result.pairs["PocketSphinx", "right side up", "top to the left"] == 1
