"""Rows and columns of the top, read like a page: as a whole, or filled in sticker by sticker."""

from __future__ import annotations

from collections.abc import Sequence

from coach.language.en import cells
from coach.language.en.cells import EDGES, ROWS
from coach.language.en.phrase import Clause, Phrase
from coach.language.en.story import Statement, Story, line_of, spots


def names_row(phrase: Phrase) -> bool:
    """A row by name, or "all three at the back"."""
    return bool(phrase.row) or (phrase.number == 3 and len(phrase.dirs) == 1 and not phrase.kind)


def take_row(phrase: Phrase, clause: Clause, story: Story, later: Sequence[Phrase]) -> None:
    """A row said as a whole; one that is only named waits for what is said to be in it."""
    end_row(story)
    line = line_of(phrase)
    if not line:
        return
    if phrase.down:
        story.down("row", line)
        return
    partial = any(p.number in (1, 2) and not p.dirs for p in (phrase, *later))
    if phrase.whole or phrase.every or phrase.number == 3 or (clause.colour and not later and not partial):
        story.up("row", line)
    else:
        phrase.listed = partial
        story.row, story.row_up = phrase, []


def end_row(story: Story) -> None:
    """The sentence ends: a row named and not filled in was meant as a whole."""
    row, story.row = story.row, None
    if row is None:
        return
    if row.number == len(story.row_up) or (row.whole and story.row_up):
        story.down("row", (cell for cell in line_of(row) if cell not in story.row_up))
    elif not row.listed:
        story.up("row", line_of(row))


def fill_row(phrase: Phrase, clause: Clause, story: Story) -> bool:
    """A sticker told by its place in the row named before ("in the back row, the left and the middle").

    The phrase is then given its full place. False if it is not told that way.
    """
    row = story.row
    if row is None or phrase.row or phrase.kind or not (phrase.centre or len(phrase.dirs) == 1):
        return False
    across = row.row != "column2" and (row.row == "row2" or row.dirs[0] in "FB")
    if phrase.dirs and (phrase.dirs[0] in "LR") != across:
        return False
    if row.row == "row" and phrase.centre:
        phrase.dirs, phrase.kind, phrase.centre = [row.dirs[0]], "edge", False
    elif row.row == "row":
        phrase.dirs, phrase.kind = [row.dirs[0], *phrase.dirs], "corner"
    row.listed = True
    row.whole = row.whole or clause.only
    kind = story.kind_of(phrase)
    story.row_up.extend((spots(phrase, kind) if kind else ()) or ("U4",))
    return True


def take_part(part: str, story: Story) -> None:
    """Two stickers of the row named before: "the first two", "the outer ones"."""
    row = story.row
    if row is None:
        return
    line = line_of(row)
    full = (line[0], "U4", line[1]) if len(line) == 2 else line
    up = {"first": full[:2], "last": full[1:], "outer": (full[0], full[2])}[part]
    mask = cells.both(cells.hides(cell) for cell in line if cell not in up)
    shown = tuple(cell for cell in up if cell != "U4")
    story.add(Statement("row", mask & cells.both(map(cells.shows, shown)), "", shown))
    row.listed = True


def middle_of_row(phrase: Phrase, clause: Clause, story: Story) -> None:
    """"Just the middle of the front row": an edge, and with "just" neither corner beside it."""
    if not (phrase.centre and phrase.row == "row" and len(phrase.dirs) == 1):
        return
    if clause.only:
        story.down("row", (cell for cell in ROWS[phrase.dirs[0]] if cell not in EDGES.values()))
    phrase.row, phrase.centre, phrase.kind = None, False, "edge"
