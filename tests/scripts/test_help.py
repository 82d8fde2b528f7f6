"""Every script can be started: it explains itself, so whatever it imports is still there under that name."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

SCRIPTS = Path(__file__).resolve().parents[2] / "scripts"
OF_PYTHON = sorted(
    path for path in SCRIPTS.iterdir() if path.is_file() and path.read_bytes().startswith(b"#!/usr/bin/env python3")
)
NO_HELP = ("fetch_models",)
"""Scripts that do their work whatever they are told."""


@pytest.mark.parametrize("script", [each for each in OF_PYTHON if each.name not in NO_HELP], ids=lambda path: path.name)
def test_a_script_explains_itself(script: Path) -> None:
    told = subprocess.run([sys.executable, script, "--help"], capture_output=True, text=True, timeout=120, check=False)
    assert told.returncode == 0, told.stderr
    assert script.name in told.stdout
