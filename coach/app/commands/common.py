"""What several commands do. Every error that a person can cause or mend is told in words on stderr."""

from __future__ import annotations

import sys
from pathlib import Path

from coach.method import Hand, Method, MethodError, default_method
from coach.method import load as load_method


def tell(message: object) -> None:
    """Say it on stderr."""
    print(message, file=sys.stderr, flush=True)


def chosen_method(path: Path | None, hand: Hand = "right") -> Method | None:
    """The method in that file, or the default one, for that hand; None, once it has been told why, where it cannot be
    used."""
    try:
        return load_method(path, hand) if path else default_method(hand)
    except MethodError as error:
        tell(error)
        return None
