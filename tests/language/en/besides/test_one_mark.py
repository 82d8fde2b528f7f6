"""One colour or mark, named in a few words: what it says to a claim, and of a row."""

from __future__ import annotations

import pytest

from coach.language.meaning import Meaning, Scene
from tests.loaded import load

WORDS = dict(zip("FBRLUD", ("bark", "silk", "sand", "dots", "wool", "rough side"), strict=True))


def to_claim(text: str, *claimed: str, place: str = "F4") -> str | None:
    claim = {f"{place[0]}{int(place[1]) + at}": word == WORDS["U"] for at, word in enumerate(claimed)}
    meaning = load().understand(text, "claim", Scene(WORDS, claim=claim, claimed=claimed))
    return meaning.command if meaning else None


@pytest.mark.parametrize(
    ("text", "answer"),
    [
        ("bark there as well", "yes"), ("yes I feel bark in the middle", "yes"), ("bark too", "yes"),
        ("it feels like bark", "yes"), ("also bark", "yes"), ("it's bark", "yes"), ("the same again, bark", "yes"),
        ("silk there as well", "no"), ("there's silk", "no"), ("I feel silk there", "no"),
        ("it is the rough side", "no"),
        ("no, silk there", "no"), ("yes silk", None), ("bark and silk", None), ("bark comes next", None),
    ],
)  # fmt: skip
def test_the_mark_that_is_claimed_is_a_yes_and_another_one_a_no(text: str, answer: str | None) -> None:
    assert to_claim(text, "bark") == answer


def test_one_mark_of_several_is_neither() -> None:
    assert to_claim("silk there as well", "bark", "silk", "bark", place="F0") is None
    assert to_claim("it's bark", "bark", "bark", "bark", place="F0") == "yes"


def test_a_mark_that_is_felt_elsewhere_is_neither() -> None:
    assert to_claim("I feel silk in the middle", "bark", place="F0") is None


@pytest.mark.parametrize("text", ["it's up", "they're all up", "yes, it's facing up", "that one is on top"])
def test_up_is_a_yes_where_that_is_claimed(text: str) -> None:
    assert to_claim(text, "wool", place="U1") == "yes"


@pytest.mark.parametrize(
    ("text", "told"),
    [("bark there as well", ("bark",)), ("I feel silk in the middle", ("?", "silk")), ("it is bark as well", ("bark",)),
     ("the first is dots", ("dots",)), ("bark, silk, bark", ("bark", "silk", "bark"))],
)  # fmt: skip
def test_in_a_row_it_is_one_sticker(text: str, told: tuple[str, ...]) -> None:
    assert load().understand(text, "row", Scene(WORDS)) == Meaning(colours=told)
