"""The coach's sentences in English, and what the learner's words name in them."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache, cached_property
from importlib.resources import files
from itertools import product
from typing import Any

from coach.language.en import beside_rows, naming, remarks, tellings
from coach.language.en.normalise import plain
from coach.language.meaning import Remark, RowPutRight, Scene
from coach.language.phrases import Phrases
from coach.language.telling import Telling


class Sentences(Phrases):
    """English sentences, with the plain ways in which a learner says what must not be taken from other talk."""

    def hints(self, text: str) -> frozenset[str]:
        """The kinds of slips that the learner may mean with what they say of a wrong turn."""
        said = text.lower()
        return frozenset(kind for kind, words in self._table["hints"].items() if any(word in said for word in words))

    def plain(self, command: str, text: str) -> bool:
        """Whether `text` is one of the plain ways to give a command that must not be taken from other talk."""
        return plain(text) in self._ways(command)

    def holds(self, command: str, text: str) -> bool:
        """Whether one of these plain ways is somewhere in `text`."""
        return any(f" {way} " in f" {plain(text)} " for way in self._ways(command))

    def opens(self, command: str, text: str) -> bool:
        """Whether `text` begins with one of these plain ways."""
        return any(f"{plain(text)} ".startswith(f"{way} ") for way in self._ways(command))

    def _ways(self, command: str) -> Sequence[str]:
        ways: Sequence[str] = self._table["plain"][command]
        return ways

    def row_named(self, text: str) -> tuple[str, int] | None:
        """The face and the number of the row that `text` names, the last one if several; None where it names none."""
        said = f" {plain(text)} "
        found = [(said.rfind(f" {way} "), row) for way, row in self._rows_named.items() if f" {way} " in said]
        return max(found)[1] if found else None

    def without_name_of_row(self, text: str) -> str:
        """The words of `text` with "row" for the name of one, so that a side is not taken for the way in which the row
        was read; just `text` where none is named."""
        said = f" {plain(text)} "
        ways = [way for way in self._rows_named if f" {way} " in said]
        return said.replace(f" {max(ways, key=len)} ", " row ").strip() if ways else text

    @cached_property
    def _rows_named(self) -> Mapping[str, tuple[str, int]]:
        """The row by each way to name it: its face and its number."""
        named, upright = self._table["named"], [("upright", number) for number in (1, 2, 3)]
        of_face = {"U": [("lying", number) for number in (1, 2, 3)], "D": [("lying", number) for number in (3, 2, 1)]}
        return {
            way.format(face=face, row=row): (letter, number)
            for letter, faces in self._table["named-faces"].items()
            for number, (kind, told) in enumerate(of_face.get(letter, upright), 1)
            for face, row, way in product(faces, named[f"{kind}-{told}"], named["ways"])
        }

    def telling(self, text: str) -> Telling:
        return tellings.telling(text)

    def remark(self, text: str) -> Remark | None:
        return remarks.remark(text)

    def row_put_right(self, text: str, scene: Scene, may_be_answer: bool) -> RowPutRight | None:
        named = self.row_named(text)
        right = beside_rows.put_right(self.without_name_of_row(text), scene, may_be_answer)
        if right is None or (named and may_be_answer and len(right.colours) == 3):
            return None
        return replace(right, named=named)

    def explain(self, text: str) -> str | None:
        """The explanation of the first word of the glossary that `text` asks about; None if none is there."""
        said = text.lower()
        steps = {self._table["steps"][step]: about for step, about in self._table["what"].items()}
        known = self._table["glossary"] | steps
        found = [(said.find(word), -len(word), word) for word in known if word in said]
        return str(known[min(found)[2]]) if found else None


@cache
def sentences() -> Sentences:
    """All of them, for a learner who looks."""
    table = _load("phrases.toml")
    return Sentences("en", naming, table, _overlaid(table, _load("touch.toml")))


def _load(name: str) -> dict[str, Any]:
    return tomllib.loads(files(__package__).joinpath(name).read_text("utf-8"))


def _overlaid(table: Mapping[str, Any], over: Mapping[str, Any]) -> dict[str, Any]:
    """`table` with what stands in `over` in place of what has the same key."""
    both = {key: _overlaid(table[key], new) if isinstance(new, dict) else new for key, new in over.items()}
    return {**table, **both}
