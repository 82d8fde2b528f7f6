"""Sound devices through PortAudio: finding them by name, opening them, noticing when they are gone."""

import ctypes
import os
import subprocess
import sys
import threading
import time
from contextlib import suppress
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from coach.speech.errors import DeviceError

DeviceKind = Literal["input", "output"]

# The first block may come two seconds late on a fresh sound server; later ones come every 20 ms.
_FIRSTBLOCK_SECONDS = 6.0
# A device that is pulled is told of at once; one that only stops calling may come back: after an underrun
# on a fresh sound server it stalled for 1.9 s.
_GONE_SECONDS = 3.0
BLOCK_SECONDS = 0.02

_SERVERS = ("default", "pulse", "pipewire", "sysdefault")  # devices that are whatever the sound server says

_WORDS = {"input": "microphone", "output": "loudspeaker"}


@dataclass(frozen=True)
class Device:
    """A sound device as PortAudio counts it."""

    index: int
    name: str
    rate: float  # Hz, the one it prefers


def portaudio() -> Any:
    """The sounddevice module. Raises DeviceError where PortAudio is not installed."""
    _mute_libraries()
    try:
        import sounddevice
    except (ImportError, OSError) as error:
        raise DeviceError(
            "Sound needs the PortAudio library, which is not installed "
            "(on Debian or Ubuntu: apt-get install libportaudio2)."
        ) from error
    except Exception as error:  # PortAudioError, of the module that could not be loaded
        raise DeviceError(
            f"The sound system of this machine does not start ({error}). Look for a mistake in its configuration, "
            "for example in ~/.asoundrc or /etc/asound.conf."
        ) from error
    return sounddevice


@cache
def _mute_libraries() -> None:
    """Keep what ALSA, JACK and PortAudio print by themselves off the terminal; they cannot all be told not to.

    They print through the C library's stream, which leads nowhere from now on. File descriptor 2 stays as it is, for
    Python and for every lesson in this process. Where that stream has another name they go on printing.
    """
    with suppress(ValueError, OSError, TypeError, AttributeError):
        c = ctypes.CDLL(None)
        c.fopen.restype = ctypes.c_void_p
        stream = ctypes.c_void_p.in_dll(c, "__stderrp" if sys.platform == "darwin" else "stderr")
        stream.value = c.fopen(os.devnull.encode(), b"w") or stream.value


def refresh() -> None:
    """Have PortAudio look for devices anew. Only while none is open."""
    sd = portaudio()
    # PortAudio lists devices once, when it is initialised; sounddevice has no public way to do it again.
    with suppress(sd.PortAudioError):
        sd._terminate()
    with suppress(sd.PortAudioError):
        sd._initialize()


def devices(kind: DeviceKind) -> tuple[Device, ...]:
    """All devices of that kind."""
    sd = portaudio()
    try:
        listed = sd.query_devices()
    except sd.PortAudioError:
        return ()
    return tuple(
        Device(index, str(entry["name"]), float(entry["default_samplerate"]))
        for index, entry in enumerate(listed)
        if entry[f"max_{kind}_channels"] > 0
    )


def find(kind: DeviceKind, name: str | None = None) -> Device:
    """The device of that name (or with it as a part), the system's default without one.

    Raises DeviceError that names the devices there are.
    """
    there = devices(kind)
    if not there:
        raise DeviceError(f"No {_WORDS[kind]} was found. Plug one in, or check the system's sound settings.")
    if name:
        wanted = name.casefold()
        exact = [device for device in there if device.name.casefold() == wanted]
        close = [device for device in there if wanted in device.name.casefold()]
        if not (exact or close):
            names = ", ".join(device.name for device in there)
            raise DeviceError(f'There is no {_WORDS[kind]} named "{name}". There are: {names}.')
        return (exact or close)[0]
    sd = portaudio()
    try:
        default = sd.query_devices(kind=kind)
    except (sd.PortAudioError, ValueError):
        return there[0]
    return next((device for device in there if device.name == default["name"]), there[0])


def echo_cancelled(microphone: str | None) -> bool:
    """Whether the microphone of that name (None: the system's) hears no echo of the loudspeaker: PulseAudio's and
    PipeWire's echo cancellers have it in their names."""
    try:
        names = [find("input", microphone).name]
    except DeviceError:
        return False
    if names[0] in _SERVERS:
        names.append(os.environ.get("PULSE_SOURCE") or _default_source())
    return any("echo" in name.casefold() and "cancel" in name.casefold() for name in names)


