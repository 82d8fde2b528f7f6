"""Not measured yet."""

from collections.abc import Sequence


def devices(arguments: Sequence[str] = ()) -> None:
    print("not yet")
