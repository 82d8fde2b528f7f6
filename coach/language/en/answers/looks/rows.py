"""The top told row by row, or by one row or column, which covers both edges and corners."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from coach.language.en.answers.looks.lists import COLOURS, Speaker, which
from coach.language.en.answers.looks.top import Clause, LookKind, Top
from coach.language.en.answers.phrasing import pick

_ROW_NAMES: Final = (
    ("upper row", "middle row", "lower row"), ("the top", "the middle", "the bottom"), ("upper", "middle", "lower"),
    ("at the back", "in the middle", "at the front"), ("the far row", "the middle one", "the near row"),
    ("up there", "across the middle", "down here"),
    ("top row", "middle row", "bottom row"), ("back row", "middle row", "front row"), ("row one", "row two",
    "row three"),
    ("first row", "second row", "third row"), ("far row", "middle row", "near row"), ("first", "then", "last"), ("",
    "",
    ""),
    ("top", "middle", "bottom"), ("back", "middle", "front"), ("one", "two", "three"),
)  # fmt: skip
_ROW_WORDS: Final = (
    ("yes", "no"), ("yes", "no"), ("yellow", "not"), ("yellow", "no"), ("yellow", "nothing"), ("yellow", "other"),
    ("yellow", "?"), ("yep", "nope"), ("yellow", "blank"),
)  # fmt: skip


def rows(speaker: Speaker, top: Top, kind: LookKind) -> Clause:
    """The nine stickers of the top, row by row."""
    return Clause(*_rows(speaker, top, [0, 1, 2]))


def _rows(speaker: Speaker, top: Top, numbers: Sequence[int]) -> tuple[str, dict[str, bool]]:
    """Some or all rows, in this order, or in any order if each is named, and the cells that they tell."""
    names, (yes, no) = pick(speaker.random, _ROW_NAMES), pick(speaker.random, _ROW_WORDS)
    if len(numbers) < 3 and (not names[0] or "then" in names):
        names = _ROW_NAMES[0]
    if names[0] and "then" not in names and speaker.chance(0.25):
        numbers = speaker.random.sample(numbers, len(numbers))
    gap = pick(speaker.random, (" ", ", ", " "))
    whole = names[0] in ("top", "the top", "upper")  # "the top is empty" would be about all of it
    colon = ": " if whole else pick(speaker.random, (": ", ": ", " ", ", ", ", it's ", " is "))
    lines: list[str] = []
    cells: dict[str, bool] = {}
    for row in numbers:
        name = names[row]
        shown = [row * 3 + i == 4 or top.shows[f"U{row * 3 + i}"] for i in range(3)]
        words = [yes if up else (pick(speaker.random, COLOURS) if no == "?" else no) for up in shown]
        if all(shown) and speaker.chance(0.3):
            words = [speaker.say("all (yellow|three)|full|complete|yellow all along")]
        elif not any(shown) and speaker.chance(0.3):
            words = [speaker.say("nothing|none|empty|no yellow")]
        lines.append((name + colon if name else "") + gap.join(words))
        cells |= {cell: top.shows[cell] for i in range(3) if (cell := f"U{row * 3 + i}") != "U4"}
    return pick(speaker.random, (". ", ", ", ". ", "; ")).join(lines), cells


def some_rows(speaker: Speaker, top: Top, kind: LookKind) -> Clause:
    """One or two rows by name, leaving the others open."""
    numbers = sorted(speaker.random.sample((0, 1, 2), pick(speaker.random, (1, 1, 2))))
    return Clause(*_rows(speaker, top, numbers))


_LINES: Final[Mapping[tuple[str, ...], str]] = {
    ("U0", "U1", "U2"): "(back|far|top|upper|furthest) (row|line)|row (at|in) the back|row away from me",
    ("U6", "U7", "U8"): "(front|near|bottom|lower|nearest) (row|line)|row (at the front|near me|in front)",
    ("U0", "U3", "U6"): "left (row|column|side of the top)|column on the left",
    ("U2", "U5", "U8"): "right (row|column|side of the top)|column on the right",
}
_NOTHING: Final = (
    "(nothing|no yellow|none|not one|not a single one|no) (in|on|along) the {l}|the {l} (has (none|nothing|no yellow)"
    "|is (empty|blank|all wrong|without yellow|not yellow at all)|doesn't have any)|not the {l}, nothing there"
    "|(in|on|along) the {l} (there's nothing|there isn't any|I see none|not a thing)"
)
_FULL: Final = (
    "the (whole|full|entire) {l} (is yellow|has it)|(everything|all three|all of it|all yellow) (in|on|along) the {l}"
    "|the {l} is (all yellow|full|complete|yellow from end to end)|yellow all along the {l}"
)


def a_line(speaker: Speaker, top: Top, kind: LookKind) -> Clause:
    """A row or column at a side that is all yellow, or has none: it covers an edge and two corners."""
    lines = [line for line in _LINES if len({top.shows[cell] for cell in line}) == 1]
    if not lines:
        return some_rows(speaker, top, kind)
    line = pick(speaker.random, lines)
    said = speaker.say(_FULL if top.shows[line[0]] else _NOTHING, l=speaker.say(_LINES[line]))
    return Clause(said, {cell: top.shows[cell] for cell in line})


def a_line_and_which(speaker: Speaker, top: Top, kind: LookKind) -> Clause:
    """A row that is empty or full, and then the places that show it."""
    full = [line for line in _LINES if all(top.shows[cell] for cell in line)]
    if full and speaker.chance(0.7):
        return _a_line_and_more(speaker, top, kind, pick(speaker.random, full))
    return a_line(speaker, top, kind).then(which(speaker, top, kind), speaker.say("(, but |. |, |, and |; )"))


def _a_line_and_more(speaker: Speaker, top: Top, kind: LookKind, line: tuple[str, ...]) -> Clause:
    """A full row, the other places that show it, and sometimes those that do not."""
    more = [cell for cell in top.up(kind) if cell not in line]
    text = speaker.say(
        "the [whole|entire] {l} is [all] yellow [from (top to bottom|end to end|one end to the other)|throughout]"
        "|all [of] the {l} (is|has) yellow|the {l} is full|all three in the {l}",
        l=speaker.say(_LINES[line]),
    )
    if more:
        text += speaker.say(
            "(,|) and so (is|are) {x}|, and also {x}|(,|) as well as {x}|, plus {x}|(,|) and {x} [too|as well]"
            "|, likewise {x}|, so is {x}",
            x=speaker.list(more),
        )
    else:
        text = speaker.say("{t}[,] and (nothing else|that's it|no more|no others)|only {t}", t=text)
    if speaker.chance(0.5):
        text += speaker.say(
            "(,|.) [but|while|whereas] {d} (aren't|are not|are something else|are another colour|have none|do not)",
            d=speaker.list(top.down(kind)),
        )
    return Clause(text, {**dict.fromkeys(line, True), **top.cells(kind)})
