"""The answer to "do you want to stop?"."""

from __future__ import annotations

import pytest

from coach.dialogue import Heard, Silence
from coach.dialogue.doubt import says_stop
from tests.loaded import load


def heard(text: str) -> Heard:
    return Heard.read(text, load().read(text, "claim"), "claim")


@pytest.mark.parametrize("text", ["no I don't want to stop", "no", "nope, not yet", "no no, don't stop"])
def test_a_denied_wish_to_stop_is_none(text: str) -> None:
    assert not says_stop(heard(text))


@pytest.mark.parametrize("text", ["yes", "yes please, stop", "stop"])
def test_a_wish_to_stop_is_confirmed(text: str) -> None:
    assert says_stop(heard(text))


def test_silence_is_no_wish_to_stop() -> None:
    assert not says_stop(Silence(8.0))
