"""A process of its own that records exercises, one after the other, and says when each is kept: to be killed.

    python -m tests.records.writer FILE NAME COUNT
"""

import sys
from datetime import datetime, timedelta
from pathlib import Path

from coach.learning.exercise import Exercise, Item
from coach.records.store import Store

BEGUN = datetime(2026, 11, 29, 17, 0)
ITEM = Item("top-cross", "line", "do", "layer by layer")


def exercise(number: int) -> Exercise:
    """Told apart by its second."""
    return Exercise(ITEM, BEGUN + timedelta(seconds=number), number % 5, "unaided", "practice")


def main() -> None:
    """Record them."""
    store = Store(Path(sys.argv[1]))
    for number in range(int(sys.argv[3])):
        store.add(sys.argv[2], exercise(number))
        print(number, flush=True)
    store.close()


if __name__ == "__main__":
    main()
