"""What a recogniser is limited to in each moment, generated from the vocabulary file."""

from __future__ import annotations

import re
import tomllib
from functools import lru_cache
from importlib.resources import files
from itertools import product
from typing import Any

from coach.language.meaning import USUAL_COLOURS, Question, Scene

_LINES = (("U1", "U7"), ("U3", "U5"))
_SLOT = re.compile(r"\{([^}]+)\}")
_SPEAKABLE = re.compile(r"[^a-z' ]+")


@lru_cache(maxsize=1)
def _file() -> dict[str, Any]:
    return tomllib.loads(files(__package__).joinpath("vocabulary.toml").read_text("utf-8"))


def phrases(asked: Question, scene: Scene) -> tuple[str, ...]:
    """Every phrase that can be heard in answer to `asked`, and the commands that are always allowed.

    Lower case, letters, apostrophes and spaces only, each phrase once.
    """
    wanted = scene.piece or (scene.colours["D"],)
    about = "line" if asked == "claim" and tuple(scene.claim) in _LINES else scene.about
    sequences = tuple(name for id, name in scene.taught if "/" not in id)
    return _expanded(_moment(asked, about), scene.up, scene.names, wanted[0], sequences)


def _moment(asked: Question, about: str) -> str:
    """The section of the file: that of the question, or of its subject if that has one of its own."""
    particular = f"{asked}-{about}"
    return particular if particular in _file() else asked


def _expanded(
    moment: str, up: str, names: tuple[str, ...], wanted: str, sequences: tuple[str, ...]
) -> tuple[str, ...]:
    lists = _file()["lists"] | {"colour": list(names), "asked": [wanted], "sequence": list(sequences)}
    section = _file()[moment]
    also = _file()[section["also"]]["phrases"] if "also" in section else []
    templates = section["phrases"] + also + _file()["always"]["phrases"]
    spoken = (phrase for template in templates for phrase in _fill(template.replace("yellow", up), lists))
    plain = dict.fromkeys(" ".join(_SPEAKABLE.sub(" ", phrase.casefold()).split()) for phrase in spoken)
    without = section.get("without", ())
    return tuple(phrase for phrase in plain if phrase not in without)


def _fill(template: str, lists: dict[str, list[str]]) -> list[str]:
    """The template with every combination of choices for its slots."""
    parts = _SLOT.split(template)
    choices = [
        [part] if at % 2 == 0 else part.split("|") if "|" in part else lists[part] for at, part in enumerate(parts)
    ]
    return ["".join(choice) for choice in product(*choices)]


def offers(asked: Question, scene: Scene) -> tuple[str, ...]:
    """A few easily recognised answers to offer, in the learner's own words for colours."""
    own = {usual: scene.colours[face] for face, usual in USUAL_COLOURS.items()}
    offered = _file()["offers"].get(_moment(asked, scene.about), ())
    return tuple(" ".join(own.get(word, word) for word in offer.split(" ")) for offer in offered)
