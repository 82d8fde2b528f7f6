"""Sound files as they come: any width, rate and number of channels, or not sound at all."""

import struct
import wave
from pathlib import Path

import numpy as np
import pytest

from coach.speech.errors import AudioError
from coach.speech.signal import wav


def tone(rate: int, hertz: float = 440.0, seconds: float = 0.5) -> np.ndarray:
    return 0.5 * np.sin(2 * np.pi * hertz * np.arange(int(rate * seconds)) / rate)


def riff(kind: int, channels: int, rate: int, bits: int, body: bytes, extensible: bool = False) -> bytes:
    block = channels * bits // 8
    fmt = struct.pack("<HHIIHH", 0xFFFE if extensible else kind, channels, rate, rate * block, block, bits)
    if extensible:
        fmt += struct.pack("<HHIH", 22, bits, 0, kind) + b"\x00\x00\x00\x00\x10\x00\x80\x00\x00\xaa\x008\x9bq"
    chunks = b"fmt " + struct.pack("<I", len(fmt)) + fmt
    chunks += b"LIST" + struct.pack("<I", 3) + b"abc\x00"  # an odd chunk, padded, that has to be skipped
    chunks += b"data" + struct.pack("<I", len(body)) + body
    return b"RIFF" + struct.pack("<I", 4 + len(chunks)) + b"WAVE" + chunks


def encode(signal: np.ndarray, kind: int, bits: int) -> bytes:
    if kind == 3:
        return signal.astype(f"<f{bits // 8}").tobytes()
    if bits == 8:
        return np.clip(signal * 128 + 128, 0, 255).astype(np.uint8).tobytes()
    whole = np.round(signal * (2.0 ** (bits - 1) - 1)).astype("<i8")
    return b"".join(int(value).to_bytes(bits // 8, "little", signed=True) for value in whole)


@pytest.mark.parametrize("extensible", [False, True])
@pytest.mark.parametrize(("kind", "bits"), [(1, 8), (1, 16), (1, 24), (1, 32), (3, 32), (3, 64)])
def test_every_sample_format_gives_the_same_sound(kind: int, bits: int, extensible: bool) -> None:
    signal = tone(16_000)
    got = wav.from_bytes(riff(kind, 1, 16_000, bits, encode(signal, kind, bits), extensible))
    assert np.abs(got / 32768 - signal).max() < (0.01 if bits == 8 else 1e-3)


@pytest.mark.parametrize("rate", [8_000, 11_025, 22_050, 44_100, 48_000])
def test_other_rates_keep_pitch_and_length(rate: int) -> None:
    got = wav.from_bytes(riff(1, 1, rate, 16, encode(tone(rate), 1, 16)))
    assert len(got) == pytest.approx(8_000, abs=1)
    middle = slice(400, -400)
    assert np.abs(got / 32768 - tone(16_000)[: len(got)])[middle].max() < 2e-3


def test_what_the_new_rate_cannot_hold_is_removed_and_not_folded_back() -> None:
    got = wav.from_bytes(riff(1, 1, 48_000, 16, encode(tone(48_000, hertz=10_000), 1, 16)))
    assert np.abs(got[400:-400]).max() < 10  # of 16384


def test_channels_are_averaged() -> None:
    left = tone(16_000)
    body = encode(np.stack([left, np.zeros_like(left)], axis=1).ravel(), 1, 16)
    got = wav.from_bytes(riff(1, 2, 16_000, 16, body))
    assert np.abs(got / 32768 - left / 2).max() < 1e-3


def test_a_recording_that_was_cut_short_gives_what_there_is() -> None:
    whole = riff(1, 1, 16_000, 16, encode(tone(16_000), 1, 16))
    assert len(wav.from_bytes(whole[:-1001])) == 8_000 - 501


def test_written_files_are_read_back_alike_and_by_others(tmp_path: Path) -> None:
    samples = wav.to_int16(tone(16_000))
    wav.write(tmp_path / "a.wav", samples)
    assert (wav.read(tmp_path / "a.wav") == samples).all()
    with wave.open(str(tmp_path / "a.wav")) as other:
        assert (other.getframerate(), other.getnchannels(), other.getnframes()) == (16_000, 1, len(samples))


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "not a WAV"),
        (b"ID3\x04 some music", "not a WAV"),
        (bytes(100), "not a WAV"),
        (b"RIFF\x00\x00\x00\x00WAVE", "damaged"),
        (riff(1, 1, 16_000, 16, b"")[:-8], "damaged"),
        (riff(2, 1, 16_000, 4, b"\x00" * 64), "convert"),
        (riff(1, 0, 16_000, 16, b"\x00" * 64), "damaged"),
        (riff(1, 1, 0, 16, b"\x00" * 64), "damaged"),
        (riff(3, 1, 16_000, 32, struct.pack("<ff", 0.1, float("nan"))), "damaged"),
    ],
)
def test_what_is_no_sound_is_told_in_words(data: bytes, says: str) -> None:
    with pytest.raises(AudioError, match=says):
        wav.from_bytes(data, "answer.wav")


def test_files_that_cannot_be_read_are_named(tmp_path: Path) -> None:
    with pytest.raises(AudioError, match="There is no file"):
        wav.read(tmp_path / "nowhere.wav")
    with pytest.raises(AudioError, match="cannot be read"):
        wav.read(tmp_path)
    with pytest.raises(AudioError, match="cannot be written"):
        wav.write(tmp_path / "no" / "folder.wav", np.zeros(3, np.int16))


def test_a_file_with_no_samples_is_silence_of_no_length() -> None:
    assert len(wav.from_bytes(riff(1, 1, 44_100, 16, b""))) == 0


def test_too_loud_floats_are_clipped_and_do_not_wrap_round() -> None:
    got = wav.from_bytes(riff(3, 1, 16_000, 32, struct.pack("<ff", 3.0, -3.0)))
    assert list(got) == [32767, -32768]
