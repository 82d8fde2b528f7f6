"""What the loader says to the default method with one thing changed."""

from __future__ import annotations

from pathlib import Path

import pytest

from coach.method import MethodError, load
from coach.method.loading import DEFAULT_FILE

DEFAULT = DEFAULT_FILE.read_text("utf-8")


def refusal(tmp_path: Path, old: str, new: str) -> str:
    """What the loader says to the default method with one thing changed."""
    assert old in DEFAULT
    path = tmp_path / "own.toml"
    path.write_text(DEFAULT.replace(old, new, 1), "utf-8")
    with pytest.raises(MethodError) as raised:
        load(path)
    return str(raised.value)
