"""Reading a method file (TOML). What it says is believed only after `proof.prove`."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Container, Mapping
from difflib import get_close_matches
from functools import cache
from pathlib import Path
from typing import Any, Final, TypeGuard

from coach.cube import FACES, PLACE_NUMBER, POSITIONS, NotationError, Turn, parse
from coach.cube.distance import CROSS
from coach.method.method import Method
from coach.method.model import COUNTERS, STEP_IDS, Case, Condition, MethodError, PlannedStep, Step
from coach.method.placing import PlacingCase, PlacingStep
from coach.method.proof import prove
from coach.method.wording_check import check_words

DEFAULT_FILE: Final = Path(__file__).with_name("layers.toml")
GAPS: Final = ("up", "down", "up_sticker", "down_sticker", "is_up", "are_up")
"""What may stand in curly brackets in the words of a case; the coach fills in the learner's own words."""
PLACING_GAPS: Final = (*GAPS, "piece")
"""The same in a step that places pieces."""
AnyStep = Step | PlacingStep | PlannedStep
_LOWER_PIECES: Final = {
    "bottom-cross": CROSS,
    "bottom-corners": ("DFR", "DBR", "DBL", "DFL"),
    "middle-edges": ("FR", "BR", "BL", "FL"),
}
_CROSS_TURNS: Final = 8
"""The most turns a bottom cross can take (coach/cube/distance.py)."""
_STICKER_PLACE: Final = "sticker place such as U1 or L2"
_LONGEST: Final = 1_000_000
_LOOKS: Final = ("look-top-edges", "look-top-corners", "row")


@cache
def default_method() -> Method:
    """The method that comes with the coach, read and proven."""
    return load(DEFAULT_FILE)


def load(path: Path) -> Method:
    """The method in the file, proven, its words in keeping. Raises MethodError, in words for the file's author."""
    method = read(path)
    prove(method)
    check_words(method)
    return method


