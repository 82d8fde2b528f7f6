"""This machine's microphone and loudspeaker behind the two ports; recovers when one of them vanishes."""

import os
import time
from collections.abc import Callable

from coach.sound import devices
from coach.sound.loudspeaker import Loudspeaker
from coach.sound.microphone import Microphone
from coach.speech.errors import DeviceError
from coach.speech.turns.inbox import Inbox

_PATIENCE = 60.0  # wait this many seconds for a device to come back
_RETRY = 1.0


def chosen(kind: devices.DeviceKind, name: str | None = None) -> str | None:
    """The device to use: `name`, else the one named in the environment, else (None) the system's."""
    return name or os.environ.get({"input": "TURNCALLER_MICROPHONE", "output": "TURNCALLER_LOUDSPEAKER"}[kind])


class LocalSound:
    """Both devices, open while the context is entered. `tell` is called when one vanishes and when it is back."""

    def __init__(
        self,
        microphone: str | None = None,
        loudspeaker: str | None = None,
        tell: Callable[[str], None] = lambda text: None,
        patience: float = _PATIENCE,
    ) -> None:
        self._microphone = Microphone(chosen("input", microphone))
        self.sink = Loudspeaker(chosen("output", loudspeaker))
        self.blocks = Inbox(self._microphone)
        self._tell, self._patience = tell, patience

    @property
    def echo_cancelled(self) -> bool:
        """Whether the microphone hears nothing of the loudspeaker."""
        return devices.echo_cancelled(self._microphone.name)

    def open(self) -> None:
        """Open both. Raises DeviceError."""
        self.sink.open()
        self._microphone.open()
        self.blocks.clear()

    def close(self) -> None:
        """Close both."""
        self._microphone.close()
        self.sink.close()

    def mend(self, problem: DeviceError) -> bool:
        """Wait until the vanished device is back, and reopen both; False if it stays away."""
        self._tell(f"{problem} I wait until it is back.")
        until = time.monotonic() + self._patience
        while time.monotonic() < until:
            self.close()
            devices.refresh()
            try:
                self.open()
            except DeviceError:
                time.sleep(_RETRY)
                continue
            self._tell("Sound is back.")
            return True
        return False

    def __enter__(self) -> "LocalSound":
        try:
            self.open()
        except BaseException:
            self.close()
            raise
        return self

    def __exit__(self, *_: object) -> None:
        self.close()
