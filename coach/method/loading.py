"""Reading a method file (TOML). What it says is believed only after `proof.prove`."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path
from typing import Any, Final, TypeGuard

from coach.cube import FACES, PLACE_NUMBER, POSITIONS, NotationError, Turn, parse
from coach.method.model import COUNTERS, Case, Condition, Method, MethodError, PlannedStep, Step
from coach.method.placing import PlacingCase, PlacingStep
from coach.method.proof import prove

DEFAULT_FILE: Final = Path(__file__).with_name("layers.toml")
STEP_IDS: Final = (
    "bottom-cross", "bottom-corners", "middle-edges", "top-cross", "top-face", "top-corners", "top-edges",
)  # fmt: skip
"""All the steps that a method may have, from the bottom up."""
_LONGEST: Final = 1_000_000
_LOOKS: Final = ("look-top-edges", "look-top-corners", "row")


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
    text = _content(path)
    if len(text) > _LONGEST:
        raise MethodError(f"The method file {path} is too long to be one: more than {_LONGEST:,} bytes.")
    try:
        data = tomllib.loads(text.decode("utf-8"))
    except UnicodeDecodeError:
        raise MethodError(f"The method file {path} is not text in UTF-8.") from None
    except tomllib.TOMLDecodeError as error:
        raise MethodError(f"The method file {path} is not TOML: {error}.") from None
    steps = tuple(map(_step, _Table(data, "the file").tables("step")))
    if not steps:
        raise MethodError(f"The method file {path} has no [[step]].")
    return Method(str(data.get("name", path.stem)), steps)


def _content(path: Path) -> bytes:
    """What is in the file, or the beginning of it where it is longer than any method."""
    try:
        with path.open("rb") as file:
            return file.read(_LONGEST + 1)
    except OSError as error:
        raise MethodError(f"The method file {path} cannot be opened: {error.strerror or error}.") from None
    except ValueError as error:  # a path with a NUL in it
        raise MethodError(f"The method file {str(path)!r} cannot be opened: {error}.") from None


class _Table:
    """A TOML table that is read key by key; what is wrong is told with the place in the file."""

    def __init__(self, data: Mapping[str, Any], where: str) -> None:
        self.data, self.where = data, where

    def fail(self, what: str) -> MethodError:
        return MethodError(f"In {self.where}: {what}")

    def only(self, *known: str) -> None:
        unknown = sorted(set(self.data) - set(known))
        if unknown:
            raise self.fail(f"{unknown[0]!r} means nothing here; known are {', '.join(known)}.")

    def tables(self, key: str) -> list[_Table]:
        tables = self.data.get(key, [])
        if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
            raise self.fail(f"{key} must be written as [[{key}]].")
        ids = [table.get("id") for table in tables]
        double = next((found for found in ids if ids.count(found) > 1), None)
        if double is not None:
            raise self.fail(f"there are two {key}s {double!r}.")
        place = "" if self.where == "the file" else f" of {self.where}"
        return [_Table(table, f"{key} {table.get('id', '?')!r}{place}") for table in tables]

    def text(self, key: str, allowed: tuple[str, ...] = ()) -> str:
        value = self.data.get(key)
        if not isinstance(value, str) or not value:
            raise self.fail(f"{key} is missing.")
        if allowed and value not in allowed:
            raise self.fail(f"{key} is {value!r}, but must be one of {', '.join(allowed)}.")
        return value

    def number(self, key: str) -> int:
        value = self.data.get(key)
        if not _whole_number(value) or value < 1:
            raise self.fail(f"{key} must be a whole number of at least 1.")
        return value

    def names(self, key: str, known: Mapping[str, object], example: str) -> tuple[str, ...]:
        return self._known(key, self.data.get(key, []), known, example)

    def groups(self, key: str) -> tuple[tuple[str, ...], ...]:
        groups = self.data.get(key, [])
        if not isinstance(groups, list):
            raise self.fail(f"{key} must be a list of lists of sticker places.")
        return tuple(self._known(key, group, PLACE_NUMBER, "sticker place such as U1") for group in groups)

    def _known(self, key: str, value: Any, known: Mapping[str, object], example: str) -> tuple[str, ...]:
        names = value if isinstance(value, list) else [value]
        wrong = [name for name in names if not isinstance(name, str) or name not in known]
        if wrong or names is not value:
            raise self.fail(f"{key} has {(wrong or names)[0]!r}, which is no {example}.")
        return tuple(names)

    def turns(self, key: str) -> tuple[Turn, ...]:
        try:
            turns = parse(str(self.data.get(key, "")))
        except NotationError as error:
            raise self.fail(f"the turns of {key} cannot be read {error}.") from None
        if any(turn.layers > 1 for turn in turns):
            raise self.fail(f"{key}: only turns of one face can be called, no wide turns or rotations.")
        return turns

    def condition(self, key: str) -> Condition:
        places = self.names(key, PLACE_NUMBER, "sticker place such as U1 or L2")
        return Condition(places, self.groups(f"{key}_same"))

    def words(self, needed: tuple[str, ...], *keys: str) -> dict[str, Mapping[str, str]]:
        """The tables that are left: the words in each language, with those that are `needed`."""
        words: dict[str, Mapping[str, str]] = {
            k: v for k, v in self.data.items() if k not in keys and isinstance(v, dict)
        }
        self.only(*keys, *words)
        if not words:
            raise self.fail('the words are missing, such as en.name = "A dot."')
        for language, said in words.items():
            for what in (*needed, *said):
                self._check_sentence(f"{language}.{what}", said.get(what))
        return words

    def _check_sentence(self, key: str, text: object) -> None:
        if not isinstance(text, str) or not text.strip():
            raise self.fail(f"{key} must be a sentence.")
        if set("{}") & set(text.replace("{up}", "").replace("{down}", "")):
            raise self.fail(f"{key} may have {{up}} and {{down}} in it, no other braces.")


def _whole_number(value: object) -> TypeGuard[int]:
    return isinstance(value, int) and not isinstance(value, bool)


def _step(table: _Table) -> Step | PlacingStep | PlannedStep:
    kinds: dict[str, Callable[[_Table], Step | PlacingStep | PlannedStep]] = {
        "look": _look_step,
        "place": _placing_step,
        "plan": _planned_step,
    }
    table.text("id", STEP_IDS)
    return kinds[table.text("kind", tuple(kinds))](table)


def _planned_step(table: _Table) -> PlannedStep:
    table.only("id", "kind", "pieces", "most")
    pieces = table.names("pieces", POSITIONS, "piece such as DF or DFR")
    return PlannedStep(table.text("id"), pieces, table.number("most"))


def _placing_step(table: _Table) -> PlacingStep:
    table.only("id", "kind", "pieces", "slot", "out", "case")
    return PlacingStep(
        table.text("id"),
        table.names("pieces", POSITIONS, "piece such as DF or DFR"),
        table.text("slot", tuple(POSITIONS)),
        table.turns("out"),
        tuple(map(_placing_case, table.tables("case"))),
    )


def _placing_case(table: _Table) -> PlacingCase:
    words = table.words(("name", "why"), "id", "at", "colour", "on", "sequence")
    faces = tuple(FACES)
    at = table.text("at", tuple(POSITIONS))
    colour, on = table.text("colour", faces), table.text("on", faces)
    return PlacingCase(table.text("id"), at, colour, on, table.turns("sequence"), words)


def _look_step(table: _Table) -> Step:
    table.only(
        "id", "kind", "look", "needs", "needs_same", "goal", "goal_same", "runs", "align", "case",
    )  # fmt: skip
    return Step(
        table.text("id"),
        table.text("look", _LOOKS),
        table.condition("needs"),
        table.condition("goal"),
        table.number("runs"),
        tuple(map(_case, table.tables("case"))),
        table.data.get("align") is True,
    )


def _case(table: _Table) -> Case:
    count = table.data.get("count", {})
    if not isinstance(count, dict) or not all(k in COUNTERS and _whole_number(v) for k, v in count.items()):
        raise table.fail(f"count takes {', '.join(COUNTERS)}, each with a number.")
    turns = table.turns("sequence")
    needed = ("name", "hold") if turns else ("name",)
    words = table.words(needed, "id", "count", "hold", "hold_same", "sequence")
    return Case(table.text("id"), count, table.condition("hold"), turns, words)
