"""What the recogniser learned of lessons is added to the weights it is about, and to nothing else."""

import struct
from pathlib import Path

import numpy as np
import pytest

from coach.speech.ears.adapted import CHANGES, adapted, arrays
from coach.speech.errors import ModelError

FLOAT16, INT16 = 4, 2
CHANGED, LEFT = "encoder/layer_0/ffn/linear_0/weight", "decoder/layer_0/ffn/linear_0/weight"
RANDOM = np.random.default_rng(7)


def text(words: str) -> bytes:
    return struct.pack("<H", len(words) + 1) + words.encode() + b"\0"


def stored(name: str, values: np.ndarray, kind: int) -> bytes:
    shape = struct.pack(f"<B{values.ndim}I", values.ndim, *values.shape)
    return text(name) + shape + struct.pack("<BI", kind, values.nbytes) + values.tobytes()


def model(version: int = 6) -> bytes:
    """A small model: a number, a row, and two matrices of the same shape, 4 x 6."""
    matrices = [stored(name, RANDOM.normal(size=(4, 6)).astype(np.float16), FLOAT16) for name in (CHANGED, LEFT)]
    row = stored("encoder/layer_0/ffn/linear_0/bias", np.ones(4, np.float16), FLOAT16)
    number = stored("encoder/num_heads", np.array(2, np.int16), INT16)
    head = struct.pack("<I", version) + text("WhisperSpec") + struct.pack("<II", 3, 4)
    return head + number + matrices[0] + row + matrices[1] + struct.pack("<I", 0)


def changes(folder: Path, width: int = 6) -> Path:
    low, high = RANDOM.normal(size=(2, width)), RANDOM.normal(size=(4, 2))
    path = folder / "changes.npz"
    np.savez(path, **{f"{CHANGED}@{part}": each.astype(np.float16) for part, each in (("a", low), ("b", high))})
    return path


def matrix(contents: bytes, name: str) -> np.ndarray:
    return next(each for each in arrays(contents) if each.name == name).of(contents).astype(np.float32)


def test_just_the_named_weights_change_and_by_the_product(tmp_path: Path) -> None:
    before, learned = model(), changes(tmp_path)
    after = adapted(before, learned)
    with np.load(learned) as parts:
        product = parts[f"{CHANGED}@b"].astype(np.float32) @ parts[f"{CHANGED}@a"].astype(np.float32)
    assert np.abs(product).max() > 0.1
    assert np.allclose(matrix(after, CHANGED) - matrix(before, CHANGED), product, atol=0.01)
    place = next(each.at for each in arrays(before) if each.name == CHANGED)
    size = 4 * 6 * 2
    assert after[:place] == before[:place]
    assert after[place + size :] == before[place + size :]


def test_every_kind_of_array_is_found_by_its_name() -> None:
    found = {each.name: each.shape for each in arrays(model())}
    assert found == {CHANGED: (4, 6), LEFT: (4, 6), "encoder/layer_0/ffn/linear_0/bias": (4,)}


@pytest.mark.parametrize("contents", [model(version=5), model()[:60], b""])
def test_another_version_or_a_broken_file_is_refused_in_words(contents: bytes, tmp_path: Path) -> None:
    with pytest.raises(ModelError, match="cannot be fitted"):
        adapted(contents, changes(tmp_path))


def test_changes_of_another_size_or_none_are_refused_in_words(tmp_path: Path) -> None:
    with pytest.raises(ModelError, match="cannot be fitted"):
        adapted(model(), changes(tmp_path, width=5))
    (tmp_path / "broken.npz").write_bytes(b"PK\3\4 and no more")
    for name in ("broken.npz", "absent.npz"):
        with pytest.raises(ModelError, match="cannot be fitted"):
            adapted(model(), tmp_path / name)


def test_the_changes_that_come_along_are_whole_pairs_of_one_rank() -> None:
    with CHANGES.open("rb") as file, np.load(file) as learned:
        names = {name.rpartition("@")[0] for name in learned.files}
        assert len(learned.files) == 2 * len(names) > 0
        assert {learned[f"{name}@a"].shape[0] for name in names} == {32}
        assert {learned[f"{name}@b"].shape[1] for name in names} == {32}
        assert all(np.isfinite(learned[each]).all() for each in learned.files)
