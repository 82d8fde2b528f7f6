"""Getting to know a cube's colours: top and front, and the others where they are not as usual."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from coach.cube import FACES, WHOLE_TURNS
from coach.dialogue.acts import Heard
from coach.dialogue.knowledge import DEFAULT_COLOURS
from coach.dialogue.talk import Interrupt, Talk, Talking

_FILLERS: Final = frozenset({"it", "its", "it's", "is", "the", "a", "an", "um", "uh", "that", "that's", "i", "think"})
_LONGEST_NAME: Final = 20


def ask_colours(talk: Talk) -> Talking[Mapping[str, str]]:
    """The names of the colours (or marks) by face of the hold, as the learner calls them."""
    named: dict[str, str] = {}
    for face in "UF":
        yield from _ask(talk, face, named)
    usual = _usual(named["U"], named["F"])
    if usual and (yield from _yes(talk)):
        return usual
    for face in "RDLB":
        yield from _ask(talk, face, named)
    return {face: named[face] for face in FACES}


def _usual(up: str, front: str) -> Mapping[str, str] | None:
    for hold in WHOLE_TURNS:
        names = [DEFAULT_COLOURS[FACES[place // 9]] for place in hold[4::9]]
        if (names[0], names[2]) == (up, front):
            return dict(zip(FACES, names, strict=True))
    return None


def _yes(talk: Talk) -> Talking[bool]:
    while True:
        try:
            return (yield from talk.insist("other", talk.forms("ask.pairs"), {"about": "pairs"}))
        except Interrupt:
            yield from talk.tell("reply.not-understood")


def _ask(talk: Talk, face: str, named: dict[str, str]) -> Talking[None]:
    """Ask until a name is said that no other face has."""

    def take(heard: Heard) -> str | None:
        if heard.meaning and heard.meaning.command:
            return None
        words = [w for w in heard.text.lower().replace(",", " ").replace(".", " ").split() if w not in _FILLERS]
        name = words[-1] if words else ""
        return name if 0 < len(name) <= _LONGEST_NAME and name not in named.values() else None

    forms = talk.forms("ask.colour", face=talk.words(f"faces.{face}").lower())
    while face not in named:
        try:
            name = yield from talk.ask("other", forms, take, {"about": "colour", "face": face})
            if not name:
                yield from talk.wait()
                continue
        except Interrupt:
            yield from talk.tell("reply.not-understood")
            continue
        named[face] = name
