"""Not measured yet."""

from collections.abc import Sequence


def interrupt(arguments: Sequence[str] = ()) -> None:
    print("not yet")
