"""The possible meanings of an answer, with probabilities: combines the network's outputs for the moment."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from coach.language.commands import Trait, has
from coach.language.en.reader import claims, contexts, lists, turns
from coach.language.en.reader.claims import Weighted
from coach.language.en.reader.heads import HEAD, NOTHING, UNSAID
from coach.language.en.reader.network import Network, Read
from coach.language.en.reader.places import of_any_piece, placements
from coach.language.en.reader.roles import in_roles, role
from coach.language.en.reader.tops import CORNERS, EDGES, top
from coach.language.meaning import Meaning, Question, Scene
from coach.language.questions import BETWEEN

_LOOKS: Final = ("look-top-edges", "look-top-corners")
_BESIDE: Final = frozenset((UNSAID, "correct"))
"""Commands that only say that something is told; a learner who tells part of it may be unsure of the rest."""
_INSTEAD: Final = {("step", "unsure"): "read", ("continue", "resume"): "yes", ("return", "resume"): "yes"}
"""What a command amounts to in a moment: if the learner does not know the step, the cube is read."""
_ALL_UP: Final = dict.fromkeys((*EDGES, *CORNERS), True)
_PLACED: Final = 0.9
_LONG: Final = 4
_COUNTED: Final = ("hands", "row", "face", "recite")
_TOLD: Final = 0.5
_NAMED: Final = 0.9
_CALLED: Final = 0.99


def readings(network: Network, text: str, asked: Question, scene: Scene) -> Weighted:
    """The possible meanings of `text` as an answer to `asked`, likeliest first, with probabilities that add up to at
    most 1. None stands for an answer that is not for the coach, or of no use."""
    words = in_roles(text, scene)
    if not any(letter.isalpha() or (letter.isdigit() and asked in _COUNTED) for word in words for letter in word):
        return [(None, 1.0)]
    moment = contexts.moment(asked, scene)
    if moment == "recite" and (called := turns.plainly(words)):
        return [(Meaning(turns=called), _CALLED)]
    if moment == "recite" and turns.choose(words):
        return [(None, _CALLED)]
    piece = tuple(role(word, scene) for word in scene.piece) if asked == "piece" else ()
    read = network.read(contexts.context(moment, piece), words)
    told = _told(read, words, moment, scene, piece)
    if moment in BETWEEN and len(words) > _LONG and _is_placed(network, words):
        return [(None, _PLACED)]  # where a piece is says nothing about a turn
    commanded = _commanded(read, moment)
    if moment in BETWEEN and claims.asks(bare := claims.bare(words)) and "next" not in bare:
        # a question does not say that a turn is done, whatever its words
        done = [said is not None and has(said.command, Trait.DONE) for said, _ in commanded]
        commanded = [(said, chance / 2 if so else chance) for (said, chance), so in zip(commanded, done, strict=True)]
    if moment == "claim":
        if (so := claims.compared(read, words, scene)) is not None:
            return [(so, claims.COMPARED)]
        commanded = claims.with_doubt(read, words, scene, commanded)
    untold = not any(meaning and chance > _TOLD for meaning, chance in told)
    if asked == "piece" and scene.about == "placed" and untold:  # the answer may be whether the previous piece is in
        verdict = _commanded(network.read(contexts.context("claim"), words), "claim")
        commanded += [each for each in verdict if each[0] in (claims.YES, claims.NO) and each[1] > _TOLD]
    return sorted(added([*told, *commanded]), key=lambda each: -each[1])


def _is_placed(network: Network, words: Sequence[str]) -> bool:
    """Whether the words say where a piece is and how it lies."""
    read = network.read(contexts.context("piece"), words)
    heads = ("place", "shows-D")
    return all(1 - np.exp(read.log(head, UNSAID)) > _PLACED for head in heads)


def named_step(network: Network, text: str, scene: Scene) -> str | None:
    """The step that is named or described within another answer; None if none surely is."""
    read = network.read(contexts.context("step"), in_roles(text, scene))
    step, chance = max(_of_head(read, "step"), key=lambda each: each[1], default=("", 0.0))
    return step if chance > _NAMED else None


def added(told: Weighted) -> Weighted:
    """The same with equal meanings added up; an empty meaning becomes None."""
    found: Weighted = []
    for meaning, chance in told:
        meaning = meaning if meaning else None
        at = next((at for at, (other, _) in enumerate(found) if other == meaning), None)
        if at is None:
            found.append((meaning, chance))
        else:
            found[at] = (meaning, found[at][1] + chance)
    return found


def _commanded(read: Read, moment: str) -> Weighted:
    """The possible commands, with what they say about the top."""
    chances = np.exp(read.of("command").astype(float))
    names = HEAD["command"].classes
    told: Weighted = []
    for at in np.argsort(-chances)[:5]:
        name, chance = _INSTEAD.get((moment, names[at]), names[at]), float(chances[at])
        if name == NOTHING:
            told.append((None, chance))
        elif name == "done-top" and moment in _LOOKS:
            told.append((Meaning(_ALL_UP, command=name), chance))
        elif name not in _BESIDE or (name == "correct" and moment not in _LOOKS):
            told.append((Meaning(command=name), chance))
    return told


def _told(read: Read, words: Sequence[str], moment: str, scene: Scene, piece: tuple[str, ...]) -> Weighted:
    """The possible answers to what is asked for."""
    plain = float(np.exp(read.log("command", UNSAID)))
    if moment in _LOOKS:
        corrected = float(np.exp(read.log("command", "correct")))
        seen = {cell: word == scene.up for cell, word in scene.seen.items()}
        return _look(top(moment).read(read, seen), plain, corrected)
    if moment == "piece":
        lies = placements(piece)
        return _times(lies.read(read, words, scene) if lies else [of_any_piece(read, scene.colours)], plain)
    if moment in ("row", "face"):
        return _times([lists.colours(read, words, scene.colours, 3 if moment == "row" else 9)], plain)
    if moment == "claim":
        return _times([(claims.described(read, scene), 1.0)], plain)
    if moment in ("step", "return"):
        return _times([(Meaning(step=step), chance) for step, chance in _of_head(read, "step")], plain)
    if moment == "hands":
        numbers: Weighted = [(Meaning(number=int(number)), chance) for number, chance in _of_head(read, "number")]
        return _times(numbers + [(Meaning(case=case), chance) for case, chance in _of_head(read, "case")], plain)
    if moment == "recite":
        return _times([lists.turns(read)], plain / 2 if turns.are_doubted(words) else plain)
    if moment == "hold":
        told: Weighted = [(Meaning(case=shape), chance) for shape, chance in _of_head(read, "shape")]
        return _times(told, plain)
    return []


def _times(told: Weighted, chance: float) -> Weighted:
    return [(meaning, each * chance) for meaning, each in told]


def _of_head(read: Read, name: str) -> list[tuple[str, float]]:
    """The likeliest classes of a head, leaving out the one for nothing said."""
    chances = np.exp(read.of(name).astype(float))
    return [(HEAD[name].classes[at], float(chances[at])) for at in np.argsort(-chances)[:3] if at]


def _look(looks: Weighted, plain: float, corrected: float) -> Weighted:
    """The top as told; a bare "correct" says nothing about it."""
    told: Weighted = []
    for meaning, chance in looks:
        told.append((meaning, chance * plain))
        told.append((replace(meaning, command="correct") if meaning is not None else None, chance * corrected))
    return told
