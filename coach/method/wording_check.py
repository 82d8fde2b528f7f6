"""Whether the spoken words of a method file agree with its data.

The proof covers the sequences, but a learner does what is said, so words that contradict `hold`, `count` or
`on` are refused. Words that say the same in another way pass. Only languages listed in `_LANGUAGES` are
checked.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from coach.cube import POSITIONS
from coach.method import english
from coach.method.errors import MethodError
from coach.method.method import Method, cases_of
from coach.method.model import Case, Condition, Step
from coach.method.placing import LAYERS, PlacingCase, PlacingStep, PlannedStep, layer_of

_LANGUAGES: Final = {"en": english}
_AT_UP: Final = {"0": "BL", "1": "B", "2": "BR", "3": "L", "5": "R", "6": "FL", "7": "F", "8": "FR"}
_NEIGHBOURS: Final = {"F": "LR", "R": "FB", "B": "RL", "L": "BF"}
"""The faces to the left and the right of a side, seen straight on."""
_OPPOSITE: Final = {"F": "B", "B": "F", "L": "R", "R": "L"}
_SYMMETRIES: Final = tuple(
    dict(zip("FRBL", faces, strict=True))
    for faces in ("FRBL", "RBLF", "BLFR", "LFRB", "FLBR", "LBRF", "BRFL", "RFLB")
)
"""The four holds with the same top, and their mirror images."""
_WORDS: Final = {"F": "front", "B": "back", "L": "left", "R": "right", "U": "top", "D": "bottom"}
_POINTING: Final = {
    "F": "towards the learner", "B": "away from the learner", "L": "left", "R": "right", "U": "up", "D": "down",
}  # fmt: skip
_SHAPES: Final = {"dot": 0, "line": 2, "corner": 2, "cross": 4}


@dataclass(frozen=True)
class _Spot:
    """What a hold demands at one place: at `where` (two faces for a corner, otherwise one), something shows on
    the face `points`. A whole side points away from the cube."""

    where: frozenset[str]
    points: str

    def seen_by(self, symmetry: dict[str, str]) -> _Spot:
        return _Spot(frozenset(symmetry[f] for f in self.where), symmetry.get(self.points, self.points))


def check_words(method: Method) -> None:
    """Refuse words that contradict the data. Raises MethodError, worded for the file's author."""
    for step in method.steps:
        for code in _LANGUAGES.keys() & step.words.keys():
            if isinstance(step, Step) and step.align and not step.say(code, "align"):
                raise MethodError(
                    f"In step {step.id!r}: it has align = true, so {code}.align is needed: how to tell the last turn."
                )
        for case in cases_of(step):
            for code in _LANGUAGES.keys() & case.words.keys():
                fault = _fault(step, case, code)
                if fault:
                    raise MethodError(f"In case {case.id!r} of step {step.id!r}: {code}.{fault}")


def _fault(step: object, case: Case | PlacingCase, code: str) -> str:
    name = case.say(code, "name")
    if isinstance(case, PlacingCase):
        assert isinstance(step, PlacingStep | PlannedStep)
        slot = step.slot if isinstance(step, PlacingStep) else step.rule.slot
        fault = "" if case.takes_out else _placing_fault(name, case, slot)
        if fault:
            return f'name is "{name}", but {fault}'
        hold = case.say(code, "hold")
        fault = _place_fault(hold, case.at)
        return fault and f'hold is "{hold}", but {fault}'
    assert isinstance(step, Step)
    fault = _count_fault(name, case)
    if fault:
        return f'name is "{name}", but {fault}'
    hold = case.say(code, "hold")
    fault = hold_fault(hold, case.hold) if hold else ""
    return fault and f'hold is "{hold}", but {fault}'


# Holds


