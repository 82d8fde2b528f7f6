"""Reading a method file (TOML). Its claims are trusted only after `proof.prove`."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path
from typing import Any, Final

from coach.cube import FACES, POSITIONS
from coach.method.errors import MethodError
from coach.method.method import AnyStep, Hand, Method
from coach.method.mirror import mirrored_method
from coach.method.model import COUNTERS, STEP_IDS, Case, Step
from coach.method.placing import LAYERS, LOWER_PIECES, PlacingCase, PlacingStep, PlannedStep
from coach.method.proof import prove
from coach.method.sequences import Group, NamedSequence, check_groups
from coach.method.table import Table, whole_number
from coach.method.wording_check import check_words

DEFAULT_FILE: Final = Path(__file__).with_name("layers.toml")
GAPS: Final = (
    "up", "down", "up_sticker", "down_sticker", "is_up", "are_up", "is_down", "are_down", "up_cross", "down_cross",
)  # fmt: skip
"""What may stand in curly brackets in the words of a case; the coach fills in the learner's own words."""
PLACING_GAPS: Final = (*GAPS, "piece")
"""The same, for a step that places pieces."""
_Sequences = Mapping[str, NamedSequence]
_SLOTS: Final = {"bottom-cross": "DF", "bottom-corners": "DFR", "middle-edges": "FR"}
_KINDS: Final = {"bottom-cross": "plan", "bottom-corners": "place", "middle-edges": "place"}
"""The kinds of the lower steps; all others are of the kind "look"."""
_CROSS_TURNS: Final = 8
"""The most turns that a bottom cross can take (coach/cube/distance.py)."""
_LONGEST: Final = 1_000_000
_LOOKS: Final = ("look-top-edges", "look-top-corners", "row")


@cache
def default_method(hand: Hand = "right") -> Method:
    """The method that comes with the coach, read and proven."""
    return load(DEFAULT_FILE, hand)


def load(path: Path, hand: Hand = "right") -> Method:
    """The method in the file, proven and with its words checked; for the left hand its mirror image, checked as well.
    Raises MethodError, worded for the file's author."""
    method = _proven(read(path))
    return other_hand(method) if hand == "left" else method


def other_hand(method: Method) -> Method:
    """The method in the mirror, proven again (0.3 s). Raises MethodError."""
    return _proven(mirrored_method(method))


def _proven(method: Method) -> Method:
    prove(method)
    check_groups(method.sequences)
    check_words(method)
    return method


def read(path: Path) -> Method:
    """The method in the file as it stands, unproven."""
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
    return _method(data, path)


def _method(data: Mapping[str, Any], path: Path) -> Method:
    table = Table(data, "the file")
    sequences = {found.id: found for found in map(_sequence, table.tables("sequence"))}
    steps = tuple(_step(found, sequences) for found in table.tables("step"))
    if not steps:
        raise MethodError(f"The method file {path} has no steps. Each begins with a line [[step]].")
    table.only("name", "sequence", "step")
    _in_order(steps)
    return Method(str(data.get("name", path.stem)), steps)


def _content(path: Path) -> bytes:
    """The content of the file, or its beginning if it is longer than any method."""
    try:
        with path.open("rb") as file:
            return file.read(_LONGEST + 1)
    except OSError as error:
        raise MethodError(f"The method file {path} cannot be opened: {error.strerror or error}.") from None
    except ValueError as error:  # a path with a NUL in it
        raise MethodError(f"The method file {str(path)!r} cannot be opened: {error}.") from None


def _sequence(table: Table) -> NamedSequence:
    turns = table.turns("turns")
    groups = tuple(map(_group, table.rows("groups", '{ turns = "F R U", en.name = "the way in" }')))
    words = table.words(GAPS, ("name", "why"), (), "id", "turns", "groups")
    return NamedSequence(table.text("id"), turns, groups, words=words)


def _group(table: Table) -> Group:
    turns = table.turns("turns")
    return Group(turns, words=table.words(GAPS, ("name",), (), "turns"))


def _step(table: Table, sequences: _Sequences) -> AnyStep:
    read: dict[str, Callable[[Table, _Sequences], AnyStep]] = {
        "plan": _planned_step, "place": _placing_step, "look": _look_step,
    }  # fmt: skip
    expected = _KINDS.get(table.text("id", STEP_IDS), "look")
    table.text("kind", (expected,))
    return read[expected](table, sequences)


