"""What is practised, named as people know it: a sequence by its own name, with the cases in which it serves."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from coach.learning.exercise import Item, Kind
from coach.method import Method, NamedSequence

_LANGUAGE: Final = "en"
"""The terminal speaks English."""
_KINDS: Final[dict[Kind, str]] = {
    "do": "do", "recite": "say", "hold": "tell the case and the hold",
}  # fmt: skip
_CHOICES: Final = {"next-piece": "choose the next piece", "next-step": "tell when this step comes"}
"""What stands in for a case where something is to be chosen."""


class Names:
    """Names items after the sequences of `method`; an item of another method, or of an older one, keeps its ids."""

    def __init__(self, method: Method) -> None:
        self._method = method
        self._serves: dict[str, list[tuple[str, str]]] = {}
        for key, id in method.sequence_of.items():
            self._serves.setdefault(id, []).append(key)
        self._named = {each.id: each for each in method.sequences}

    def of(self, item: Item, with_method: bool = False) -> str:
        """Such as "top cross, line, do the flip by the right side", or "top cross, say the flip by the top"."""
        named, kind = self._sequence(item), _CHOICES.get(item.case, _KINDS[item.kind])
        if item.kind in ("do", "recite"):
            kind = f"{kind} {named.say(_LANGUAGE, 'name') if named else 'it'}"
        case = "" if item.case in _CHOICES or (item.kind == "recite" and named) else item.case
        ids = (_spaced(id) for id in (item.step, case) if id)
        return ", ".join((*ids, kind, *([f"method {item.method}"] if with_method else ())))

    def serving(self, items: Iterable[Item]) -> Iterator[str]:
        """A sentence for each sequence among the items that serves in several cases."""
        found = {named.id: named for item in items for named in [self._sequence(item)] if named}
        for named in found.values():
            cases = self._serves[named.id]
            if len(cases) > 1:
                name = named.say(_LANGUAGE, "name")
                yield f"{name[:1].upper()}{name[1:]} serves in {len(cases)} cases: {self._told(cases)}."

    def _told(self, keys: list[tuple[str, str]]) -> str:
        """The cases, step by step: "top cross, dot and corner"."""
        by_step: dict[str, list[str]] = {}
        for step, case in keys:
            by_step.setdefault(step, []).append(_spaced(case))
        return "; ".join(f"{_spaced(step)}, {_listed(cases)}" for step, cases in by_step.items())

    def _sequence(self, item: Item) -> NamedSequence | None:
        if item.method != self._method.name:
            return None
        return self._named.get(self._method.sequence_of.get((item.step, item.case), ""))


def _spaced(id: str) -> str:
    return id.replace("-", " ")


def _listed(words: list[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else words[0]
