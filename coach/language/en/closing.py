"""The end of a description: what a complete list leaves out, and what follows from it all."""

from __future__ import annotations

from dataclasses import dataclass

from coach.language.en import cells
from coach.language.en.cells import CELLS
from coach.language.en.story import Statement, Story

_WEAK = ("closing", "relation", "side", "count", "shape", "line")
"""Sorts of statements in the order in which they are given up where an answer contradicts itself."""
_INFERRED = ("closing", "relation", "side")
"""Sorts that are read into an answer: giving them up does not mean that it contradicts itself."""


@dataclass(frozen=True)
class Look:
    """What a description settles: stickers, and the shape and counts whose places were left open."""

    look: dict[str, bool]
    shape: str | None = None
    edges: int | None = None
    corners: int | None = None
    corrected: bool = False
    clashes: bool = False  # not everything that was said can be so

    def __bool__(self) -> bool:
        return bool(self.look) or (self.shape, self.edges, self.corners) != (None, None, None)


def close(story: Story) -> None:
    """What an answer that is a complete list leaves out is not so."""
    if story.block and story.four and not (story.said("shape") or story.said("place")):
        story.count("edge", 4)
    _leave_out(story)
    _lone(story)
    settled = cells.settled(story.mask) if story.mask else {}
    for kind, pieces in CELLS.items():
        named = {cell for cell in pieces if settled.get(cell)} or story.ups(kind)
        if _complete(kind, len(named), story):
            mask = cells.both(cells.hides(cell) for cell in pieces if cell not in named)
            if mask & story.mask:
                story.statements.append(Statement("closing", mask, kind))
            else:  # "a cross; the other two edges are not"
                story.dubious |= kind in story.closed


def _complete(kind: str, named: int, story: Story) -> bool:
    """All the pieces of a kind that are up were named: it was said, or the number is one that can be.

    A list of so many in answer to
    the question is taken as the whole answer, unless the speaker leaves it open.
    """
    wanted = story.wanted.get(kind)
    if wanted is not None:
        return kind in story.closed and named == wanted
    if not named:
        return False
    answered = kind == story.asked and not story.open_ended
    return kind in story.closed or (answered and named in cells.POSSIBLE[kind])


def _leave_out(story: Story) -> None:
    """All of the universe but what was excepted."""
    if any(story.excepted):
        up = tuple(cell for cell in story.universe if cell not in story.excepted)
        down = (cell for cell in story.excepted if cell)
        mask = cells.both(map(cells.shows, up)) & cells.both(map(cells.hides, down))
        story.statements.append(Statement("place", mask, "", up))


def _lone(story: Story) -> None:
    """"One on the left", if that is the whole answer: there is one."""
    placed = [s for s in story.statements if s.sort == "place" and s.kind == "corner"]
    if story.asked == "corner" and len(placed) == 1 and placed[0].lone and not story.open_ended:
        story.count("corner", 1)


def result(story: Story, corrected: bool) -> Look:
    """What every state that fits the statements agrees on; statements that clash are left out."""
    mask = story.mask
    clashes = story.dubious
    for sort in _WEAK:
        if mask or not story.statements:
            break
        clashes = clashes or sort not in _INFERRED
        story.statements = [s for s in story.statements if s.sort != sort]
        mask = story.mask
    clashes = clashes or (not mask and bool(story.statements))
    if not mask or not story.statements:
        return Look({}, corrected=corrected, clashes=clashes)
    settled = cells.settled(mask)
    look = {cell: settled[cell] for kind in CELLS for cell in sorted(CELLS[kind]) if cell in settled}
    look |= {cell: True for cell in sorted(settled) if settled[cell] and cell[0] != "U" and cell[1] != "1"}
    known = {kind: all(cell in look for cell in CELLS[kind]) for kind in CELLS}
    shape = None
    if not known["edge"]:
        shape = next((name for name in cells.SHAPES if not mask & ~cells.shape(name)), None)
    for kind, many in story.wanted.items():
        clashes |= known[kind] and sum(look[cell] for cell in CELLS[kind]) != many
    edges, corners = (None if known[kind] else story.wanted.get(kind) for kind in ("edge", "corner"))
    return Look(look, shape, edges, corners, corrected, clashes)
