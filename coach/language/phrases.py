"""The coach's own sentences, from a language's `phrases.toml` and, for learners who go by touch, `touch.toml`."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from functools import cache, cached_property
from importlib.resources import files
from itertools import permutations, product
from typing import Any, Final

from coach.cube import FACE_TURNS, Turn
from coach.language.en import naming, tellings
from coach.language.telling import Telling

STYLES: Final = ("plain", "clock", "letters")
_DIRECTION: Final = {1: "clockwise", 3: "anticlockwise", 2: "half"}


class Phrases:
    """Sentences by their key, such as "ask.ready". Their order within a list is from first to plainest. `by_sight` and
    `felt` are all of them, for learners who look and for those who feel."""

    def __init__(self, by_sight: Mapping[str, Any], felt: Mapping[str, Any], code: str, touch: bool = False) -> None:
        self.code = code
        self._both = by_sight, felt
        self._table = felt if touch else by_sight

    def by_touch(self, touch: bool) -> Phrases:
        """The sentences for a learner who goes by touch, or by sight."""
        return Phrases(*self._both, self.code, touch)

    def say(self, key: str, form: int = 0, **values: object) -> str:
        """The sentence `key`, in its `form`-th form or the last there is. KeyError for an unknown key."""
        return self.forms(key, **values)[: form + 1][-1]

    def forms(self, key: str, **values: object) -> tuple[str, ...]:
        """All forms of the sentence `key`. With a value for {colour} come {some_colour} and its like."""
        if "colour" in values:
            values |= naming.gaps("colour", str(values["colour"]))
        return tuple(_sentence(form.format(**values)) for form in self.open_forms(key))

    def gaps(self, up: str, down: str) -> dict[str, str]:
        """What stands in the gaps of sentences for the learner's words for the top and the bottom."""
        return naming.gaps("up", up) | naming.gaps("down", down)

    def felt(self, words: Iterable[str]) -> bool:
        """Whether the learner's words are all for marks to feel: none of them names a colour."""
        return not any(map(naming.is_colour, words))

    def part(self, key: str, form: int = 0, **values: object) -> str:
        """The words `key` for within a sentence: as they stand in the file, without a capital."""
        return self.open_forms(key)[: form + 1][-1].format(**values)

    def open_forms(self, key: str) -> tuple[str, ...]:
        """All forms of the sentence `key` as they stand in the file, with their gaps."""
        found: Any = self._table
        for part in key.split(".", 1):
            found = found[part]
        return tuple(found) if isinstance(found, list) else (found,)

    def all_keys(self) -> tuple[str, ...]:
        """The keys of all that is in the file, such as "reply.louder", in its order."""
        return tuple(f"{section}.{name}" for section, entries in self._table.items() for name in entries)

    def has(self, key: str) -> bool:
        """Whether there is such a sentence."""
        section, name = key.split(".", 1)
        return name in self._table.get(section, {})

    def call(self, turn: Turn, style: str = "plain") -> str:
        """How one face turn is called, for example "the right layer goes up"."""
        calls = self._table["calls"][style]
        if style == "plain":
            if turn.quarters == 2:
                return str(calls["half"].format(call=calls[turn.face]))
            return str(calls[str(turn)])
        return str(calls[_DIRECTION[turn.quarters]].format(face=calls[turn.face]))

    def rotation(self, turn: Turn) -> str:
        """How the learner is told to turn the whole cube."""
        return str(self._table["rotations"][str(turn)])

    def ready_made(self, style: str, up: str) -> tuple[str, ...]:
        """Sentences that need nothing filled in but the word for the top, the calls first: what a voice can make
        ahead."""
        calls = [f"{_sentence(self.call(turn, style))}." for turn in FACE_TURNS if turn.face != "B"]
        forms: list[str] = []
        for section in ("ask", "claim", "reply", "hold", "turn", "check", "odd", "rotations"):
            for entry in self._table[section].values():
                forms += entry if isinstance(entry, list) else [entry]
        filled = [_filled(form, naming.gaps("up", up)) for form in forms]
        return (*calls, *(_sentence(form) for form in filled if "{" not in form))

    def hints(self, text: str) -> frozenset[str]:
        """The kinds of slips that the learner may mean with what they say of a wrong turn."""
        said = text.lower()
        return frozenset(kind for kind, words in self._table["hints"].items() if any(word in said for word in words))

    def plain(self, command: str, text: str) -> bool:
        """Whether `text` is one of the plain ways to give a command that must not be taken from other talk."""
        return _plain(text) in self._ways(command)

    def holds(self, command: str, text: str) -> bool:
        """Whether one of these plain ways is somewhere in `text`."""
        return any(f" {way} " in f" {_plain(text)} " for way in self._ways(command))

    def opens(self, command: str, text: str) -> bool:
        """Whether `text` begins with one of these plain ways."""
        return any(f"{_plain(text)} ".startswith(f"{way} ") for way in self._ways(command))

    def _ways(self, command: str) -> Sequence[str]:
        ways: Sequence[str] = self._table["plain"][command]
        return ways

    def row_named(self, text: str) -> tuple[str, int] | None:
        """The face and the number of the row that `text` names, the last one if several; None where it names none."""
        said = f" {_plain(text)} "
        found = [(said.rfind(f" {way} "), row) for way, row in self._rows_named.items() if f" {way} " in said]
        return max(found)[1] if found else None

    def without_name_of_row(self, text: str) -> str:
        """The words of `text` with "row" for the name of one, so that a side is not taken for the way in which the row
        was read; just `text` where none is named."""
        said = f" {_plain(text)} "
        ways = [way for way in self._rows_named if f" {way} " in said]
        return said.replace(f" {max(ways, key=len)} ", " row ").strip() if ways else text

    def piece_named(self, text: str, colours: Sequence[str]) -> bool:
        """Whether `text` names a piece by these colours, in whatever order ("red and white edge")."""
        said = f" {_plain(text)} ".replace(" and ", " ")
        orders = [" ".join(map(_plain, order)) for order in permutations(colours)]
        return any(f" {order} {kind} " in said for order in orders for kind in self._table["named"]["piece"])

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
        """What `text` tells of a turn that went wrong."""
        return tellings.telling(text)

    def explain(self, text: str) -> str | None:
        """The explanation of the first word of the glossary that `text` asks about; None if none is there."""
        said = text.lower()
        steps = {self._table["steps"][step]: about for step, about in self._table["what"].items()}
        known = self._table["glossary"] | steps
        found = [(said.find(word), -len(word), word) for word in known if word in said]
        return str(known[min(found)[2]]) if found else None


def _plain(text: str) -> str:
    """The words of `text`, each as it is said plainly ("Noooo!" is "no"), with a space between."""
    said = re.sub(r"([a-z])\1{2,}", r"\1", text.lower().replace("\u2019", "'"))
    return " ".join(re.findall(r"[a-z]+(?:'[a-z]+)*", said))


def _filled(form: str, values: Mapping[str, str]) -> str:
    for name, value in values.items():
        form = form.replace(f"{{{name}}}", value)
    return form


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]


@cache
def load_phrases(code: str = "en", touch: bool = False) -> Phrases:
    """The coach's sentences in the language `code`; with `touch` for a learner who feels and does not look."""
    table = _load(code, "phrases.toml")
    return Phrases(table, _overlaid(table, _load(code, "touch.toml")), code, touch)


def _load(code: str, name: str) -> dict[str, Any]:
    return tomllib.loads(files("coach.language").joinpath(code, name).read_text("utf-8"))


def _overlaid(table: Mapping[str, Any], over: Mapping[str, Any]) -> dict[str, Any]:
    """`table` with what stands in `over` in place of what has the same key."""
    both = {key: _overlaid(table[key], new) if isinstance(new, dict) else new for key, new in over.items()}
    return {**table, **both}
