"""Rows that are put right in the answer that tells them, or that tells the next one."""

from __future__ import annotations

import pytest

from coach.language.aside import RowPutRight
from coach.language.en.asides import asides
from coach.language.meaning import Scene
from tests.loaded import load

SCENE = Scene(dict(zip("FBRLUD", ("dimple", "stripe", "bark", "gravel", "silk", "wool"), strict=True)))


def told(text: str) -> tuple[str, ...]:
    meaning = load().understand(text, "row", SCENE)
    return tuple(meaning.colours) if meaning else ()


@pytest.mark.parametrize(
    ("text", "row"),
    [("gravel, gravel, silk, oh, the middle one should be silk as well", "gravel silk silk"),
     ("gravel silk gravel. sorry, swap the last two", "gravel gravel silk"),
     ("wool, dimple, wool, no, swap the last two", "wool wool dimple"),
     ("bark wool silk, no hang on, backwards", "silk wool bark"),
     ("bark wool silk, sorry the first one is wool", "wool wool silk"),
     ("bark wool silk, sorry, not silk but stripe", "bark wool stripe"),
     ("it was bark wool silk, no, the first was wool", "wool wool silk"),
     ("wool dimple bark, no wait, wool dimple silk", "wool dimple silk"),
     ("wool, dimple, bark, sorry that took so long", "wool dimple bark"),
     ("bark, then wool, then silk", "bark wool silk")],
)  # fmt: skip
def test_a_row_is_put_right_in_the_answer_that_tells_it(text: str, row: str) -> None:
    assert told(text) == tuple(row.split())
    assert asides().read(text, "row", SCENE).row is None


@pytest.mark.parametrize("text", ["wool dimple bark, scratch that", "silk silk bark, no, swap the first two"])
def test_a_row_that_is_taken_back_without_another_one_is_not_told(text: str) -> None:
    assert not told(text)


@pytest.mark.parametrize(
    ("text", "row", "before"),
    [("ah, swap the first two of that, and now here it's silk, wool, dimple", "silk wool dimple",
      RowPutRight(exchanged=(0, 1), answers=True)),
     ("the last one there was gravel, and then gravel, wool, gravel", "gravel wool gravel",
      RowPutRight({-1: "gravel"}, answers=True)),
     ("swap the outer two, then wool wool bark", "wool wool bark", RowPutRight(exchanged=(0, -1), answers=True)),
     ("the middle one should have been silk. gravel wool gravel", "gravel wool gravel",
      RowPutRight({1: "silk"}, answers=True)),
     ("bark gravel silk, and the row before was silk silk bark", "bark gravel silk",
      RowPutRight({0: "silk", 1: "silk", 2: "bark"}, before=True, answers=True)),
     ("the row before was silk silk bark, and this one is bark gravel silk", "bark gravel silk",
      RowPutRight({0: "silk", 1: "silk", 2: "bark"}, before=True, answers=True))],
)  # fmt: skip
def test_a_row_before_is_put_right_beside_the_row_that_is_asked_for(text: str, row: str, before: RowPutRight) -> None:
    assert told(text) == tuple(row.split())
    assert asides().read(text, "row", SCENE).row == before


@pytest.mark.parametrize("text", ["no wait the upper one was silk wool dimple", "the upper line is silk wool dimple"])
def test_a_row_is_named_without_the_word_row(text: str) -> None:
    assert asides().read(text, "row", SCENE).row_named == ("", 1)


@pytest.mark.parametrize(
    ("text", "side"),
    [("three gravels", ["gravel"] * 3), ("six barks", ["bark"] * 6),
     ("six barks, then three wool", ["bark"] * 6 + ["wool"] * 3),
     ("two rows of nothing but dimple", ["dimple"] * 6),
     ("two rows of dimple and one row of silk", ["dimple"] * 6 + ["silk"] * 3)],
)  # fmt: skip
def test_a_side_is_told_by_numbers(text: str, side: list[str]) -> None:
    meaning = load().understand(text, "face", SCENE)
    assert meaning and list(meaning.colours) == side
