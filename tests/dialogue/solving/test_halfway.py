"""Who does a sequence on their own and has done a part of it only is not taken to be through."""

from __future__ import annotations

import pytest

from coach.language.en.by_heart.halfway import turns_done, unfinished
from coach.language.en.language import English
from coach.language.meaning import Scene

PARTLY = {
    "i did the first four, what's next": 4,
    "i'm not finished yet": None,
    "no i only did half of it": None,
    "no, i stopped in the middle": None,
    "i'm still in the middle of the twist, i only did lift slide lower slide": 4,
    "nope, still turning": None,
    "I've done 3 turns": 3,
    "two more turns to do": None,
    "i did top left right up top left and now i forgot": 3,
    "I've done lift, slide, and now I don't remember": 2,
    "I did the right up, top left, right down and then I'm stuck": 3,
}
OTHERWISE = [
    "done", "i just did it", "that's it, all six turns done", "i did the first turn the wrong way", "I've finished",
    "I turned it and now I don't know", "I forgot the top left one and now I'm stuck",
]  # fmt: skip


@pytest.mark.parametrize("said", PARTLY)
def test_a_part_is_not_the_whole(said: str) -> None:
    assert unfinished(said) and turns_done(said) == PARTLY[said]


@pytest.mark.parametrize("said", OTHERWISE)
def test_the_whole_or_a_slip_is_not_a_part(said: str) -> None:
    assert not unfinished(said)


@pytest.mark.parametrize("said", PARTLY)
def test_whoever_is_half_through_says_neither_done_nor_that_something_went_wrong(said: str) -> None:
    for asked, scene in (("do", Scene()), ("other", Scene(about="right"))):
        meaning = English().understand(said, asked, scene)  # type: ignore[arg-type]
        assert meaning and meaning.command in ("no", "hint")
