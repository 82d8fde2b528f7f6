"""How loud the coach's voice is played, in steps that the learner asks for."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

_STEP_DB: Final = 4.0
_QUIETEST, _LOUDEST = -6, 2  # range, in steps
_LIMIT: Final = 0.7  # of full scale, where limiting begins


class Volume:
    """The volume of one loudspeaker."""

    def __init__(self) -> None:
        self._steps = 0

    def adjust(self, steps: int) -> bool:
        """Louder (positive) or softer; False if it cannot go any further."""
        wanted = min(max(self._steps + steps, _QUIETEST), _LOUDEST)
        changed, self._steps = wanted != self._steps, wanted
        return changed

    def of(self, signal: NDArray[np.floating]) -> NDArray[np.float64]:
        """The signal (full scale: 1) at this volume. What would not fit is limited softly, not clipped."""
        signal = np.asarray(signal, np.float64) * _LIMIT * 10 ** (self._steps * _STEP_DB / 20)
        loud = np.abs(signal) > _LIMIT
        signal[loud] = np.sign(signal[loud]) * (_LIMIT + 0.3 * np.tanh((np.abs(signal[loud]) - _LIMIT) / 0.3))
        return signal
