"""Reading a method file (TOML). What it says is believed only after `proof.prove`."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any, Final, TypeGuard

from coach.cube import PLACE_NUMBER, NotationError, Turn, parse
from coach.method.model import Case, Method, MethodError, Step
from coach.method.proof import prove

DEFAULT_FILE: Final = Path(__file__).with_name("layers.toml")
STEP_IDS: Final = (
    "bottom-cross", "bottom-corners", "middle-edges", "top-cross", "top-face", "top-corners", "top-edges",
)  # fmt: skip
"""All the steps that a method may have, from the bottom up."""
_STEP_KEYS: Final = {"id", "look", "needs", "goal", "runs", "case"}
_LOOKS: Final = {"look-top-edges", "look-top-corners"}
_COUNTS: Final = {"edges", "corners"}


@cache
def default_method() -> Method:
    """The method that comes with the coach, read and proven."""
    return load(DEFAULT_FILE)


def load(path: Path) -> Method:
    """The method in the file, proven. Raises MethodError, in words for the file's author."""
    method = read(path)
    prove(method)
    return method


def read(path: Path) -> Method:
    """The method in the file, as it stands there, unproven."""
    try:
        data = tomllib.loads(path.read_text("utf-8"))
    except OSError as error:
        raise MethodError(f"The method file {path} cannot be opened: {error.strerror or error}.") from None
    except UnicodeDecodeError:
        raise MethodError(f"The method file {path} is not text in UTF-8.") from None
    except tomllib.TOMLDecodeError as error:
        raise MethodError(f"The method file {path} is not TOML: {error}.") from None
    except ValueError as error:  # a path with a NUL in it
        raise MethodError(f"The method file {str(path)!r} cannot be opened: {error}.") from None
    steps = _tables(data, "step", "the file")
    if not steps:
        raise MethodError(f"The method file {path} has no [[step]].")
    found = tuple(_step(step) for step in steps)
    _each_once([step.id for step in found], "the file", "step")
    return Method(str(data.get("name", path.stem)), found)


def _step(data: Mapping[str, Any]) -> Step:
    step_id = _text(data, "id", "a step")
    where = f"step {step_id!r}"
    if step_id not in STEP_IDS:
        raise MethodError(f"{step_id!r} is no step that the coach knows; they are {', '.join(STEP_IDS)}.")
    unknown = sorted(set(data) - _STEP_KEYS)
    if unknown:
        raise MethodError(f"In {where}: {unknown[0]!r} means nothing here; known are {sorted(_STEP_KEYS)}.")
    look = _text(data, "look", where)
    if look not in _LOOKS:
        raise MethodError(f"In {where}: look is {look!r}, but must be one of {sorted(_LOOKS)}.")
    runs = data.get("runs")
    if not _whole_number(runs) or runs < 1:
        raise MethodError(f"In {where}: runs must be a whole number of at least 1.")
    cases = tuple(_case(case, where) for case in _tables(data, "case", where))
    _each_once([case.id for case in cases], where, "case")
    return Step(step_id, look, _places(data, "needs", where), _places(data, "goal", where), runs, cases)


def _case(data: Mapping[str, Any], step: str) -> Case:
    case_id = _text(data, "id", f"a case of {step}")
    where = f"case {case_id!r} of {step}"
    count = data.get("count", {})
    if not isinstance(count, dict) or not all(k in _COUNTS and _whole_number(v) for k, v in count.items()):
        raise MethodError(f"In {where}: count takes {sorted(_COUNTS)}, each with a number.")
    words = {key: value for key, value in data.items() if isinstance(value, dict) and key != "count"}
    unknown = sorted(set(data) - {"id", "count", "hold", "sequence"} - set(words))
    if unknown:
        raise MethodError(f"In {where}: {unknown[0]!r} means nothing here.")
    turns = _turns(data, where)
    _check_words(words, ("name", "hold") if turns else ("name",), where)
    return Case(case_id, count, _places(data, "hold", where), turns, words)


def _check_words(words: Mapping[str, Mapping[str, Any]], needed: tuple[str, ...], where: str) -> None:
    """What the coach says of a case must be there, and {up} is all that can be filled in."""
    if not words:
        raise MethodError(f'In {where}: the words are missing, such as en.name = "A dot."')
    for language, said in words.items():
        for what in (*needed, *said):
            text = said.get(what)
            if not isinstance(text, str) or not text.strip():
                raise MethodError(f"In {where}: {language}.{what} must be a sentence.")
            if set("{}") & set(text.replace("{up}", "")):
                raise MethodError(f"In {where}: {language}.{what} may have {{up}} in it, no other braces.")


def _each_once(ids: list[str], where: str, what: str) -> None:
    double = next((found for found in ids if ids.count(found) > 1), None)
    if double is not None:
        raise MethodError(f"In {where}: there are two {what}s {double!r}.")


def _whole_number(value: object) -> TypeGuard[int]:
    return isinstance(value, int) and not isinstance(value, bool)


def _turns(data: Mapping[str, Any], where: str) -> tuple[Turn, ...]:
    try:
        turns = parse(str(data.get("sequence", "")))
    except NotationError as error:
        raise MethodError(f"In {where}: the sequence cannot be read {error}.") from None
    if any(turn.layers > 1 for turn in turns):
        raise MethodError(f"In {where}: only turns of one face can be called, no wide turns or rotations.")
    return turns


def _places(data: Mapping[str, Any], key: str, where: str) -> tuple[str, ...]:
    places = data.get(key, [])
    wrong = [p for p in places if str(p) not in PLACE_NUMBER] if isinstance(places, list) else [places]
    if wrong:
        raise MethodError(f"In {where}: {key} has {wrong[0]!r}, which is no sticker place such as U1 or L2.")
    return tuple(places)


def _text(data: Mapping[str, Any], key: str, where: str) -> str:
    value = data.get(key)
    if not isinstance(value, str) or not value:
        raise MethodError(f"In {where}: {key} is missing.")
    return value


def _tables(data: Mapping[str, Any], key: str, where: str) -> list[Mapping[str, Any]]:
    tables = data.get(key, [])
    if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
        raise MethodError(f"In {where}: {key} must be written as [[{key}]].")
    return tables
