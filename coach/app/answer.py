"""Reads an answer, its question and what is known of the moment from a JSON object, as `understand --json` takes it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, cast

from coach.cube import FACES
from coach.language import QUESTIONS, Question, Scene


def answer_of(line: Any, asked: Question | None, scene: Scene) -> tuple[str, Question, Scene]:
    """The answer, the question and the scene; `asked` and `scene` are the defaults if the object names none.

    Raises ValueError with a readable message if the object cannot be used.
    """
    if not isinstance(line, Mapping) or not isinstance(line.get("said"), str):
        raise ValueError('Give an object with "said", and with "asked" where --asked is not given.')
    question = line.get("asked", asked)
    if question not in QUESTIONS:
        raise ValueError(f'"asked" must be one of: {", ".join(QUESTIONS)}.')
    colours = dict(scene.colours)
    if "colours" in line:
        six = _words(line["colours"], "colours")
        if len(set(six)) != len(FACES):
            raise ValueError('"colours" must be six different words: front, back, right, left, top, bottom.')
        colours = dict(zip(FACES, six, strict=True))
    piece = tuple(_words(line.get("piece", ()), "piece"))
    about = line.get("about", "")
    if not isinstance(about, str):
        raise ValueError('"about" must be a word.')
    claim = _claim(line.get("claim", ()))
    top = {sticker: colour == colours["U"] for sticker, colour in claim}
    claimed = tuple(colour for _, colour in claim)
    size, rest = (_count(line.get(name), name) for name in ("size", "rest"))
    told = Scene(colours, piece, about, top, claimed, size=size, rest=rest)
    return line["said"], cast(Question, question), told


def _words(given: Any, name: str) -> Sequence[str]:
    if not isinstance(given, list | tuple) or not all(isinstance(word, str) and word.strip() for word in given):
        raise ValueError(f'"{name}" must be a list of words.')
    return given


def _count(given: Any, name: str) -> int | None:
    if given is not None and (isinstance(given, bool) or not isinstance(given, int) or given < 0):
        raise ValueError(f'"{name}" must be a number of pupils.')
    return given


def _claim(given: Any) -> list[tuple[str, str]]:
    """Each sticker that the claim is about, with the claimed colour."""
    try:
        return [(f"{face}{int(place)}", str(colour)) for face, place, colour in given]
    except (TypeError, ValueError) as error:
        raise ValueError('"claim" must be a list of [face, place, colour].') from error
