"""Who may come in: the join code, and limits on tries, frames and connections. Pure: the time is given."""

from __future__ import annotations

import secrets
from collections import OrderedDict
from hmac import compare_digest
from typing import Final

_LETTERS: Final = "ABCDEFGHJKMNPQRTUVWXYZ2346789"
"""What is not mixed up when it is read aloud or off a board: no I and 1, no L, no O and 0, no S and 5."""
_LENGTH: Final = 6
_TRIES: Final = 10
_ANYBODYS: Final = 100
_MINUTE: Final = 60.0
_ADDRESSES: Final = 1000


def new_code() -> str:
    """A join code."""
    return "".join(secrets.choice(_LETTERS) for _ in range(_LENGTH))


class Allowance:
    """So many a second, with a reserve that refills."""

    def __init__(self, a_second: float, reserve: float) -> None:
        self._a_second, self._reserve = a_second, reserve
        self._left, self._at = reserve, 0.0

    def spent(self, now: float) -> bool:
        """Whether no more is allowed at that time in seconds."""
        self._left = min(self._left + (now - self._at) * self._a_second, self._reserve)
        self._at = now
        return self._left < 1

    def take(self, now: float) -> bool:
        """Take one, if it is allowed."""
        if self.spent(now):
            return False
        self._left -= 1
        return True


class Door:
    """Compares codes. After ten wrong ones from one address, or a hundred from anywhere, it asks to wait: a code of six
    letters out of 29 is then not found by trying (30 bits, less than two tries a second)."""

    def __init__(self, code: str) -> None:
        self._code = code.encode()
        self._tries: OrderedDict[str, Allowance] = OrderedDict()
        self._all = Allowance(_ANYBODYS / _MINUTE, _ANYBODYS)

    def refusal(self, code: str, address: str, now: float) -> str | None:
        """None if the code is right, or a sentence that says why nobody comes in."""
        tries = self._tries.pop(address, None) or Allowance(_TRIES / _MINUTE, _TRIES)
        self._tries[address] = tries
        while len(self._tries) > _ADDRESSES:
            self._tries.popitem(last=False)
        bare = "".join(code.split()).replace("-", "").upper()
        right = compare_digest(bare.encode(), self._code)
        if tries.spent(now) or self._all.spent(now):
            return "Too many wrong codes. Wait a minute, then try again."
        if right:
            return None
        tries.take(now)
        self._all.take(now)
        return "That is not the join code. Look again at what your teacher shows."


def same_origin(origin: str | None, host: str | None) -> bool:
    """Whether a page of this very server opens the socket: browsers always say whose page it is."""
    return host is not None and (origin or "").lower() in (f"http://{host}".lower(), f"https://{host}".lower())
