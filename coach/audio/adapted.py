"""Whisper's weights with what they learned of lessons: low-rank changes, added to the linear layers of model.bin.

The changes (whisper_lessons.npz, 2 MB) hold two small matrices for each layer, whose product is added to its weight
(Hu et al., "LoRA: Low-Rank Adaptation of Large Language Models", 2021). `models/recogniser.md` tells what they were
fitted to. model.bin is CTranslate2's own format, version 6: counts and names, then each weight's shape and values.
"""

import struct
from collections.abc import Iterator
from importlib.resources import files

import numpy as np

from coach.audio.errors import ModelError

CHANGES = "whisper_lessons.npz"
_VERSION = 6
_FLOAT16 = 4  # the type's number in the file


def adapted(model: bytes) -> bytes:
    """The contents of model.bin with the changes in place. Raises ModelError where the format is another."""
    changed = bytearray(model)
    try:
        with files(__package__).joinpath(CHANGES).open("rb") as file, np.load(file) as changes:
            for name, at, shape in _weights(model):
                if f"{name}@a" in changes:
                    weight = np.frombuffer(changed, np.float16, shape[0] * shape[1], at).reshape(shape)
                    wide, narrow = (changes[f"{name}@{part}"].astype(np.float32) for part in "ba")
                    weight[:] = (weight.astype(np.float32) + wide @ narrow).astype(np.float16)
    except (OSError, ValueError, KeyError, IndexError, struct.error) as error:
        raise ModelError(f"The speech model cannot be fitted to lessons ({error}).") from error
    return bytes(changed)


def _weights(model: bytes) -> Iterator[tuple[str, int, tuple[int, ...]]]:
    """Each matrix of 16-bit floats: its name, the place of its values, its shape."""
    version, at = _number(model, 0)
    if version != _VERSION:
        raise ValueError(f"version {version} of model.bin")
    _, at = _text(model, at)  # the kind of model
    _, at = _number(model, at)  # its revision
    count, at = _number(model, at)
    for _ in range(count):
        name, at = _text(model, at)
        rank, at = model[at], at + 1
        shape = struct.unpack_from(f"<{rank}I", model, at)
        kind, at = model[at + 4 * rank], at + 4 * rank + 1
        size, at = _number(model, at)
        if rank == 2 and kind == _FLOAT16:
            yield name, at, shape
        at += size


def _number(model: bytes, at: int) -> tuple[int, int]:
    return int(struct.unpack_from("<I", model, at)[0]), at + 4


def _text(model: bytes, at: int) -> tuple[str, int]:
    length = struct.unpack_from("<H", model, at)[0]
    return model[at + 2 : at + 2 + length].rstrip(b"\0").decode(), at + 2 + length
