"""WAV files in and out.

Inside the package, sound is one channel of 16-bit samples at 16 kHz (`Samples`, `RATE`): what both
recognisers take.
"""

import struct
import wave
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from coach.speech.errors import AudioError
from coach.speech.signal.resample import resample

RATE = 16_000
"""Sample rate of everything heard, in Hz."""
VOICE_RATE = 22_050
"""Sample rate of everything said, in Hz: that of espeak-ng."""
Samples = NDArray[np.int16]

_PCM, _FLOAT, _EXTENSIBLE = 1, 3, 0xFFFE
_LONGEST = 3600  # seconds; a longer file is more likely a mistake than an utterance


def read(path: str | Path) -> Samples:
    """The sound of a WAV file as one channel at 16 kHz.

    Accepts 8 to 32-bit PCM and 32 or 64-bit float, any rate and number of channels (averaged). A truncated file gives
    what there is. Raises AudioError with a message for users.
    """
    return from_bytes(_file_bytes(Path(path)), str(path))


def from_bytes(data: bytes, name: str = "the recording") -> Samples:
    """The same for the bytes of a WAV file; `name` is for the messages."""
    rate, mono = _mono(data, name)
    return to_int16(resample(mono, rate, RATE))


def read_native(path: str | Path) -> tuple[int, Samples]:
    """Rate and sound of a WAV file as one channel at its original rate."""
    rate, mono = _mono(_file_bytes(Path(path)), str(path))
    return rate, to_int16(mono)


def write(path: str | Path, samples: Samples, rate: int = RATE) -> None:
    """Write one channel of 16-bit samples. Raises AudioError if the file cannot be written."""
    try:
        with Path(path).open("wb") as file, wave.open(file, "wb") as out:
            out.setnchannels(1)
            out.setsampwidth(2)
            out.setframerate(rate)
            out.writeframes(samples.astype("<i2").tobytes())
    except OSError as error:
        raise AudioError(f"{path} cannot be written: {error.strerror or error}.") from error


def to_int16(signal: NDArray[np.floating]) -> Samples:
    """Full scale 1.0 to 16 bits, clipped."""
    scaled = np.nan_to_num(np.asarray(signal, np.float64)) * 32768.0
    return np.clip(np.rint(scaled), -32768, 32767).astype(np.int16)


def to_float(samples: Samples) -> NDArray[np.float32]:
    """16 bits to full scale 1.0."""
    return samples.astype(np.float32) / np.float32(32768)


def _mono(data: bytes, name: str) -> tuple[int, NDArray[np.float64]]:
    kind, channels, rate, bits, body = _parse(data, name)
    signal = _decode(body, kind, bits, name)
    frames = len(signal) // channels
    if frames > _LONGEST * rate:
        raise AudioError(f"{name} is longer than an hour. Please cut it into single answers.")
    return rate, signal[: frames * channels].reshape(frames, channels).mean(axis=1)


def _file_bytes(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except FileNotFoundError as error:
        raise AudioError(f"There is no file {path}.") from error
    except OSError as error:
        raise AudioError(f"{path} cannot be read: {error.strerror or error}.") from error


def _parse(data: bytes, name: str) -> tuple[int, int, int, int, bytes]:
    """Sample format, channels, rate, bits per sample, and the sample data of a RIFF WAVE file."""
    if len(data) < 12 or data[:4] != b"RIFF" or data[8:12] != b"WAVE":
        raise AudioError(f"{name} is not a WAV file. Please convert it to WAV (PCM) first.")
    header: tuple[int, int, int, int] | None = None
    at = 12
    while at + 8 <= len(data):
        chunk, size = data[at : at + 4], struct.unpack_from("<I", data, at + 4)[0]
        body = data[at + 8 : at + 8 + size]
        if chunk == b"fmt " and len(body) >= 16:
            header = _header(body)
        elif chunk == b"data":
            if header is None:
                break
            return (*_checked(header, name), body)
        at += 8 + size + (size & 1)  # chunks are padded to even lengths
    raise AudioError(f"{name} is a WAV file without sound in it, or damaged.")


def _header(body: bytes) -> tuple[int, int, int, int]:
    kind, channels, rate, _, _, bits = struct.unpack_from("<HHIIHH", body)
    if kind == _EXTENSIBLE and len(body) >= 26:
        kind = struct.unpack_from("<H", body, 24)[0]  # the first two bytes of the sub-format name it
    return kind, channels, rate, bits


def _checked(header: tuple[int, int, int, int], name: str) -> tuple[int, int, int, int]:
    kind, channels, rate, bits = header
    if (kind, bits) not in {(_PCM, 8), (_PCM, 16), (_PCM, 24), (_PCM, 32), (_FLOAT, 32), (_FLOAT, 64)}:
        raise AudioError(
            f"{name} holds compressed or unusual sound (format {kind}, {bits} bits). "
            "Please convert it to WAV with 16-bit PCM."
        )
    if not 1 <= channels <= 64 or not 4000 <= rate <= 768_000:
        raise AudioError(f"{name} says it has {channels} channels at {rate} Hz: it seems damaged.")
    return header


def _decode(body: bytes, kind: int, bits: int, name: str) -> NDArray[np.float64]:
    """Interleaved samples with full scale 1.0."""
    width = bits // 8
    body = body[: len(body) // width * width]
    if kind == _FLOAT:
        signal = np.frombuffer(body, f"<f{width}").astype(np.float64)
        if not np.isfinite(signal).all():
            raise AudioError(f"{name} is damaged: some of its samples are no numbers.")
        return signal
    if bits == 8:  # the only unsigned width
        return (np.frombuffer(body, np.uint8).astype(np.float64) - 128.0) / 128.0
    if bits == 24:
        wide = np.zeros((len(body) // 3, 4), np.uint8)
        wide[:, 1:] = np.frombuffer(body, np.uint8).reshape(-1, 3)
        return wide.view("<i4")[:, 0].astype(np.float64) / 2.0**31
    return np.frombuffer(body, f"<i{width}").astype(np.float64) / 2.0 ** (bits - 1)


def at_tempo(samples: Samples, tempo: float) -> Samples:
    """The same sound played faster, and so higher: 1.07 is 7% faster."""
    other_rate = round(RATE / tempo / 80) * 80  # multiples of 80 keep the filter short
    return to_int16(resample(to_float(samples), RATE, other_rate))