def _default_source() -> str:
    """The sound server's microphone; "" where it cannot be asked."""
    try:
        done = subprocess.run(
            ["pactl", "get-default-source"],
            capture_output=True,
            text=True,
            timeout=2,
            check=True,
            stdin=subprocess.DEVNULL,
        )
    except (OSError, subprocess.SubprocessError):
        return ""
    return done.stdout.strip()


class Stream:
    """An open stream of 16-bit mono that knows whether it is still alive.

    Subclasses give `_block`, which PortAudio calls from a thread of its own for every 20 ms.
    """

    kind: DeviceKind = "input"
    latency: str | float = "low"  # seconds, or a word of PortAudio's

    def __init__(self, name: str | None, rate: int) -> None:
        self.name, self.rate = name, rate
        self.lost_blocks = 0  # of what is heard or said, that PortAudio says it had to drop or make up
        self._stream: Any = None
        self._beat = threading.Event()
        self._last_beat = 0.0
        self._ended = False

    def open(self) -> None:
        """Open the device and wait until sound runs. Raises DeviceError."""
        self.close()
        sd = portaudio()
        device = find(self.kind, self.name)
        problem: Exception | None = None
        # At our own rate where the device or the system converts, else at the device's.
        for rate in dict.fromkeys((self.rate, round(device.rate))):
            try:
                self._start(sd, device, rate)
                return
            except (sd.PortAudioError, DeviceError) as error:
                problem = error
                self.close()
        raise DeviceError(f"The {_WORDS[self.kind]} {device.name} cannot be opened: {problem}.") from problem

    def close(self) -> None:
        """Let go of the device."""
        stream, self._stream = self._stream, None
        if stream is not None:
            with suppress(Exception):  # a device that is gone may raise whatever it likes
                stream.abort(ignore_errors=True)
            with suppress(Exception):
                stream.close(ignore_errors=True)

    @property
    def alive(self) -> bool:
        """Whether sound is still running."""
        stream = self._stream
        return stream is not None and not self._ended and time.monotonic() - self._last_beat < _GONE_SECONDS

    def check(self) -> None:
        """Raises DeviceError when the device has gone."""
        if not self.alive:
            raise DeviceError(f"The {_WORDS[self.kind]} is gone.")

    def drop(self) -> None:
        """Throw away what the device holds, and go on from there. Raises DeviceError."""
        stream = self._stream
        if stream is None:
            raise DeviceError(f"The {_WORDS[self.kind]} is gone.")
        try:
            stream.abort()
            self._ended, self._last_beat = False, time.monotonic()
            stream.start()
        except portaudio().PortAudioError as error:
            raise DeviceError(f"The {_WORDS[self.kind]} is gone.") from error

    def _start(self, sd: Any, device: Device, rate: int) -> None:
        self._beat.clear()
        self._ended = False
        self._prepare(rate)
        opener = sd.RawInputStream if self.kind == "input" else sd.RawOutputStream
        self._stream = opener(
            samplerate=rate,
            blocksize=round(rate * BLOCK_SECONDS),
            device=device.index,
            channels=1,
            dtype="int16",
            latency=self.latency,
            callback=self._called,
            finished_callback=self._finished,
        )
        self._stream.start()
        if not self._beat.wait(_FIRSTBLOCK_SECONDS):
            raise DeviceError("no sound came from it" if self.kind == "input" else "it takes no sound")

    def _called(self, data: Any, frames: int, _time: Any, status: Any) -> None:
        self._last_beat = time.monotonic()
        self._beat.set()
        if status and self._matters():
            self.lost_blocks += 1
        self._block(data, frames)

    def _finished(self) -> None:
        self._ended = True

    def _matters(self) -> bool:
        """Whether anything is lost now with a block that is lost."""
        return True

    def _prepare(self, rate: int) -> None:
        """The rate that the device was opened with."""

    def _block(self, data: Any, frames: int) -> None:
        raise NotImplementedError

    def __enter__(self) -> "Stream":
        self.open()
        return self

    def __exit__(self, *_: object) -> None:
        self.close()