def hold_fault(sentence: str, condition: Condition) -> str:
    """How the sentence contradicts the condition, as the end of an error message; "" if they agree."""
    spots, also = _spots(condition), _also(condition)
    told = english.told(sentence)
    if told.any_hold:
        return f"in the file's hold {_demand(spots)}. Say so." if spots else ""
    named = told.corners or told.faces or told.points - {"U", "D"}
    if not condition.shows and not condition.same:
        fault = "the case has no hold, so any side may face the learner. Say that, or give the case a hold."
        return fault if named else ""
    if not spots:
        return ""  # only stickers of different faces are compared, so no place can be named
    demand = f"in the file's hold {_demand(spots)}."
    if not named:
        return f"it names no place: {demand} Say where."
    wrong = next(iter(_contradictions(told, spots, also)), "")
    if wrong:
        return f"{demand} The words say {wrong}. Change the one or the other."
    others = ({spot.seen_by(symmetry) for spot in spots} for symmetry in _SYMMETRIES)
    alike = (other for other in others if other != spots and not any(_contradictions(told, other, frozenset())))
    if next(alike, None):
        return f"that can also be so in another hold: {demand} Say all of it."
    return _untold(told, also)


def _untold(told: english.ToldHold, also: frozenset[str]) -> str:
    """The other comparisons that the words leave out: without them, this hold could be mistaken for its reverse."""
    left_out = also - told.faces - told.points - frozenset().union(*told.corners)
    if not left_out:
        return ""
    compared, missing = (" and ".join(_WORDS[face] for face in "FBLR" if face in faces) for faces in (also, left_out))
    return f"the file's hold also compares stickers at the {compared}; the words do not name the {missing}. Say how."


def _spots(condition: Condition) -> set[_Spot]:
    """What the condition demands of single places and of whole sides."""
    spots = {_spot(place) for place in condition.shows if place[0] in "UFRBL" and place[1] in _AT_UP}
    for group in condition.same:
        faces = {place[0] for place in group}
        if len(faces) == 1 and faces <= set(_NEIGHBOURS):
            spots.add(_Spot(frozenset(faces), faces.pop()))
    return spots


def _spot(place: str) -> _Spot:
    face, number = place[0], place[1]
    if face == "U":
        return _Spot(frozenset(_AT_UP[number]), "U")
    beside = _NEIGHBOURS[face]
    return _Spot(frozenset(face + {"0": beside[0], "2": beside[1]}.get(number, "")), face)


def _also(condition: Condition) -> frozenset[str]:
    """Other faces that may be named, because their stickers are compared with each other."""
    groups = [{place[0] for place in group} for group in condition.same]
    return frozenset().union(*(group for group in groups if len(group) > 1))


def _contradictions(told: english.ToldHold, spots: set[_Spot], also: frozenset[str]) -> Iterator[str]:
    """The places that are told but are not in the hold, and whether none of those told fits it."""
    fits = False
    places = {spot.where for spot in spots}
    pieces = {"corner" if len(where) == 2 else "edge" for where in places}
    if told.kinds and not told.kinds & pieces and not _whole_sides(spots) and not _bent(places):
        yield f"something of the {min(told.kinds)}s"
    for corner in sorted(told.corners, key=sorted):
        here = corner in places or {frozenset(face) for face in corner} <= places
        fits |= here
        if not here and not corner <= also:
            yield " ".join(_WORDS[face] for face in "FBLR" if face in corner)
    for face in sorted(told.points):
        here = any(spot.points == face for spot in spots) or {face} in places
        fits |= here
        if not here and face not in also:
            yield _POINTING[face]
    for face in sorted(told.faces):
        here = any(spot.points == face for spot in spots) or {face} in places or (
            not told.corners and _at_every_corner(face, told.faces, spots)
        )
        fits |= here
        if not here and face not in also:
            yield _WORDS[face]
    if not fits:
        yield "nothing of that"


def _whole_sides(spots: set[_Spot]) -> bool:
    return any(spot.where == {spot.points} for spot in spots)


