"""What was said about the top, and claims and predictions about it as sentences."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

from coach.belief.evidence import Look
from coach.belief.top import TOP_CORNERS, TOP_EDGES, Belief, Claim, shape
from coach.cube import PLACE_NAMES, PLACE_NUMBER, shown
from coach.dialogue.acts import Claimed, Query
from coach.dialogue.talk import Talk
from coach.language.meaning import Meaning

_NAMED = {
    frozenset(TOP_CORNERS): "claim.corners-up",
    frozenset(TOP_EDGES): "claim.cross",
    frozenset({"F0"}): "claim.front-left-front",
    frozenset({"L2"}): "claim.front-left-left",
}
_LINES = {frozenset({"U3", "U5"}): "claim.line-across", frozenset({"U1", "U7"}): "claim.line-away"}


def look_of(meaning: Meaning | None) -> Look | None:
    """What was said about the top; None if nothing was."""
    if not meaning:
        return None
    look = Look(meaning.look, meaning.edges, meaning.corners, meaning.shape)
    return None if look == Look() else look


def as_told(meaning: Meaning) -> Meaning:
    """The same meaning; but naming three edges, or three corners, on top implies that the fourth is not."""
    look = dict(meaning.look)
    for places in (TOP_EDGES, TOP_CORNERS):
        told = [place for place in places if place in look]
        if len(told) == 3 and all(look[place] for place in told):
            look |= {place: False for place in places if place not in told}
    return replace(meaning, look=look)


def number_of(said: Meaning, number: int | None, places: tuple[str, ...]) -> int | None:
    """How many of `places` show the top colour, according to what was said; None if that was left open."""
    if number is None and all(place in said.look for place in places):
        return sum(said.look[place] for place in places)
    return number


def narrowed(belief: Belief, meaning: Meaning) -> Belief:
    """The patterns of `belief` that agree with what was said about the top."""
    belief = belief.seeing(meaning.look).counting(meaning.edges, meaning.corners)
    return belief.shaped(meaning.shape) if meaning.shape else belief


def claimed(claim: Claim, colours: Mapping[str, str]) -> tuple[Claimed, ...]:
    """The claim in the learner's words for the colours."""
    return tuple(Claimed(place[0], int(place[1]), colours[face]) for place, face in claim)


def claiming(claim: Claim, colours: Mapping[str, str]) -> Query:
    """The question whether the claim holds."""
    return Query("claim", claim=claimed(claim, colours))


def question(talk: Talk, claim: Claim, belief: Belief) -> str:
    """The claim as a question that can be answered with yes or no."""
    places = frozenset(place for place, _ in claim)
    if places == frozenset(TOP_CORNERS) and belief.views(TOP_EDGES) == {(True,) * 4}:
        return talk.words("claim.whole-top")
    if places in _LINES and shape(belief) == "line":
        return talk.words(_LINES[places])
    if places in _NAMED:
        return talk.words(_NAMED[places])
    names = [talk.phrases.part(f"places.{place}") for place, _ in claim if place[0] == "U"]
    if len(names) == 2:
        return talk.words("claim.edges", first=names[0], second=names[1])
    place = claim[0][0]
    if place[0] == "U":
        kind = "edge" if place in TOP_EDGES else "corner"
        return talk.words(f"claim.{kind}", where=names[0])
    return sticker_question(talk, (place, "U"), talk.colours)


def sticker_question(talk: Talk, sticker: tuple[str, str], colours: Mapping[str, str]) -> str:
    """The question whether the sticker at a place has the colour of a face."""
    place, of = sticker
    row, column = divmod(int(place[1]), 3)
    words = {**row_words(talk, place[0], row + 1), "where": talk.phrases.part(f"columns.{column}")}
    return talk.words("claim.sticker", 0, **words, colour=colours[of])


def row_words(talk: Talk, face: str, number: int) -> dict[str, str]:
    """The name of a row of a face, as words for the gaps of a sentence."""
    lying = f"-{face}" if face in "UD" else ""  # top and bottom have no upper row while they lie flat
    return {"face": talk.phrases.part(f"faces.{face}"), "row": talk.phrases.part(f"read.row{lying}-{number}")}


def piece_name(talk: Talk, colours: Sequence[str]) -> str:
    """A piece by its colours in words: "white and green edge"."""
    *first, last = colours
    kind = "corner" if len(colours) == 3 else "edge"
    return talk.phrases.part(f"lower.{kind}", first=", ".join(first), last=last)


def lies(talk: Talk, placement: Sequence[int]) -> dict[str, str]:
    """Where a piece is and where its first sticker points, as words for the gaps of a sentence."""
    faces = [PLACE_NAMES[place][0] for place in placement]
    layer = next((face for face in faces if face in "UD"), "M")
    pointing = talk.phrases.part(f"pointing.{faces[0]}")
    return {"layer": talk.phrases.part(f"layers.{layer}"), "where": at_sides(talk, faces), "pointing": pointing}


def at_sides(talk: Talk, faces: Collection[str]) -> str:
    """The sides that a piece is on: "at the front left", "on the left"."""
    sides = [face for face in "FBRL" if face in faces]
    place = " ".join(talk.phrases.part(f"sides.{face}") for face in sides)
    return talk.phrases.part("lower.at", int(sides[0] in "RL"), place=place)


def seen_edges(talk: Talk, belief: Belief) -> str:
    """What the top edges look like if they are alike in all patterns: "a line from left to right"."""
    pattern = next(iter(belief.patterns))
    places = shown(pattern, TOP_EDGES)
    name = shape(belief)
    if name == "line":
        name = "line-across" if "U3" in places else "line-away"
    return _seen(talk, name or "dot", places)


def seen_corners(talk: Talk, belief: Belief) -> str:
    """What the top corners look like if they are alike in all patterns."""
    places = shown(next(iter(belief.patterns)), TOP_CORNERS)
    return _seen(talk, f"corners-{len(places)}", places)


def _seen(talk: Talk, name: str, places: tuple[str, ...]) -> str:
    names = [talk.phrases.part(f"places.{place}") for place in sorted(places, key=PLACE_NUMBER.__getitem__)]
    first, second = (*names, "", "")[:2]
    return talk.part(f"seen.{name}", first=first, second=second)
