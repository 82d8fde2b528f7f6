"""Adds what Whisper learned from lessons to its weights: low-rank changes to the linear layers of model.bin.

The changes (whisper_lessons.npz, 4 MB) hold two small matrices per layer, whose product is added to its weight (Hu et
al., "LoRA: Low-Rank Adaptation of Large Language Models", 2021). `models/recogniser.md` says what they were fitted to.
model.bin is CTranslate2's own format, version 6: counts and names, then each array's shape and values.
"""

import struct
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.resources import files
from importlib.resources.abc import Traversable

import numpy as np

from coach.speech.errors import ModelError

CHANGES: Traversable = files(__package__) / "whisper_lessons.npz"
_VERSION = 6
_FLOAT16 = 4  # the number of this type in the file


@dataclass(frozen=True)
class Stored:
    """An array of 16-bit floats in model.bin."""

    name: str  # path with slashes
    shape: tuple[int, ...]
    at: int  # byte offset of its values

    def of(self, model: bytes | bytearray) -> np.ndarray:
        """Its values as a view of the file's contents; for a bytearray the view is writable."""
        return np.frombuffer(model, np.float16, int(np.prod(self.shape)), self.at).reshape(self.shape)


def adapted(model: bytes, changes: Traversable = CHANGES) -> bytes:
    """The contents of model.bin with the changes applied. Raises ModelError for an unknown format."""
    changed = bytearray(model)
    try:
        with changes.open("rb") as file, np.load(file) as learned:
            for stored in arrays(model):
                if f"{stored.name}@a" in learned:
                    wide, narrow = (learned[f"{stored.name}@{part}"].astype(np.float32) for part in "ba")
                    weight = stored.of(changed)
                    weight += (wide @ narrow).astype(np.float16)
    except (OSError, EOFError, ValueError, KeyError, IndexError, struct.error, zipfile.BadZipFile) as error:
        raise ModelError(f"The speech model cannot be fitted to lessons ({error}).") from error
    return bytes(changed)


def arrays(model: bytes) -> Iterator[Stored]:
    """All arrays of 16-bit floats. Raises ValueError, IndexError or struct.error for an unknown format."""
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
        if kind == _FLOAT16:
            yield Stored(name, shape, at)
        at += size


def _number(model: bytes, at: int) -> tuple[int, int]:
    return int(struct.unpack_from("<I", model, at)[0]), at + 4


def _text(model: bytes, at: int) -> tuple[str, int]:
    length = struct.unpack_from("<H", model, at)[0]
    return model[at + 2 : at + 2 + length].rstrip(b"\0").decode(), at + 2 + length
