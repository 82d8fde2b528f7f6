"""What a learner is asked who does something on their own: whether it is done, right, or begun at all."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from typing import Final

from coach.dialogue.acts import Heard, Query
from coach.dialogue.replies import command_of, yes_or_no
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt, Leaving
from coach.dialogue.talk import Talk
from coach.language.commands import Trait, has


class Deed(Enum):
    """What a learner on their own has done, or wants."""

    DONE = auto()
    NOT_YET = auto()
    HINT = auto()
    CALL_IT = auto()


_WANTED: Final = {"hint": Deed.HINT, "call-it": Deed.CALL_IT}


@dataclass(frozen=True)
class OwnWork:
    """Asks about what the learner does by themselves; `query` says what that is."""

    talk: Talk
    query: Query

    def deed(self, key: str, **values: object) -> Talking[Deed]:
        """Have the learner do it, by the sentence `key`, and wait for what they say about it."""
        return (yield from self.talk.until(self.query, self.talk.forms(key, **values), _deed_of))

    def right(self) -> Talking[bool]:
        """Whether the learner says that it is as it should be; who cannot tell is shown by the check that follows."""

        def take(heard: Heard) -> bool | None:
            return True if command_of(heard) == "unsure" else yes_or_no(heard)

        return (yield from self.talk.until(Query("other", about="right"), self.talk.forms("do.right"), take))

    def begun(self, called: bool = False) -> Talking[bool]:
        """Whether the learner has turned anything by themselves, perhaps after some turns that were `called`."""

        def take(heard: Heard) -> bool | None:
            return False if heard.says("not-done") else yes_or_no(heard)

        forms = self.talk.forms("do.begun-rest" if called else "do.begun")
        return (yield from self.talk.until(Query("other", about="begun"), forms, take))

    def half_done(self, why: Leaving, called: bool = False) -> Talking[bool]:
        """Whether a learner who leaves has turned something, as far as they can tell."""
        if not why.here:
            return True
        try:
            return (yield from self.begun(called))
        except (Leaving, Interrupt):
            return True


def _deed_of(heard: Heard) -> Deed | None:
    """What the learner says of what they are doing."""
    command = command_of(heard)
    if command in _WANTED:
        return _WANTED[command]
    if heard.says("not-done") or command in ("no", "unsure"):
        return Deed.NOT_YET
    return Deed.DONE if has(command, Trait.DONE | Trait.YES) else None
