"""A TOML table that is read key by key; errors name the place in the file."""

from __future__ import annotations

import re
from collections.abc import Container, Mapping
from difflib import get_close_matches
from typing import Any, Final, TypeGuard, TypeVar

from coach.cube import PLACE_NUMBER, NotationError, Turn, parse
from coach.method.errors import MethodError
from coach.method.model import Condition

T = TypeVar("T")
_STICKER_PLACE: Final = "sticker place such as U1 or L2"


class Table:
    """A TOML table that is read key by key; errors name the place in the file."""

    def __init__(self, data: Mapping[str, Any], where: str) -> None:
        self.data, self.where = data, where

    def fail(self, what: str) -> MethodError:
        return MethodError(f"In {self.where}: {what}")

    def only(self, *known: str) -> None:
        for key in self.data:
            if key not in known:
                raise self.fail(f"the key {key!r} is not known here.{_meant(key, known)}")

    def tables(self, key: str) -> list[Table]:
        tables = self.data.get(key, [])
        header = f"[[{key}]]" if self.where == "the file" else f"[[step.{key}]]"
        if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
            raise self.fail(f"each {key} must begin with a line {header}, in double brackets.")
        ids = [table.get("id") for table in tables]
        double = next((found for found in ids if found is not None and ids.count(found) > 1), None)
        if double is not None:
            raise self.fail(f"two {key}s have the id {double!r}. Give each its own.")
        place = "" if self.where == "the file" else f" of {self.where}"
        names = (repr(table["id"]) if "id" in table else f"number {n}" for n, table in enumerate(tables, 1))
        return [Table(table, f"{key} {name}{place}") for table, name in zip(tables, names, strict=True)]

    def rows(self, key: str, example: str) -> list[Table]:
        """The inline tables of a list: groups = [{ turns = "R U R'" }]."""
        rows = self.data.get(key, [])
        if not isinstance(rows, list) or not rows or not all(isinstance(row, dict) for row in rows):
            raise self.fail(f"{key} must be a list such as [{example}]; it is {rows!r}.")
        return [Table(row, f"{key} number {number} of {self.where}") for number, row in enumerate(rows, 1)]

    def choice(self, key: str, known: Mapping[str, T], header: str) -> T:
        """The entry of `known` that the key names."""
        value = self.text(key)
        if value not in known:
            raise self.fail(
                f"{key} is {value!r}, which is the id of no {header}. Write the turns under a line {header} with an id "
                f"of their own, and that id here.{_meant(value, tuple(known)) if known else ''}"
            )
        return known[value]

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
        if not whole_number(value) or value < 1:
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
        """The remaining tables: the words in each language, with all that are `needed`."""
        words: dict[str, Mapping[str, str]] = {
            k: v for k, v in self.data.items() if k not in keys and isinstance(v, dict)
        }
        self.only(*keys, *words)
        if not words:
            example = {"name": "You have a dot."}.get(needed[0], "...")
            raise self.fail(f'the words to be spoken are missing, such as en.{needed[0]} = "{example}"')
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
    """A guess at what was meant, or else all known words."""
    close = get_close_matches(word, known, 1)
    return f" Did you mean {close[0]}?" if close else f" Known are: {', '.join(known)}."


def whole_number(value: object) -> TypeGuard[int]:
    return isinstance(value, int) and not isinstance(value, bool)
