"""A mirrored method for learners who turn mostly with the left hand: right and left are swapped, in its words too.

Nothing here is taken on trust: the result is proven like a file.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Final

from coach.cube import PLACE_NAMES, Turn, mirrored, position_of
from coach.cube.geometry import STICKERS
from coach.method import english
from coach.method.method import AnyStep, Method
from coach.method.model import Case, Condition
from coach.method.placing import PlacingCase, PlacingStep, PlannedStep
from coach.method.sequences import Group, NamedSequence, Spoken

_LANGUAGES: Final = {"en": english.mirrored}
"""How to mirror the words of each language; words in other languages are left out, as they would be wrong."""
_FACES: Final = dict(zip("LR", "RL", strict=True))


def _places() -> dict[str, str]:
    """The mirror image of each sticker place, with left and right swapped."""
    names = dict(zip(STICKERS, PLACE_NAMES, strict=True))
    return {name: names[_across(spot), _across(facing)] for (spot, facing), name in names.items()}


def _across(vector: tuple[int, int, int]) -> tuple[int, int, int]:
    return -vector[0], vector[1], vector[2]


_PLACES: Final = _places()


def mirrored_method(method: Method) -> Method:
    """The same method for the other hand."""
    steps = tuple(map(_step, method.steps))
    return Method(method.name, steps, "right" if method.hand == "left" else "left")


def _step(step: AnyStep) -> AnyStep:
    if isinstance(step, PlannedStep):
        return replace(step, pieces=_positions(step.pieces), rule=_placing(step.rule), words=_words(step))
    if isinstance(step, PlacingStep):
        return _placing(step)
    needs, goal = _condition(step.needs), _condition(step.goal)
    return replace(step, needs=needs, goal=goal, cases=tuple(map(_case, step.cases)), words=_words(step))


def _placing(step: PlacingStep) -> PlacingStep:
    (slot,) = _positions([step.slot])
    cases = tuple(map(_placing_case, step.cases))
    return replace(step, pieces=_positions(step.pieces), slot=slot, cases=cases, words=_words(step))


def _case(case: Case) -> Case:
    named = case.named and _sequence(case.named)
    return replace(case, id=_id(case.id), hold=_condition(case.hold), named=named, words=_words(case))


def _placing_case(case: PlacingCase) -> PlacingCase:
    (at,) = _positions([case.at])
    return replace(
        case, id=_id(case.id), at=at, colour=_face(case.colour), on=_face(case.on), named=_sequence(case.named),
        words=_words(case),
    )  # fmt: skip


def _sequence(sequence: NamedSequence) -> NamedSequence:
    groups = tuple(Group(_turns(group.turns), words=_words(group)) for group in sequence.groups)
    return NamedSequence(_id(sequence.id), _turns(sequence.turns), groups, words=_words(sequence))


def _turns(turns: Iterable[Turn]) -> tuple[Turn, ...]:
    return tuple(map(mirrored, turns))


def _face(face: str) -> str:
    return _FACES.get(face, face)


def _positions(names: Iterable[str]) -> tuple[str, ...]:
    return tuple(position_of("".join(map(_face, name))) for name in names)


def _condition(condition: Condition) -> Condition:
    return Condition(_mirrored_places(condition.shows), tuple(map(_mirrored_places, condition.same)))


def _mirrored_places(places: Iterable[str]) -> tuple[str, ...]:
    return tuple(map(_PLACES.__getitem__, places))


def _id(name: str) -> str:
    """The id in the mirror: ids are English and say where things are as well."""
    return english.mirrored(name)


def _words(spoken: Spoken) -> Mapping[str, Mapping[str, str]]:
    return {
        code: {what: mirror(text) for what, text in spoken.words[code].items()}
        for code, mirror in _LANGUAGES.items()
        if code in spoken.words
    }
