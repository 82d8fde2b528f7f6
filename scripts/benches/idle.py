"""Not measured yet."""

from collections.abc import Sequence


def idle(arguments: Sequence[str] = ()) -> None:
    print("not yet")
