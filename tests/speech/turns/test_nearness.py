"""Who speaks near the microphone and who does not."""

from __future__ import annotations

from coach.speech.signal.wav import RATE
from coach.speech.turns.endpoint import VoiceActivity
from coach.speech.turns.nearness import Nearness

BLOCK = RATE // 50
LEARNER, TALKERS, NOISY, QUIET = -20.0, -33.0, -45.0, -70.0


def known(*levels: float) -> Nearness:
    nearness = Nearness()
    for level in levels:
        nearness.answered(level)
    return nearness


def speaks(gate: float | None, level: float, floor: float = NOISY) -> bool:
    """Whether somebody who speaks for 0.2 s at `level` is taken for the learner."""
    activity = VoiceActivity()
    for _ in range(100):
        activity.block(BLOCK, floor)
    activity.gate = gate
    return any(activity.block(BLOCK, level) for _ in range(10))


def test_everybody_is_heard_until_the_learner_is_known() -> None:
    gate = Nearness().gate(NOISY)
    assert gate is None
    assert speaks(gate, TALKERS)


def test_in_a_noisy_room_only_the_learner_is_heard() -> None:
    gate = known(LEARNER).gate(NOISY)
    assert speaks(gate, LEARNER - 5)
    assert not speaks(gate, TALKERS)


def test_in_a_quiet_room_the_learner_may_mumble() -> None:
    gate = known(LEARNER).gate(QUIET)
    assert speaks(gate, LEARNER - 15, QUIET)
    assert not speaks(gate, LEARNER - 30, QUIET)


def test_one_who_has_begun_may_dip_below_what_counts_as_near() -> None:
    gate = known(LEARNER).gate(NOISY)
    activity = VoiceActivity()
    for level in (*[NOISY] * 100, *[LEARNER] * 10):
        activity.block(BLOCK, level)
        activity.gate = gate
    assert activity.block(BLOCK, LEARNER - 13)


def test_who_does_not_answer_may_have_turned_away_and_is_heard_softer() -> None:
    nearness = known(LEARNER)
    nearness.missed()
    assert speaks(nearness.gate(NOISY), LEARNER - 14)
    nearness.answered(LEARNER)
    assert not speaks(nearness.gate(NOISY), LEARNER - 14)


def test_a_louder_answer_counts_at_once_and_a_softer_one_little_by_little() -> None:
    assert known(TALKERS, LEARNER).gate(NOISY) == known(LEARNER).gate(NOISY)
    once, often = known(LEARNER, TALKERS).gate(NOISY), known(LEARNER, *[TALKERS] * 30).gate(NOISY)
    lone = known(TALKERS).gate(NOISY)
    assert once is not None
    assert often is not None
    assert lone is not None
    assert often < once
    assert abs(often - lone) < 0.5