def _bent(places: set[frozenset[str]]) -> bool:
    """Whether the places are two adjacent edges: this shape is called a corner as well."""
    return len(places) == 2 and all(len(place) == 1 for place in places) and len(_across(places)) == 0


def _across(places: Iterable[frozenset[str]]) -> set[str]:
    """The faces whose opposite is there too."""
    faces = {face for place in places for face in place}
    return {face for face in faces if _OPPOSITE[face] in faces}


def _at_every_corner(face: str, named: frozenset[str], spots: set[_Spot]) -> bool:
    """Whether all places are corners at the face, or at either it or its opposite if both are named."""
    either = {face, _OPPOSITE[face]} if _OPPOSITE[face] in named else {face}
    return all(len(spot.where) == 2 and either & spot.where for spot in spots)


def _demand(spots: set[_Spot]) -> str:
    """What a hold demands, in words."""
    return " and ".join(sorted(map(_in_words, spots)))


def _in_words(spot: _Spot) -> str:
    where = " ".join(_WORDS[face] for face in "FBLR" if face in spot.where)
    if spot.points == "U":
        return f"the {where} {'corner' if len(spot.where) == 2 else 'edge'} has the top colour on top"
    if len(spot.where) == 2:
        return f"the {where} corner has the top colour on its {_WORDS[spot.points]} side"
    return f"the {where} side is the one meant"


# Counts


def _count_fault(name: str, case: Case) -> str:
    """How the name contradicts `count`."""
    expected = dict(case.count)
    for pairs in ("pairs", "sides"):
        if pairs in case.count:
            expected["sides"] = case.count[pairs]
    for what, number in english.counts(name):
        if what in expected and expected[what] != number:
            key = "pairs" if what == "sides" and "pairs" in case.count else what
            return f"count.{key} is {expected[what]}. Change the one or the other."
    shape = english.shape(name) if "edges" in case.count and "corners" not in case.count else ""
    if shape and _SHAPES[shape] != case.count["edges"]:
        return f"a {shape} has {_SHAPES[shape]} edges and count.edges is {case.count['edges']}."
    edges = [spot.where for spot in _spots(case.hold) if spot.points == "U" and len(spot.where) == 1]
    if shape in ("line", "corner") and len(edges) == 2 and bool(_across(edges)) != (shape == "line"):
        named = " and ".join(_WORDS[face] for face in "FBLR" if {face} in edges)
        return f"the edges of its hold, {named}, make no {shape}."
    return ""


# Pieces that are placed


def _placing_fault(name: str, case: PlacingCase, slot: str) -> str:
    """How the name contradicts where the piece lies (`at`, `colour`, `on`) or goes (`slot`)."""
    # For a middle edge, the words may be about its other sticker; otherwise they are about the case's own.
    allowed = {case.on} if len(case.at) == 3 or case.colour == "D" else set(case.at)
    for face in sorted(english.pointing(name) - allowed):
        return f"on is {case.on!r} and the words say {_POINTING[face]}. Change the one or the other."
    begins, ends = english.way(name)
    if begins and begins not in case.at:
        return f"at is {case.at!r}, which is not at the {_WORDS[begins]}. Change the one or the other."
    if ends and ends not in set(slot) - set(case.at):
        return f"from {case.at!r} to the place {slot!r} a piece does not go {_WORDS[ends]}."
    return ""


def _place_fault(sentence: str, at: str) -> str:
    """How the words about where a piece is held contradict `at`."""
    told = english.told(sentence)
    sides = frozenset(at) - {"U", "D"}
    here = sides in told.corners if len(sides) == 2 else sides <= told.faces | told.points
    wrong = any(corner != sides for corner in told.corners)
    layer = next(name for name, letter in LAYERS.items() if letter == layer_of(POSITIONS[at]))
    if here and not wrong and english.layer(sentence) in ("", layer):
        return ""
    where = " ".join(_WORDS[face] for face in "FBLR" if face in sides)
    return f"at is {at!r}: the {layer} layer, {where}. Say so."