def read(path: Path) -> Method:
    """The method in the file, as it stands there, unproven."""
    text = _content(path)
    if len(text) > _LONGEST:
        raise MethodError(f"The method file {path} is too long to be one: more than {_LONGEST:,} bytes.")
    try:
        data = tomllib.loads(text.decode("utf-8"))
    except UnicodeDecodeError:
        raise MethodError(f"The method file {path} is not plain text. Save it as text in UTF-8.") from None
    except tomllib.TOMLDecodeError as error:
        raise MethodError(
            f"The method file {path} cannot be read as TOML: {error}. Look there for a missing quote or bracket."
        ) from None
    table = _Table(data, "the file")
    steps = tuple(map(_step, table.tables("step")))
    if not steps:
        raise MethodError(f"The method file {path} has no steps. Each begins with a line [[step]].")
    table.only("name", "step")
    _in_order(steps)
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
        for key in self.data:
            if key not in known:
                raise self.fail(f"the key {key!r} is not known here.{_meant(key, known)}")

    def tables(self, key: str) -> list[_Table]:
        tables = self.data.get(key, [])
        header = "[[step]]" if key == "step" else f"[[step.{key}]]"
        if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
            raise self.fail(f"each {key} must begin with a line {header}, in double brackets.")
        ids = [table.get("id") for table in tables]
        double = next((found for found in ids if found is not None and ids.count(found) > 1), None)
        if double is not None:
            raise self.fail(f"two {key}s have the id {double!r}. Give each its own.")
        place = "" if self.where == "the file" else f" of {self.where}"
        names = (repr(table["id"]) if "id" in table else f"number {n}" for n, table in enumerate(tables, 1))
        return [_Table(table, f"{key} {name}{place}") for table, name in zip(tables, names, strict=True)]

    def text(self, key: str, allowed: tuple[str, ...] = ()) -> str:
        choice = f" It must be {'one of ' if len(allowed) > 1 else ''}{', '.join(allowed)}." if allowed else ""
        if key not in self.data:
            raise self.fail(f"{key} is missing.{choice}")
        value = self.data[key]
        if not isinstance(value, str) or not value:
            raise self.fail(f"{key} must be a word in quotation marks; it is {value!r}.{choice}")
        if allowed and value not in allowed:
            raise self.fail(f"{key} is {value!r}.{choice}")
        return value

    def number(self, key: str) -> int:
        value = self.data.get(key)
        if not _whole_number(value) or value < 1:
            found = f"; it is {value!r}" if key in self.data else ", but it is missing"
            raise self.fail(f"{key} must be a whole number from 1 up, without quotation marks{found}.")
        return value

    def truth(self, key: str) -> bool:
        value = self.data.get(key, False)
        if not isinstance(value, bool):
            raise self.fail(f"{key} must be true or false, without quotation marks; it is {value!r}.")
        return value

    def names(self, key: str, known: Container[str], example: str) -> tuple[str, ...]:
        return self._known(key, self.data.get(key, []), known, example)

    def groups(self, key: str) -> tuple[tuple[str, ...], ...]:
        groups = self.data.get(key, [])
        if not isinstance(groups, list) or not all(isinstance(group, list) for group in groups):
            raise self.fail(f'{key} must be a list of lists, such as [["L0", "L2"]]; it is {groups!r}.')
        return tuple(self._known(key, group, PLACE_NUMBER, _STICKER_PLACE) for group in groups)

    def _known(self, key: str, value: Any, known: Container[str], example: str) -> tuple[str, ...]:
        if not isinstance(value, list):
            raise self.fail(f"{key} must be a list in square brackets; it is {value!r}.")
        wrong = [name for name in value if not isinstance(name, str) or name not in known]
        if wrong:
            raise self.fail(f"{key} has {wrong[0]!r} in it, which is no {example}.")
        return tuple(value)

    def turns(self, key: str) -> tuple[Turn, ...]:
        value = self.data.get(key, "")
        if not isinstance(value, str):
            raise self.fail(f"{key} must be turns in quotation marks, such as \"R U R'\"; it is {value!r}.")
        try:
            turns = parse(value)
        except NotationError as error:
            raise self.fail(f"the turns of {key} cannot be read {error}.") from None
        if any(turn.layers > 1 for turn in turns):
            raise self.fail(
                f"{key} has a wide turn or a turn of the whole cube in it. Use turns of one face only, such as R or U'."
            )
        return turns

    def condition(self, key: str) -> Condition:
        return Condition(self.names(key, PLACE_NUMBER, _STICKER_PLACE), self.groups(f"{key}_same"))

    def words(
        self, gaps: tuple[str, ...], needed: tuple[str, ...], optional: tuple[str, ...], *keys: str
    ) -> dict[str, Mapping[str, str]]:
        """The tables that are left: the words in each language, with all that are `needed`."""
        words: dict[str, Mapping[str, str]] = {
            k: v for k, v in self.data.items() if k not in keys and isinstance(v, dict)
        }
        self.only(*keys, *words)
        if not words:
            raise self.fail('the words to be spoken are missing, such as en.name = "You have a dot."')
        for language, said in words.items():
            known = tuple(f"{language}.{what}" for what in (*needed, *optional))
            for key in (f"{language}.{what}" for what in said):
                if key not in known:
                    raise self.fail(f"{key} is not known here.{_meant(key, known)}")
            for what in (*needed, *said):
                self._check_sentence(f"{language}.{what}", said.get(what), gaps)
        return words

    def _check_sentence(self, key: str, text: object, gaps: tuple[str, ...]) -> None:
        if text is None:
            raise self.fail(f"{key} is missing: a sentence for the coach to say.")
        if not isinstance(text, str) or not text.strip():
            raise self.fail(f"{key} must be a sentence in quotation marks; it is {text!r}.")
        if set("{}") & set(re.sub(r"\{(?:" + "|".join(gaps) + r")\}", "", text)):
            known = ", ".join(f"{{{gap}}}" for gap in gaps)
            raise self.fail(f"{key} is {text!r}. In curly brackets only these can stand: {known}.")


