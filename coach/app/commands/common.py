"""Helpers shared by several commands. Every error that a user can cause or fix is reported in words on stderr."""

from __future__ import annotations

import sys
from pathlib import Path

from coach.method import Hand, Method, MethodError, default_method
from coach.method import load as load_method


def tell(message: object) -> None:
    """Print it on stderr."""
    print(message, file=sys.stderr, flush=True)


def chosen_method(path: Path | None, hand: Hand = "right") -> Method | None:
    """The method in that file, or the default one, for that hand. If it cannot be used, say why and return None."""
    try:
        return load_method(path, hand) if path else default_method(hand)
    except MethodError as error:
        tell(error)
        return None
