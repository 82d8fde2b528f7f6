"""The near-field gate: learns how loud the learner is, to reject talk from further away. Pure: it knows no clock.

A voice that answers the question is the learner's. In 40 s of six talkers 15 dB softer than a synthetic learner, speech
began 23 times without this, 8 times with 14 dB and never with 12 (25 November 2026).
"""

_FURTHER = 12.0  # in a noisy room, a voice this many dB softer than the learner's comes from further away
_MUCH_FURTHER = 20.0  # the same in a quiet room, where the learner may mumble and still be heard
_QUIET = 30.0  # in a quiet room the learner is this many dB above the noise floor
_STEP = 6.0  # dB by which each missing answer lowers the gate, since the learner may have turned away
_FOLLOW = 0.3  # weight of the latest answer if it was softer; a louder one counts at once


class Nearness:
    """Tracks how loud the learner is from one answer to the next."""

    def __init__(self) -> None:
        self._level: float | None = None
        self._missed = 0

    def gate(self, floor: float) -> float | None:
        """The level in dBFS above which a voice is as near as the learner's, given the noise floor in dBFS; None before
        the learner is known."""
        if self._level is None:
            return None
        further = _MUCH_FURTHER if self._level - floor > _QUIET else _FURTHER
        return self._level - further - self._missed * _STEP

    def answered(self, speech: float) -> None:
        """The learner has answered with the loud parts at `speech` dBFS."""
        if self._level is None or speech > self._level:
            self._level = speech
        else:
            self._level += _FOLLOW * (speech - self._level)
        self._missed = 0

    def missed(self) -> None:
        """An expected answer did not come."""
        self._missed += 1