def _meant(word: str, known: tuple[str, ...]) -> str:
    """A guess at what was meant; else all that could have been."""
    close = get_close_matches(word, known, 1)
    return f" Did you mean {close[0]}?" if close else f" Known are: {', '.join(known)}."


def _whole_number(value: object) -> TypeGuard[int]:
    return isinstance(value, int) and not isinstance(value, bool)


def _step(table: _Table) -> AnyStep:
    read: dict[str, Callable[[_Table], AnyStep]] = {"plan": _planned_step, "place": _placing_step, "look": _look_step}
    kind = {"bottom-cross": "plan", "bottom-corners": "place", "middle-edges": "place"}
    expected = kind.get(table.text("id", STEP_IDS), "look")
    table.text("kind", (expected,))
    return read[expected](table)


def _in_order(steps: tuple[AnyStep, ...]) -> None:
    """Refuse steps of the lower layers that do not build on each other and lead to the top."""
    lower = [step.id for step in steps if not isinstance(step, Step)]
    if [step.id for step in steps[: len(lower)]] != lower:
        raise MethodError(f"The step {lower[-1]!r} must come before the steps of the top. Move it up in the file.")
    end = len(_LOWER_PIECES) if len(steps) > len(lower) else [*_LOWER_PIECES].index(lower[-1]) + 1
    expected = [*_LOWER_PIECES][max(0, end - len(lower)) : end]
    if lower and lower != expected:
        raise MethodError(
            f"The steps of the two lower layers are {', '.join(lower)}. None may be left out between two steps, "
            f"and their order is {', '.join(_LOWER_PIECES)}."
        )


def _pieces(table: _Table) -> tuple[str, ...]:
    """The pieces of a step of the lower layers: all that belong to it, in any order."""
    step_id = table.text("id")
    expected = _LOWER_PIECES[step_id]
    pieces = table.names("pieces", expected, f"piece of this step; its pieces are {', '.join(expected)}")
    if sorted(pieces) != sorted(expected):
        raise table.fail(f"pieces must have each of {', '.join(expected)} in it once.")
    return pieces


def _planned_step(table: _Table) -> PlannedStep:
    table.only("id", "kind", "pieces", "most")
    most = table.number("most")
    if most < _CROSS_TURNS:
        raise table.fail(f"most is {most}, but from some positions it takes {_CROSS_TURNS} turns. Write most = 8.")
    return PlannedStep(table.text("id"), _pieces(table), most)


def _placing_step(table: _Table) -> PlacingStep:
    table.only("id", "kind", "pieces", "slot", "out", "case")
    pieces = _pieces(table)
    slot = "DFR" if len(pieces[0]) == 3 else "FR"
    cases = tuple(map(_placing_case, table.tables("case")))
    return PlacingStep(table.text("id"), pieces, table.text("slot", (slot,)), table.turns("out"), cases)


def _placing_case(table: _Table) -> PlacingCase:
    words = table.words(PLACING_GAPS, ("name", "why"), (), "id", "at", "colour", "on", "sequence")
    faces = tuple(FACES)
    at = table.text("at", tuple(name for name in POSITIONS if "U" in name))
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
        table.truth("align"),
    )


def _case(table: _Table) -> Case:
    count = table.data.get("count", {})
    if not isinstance(count, dict) or not all(k in COUNTERS and _whole_number(v) for k, v in count.items()):
        counters = ", ".join(f"count.{name}" for name in COUNTERS)
        raise table.fail(f"a count must be one of {counters}, each with a whole number, such as count.edges = 2.")
    turns = table.turns("sequence")
    needed, optional = (("name", "hold"), ()) if turns else (("name",), ("hold",))
    words = table.words(GAPS, needed, optional, "id", "count", "hold", "hold_same", "sequence")
    return Case(table.text("id"), count, table.condition("hold"), turns, words)
