"""What the coach understood of an answer, in its own words, so that it can ask whether that was meant."""

from __future__ import annotations

from typing import Final

from coach.belief.top import TOP_CORNERS, TOP_EDGES
from coach.dialogue.acts import Heard
from coach.dialogue.saying import Saying
from coach.language.meaning import Meaning

_SHAPES: Final = {
    (): "dot", ("U3", "U5"): "line-across", ("U1", "U7"): "line-away", ("U1", "U3", "U5", "U7"): "cross",
}  # fmt: skip
_TWO: Final = 2
"""From three on, the tens sound like the teens."""


def whether(talk: Saying, guess: Heard) -> str:
    """The question whether the learner meant `guess`."""
    told = guess.meaning and retold(talk, guess.meaning)
    if told and guess.meaning and guess.meaning.command and not guess.meaning.look:
        return talk.words("reply.did-you-mean", text=told)
    return talk.words("reply.did-you-say", text=told or guess.text.rstrip(" .,?!"))


def retold(talk: Saying, meaning: Meaning) -> str | None:
    """The meaning in words; None if there are no words for it."""
    if meaning.command and not meaning.look:
        key = f"meant.{meaning.command}"
        return talk.part(key) if talk.phrases.has(key) else None
    if meaning.step:
        return talk.part("meant.step", step=talk.phrases.part(f"steps.{meaning.step}"))
    if meaning.colours:
        return ", ".join(meaning.colours)
    if meaning.place or meaning.shows:
        return _piece(talk, meaning)
    if meaning.number is not None:
        return _number(talk, meaning.number)
    if meaning.all_but is not None:
        return talk.part("meant.all-but" if meaning.all_but else "meant.all", n=meaning.all_but)
    return _top(talk, meaning)


def _number(talk: Saying, number: int) -> str:
    """The number, with its figures if it sounds like another: "thirteen" may be heard as "thirty" once more."""
    tens, ones = divmod(number, 10)
    alike = (tens == 1 and ones > _TWO) or (tens > _TWO and not ones)
    return talk.part("meant.figures" if alike else "meant.number", n=number, tens=tens, ones=ones)


def _piece(talk: Saying, meaning: Meaning) -> str:
    told: list[str] = []
    if meaning.place:
        layer = next((face for face in meaning.place if face in "UD"), "M")
        sides = [talk.phrases.part(f"sides.{face}") for face in "FBRL" if face in meaning.place]
        told += [talk.phrases.part(f"layers.{layer}"), " ".join(sides)]
    told += [f"{word} {talk.phrases.part(f'pointing.{face}')}" for word, face in list(meaning.shows.items())[:1]]
    return ", ".join(told)


def _top(talk: Saying, meaning: Meaning) -> str | None:
    for places, name in ((TOP_EDGES, _edges), (TOP_CORNERS, _corners)):
        if all(place in meaning.look for place in places):
            return name(talk, tuple(place for place in places if meaning.look[place]))
    if some := [place for place in (*TOP_EDGES, *TOP_CORNERS) if place in meaning.look]:
        return _some(talk, meaning, some)
    return talk.part(f"meant.{meaning.shape}") if meaning.shape else None


def _edges(talk: Saying, up: tuple[str, ...]) -> str:
    if len(up) in (1, 3):
        return _listed(talk, up)
    return talk.part(f"seen.{_SHAPES.get(tuple(sorted(up)), 'corner')}", 0, **_named(talk, up))


def _corners(talk: Saying, up: tuple[str, ...]) -> str:
    return _listed(talk, up) if len(up) == 3 else talk.part(f"seen.corners-{len(up)}", 0, **_named(talk, up))


def _some(talk: Saying, meaning: Meaning, some: list[str]) -> str:
    """The places told, if not all of them were."""
    up = tuple(place for place in some if meaning.look[place])
    down = tuple(place for place in some if not meaning.look[place])
    both = (("meant.up", up), ("meant.down", down))
    told = [talk.part(key, places=_places(talk, which)) for key, which in both if which]
    return ", ".join(told)


def _listed(talk: Saying, up: tuple[str, ...]) -> str:
    return talk.part("meant.up", places=_places(talk, up))


def _places(talk: Saying, places: tuple[str, ...]) -> str:
    names = [talk.phrases.part(f"places.{place}") for place in places]
    return talk.phrases.part("meant.and").join(names)


def _named(talk: Saying, up: tuple[str, ...]) -> dict[str, str]:
    names = [talk.phrases.part(f"places.{place}") for place in up]
    return dict(zip(("first", "second"), (*names, "", ""), strict=False))