def _in_order(steps: tuple[AnyStep, ...]) -> None:
    """Refuse steps of the lower layers unless they build on each other and lead to the top."""
    lower = [step.id for step in steps if not isinstance(step, Step)]
    if [step.id for step in steps[: len(lower)]] != lower:
        raise MethodError(f"The step {lower[-1]!r} must come before the steps of the top. Move it up in the file.")
    end = len(LOWER_PIECES) if len(steps) > len(lower) else [*LOWER_PIECES].index(lower[-1]) + 1
    expected = [*LOWER_PIECES][max(0, end - len(lower)) : end]
    if lower and lower != expected:
        raise MethodError(
            f"The steps of the two lower layers are {', '.join(lower)}. None may be left out between two steps, "
            f"and their order is {', '.join(LOWER_PIECES)}."
        )


def _pieces(table: Table) -> tuple[str, ...]:
    """The pieces of a step of the lower layers: all that belong to it, in any order."""
    expected = LOWER_PIECES[table.text("id")]
    pieces = table.names("pieces", expected, f"piece of this step; its pieces are {', '.join(expected)}")
    if sorted(pieces) != sorted(expected):
        raise table.fail(f"pieces must have each of {', '.join(expected)} in it once.")
    return pieces


def _planned_step(table: Table, sequences: _Sequences) -> PlannedStep:
    most = table.number("most")
    if most < _CROSS_TURNS:
        raise table.fail(f"most is {most}, but from some positions it takes {_CROSS_TURNS} turns. Write most = 8.")
    rule = _placing_step(table, sequences, "most")
    return PlannedStep(rule.id, rule.pieces, most, rule, words=rule.words)


def _placing_step(table: Table, sequences: _Sequences, *more: str) -> PlacingStep:
    keys = ("id", "kind", "pieces", "slot", "next", "case", *more)
    words = table.words(GAPS, ("next", "done"), (), *keys)
    step_id, pieces = table.text("id"), _pieces(table)
    slot = table.text("slot", (_SLOTS[step_id],))
    layers = table.names("next", LAYERS, f"layer; the layers are {', '.join(LAYERS)}")
    cases = tuple(_placing_case(case, slot, sequences) for case in table.tables("case"))
    return PlacingStep(step_id, pieces, slot, tuple(map(LAYERS.__getitem__, layers)), cases, words=words)


def _placing_case(table: Table, slot: str, sequences: _Sequences) -> PlacingCase:
    words = table.words(PLACING_GAPS, ("name", "hold"), ("why",), "id", "at", "colour", "on", "sequence")
    named = table.choice("sequence", sequences, "[[sequence]]")
    own = [name for name in POSITIONS if len(name) == len(slot)]
    if "colour" not in table.data and "on" not in table.data:
        below = tuple(name for name in own if "U" not in name)
        return PlacingCase(table.text("id"), table.text("at", below), "", "", named, words=words)
    faces, above = tuple(FACES), tuple(name for name in own if "U" in name)
    colour, on = table.text("colour", faces), table.text("on", faces)
    return PlacingCase(table.text("id"), table.text("at", above), colour, on, named, words=words)


def _look_step(table: Table, sequences: _Sequences) -> Step:
    keys = ("id", "kind", "look", "needs", "needs_same", "goal", "goal_same", "runs", "align", "case")
    words = table.words(GAPS, ("look", "done"), ("align",), *keys)
    return Step(
        table.text("id"),
        table.text("look", _LOOKS),
        table.condition("needs"),
        table.condition("goal"),
        table.number("runs"),
        tuple(_case(case, sequences) for case in table.tables("case")),
        table.truth("align"),
        words=words,
    )


def _case(table: Table, sequences: _Sequences) -> Case:
    count = table.data.get("count", {})
    if not isinstance(count, dict) or not all(k in COUNTERS and whole_number(v) for k, v in count.items()):
        counters = ", ".join(f"count.{name}" for name in COUNTERS)
        raise table.fail(f"a count must be one of {counters}, each with a whole number, such as count.edges = 2.")
    named = table.choice("sequence", sequences, "[[sequence]]") if "sequence" in table.data else None
    needed, optional = (("name", "hold"), ("why",)) if named else (("name",), ("hold",))
    words = table.words(GAPS, needed, optional, "id", "count", "hold", "hold_same", "sequence")
    return Case(table.text("id"), count, table.condition("hold"), named, words=words)
