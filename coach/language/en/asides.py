"""What an English answer says besides its meaning, found by plain wordings (`asides.toml`) and by rules."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache, cached_property
from importlib.resources import files
from itertools import product
from typing import Any, Final

from coach.language.aside import Aside, Mark, RowPutRight
from coach.language.en.besides import opposites, presence, remarks, subjects
from coach.language.en.by_heart import taught
from coach.language.en.by_heart.halfway import turns_done, unfinished
from coach.language.en.counts import room
from coach.language.en.counts.attendance import attendance
from coach.language.en.naming import words_by_side
from coach.language.en.reader.normalise import normalise, plain
from coach.language.en.rows import corrections
from coach.language.en.slips import denials, tellings
from coach.language.en.slips.misfit import does_not_fit, not_in
from coach.language.en.slips.undone import how_many, none_done
from coach.language.meaning import Question, Scene
from coach.language.telling import Telling

_SOMEWHERE: Final[tuple[Mark, ...]] = (
    "stop", "finishes", "goes-on", "nothing-wrong", "answers-wrong", "corrects-answer", "anew", "why", "slipped",
    "not-done", "begins", "faster",
)  # fmt: skip
_ASKS_HOLD: Final = re.compile(
    r"\b(?:which|what) (?:colour|color|mark|sticker|side|middle|centre)\b.*\b(?:front|facing|faces|top|towards)\b"
)
_BE: Final = ("is", "are", "was")
_NO: Final = re.compile(r"\s*(?:(?:oh|um|uh|well|but)\W+)*(?:no|nope|nah)\b(?P<mark>[\s,.;!-]*)", re.IGNORECASE)
_FIRST: Final[Mapping[Mark, str]] = {"yes-first": "yes", "no-first": "no"}


class Asides:
    """Reads asides; `explained` maps words to the keys of their explanations."""

    def __init__(self, table: Mapping[str, Any], explained: Mapping[str, str]) -> None:
        self._table, self._explained = table, explained

    def read(self, text: str, asked: Question, scene: Scene) -> Aside:
        """The aside in `text` as an answer to `asked`."""
        head, tail = _around(scene.names, text)
        return Aside(
            marks=frozenset((
                *self._marks(text, scene), *self._marks_of_rows(head, tail), *_marks_of_class(text, asked, scene),
            )),
            hints=frozenset(kind for kind, parts in self._table["hints"].items() if _has(text, parts)),
            telling=self._telling(text, in_pause=asked == "turn" or scene.about == "none-done"),
            remark=remarks.remark(text),
            row=self._row_put_right(text, asked, scene),
            row_named=self._row_named(head) or self._row_named(tail),
            side=self._side_of_one_colour(text),
            word=(room.is_led(asked, scene) and room.explained(normalise(text))) or self._word(text),
            sticker=denials.reason(text, scene),
            turns_done=turns_done(text),
            front=self._in_front(text, scene),
            sides=words_by_side(normalise(text)) if scene.about in ("colour", "colours") else {},
            asks_for=taught.asked_for(text, scene),
            attendance=attendance(text, asked == "hands") if room.is_led(asked, scene) else None,
        )

    def _telling(self, text: str, in_pause: bool) -> Telling:
        words = normalise(text)
        return Telling("none", back=how_many(words)) if none_done(words, in_pause) else tellings.telling(text)

    def without_name_of_row(self, text: str) -> str:
        """The words of `text` with "row" for the name of a row, so that a side in it is not taken for the reading
        direction; just `text` if no row is named."""
        said = f" {plain(text)} "
        if not self._words_of_rows & set(said.split()):
            return text
        ways = [way for way in self._rows_named if f" {way} " in said]
        return said.replace(f" {max(ways, key=len)} ", " row ").strip() if ways else text

    def _marks(self, text: str, scene: Scene) -> Iterator[Mark]:
        said = plain(text)
        yield from (mark for mark in _SOMEWHERE if self._holds(mark, said))
        yield from (mark for mark, way in _FIRST.items() if self._opens(way, said))
        if said in self.ways("stop"):
            yield "only-stop"
        if said in self.ways("onward"):
            yield "only-onward"
        if said and set(said.split()) <= {*self.ways("um")}:
            yield "only-um"
        if presence.only_here(words := normalise(text)):
            yield "only-here"
        if presence.asks_here(words):
            yield "asks-here"
        if presence.only_ready(words):
            yield "only-ready"
        if presence.only_yes(words):
            yield "only-yes"
        if presence.only_okay(words):
            yield "only-okay"
        if said.endswith(" for"):
            yield "why"
        if opposites.did_all(words):
            yield "did-all"
        if unfinished(text):
            yield "unfinished"
        if self._held_otherwise(text, said, scene):
            yield "held-wrong"
        if does_not_fit(words):
            yield "misfit"
        if {"corner", "corners"} & {*words} and not {"edge", "edges"} & {*words}:
            yield "of-corners"
        if not_in(words):
            yield "not-in"

    def _marks_of_rows(self, head: str, tail: str) -> Iterator[Mark]:
        """The marks said before the first colour and after the last one."""
        before, after = plain(head), plain(tail)
        corrects = self._opens("corrects", before) or before.endswith(("i meant", "i mean"))
        if corrects:
            yield "corrects"
        if self._holds("past", f"{before} {after}"):
            yield "past"
        if self._holds("row-before", before) or (corrects and self._holds("row-before", after)):
            yield "row-before"

    def ways(self, mark: str) -> Sequence[str]:
        """The plain ways to say that."""
        ways: Sequence[str] = self._table["plain"][mark]
        return ways

    def _holds(self, mark: str, said: str) -> bool:
        return any(f" {way} " in f" {said} " for way in self.ways(mark))

    def _opens(self, mark: str, said: str) -> bool:
        return any(f"{said} ".startswith(f"{way} ") for way in self.ways(mark))

    def _held_otherwise(self, text: str, said: str, scene: Scene) -> bool:
        """Whether they hold the cube wrong, by their own words or by the side that they name as the front."""
        if self._holds("held-wrong", said):
            return True
        if not self._holds("in-front", said):
            return False
        if (front := self._in_front(text, scene)) and not self._holds("denied", said):
            return front != scene.colours["F"]
        named = _named(text, scene)
        return bool(named) and (scene.colours["F"] in named) == self._holds("denied", _without_no(text, scene))

    def _in_front(self, text: str, scene: Scene) -> str | None:
        """The word of the side that is said to be in front, if it is one."""
        if not self._holds("in-front", plain(text)):
            return None
        named = _named(text, scene)
        if len(named) == 1 and self._holds("denied", _without_no(text, scene)):
            return None
        fronts = subjects.of_front(normalise(text), named)
        return fronts[0] if len(fronts) == 1 else None

    def _row_put_right(self, text: str, asked: Question, scene: Scene) -> RowPutRight | None:
        named = self._row_named(text)
        right = corrections.put_right(self.without_name_of_row(text), scene, may_be_answer=asked in ("row", "face"))
        if right is None or (named and asked == "row" and len(right.colours) == 3 and not right.answers):
            return None
        return replace(right, named=named)

    def _row_named(self, text: str) -> tuple[str, int] | None:
        """The face and number of the row named last in `text`; None if no row is named."""
        said = f" {plain(text)} "
        if not self._words_of_rows & set(said.split()):
            return None
        found = [
            (said.rfind(f" {way} ") + len(way), len(way), row)
            for way, row in self._rows_named.items()
            if f" {way} " in said
        ]
        return max(found)[2] if found else None

    def _side_of_one_colour(self, text: str) -> str | None:
        """The face of a side that is said to be all of one colour."""
        said = f" {plain(text)} "
        if not any(f" {word} " in said for word in self._table["named"]["alike"]):
            return None
        faces = self._table["named-faces"].items()
        found = {face for face, names in faces for name in names for be in _BE if face and f" {name} {be} " in said}
        return found.pop() if len(found) == 1 else None

    @cached_property
    def _words_of_rows(self) -> frozenset[str]:
        """The words of which each name of a row has one."""
        named = self._table["named"].items()
        return frozenset(word for key, words in named if key.endswith(("-1", "-2", "-3")) for word in words)

    @cached_property
    def _rows_named(self) -> Mapping[str, tuple[str, int]]:
        """The face and number of a row by each of its names."""
        named, upright = self._table["named"], [("upright", number) for number in (1, 2, 3)]
        of_face = {"U": [("lying", number) for number in (1, 2, 3)], "D": [("lying", number) for number in (3, 2, 1)]}
        return {
            way.format(face=face, row=row): (letter, number)
            for letter, faces in self._table["named-faces"].items()
            for number, (kind, told) in enumerate(of_face.get(letter, upright), 1)
            for face, row, way in product(faces, named[f"{kind}-{told}"], named["ways"])
        } | {
            way.format(row=row): ("", number)
            for number, way in product((1, 3), ("{row} row", "{row} line", "the {row} one"))
            for row in named[f"upright-{number}"][:1]
        }

    def _word(self, text: str) -> str | None:
        """The key of the explanation of the first word that is asked about, or None."""
        said = text.lower()
        if _ASKS_HOLD.search(said):  # the hold answers that
            return None
        found = [(said.find(word), -len(word), word) for word in self._explained if word in said]
        return self._explained[min(found)[2]] if found else None


def _marks_of_class(text: str, asked: Question, scene: Scene) -> Iterator[Mark]:
    words = normalise(text) if room.is_led(asked, scene) else []
    if room.asks_hold(words):
        yield "asks-hold"
    if room.fell(words):
        yield "one-fell"
    if room.spares(words):
        yield "spares"


@cache
def asides() -> Asides:
    """The asides of English."""
    phrases, table = (tomllib.loads(_file(name)) for name in ("phrases.toml", "asides.toml"))
    words = {word: f"glossary.{word}" for word in phrases["glossary"]}
    return Asides(table, words | {phrases["steps"][step]: f"what.{step}" for step in phrases["what"]})


def _file(name: str) -> str:
    return files(__package__).joinpath(name).read_text("utf-8")


def _named(text: str, scene: Scene) -> list[str]:
    """The words for sides that are in the text."""
    return [name for name in scene.names if re.search(rf"\b{re.escape(name)}\b", text, re.IGNORECASE)]


def _has(text: str, parts: Collection[str]) -> bool:
    return any(part in text.lower() for part in parts)


def _without_no(text: str, scene: Scene) -> str:
    """The plain words without a "no" that opens them, unless it denies the colour that follows ("no green")."""
    opening = _NO.match(text)
    rest = text[opening.end() :] if opening else text
    at_once = opening and not opening["mark"].strip()
    return plain(text if at_once and rest.lower().startswith(tuple(map(str.lower, scene.names))) else rest)


def _around(names: Sequence[str], text: str) -> tuple[str, str]:
    """The text before the first colour and the text after the last one."""
    said = text.lower()
    first = min((at for name in names if (at := said.find(name.lower())) >= 0), default=len(said))
    last = max((at + len(name) for name in names if (at := said.rfind(name.lower())) >= 0), default=len(said))
    return said[:first], said[last:]
