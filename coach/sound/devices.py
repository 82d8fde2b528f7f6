"""Sound devices through PortAudio: finds them by name, opens them and notices when they are gone."""

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

# On a fresh sound server the first block may come two seconds late; later ones come every 20 ms.
_FIRSTBLOCK_SECONDS = 6.0
# A pulled device is reported at once; one that only stops calling back may recover: after an underrun on a fresh sound
# server it stalled for 1.9 s.
_GONE_SECONDS = 3.0
BLOCK_SECONDS = 0.02

_SERVERS = ("default", "pulse", "pipewire", "sysdefault")  # devices that stand for whatever the sound server selects

_WORDS = {"input": "microphone", "output": "loudspeaker"}


@dataclass(frozen=True)
class Device:
    """A sound device as PortAudio counts it."""

    index: int
    name: str
    rate: float  # preferred rate in Hz


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
    except Exception as error:  # PortAudioError cannot be named: its module failed to load
        raise DeviceError(
            f"The sound system of this machine does not start ({error}). Look for a mistake in its configuration, "
            "for example in ~/.asoundrc or /etc/asound.conf."
        ) from error
    return sounddevice


@cache
def _mute_libraries() -> None:
    """Keep messages printed by ALSA, JACK and PortAudio off the terminal; not all of them can be told to be quiet.

    They print through the C library's stream, which is redirected to nowhere from now on. File descriptor 2 stays as it
    is, for Python and for every lesson in this process. If that stream has another name, they go on printing.
    """
    with suppress(ValueError, OSError, TypeError, AttributeError):
        c = ctypes.CDLL(None)
        c.fopen.restype = ctypes.c_void_p
        stream = ctypes.c_void_p.in_dll(c, "__stderrp" if sys.platform == "darwin" else "stderr")
        stream.value = c.fopen(os.devnull.encode(), b"w") or stream.value


def refresh() -> None:
    """Make PortAudio scan for devices again. Call only while none is open."""
    sd = portaudio()
    # PortAudio lists devices once, at initialisation; sounddevice has no public way to repeat that.
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
    """The device whose name is or contains `name`; without a name, the system's default.

    Raises DeviceError that lists the available devices.
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
    """Whether the microphone of that name (None: the system's) is free of the loudspeaker's echo: the echo cancellers
    of PulseAudio and PipeWire have that in their names."""
    try:
        names = [find("input", microphone).name]
    except DeviceError:
        return False
    if names[0] in _SERVERS:
        names.append(os.environ.get("PULSE_SOURCE") or _default_source())
    return any("echo" in name.casefold() and "cancel" in name.casefold() for name in names)


def _default_source() -> str:
    """The sound server's microphone; "" if the server cannot be asked."""
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

    Subclasses implement `_block`, which PortAudio calls every 20 ms from its own thread.
    """

    kind: DeviceKind = "input"
    latency: str | float = "low"  # seconds, or one of PortAudio's keywords

    def __init__(self, name: str | None, rate: int) -> None:
        self.name, self.rate = name, rate
        self.lost_blocks = 0  # blocks that PortAudio reports as dropped or made up
        self._stream: Any = None
        self._beat = threading.Event()
        self._last_beat = 0.0
        self._ended = False

    def open(self) -> None:
        """Open the device and wait until sound is running. Raises DeviceError."""
        self.close()
        sd = portaudio()
        device = find(self.kind, self.name)
        problem: Exception | None = None
        # Use our own rate if the device or the system converts, else the device's rate.
        for rate in dict.fromkeys((self.rate, round(device.rate))):
            try:
                self._start(sd, device, rate)
                return
            except (sd.PortAudioError, DeviceError) as error:
                problem = error
                self.close()
        raise DeviceError(f"The {_WORDS[self.kind]} {device.name} cannot be opened: {problem}.") from problem

    def close(self) -> None:
        """Close the device."""
        stream, self._stream = self._stream, None
        if stream is not None:
            with suppress(Exception):  # a device that is gone may raise anything
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
        """Discard what the device has buffered, and go on from there. Raises DeviceError."""
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
        """Whether a block lost now would matter."""
        return True

    def _prepare(self, rate: int) -> None:
        """Called with the rate at which the device was opened."""

    def _block(self, data: Any, frames: int) -> None:
        raise NotImplementedError

    def __enter__(self) -> "Stream":
        self.open()
        return self

    def __exit__(self, *_: object) -> None:
        self.close()
