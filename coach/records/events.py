"""Events of a lesson as JSON, to be replayed: what was meant and what was said besides, never the words themselves."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from typing import Any, Final

from coach.dialogue import Event, Heard, Silence, When
from coach.language.aside import Aside, Attendance, RowPutRight
from coach.language.meaning import Change, Meaning
from coach.language.telling import NamedTurn, Telling

_KNOWN: Final = {
    each.__name__: each
    for each in (
        Heard, Silence, When, Meaning, Change, Aside, Attendance, RowPutRight, NamedTurn, Telling
    )
}  # fmt: skip
_BARE: Final = (str, int, float, bool, type(None))


def written(event: Event) -> str:
    """The event without its words."""
    return json.dumps(_plain(wordless(event)), ensure_ascii=False)


def read(text: str) -> Event:
    """The event again. Raises ValueError for what this version does not know."""
    try:
        event = _made(json.loads(text))
    except (TypeError, KeyError, AttributeError) as error:
        raise ValueError(f"This is no event: {error}") from error
    if not isinstance(event, Heard | Silence):
        raise ValueError("This is no event.")
    return event


def wordless(event: Event) -> Event:
    """The event as it is kept."""
    if isinstance(event, Silence):
        return event
    return _wordless(event)


def _wordless(heard: Heard) -> Heard:
    return replace(heard, text="", guesses=tuple(map(_wordless, heard.guesses)))


def _plain(value: Any) -> Any:
    """Objects and containers as one-key objects that say what they are."""
    if isinstance(value, _BARE):
        return value
    if isinstance(value, tuple):
        return {"tuple": [_plain(each) for each in value]}
    if isinstance(value, frozenset):
        return {"set": [_plain(each) for each in sorted(value)]}
    if isinstance(value, Mapping):
        return {"map": [[_plain(key), _plain(each)] for key, each in value.items()]}
    if is_dataclass(value) and type(value).__name__ in _KNOWN:
        return {type(value).__name__: {each.name: _plain(getattr(value, each.name)) for each in fields(value)}}
    raise TypeError(f"{type(value).__name__} belongs to no event.")


def _made(value: Any) -> Any:
    if isinstance(value, _BARE):
        return value
    ((kind, inside),) = value.items()
    if kind == "tuple":
        return tuple(map(_made, inside))
    if kind == "set":
        return frozenset(map(_made, inside))
    if kind == "map":
        return {_made(key): _made(each) for key, each in inside}
    return _KNOWN[kind](**{name: _made(each) for name, each in inside.items()})
