"""Telling, for the steps that place pieces: which sequence and where a piece comes for it, which piece comes first; and
which step comes next."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import combinations
from typing import Final

from coach.dialogue.practice.lower_routes import Lower, rule_of
from coach.dialogue.practice.telling import Judged, Matter
from coach.dialogue.solving import wording
from coach.dialogue.talk import Talk
from coach.language.meaning import Meaning
from coach.language.teachings import words
from coach.learning.exercise import Item
from coach.method import Method, PlacingCase, Step

NEXT_PIECE: Final = "next-piece"
NEXT_STEP: Final = "next-step"
"""The case of an item of this kind, and the subject of its question."""
_ROUND: Final = "FRBL"
_EDGE_AT: Final[Mapping[str, str]] = {"F": "U7", "R": "U5", "B": "U1", "L": "U3"}
_LAYERS: Final[Mapping[str, str]] = {"U": "top", "M": "middle", "D": "bottom"}
"""How an answer names the layers."""


def choices(method: Method) -> Sequence[Item]:
    """What is to be chosen: the next step, and the next piece where a rule tells it."""
    steps = [Item(step.id, NEXT_STEP, "hold", method.name) for step in method.steps[1:]]
    pieces = [
        Item(step.id, NEXT_PIECE, "hold", method.name)
        for step in method.steps if not isinstance(step, Step) and len(rule_of(step).layers) > 1
    ]  # fmt: skip
    return (*pieces, *steps)


def of_case(talk: Talk, step: Lower, case: PlacingCase, number: int) -> Matter:
    """How a piece is placed that lies as in the case; another `number` has it lie elsewhere, never where it has to
    come."""
    sequence, hold = case.named.say(talk.phrases.code, "name"), words(case, "hold", talk.phrases, talk.gaps)
    told = talk.words("telling.goes", statement=hold, sequence=sequence)
    above = len(case.at) == len("UFR") and not case.takes_out  # how it points is told as it is held
    wanted = "sequence" if above else "out" if case.takes_out else "in"
    seen = _lies(talk, rule_of(step).slot, case, 0 if above else 1 + number % 3)
    sides = frozenset(_EDGE_AT[face] for face in case.at if face in _EDGE_AT)

    def judge(meaning: Meaning) -> Judged:
        said = frozenset(place for place, so in meaning.look.items() if so)
        held = True if said == sides else False if said and not said & sides else None
        return Judged(None if meaning.case is None else meaning.case == case.named.id, held)

    return Matter(seen, wanted, told, judge, hold, Judged(hold=True if above else None))


def _lies(talk: Talk, slot: str, case: PlacingCase, number: int) -> str:
    """Where the piece is and how it points, or what is wrong with it."""
    piece = wording.piece_name(talk, [talk.colours[face] for face in slot])
    faces = "".join(_turned(face, number) for face in case.at)
    layer = talk.phrases.part(f"layers.{next((face for face in faces if face in 'UD'), 'M')}")
    where = wording.at_sides(talk, faces)
    if case.takes_out:
        return talk.words("telling.piece-low", piece=piece, layer=layer, where=where)
    if "D" not in slot:  # which way it goes shows in what is on top
        front, side = slot[0], slot[1]
        hand, top = talk.phrases.part(f"sides.{side}"), talk.colours[case.colour]
        return talk.words(
            "telling.piece-between", piece=piece, where=where, front=talk.colours[front], side=talk.colours[side],
            hand=hand, colour=top,
        )  # fmt: skip
    pointing = talk.phrases.part(f"pointing.{_turned(case.on, number)}")
    colour = talk.colours[case.colour]
    key = "telling.piece" if number else "telling.piece-above"
    return talk.words(key, piece=piece, layer=layer, where=where, pointing=pointing, colour=colour)


def _turned(face: str, number: int) -> str:
    """The face that `face` is turned to by so many quarters round the cube."""
    return face if face in "UD" else _ROUND[(_ROUND.index(face) + number) % len(_ROUND)]


def next_piece(talk: Talk, step: Lower, number: int) -> tuple[Matter, tuple[tuple[str, ...], ...]]:
    """Which of two pieces in different layers comes first; and the words for both, in the order in which they are
    told."""
    rule = rule_of(step)
    pairs = list(combinations(rule.layers, 2))
    layers = pairs[number // 2 % len(pairs)]
    slots = [rule.pieces[at % len(rule.pieces)] for at in (number, number + 1)]
    pieces = [tuple(talk.colours[face] for face in slot) for slot in slots]
    both = list(zip(layers, pieces, strict=True))
    told = both if number % 2 else both[::-1]
    first, piece = both[0]
    named = [wording.piece_name(talk, colours) for _, colours in told]
    where = [talk.phrases.part(f"layers.{layer}") for layer, _ in told]
    seen = talk.words(
        "telling.two", step=talk.phrases.part(f"steps.{step.id}"), one=named[0], layer=where[0], other=named[1],
        other_layer=where[1],
    )  # fmt: skip
    right = talk.words(
        "telling.first", layer=talk.phrases.part(f"layers.{first}"), piece=wording.piece_name(talk, piece)
    )

    def judge(meaning: Meaning) -> Judged:
        if meaning.piece:
            return Judged(set(meaning.piece) == set(piece))
        named = [layer for layer in layers if _LAYERS[layer] == meaning.case]
        return Judged(named == [first] if named else None)

    matter = Matter(seen, "piece", right, judge, given=Judged(hold=True), about=NEXT_PIECE, easy=True)
    return matter, tuple(colours for _, colours in told)


def next_step(talk: Talk, method: Method, step_id: str) -> Matter:
    """Which step comes once the step before it is done."""
    ids = [step.id for step in method.steps]
    before = method.steps[ids.index(step_id) - 1]
    seen = before.say(talk.phrases.code, "done").format(**talk.gaps)
    told = talk.words("telling.comes", step=talk.phrases.part(f"steps.{step_id}"))

    def judge(meaning: Meaning) -> Judged:
        return Judged(None if meaning.step is None else meaning.step == step_id)

    def doubts(meaning: Meaning) -> tuple[str, ...]:
        return talk.forms("telling.meant-step", step=talk.phrases.part(f"steps.{meaning.step}"))

    return Matter(seen, "step", told, judge, given=Judged(hold=True), about=NEXT_STEP, easy=True, doubts=doubts)
