"""Who gets which first pass, and that nothing of one learner reaches the next."""

import pytest

from coach.speech.ears import pool
from coach.speech.ears.hearing import hear
from coach.speech.ears.pocketsphinx_engine import PocketSphinx
from coach.speech.ears.pool import FirstPasses
from tests.conftest import Speaker

PHRASES = ("next", "repeat that", "slow down")


class Counted:
    """A recogniser that knows how many there are."""

    name = "counted"
    made = 0

    def __init__(self) -> None:
        Counted.made += 1
        self.forgotten = 0

    def forget(self) -> None:
        self.forgotten += 1

    def another(self) -> "Counted":
        return Counted()


@pytest.fixture
def passes(monkeypatch: pytest.MonkeyPatch) -> FirstPasses:
    Counted.made = 0
    monkeypatch.setattr(pool.engines, "choose", lambda name: Counted())
    return FirstPasses()


def test_nobody_shares_one_and_one_that_was_given_back_is_lent_again(passes: FirstPasses) -> None:
    one, other = passes.borrow(), passes.borrow()
    assert one is not other
    passes.give_back(other)
    assert passes.borrow() is other
    assert passes.borrow() not in (one, other)
    assert Counted.made == 3


def test_what_is_given_back_has_forgotten_its_speaker(passes: FirstPasses) -> None:
    one = passes.borrow()
    passes.give_back(one)
    assert isinstance(one, Counted)
    assert one.forgotten == 1


def test_a_decoder_that_was_given_back_hears_the_next_learner_like_a_new_one(speak: Speaker) -> None:
    used, new = PocketSphinx(), PocketSphinx()
    before = [hear(used, speak(text), PHRASES) for text in PHRASES]
    assert [heard.text for heard in before] == list(PHRASES)
    used.forget()
    streamed = []
    for one in (used, new):
        one.limit(PHRASES)
        sound = speak("slow down")
        partials = [one.feed(sound[at : at + 320].tobytes()) for at in range(0, len(sound), 320)]
        streamed.append((partials, one.finish()))
    assert streamed[0] == streamed[1]
