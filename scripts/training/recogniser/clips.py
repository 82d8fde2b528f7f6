"""Sounds with their texts as the network takes them: samples, and tokens."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from random import Random
from typing import Any

import soundfile
import torch
from tokenizers import Tokenizer
from torch import Tensor

from coach.language.en.transcripts import before
from coach.speech.signal.wav import RATE, Samples
from training.recogniser.speaking import LIST, listed

IGNORED = -100
_PROMPTED = 0.85  # so many are preceded by what could have been said before, as a lesson does it
_MULTIPLE = 32  # tokens: lengths of texts are rounded up to it, so that few sizes occur
_POOL = 16  # batches among which sounds are sorted by length


@dataclass(frozen=True)
class Clip:
    """A sound, 16-bit at 16 kHz, and the tokens of its text and of what may stand before it."""

    samples: Samples
    text: tuple[int, ...]
    before: tuple[int, ...]
    general: bool


def clips(folder: Path, tokenizer: Tokenizer) -> list[Clip]:
    """What the folder's list names. Raises FileNotFoundError where there is nothing."""
    rows = listed(folder)
    if not rows:
        raise FileNotFoundError(str(folder / LIST))
    with ProcessPoolExecutor() as pool:
        sounds = list(pool.map(partial(_read, folder), [row["sound"] for row in rows], chunksize=64))
    return [_clip(samples, row, tokenizer) for samples, row in zip(sounds, rows, strict=True)]


def _read(folder: Path, name: str) -> Samples:
    samples, rate = soundfile.read(folder / name, dtype="int16")
    if rate != RATE:
        raise ValueError(f"{folder / name} has {rate} samples a second, not {RATE}.")
    return samples  # type: ignore[no-any-return]


def _clip(samples: Samples, row: dict[str, Any], tokenizer: Tokenizer) -> Clip:
    def tokens(text: str) -> tuple[int, ...]:
        return tuple(tokenizer.encode(text, add_special_tokens=False).ids)

    return Clip(samples, tokens(" " + row["said"]), tokens(before(row["asked"])), row["general"])


def batches(lengths: Sequence[int], size: int, random: Random) -> Iterator[list[int]]:
    """Numbers of clips without end, `size` at a time, those of like length together, in random order."""
    size = min(size, len(lengths))
    while True:
        order = random.sample(range(len(lengths)), len(lengths))
        parts = []
        for at in range(0, len(order), size * _POOL):
            pool = sorted(order[at : at + size * _POOL], key=lengths.__getitem__)
            parts += [pool[place : place + size] for place in range(0, len(pool) - size + 1, size)]
        random.shuffle(parts)
        yield from parts


class Texts:
    """Clips' texts as the decoder takes them."""

    def __init__(self, clips: Sequence[Clip], tokenizer: Tokenizer, random: Random) -> None:
        names = ("<|startofprev|>", "<|startoftranscript|>", "<|notimestamps|>", "<|endoftext|>")
        self._previous, *start, self._end = (_special(tokenizer, name) for name in names)
        self._start, self._clips, self._random = tuple(start), clips, random

    def of(self, batch: Sequence[int]) -> tuple[Tensor, Tensor]:
        """batch x length each: what is given, and what should follow each of it (IGNORED within what is before)."""
        rows = [(self._opening(self._clips[at]), (*self._clips[at].text, self._end)) for at in batch]
        longest = max(len(opening) + len(text) for opening, text in rows)
        size = (len(rows), -(-longest // _MULTIPLE) * _MULTIPLE)
        given, following = torch.full(size, self._end), torch.full(size, IGNORED)
        for row, (opening, text) in enumerate(rows):
            whole = opening + text
            given[row, : len(whole)] = torch.tensor(whole)
            following[row, len(opening) - 1 : len(whole) - 1] = torch.tensor(text)
        return given, following

    def _opening(self, clip: Clip) -> tuple[int, ...]:
        prompted = clip.before and self._random.random() < _PROMPTED
        return (self._previous, *clip.before, *self._start) if prompted else self._start


def _special(tokenizer: Tokenizer, name: str) -> int:
    number = tokenizer.token_to_id(name)
    if number is None:
        raise ValueError(f"The tokenizer has no {name}: it is not that of an English Whisper.")
    return int(number)
