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
    PARTLY = auto()
    NOT_YET = auto()
    WRONG = auto()
    HINT = auto()
    FROM_START = auto()
    CALL_IT = auto()


REPLIES: Final = {Deed.NOT_YET: "do.no-hurry", Deed.PARTLY: "do.partly", Deed.WRONG: "do.mend"}
"""What is said to who goes on."""
_WANTED: Final = {"hint": Deed.HINT, "call-it": Deed.CALL_IT}


@dataclass
class OwnWork:
    """Asks about what the learner does by themselves; `query` says what that is."""

    talk: Talk
    query: Query
    started: bool = False
    """Whether they have said that they have turned something."""
    far: int | None = None
    """How many turns from the first they have done, as they said last."""

    def deed(self, key: str, **values: object) -> Talking[Deed]:
        """Have the learner do it, by the sentence `key`, and wait for what they say about it."""
        return (yield from self.talk.until(self.query, self.talk.forms(key, **values), self._deed_of))

    def right(self) -> Talking[Deed]:
        """Whether all went right, as far as the learner knows, or what they say of it instead; who cannot tell is shown
        by the check that follows."""

        def take(heard: Heard) -> Deed | None:
            deed = self._deed_of(heard)
            if command_of(heard) == "unsure":
                return Deed.DONE
            return Deed.WRONG if deed is Deed.NOT_YET and yes_or_no(heard) is False else deed

        return (yield from self.talk.until(Query("other", about="right"), self.talk.forms("do.right"), take))

    def begun(self, called: bool = False) -> Talking[bool]:
        """Whether the learner has turned anything by themselves, perhaps after some turns that were `called`."""

        def take(heard: Heard) -> bool | None:
            self._note(heard)
            return False if heard.says("not-done") and not self.started else yes_or_no(heard)

        if self.started:
            return True
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

    def _note(self, heard: Heard) -> None:
        """Remember how far they are."""
        if heard.says("unfinished"):
            self.started, self.far = self.started or heard.aside.turns_done is not None, heard.aside.turns_done

    def _deed_of(self, heard: Heard) -> Deed | None:
        """What the learner says of what they are doing."""
        self._note(heard)
        command = command_of(heard)
        if command == "hint" and heard.says("begins"):
            return Deed.FROM_START
        if command in _WANTED:
            return _WANTED[command]
        if heard.says("unfinished"):
            return Deed.PARTLY
        if heard.says("not-done") or command in ("no", "unsure"):
            return Deed.NOT_YET
        if not has(command, Trait.DONE | Trait.YES):
            return None
        self.started, self.far = True, None
        return Deed.DONE
