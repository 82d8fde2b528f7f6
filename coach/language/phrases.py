"""The coach's own sentences, from two tables per language: for learners who look and for those who feel."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, Final, Protocol

from coach.cube import FACE_TURNS, Turn

STYLES: Final = ("plain", "clock", "letters")
_DIRECTION: Final = {1: "clockwise", 3: "anticlockwise", 2: "half"}


class Naming(Protocol):
    """How a language fits the learner's own words for colours and marks into sentences."""

    def gaps(self, name: str, word: str) -> dict[str, str]:
        """The fillers of gaps such as {up} and {is_up} for `word`; `name` says what the word stands for."""

    def is_colour(self, word: str) -> bool:
        """Whether it names a colour, not a mark to feel."""


class Phrases:
    """Sentences by key, such as "ask.ready". The forms in a list go from the first to the plainest. `by_sight` and
    `by_feel` are complete tables, for learners who look and for those who feel."""

    def __init__(
        self, code: str, naming: Naming, by_sight: Mapping[str, Any], by_feel: Mapping[str, Any], touch: bool = False
    ) -> None:
        self.code, self._naming = code, naming
        self._both = by_sight, by_feel
        self._table = by_feel if touch else by_sight

    def by_touch(self, touch: bool) -> Phrases:
        """The sentences for a learner who works by touch, or by sight."""
        return type(self)(self.code, self._naming, *self._both, touch)

    def say(self, key: str, form: int = 0, **values: object) -> str:
        """The sentence `key` in form number `form`, or in its last form. KeyError for an unknown key."""
        return self.forms(key, **values)[: form + 1][-1]

    def forms(self, key: str, **values: object) -> tuple[str, ...]:
        """All forms of the sentence `key`. A value for {colour} also fills {some_colour} and the like."""
        if "colour" in values:
            values |= self._naming.gaps("colour", str(values["colour"]))
        return tuple(_sentence(form.format(**values)) for form in self.open_forms(key))

    def gaps(self, up: str, down: str) -> dict[str, str]:
        """The fillers of gaps for the learner's words for the top and the bottom."""
        return self._naming.gaps("up", up) | self._naming.gaps("down", down)

    def felt(self, words: Iterable[str]) -> bool:
        """Whether all of the learner's words are marks to feel: none of them names a colour."""
        return not any(map(self._naming.is_colour, words))

    def part(self, key: str, form: int = 0, **values: object) -> str:
        """The words `key` for use within a sentence: as they are in the file, not capitalised."""
        return self.open_forms(key)[: form + 1][-1].format(**values)

    def open_forms(self, key: str) -> tuple[str, ...]:
        """All forms of the sentence `key` as they are in the file, with their gaps."""
        found: Any = self._table
        for part in key.split(".", 1):
            found = found[part]
        return tuple(found) if isinstance(found, list) else (found,)

    def all_keys(self) -> tuple[str, ...]:
        """All keys in the file, such as "reply.louder", in its order."""
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

    def ready_made(self, style: str, up: str) -> tuple[str, ...]:
        """Sentences with no gap other than the word for the top, the calls first: what a voice can synthesise ahead."""
        calls = [f"{_sentence(self.call(turn, style))}." for turn in FACE_TURNS if turn.face != "B"]
        forms: list[str] = []
        for section in ("ask", "claim", "reply", "hold", "turn", "check", "odd", "rotations"):
            for entry in self._table[section].values():
                forms += entry if isinstance(entry, list) else [entry]
        filled = [_filled(form, self._naming.gaps("up", up)) for form in forms]
        return (*calls, *(_sentence(form) for form in filled if "{" not in form))


def _filled(form: str, values: Mapping[str, str]) -> str:
    for name, value in values.items():
        form = form.replace(f"{{{name}}}", value)
    return form


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]
