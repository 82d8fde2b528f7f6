"""What is said of placing pieces in answer to a question in words: the sequence and where the piece comes for it, which
of two pieces is first, which step is next."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from typing import Final

from coach.language.en.besides.which import chosen
from coach.language.en.by_heart.taught import sequence_named
from coach.language.en.reader.claims import Weighted
from coach.language.en.reader.network import Network
from coach.language.en.reader.normalise import HARD, SOFT
from coach.language.en.reader.reader import readings
from coach.language.meaning import Meaning, Scene

_STEPS: Final = ("bottom-cross", "bottom-corners", "middle-edges")
_SIDES: Final[Mapping[str, str]] = {
    "back": "U1", "behind": "U1", "rear": "U1", "left": "U3", "right": "U5", "front": "U7", "facing": "U7",
}  # fmt: skip
_LAYERS: Final[Mapping[str, str]] = {
    "top": "top", "upper": "top", "uppermost": "top", "above": "top", "highest": "top", "higher": "top",
    "middle": "middle", "bottom": "bottom", "lower": "bottom", "lowest": "bottom", "below": "bottom",
    "underneath": "bottom",
}  # fmt: skip
_DENIALS: Final = frozenset({"not", "no", "never", "neither"})
_LIKELY: Final = 0.5


def told(network: Network, text: str, words: Sequence[str], scene: Scene) -> Weighted | None:
    """What is said in a moment of that kind; None in any other moment."""
    if scene.about not in (*_STEPS, "next-piece", "next-step"):
        return None
    plain = readings(network, text, "hold", scene)
    denied = _DENIALS & set(words)
    if scene.about == "next-step":
        meaning = _step(network, text, scene)
    elif scene.about == "next-piece":
        meaning = None if denied else _piece(text, words, scene)
    else:
        meaning = None if denied else _case(words, scene)
    return plain if meaning is None else [(meaning, 1.0)]


def _step(network: Network, text: str, scene: Scene) -> Meaning | None:
    meaning, chance = readings(network, text, "other", replace(scene, about="step"))[0]
    return meaning if meaning and meaning.step and not meaning.command and chance >= _LIKELY else None


def _piece(text: str, words: Sequence[str], scene: Scene) -> Meaning | None:
    """The piece by its colours, or as the first or second, or by its layer."""
    layers = {_LAYERS[word] for word in words if word in _LAYERS}
    layer = layers.pop() if len(layers) == 1 else None
    by_order = {"first", "second", "last", "other", "former", "latter"} & set(words)
    piece = () if layer and by_order else chosen(text, scene)
    return Meaning(case=layer, piece=piece) if layer or piece else None


def _case(words: Sequence[str], scene: Scene) -> Meaning | None:
    """The sequence that is named, and the sides where the piece comes: those said beside the name."""
    named = sequence_named(words, scene)
    named = None if named and _side_before(words, named[1]) else named
    rest = [*words]
    for word in named[1] if named else ():
        rest.remove(word)
    look = {_SIDES[word]: True for word in rest if word in _SIDES}
    return Meaning(look=look, case=named[0] if named else None) if named or look else None


def _side_before(words: Sequence[str], used: Collection[str]) -> bool:
    """Whether the side in the name of a sequence was said for itself before: "on the right, and then the join"."""
    breaks = [at for at, word in enumerate(words) if word in (HARD, SOFT, "then")]
    last = {*words[breaks[-1] :]} if breaks else {*words}
    sides = {word for word in used if word in _SIDES}
    return bool(sides) and not sides & last and bool({*used} & last)
