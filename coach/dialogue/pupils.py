"""Who is in a class that is led: how many take part, have come late, or work with their own coach."""

from __future__ import annotations

from dataclasses import dataclass

from coach.language.aside import Attendance


@dataclass
class Pupils:
    """`size` pupils are led (None: not known yet). `late` ones have come since and join at the next check; `away` ones
    work with their own coach. Of a question, `rest` have not been counted yet."""

    size: int | None = None
    late: int = 0
    away: int = 0
    rest: int | None = None
    new: int = 0
    """So many of those who are led came late and have not been met at a milestone."""
    told: int | None = None
    """So many of those who are led were last told in a number; who is said to come or go is not in it."""
    slipped: bool = False
    """Whether something has gone wrong for some of them before."""
    proven: bool = False
    """Whether a check has found everything well."""

    def count(self, size: int) -> None:
        """Take the number of all who are there: whoever has come before it was told is in it."""
        if self.size is not None:
            self.new += self.late
        self.size = self.told = size
        self.late, self.new = 0, min(self.new, size)

    def hear(self, told: Attendance) -> int | None:
        """Take notice of who has come or gone; the result is how many more there are now (less than none: fewer), None
        if that was not said."""
        here = (self.size or 0) + self.late
        change = told.change
        if told.size is not None:  # which may be of those with their own coach, too
            change = 0 if told.size == here + self.away else told.size - here
            self.told = here + change
        if change is None:
            return None
        if change >= 0:
            self.late += change
            return change
        gone = min(-change, here)
        late = min(gone, self.late)
        self.late -= late
        self.size = (self.size or 0) - (gone - late)
        self.new = min(self.new, self.size)
        return -gone

    def join(self) -> int:
        """Have the latecomers join; the result is how many pupils are led now."""
        self.size, self.new, self.late = (self.size or 0) + self.late, self.new + self.late, 0
        return self.size

    def meet(self) -> int:
        """How many have joined since the last milestone."""
        new, self.new = self.new, 0
        return new

    def send_off(self, number: int) -> None:
        """Leave so many to their own coach."""
        self.size, self.away = (self.size or 0) - number, self.away + number
        self.told = None if self.told is None else min(self.told, self.size)
