"""Not measured yet."""

from collections.abc import Sequence


def soak(arguments: Sequence[str] = ()) -> None:
    print("not yet")
