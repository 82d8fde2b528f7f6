"""A second language of a dozen invented words: enough to be led through a whole lesson, and no more.

It is registered as "zz". Each of its sentences is one word and what stands in its gaps; its method words are "zo" too.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import replace
from importlib.resources import files
from typing import Any

from coach.language import Command, Language, Meaning, Question, Reading, Scene
from coach.language.phrases import Phrases
from coach.method import Method

SENTENCE = "zo"
COLOURS = {"F": "gav", "B": "blu", "R": "oru", "L": "rov", "U": "yel", "D": "vit"}
FACES = {"F": "fen", "B": "bak", "R": "ris", "L": "lis", "U": "hup", "D": "duv"}
COMMANDS: dict[Command, str] = {"yes": "ya", "no": "nu", "next": "vam", "unsure": "mish"}
SHOWN = "ka"
PIECE = "di"
WORDS = {SENTENCE, SHOWN, PIECE, *COLOURS.values(), *FACES.values(), *COMMANDS.values()}

_EDGES = {"U1": "B", "U3": "L", "U5": "R", "U7": "F"}
_CORNERS = {"U0": "BL", "U2": "BR", "U6": "FL", "U8": "FR"}
_FACE_OF = {word: face for face, word in FACES.items()}


class Invented(Language):
    """What is said is looked up word by word."""

    code = "zz"

    @property
    def sentences(self) -> Phrases:
        english = tomllib.loads(files("coach.language").joinpath("en", "phrases.toml").read_text("utf-8"))
        table = _invented(english)
        return Phrases("zz", self, table, table)

    def gaps(self, name: str, word: str) -> dict[str, str]:
        """No word changes with its place in a sentence."""
        forms = (name, f"the_{name}", f"is_{name}", f"are_{name}", f"some_{name}", f"{name}_sticker", f"{name}_cross")
        return dict.fromkeys(forms, word)

    def is_colour(self, word: str) -> bool:
        return word in COLOURS.values()

    def settle(self, writings: Sequence[tuple[str, float]], asked: Question, scene: Scene | None = None) -> Reading:
        meaning = _meaning(writings[0][0], asked)
        return Reading(meaning, 1.0, acts=meaning is not None, asks=meaning is not None)

    def phrases(self, asked: Question, scene: Scene | None = None) -> tuple[str, ...]:
        return tuple(COMMANDS.values())

    def before(self, asked: Question) -> str:
        return ""

    def respell(self, text: str, asked: Question) -> str:
        return text

    def offers(self, asked: Question, scene: Scene | None = None) -> tuple[str, ...]:
        return (COMMANDS["yes"],)

    def clashes(self, words: Sequence[str]) -> list[tuple[str, str]]:
        return []


def load() -> Language:
    return Invented()


def said(meaning: Meaning) -> str:
    """How a learner says that."""
    if meaning.command:
        return COMMANDS[meaning.command]
    if meaning.look:
        places = [(_EDGES | _CORNERS)[place] for place, shown in meaning.look.items() if shown]
        return ", ".join([SHOWN, *(" ".join(FACES[face] for face in faces) for faces in places)])
    if meaning.place:
        shows = [f"{colour} {FACES[face]}" for colour, face in meaning.shows.items()]
        return ", ".join([f"{PIECE} {' '.join(FACES[face] for face in meaning.place)}", *shows])
    return " ".join(meaning.colours)


def with_words(method: Method) -> Method:
    """The method with words in this language for what only some of its cases say."""
    return replace(method, steps=tuple(_worded(step) for step in method.steps))


def _worded(step: Any) -> Any:
    if not hasattr(step, "cases"):
        return step
    cases = tuple(_spoken(replace(case, named=case.named and _spoken(case.named))) for case in step.cases)
    return replace(step, cases=cases)


def _spoken(thing: Any) -> Any:
    return replace(thing, words={"zz": {what: _sentence(text) for what, text in thing.words["en"].items()}})


def _invented(entry: Any) -> Any:
    if isinstance(entry, Mapping):
        return {key: _invented(value) for key, value in entry.items()}
    return [_invented(each) for each in entry] if isinstance(entry, list) else _sentence(entry)


def _sentence(english: str) -> str:
    return " ".join([SENTENCE, *re.findall(r"\{\w+\}", english)])


def _meaning(text: str, asked: Question) -> Meaning | None:
    words = re.findall(r"\w+", text)
    if not words or not set(words) <= WORDS:
        return None
    if len(words) == 1 and (command := next((name for name, word in COMMANDS.items() if word == words[0]), None)):
        return Meaning(command=command)
    first, *parts = text.split(", ")
    if words[0] == SHOWN:
        places = _EDGES if asked == "look-top-edges" else _CORNERS
        named = {"".join(sorted(_FACE_OF[word] for word in part.split())) for part in parts}
        return Meaning(look={place: "".join(sorted(faces)) in named for place, faces in places.items()})
    if words[0] == PIECE:
        shows = dict(part.split() for part in parts)
        place = "".join(_FACE_OF[word] for word in first.split()[1:])
        return Meaning(place=place, shows={colour: _FACE_OF[face] for colour, face in shows.items()})
    return Meaning(colours=tuple(words)) if set(words) <= set(COLOURS.values()) else None
