"""Getting to know the learner's words for the six faces: colours, or marks to feel."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from coach.cube import FACES
from coach.dialogue.acts import Heard, Query
from coach.dialogue.replies import yes_or_no
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
        right = yield from _confirmed(talk, named)
        while right and right != named:
            named |= right
            right = yield from _confirmed(talk, named)
        if right:
            return named
        yield from talk.tell("colours.again")


def _ask_all(talk: Talk) -> Talking[dict[str, str]]:
    named: dict[str, str] = {}
    while len(named) < len(FACES):
        face = next(face for face in FACES if face not in named)
        try:
            told = yield from _ask(talk, face, named)
            if told:
                named |= told
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


def _ask(talk: Talk, face: str, named: Mapping[str, str]) -> Talking[Mapping[str, str]]:
    """A word for a face that no other face has, or words for the faces that are told instead; {} if the previous answer
    was wrong."""

    def take(heard: Heard) -> Mapping[str, str] | None:
        if named and heard.meaning and heard.meaning.command == "no":
            return {}
        words = heard.meaning.colours if heard.meaning else ()
        told = heard.aside.sides or ({face: words[0]} if len(words) == 1 else {})
        return told if told and _differ({**named, **told}) else None

    forms = talk.forms("ask.colour-next" if named else "ask.colour", face=talk.phrases.part(f"faces.{face}"))
    return (yield from talk.until(Query("other", about="colour", face=face), forms, take))


def _differ(named: Mapping[str, str]) -> bool:
    return len(set(named.values())) == len(named)


def _confirmed(talk: Talk, named: Mapping[str, str]) -> Talking[Mapping[str, str]]:
    """The words that are right: those `named`, if they are, or some that are told instead; {} if they are wrong."""

    def take(heard: Heard) -> Mapping[str, str] | None:
        told = heard.aside.sides
        if told and _differ({**named, **told}):
            return told
        yes = yes_or_no(heard)
        return None if yes is None else dict(named) if yes else {}

    told = ", ".join(f"{talk.phrases.part(f'faces.{face}')} {word}" for face, word in named.items())
    while True:
        try:
            forms = talk.forms("colours.right", told=told)
            return (yield from talk.until(Query("other", about="colours"), forms, take))
        except Interrupt:
            return {}
