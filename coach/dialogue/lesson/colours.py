"""Getting to know the learner's words for the six faces: colours, or marks to feel."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from coach.cube import FACES
from coach.dialogue.acts import Heard, Query
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt
from coach.dialogue.talk import Talk

Clashes = Callable[[Sequence[str]], Sequence[tuple[str, str]]]
"""Tells which words are easily taken for each other, or for one of the coach's own words."""


def ask_colours(talk: Talk, clashes: Clashes = lambda words: ()) -> Talking[Mapping[str, str]]:
    """The learner's words by face, as the cube is held: asked one by one, then all six are read back."""
    yield from talk.tell("colours.hold" if not talk.questions else "colours.hold-on")
    while True:
        named = yield from _ask_all(talk)
        for one, other in clashes(tuple(named.values())):
            key = "colours.clash" if other in named.values() else "colours.clash-own"
            yield from talk.tell(key, one=one, other=other)
        if (yield from _confirmed(talk, named)):
            return named
        yield from talk.tell("colours.again")


def _ask_all(talk: Talk) -> Talking[dict[str, str]]:
    named: dict[str, str] = {}
    while len(named) < len(FACES):
        face = FACES[len(named)]
        try:
            word = yield from _ask(talk, face, tuple(named.values()))
            if word:
                named[face] = word
                talk.phrases = talk.phrases.by_touch(talk.phrases.felt(named.values()))
            else:
                yield from _back(talk, named)
        except Interrupt as interrupt:
            if interrupt.command in ("correct", "mistake", "back") and named:
                yield from _back(talk, named)
            elif interrupt.command == "restart-run":
                named.clear()
            else:
                yield from talk.tell("reply.not-understood")
    return named


def _back(talk: Talk, named: dict[str, str]) -> Talking[None]:
    """Forget the last answer, which was wrong, so that it is asked for again."""
    face, _ = named.popitem()
    yield from talk.tell("colours.back", face=talk.phrases.part(f"faces.{face}"))


def _ask(talk: Talk, face: str, taken: Sequence[str]) -> Talking[str]:
    """A word for a face that no other face has; "" if the previous answer was wrong."""

    def take(heard: Heard) -> str | None:
        if taken and heard.meaning and heard.meaning.command == "no":
            return ""
        words = heard.meaning.colours if heard.meaning else ()
        return words[0] if len(words) == 1 and words[0] not in taken else None

    forms = talk.forms("ask.colour-next" if taken else "ask.colour", face=talk.phrases.part(f"faces.{face}"))
    return (yield from talk.until(Query("other", about="colour", face=face), forms, take))


def _confirmed(talk: Talk, named: Mapping[str, str]) -> Talking[bool]:
    told = ", ".join(f"{talk.phrases.part(f'faces.{face}')} {word}" for face, word in named.items())
    while True:
        try:
            return (yield from talk.insist(Query("other", about="colours"), talk.forms("colours.right", told=told)))
        except Interrupt:
            return False
