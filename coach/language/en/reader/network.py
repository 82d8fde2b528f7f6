"""The learned network: from the words of an answer to the probability of every class and tag."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from coach.language.en.reader.heads import HEAD, HEADS

FOLDER: Final = Path(__file__).parent
_LONGEST = 96  # pieces, as in training
_OPTIONS: Final = {"session.disable_quant_qdq": "1"}  # convert the weights to floats once, on loading

Chances = NDArray[np.float32]


@dataclass(frozen=True)
class Read:
    """The network's output for an answer: log probabilities."""

    classes: Chances  # of every class of every head
    tags: Chances  # words x tags

    def of(self, head: str) -> Chances:
        """The log probabilities of a head's classes."""
        return self.classes[HEAD[head].span]

    def log(self, head: str, value: str) -> float:
        """The log probability that the answer says `value` for this head."""
        return float(self.classes[HEAD[head].at(value)])


class Network:
    """The model and its tokenizer. About 90 MB of memory, one core. Raises OSError if its files are missing."""

    def __init__(self, folder: Path = FOLDER) -> None:
        import onnxruntime
        from tokenizers import Tokenizer

        options = onnxruntime.SessionOptions()
        options.intra_op_num_threads = options.inter_op_num_threads = 1
        for name, value in _OPTIONS.items():
            options.add_session_config_entry(name, value)
        model = folder / "reader.onnx"
        if not model.is_file():
            raise FileNotFoundError(f"{model} is missing: the package is not whole. Install it again.")
        self._session: Any = onnxruntime.InferenceSession(str(model), options, ["CPUExecutionProvider"])
        self._tokenizer: Any = Tokenizer.from_file(str(folder / "tokenizer.json"))

    def read(self, context: str, words: Sequence[str]) -> Read:
        """Read `words` as an answer in the moment described by `context`."""
        coded = self._tokenizer.encode(context.split(), list(words), is_pretokenized=True)
        length = min(len(coded.ids), _LONGEST)
        pieces = np.array([coded.ids[:length]], np.int64)
        kinds = np.array([coded.type_ids[:length]], np.int64)
        classes, tags = self._session.run(None, {"pieces": pieces, "mask": np.ones_like(pieces), "kinds": kinds})
        for head in HEADS:
            classes[0, head.span] = _logs(classes[0, head.span])
        places = _first_pieces(coded, length, len(words))
        return Read(classes[0], _logs(tags[0, places]))


def _first_pieces(coded: Any, length: int, words: int) -> list[int]:
    """The index of the first piece of each word; the last index for words that were cut off."""
    places: dict[int, int] = {}
    for place in range(length):
        if coded.type_ids[place] == 1 and coded.word_ids[place] is not None:
            places.setdefault(coded.word_ids[place], place)
    return [places.get(word, length - 1) for word in range(words)]


def _logs(logits: Chances) -> Chances:
    """Logits to log probabilities, along the last axis."""
    shifted = logits - logits.max(-1, keepdims=True)
    return np.asarray(shifted - np.log(np.exp(shifted).sum(-1, keepdims=True)), np.float32)
