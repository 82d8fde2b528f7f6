"""Shapes of the top edges: dot, line, bent, square, cross, and how pieces lie to each other."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from coach.language.en import cells
from coach.language.en.cells import CELLS, EDGES, EVERY, corner
from coach.language.en.phrase import Clause, Phrase
from coach.language.en.story import Statement, Story, opposed


def take_shape(clause: Clause, story: Story) -> None:
    """What the clause says of a shape; phrases that only place the shape are used up."""
    story.figure = story.figure or clause.shape == "figure"
    shape = _meant(clause, story)
    if shape is None:
        return
    if clause.shape_denied:
        if shape in cells.SHAPES:
            story.add(Statement("not", EVERY & ~cells.shape(shape), "edge"))
    elif shape == "x":
        story.add(Statement("shape", cells.shape("dot") & cells.count(CELLS["corner"], 4), "edge"))
    elif shape == "block":
        _square(clause, story)
    elif shape == "line":
        if clause.relation != "diagonal":
            _line(clause, story)
    else:
        _plain(shape, clause, story)


def _straight(clause: Clause) -> list[str]:
    """The single directions that the clause names, in order."""
    return [d for d in clause.span if d in EDGES]


def _meant(clause: Clause, story: Story) -> str | None:
    """The shape, named or told by where it runs; a figure that says nothing of the edges is none."""
    shape = None if clause.shape == "figure" else clause.shape
    dirs = _straight(clause)
    if clause.left_or_right and not clause.phrases and (shape == "line" or story.said("line")):
        clause.line, clause.facing = "LR", False
        return "line"
    if shape:
        return shape
    if clause.line and clause.shape is None and story.said("line"):
        return "line"
    if story.asked != "edge":
        return None
    if not any(p.kind for p in clause.phrases):
        runs = story.figure and clause.motion and dirs in (["B"], ["F"])
        if runs or (opposed(dirs) and "to" in clause.span):
            return "line"
    return "line" if clause.line and not any(p.placed and not p.centre for p in clause.phrases) else None


def _plain(shape: str, clause: Clause, story: Story) -> None:
    if not any(p.row for p in clause.phrases):
        story.add(Statement("shape", cells.shape(shape), "edge"))
        if shape == "cross" and clause.only and story.asked == "corner" and "corner" not in story.wanted:
            story.count("corner", 0)
    if shape == "corner":
        for phrase in clause.phrases:
            if len(phrase.dirs) == 2 and phrase.kind != "edge" and not phrase.listed and phrase.number is None:
                story.up("place", (EDGES[d] for d in phrase.dirs), "edge")
                phrase.dirs, phrase.kind = [], None
        clause.phrases = [p for p in clause.phrases if p]


def _square(clause: Clause, story: Story) -> None:
    dirs = [d for phrase in clause.phrases for d in phrase.dirs]
    if len(set(dirs)) == 2 and corner(*dirs):
        _fill_square(dirs, story)
        clause.phrases = [p for p in clause.phrases if not p.dirs]
    elif story.asked == "edge":
        story.add(Statement("shape", cells.shape("corner"), "edge"))
        story.block = True
    clause.phrases = [p for p in clause.phrases if p.placed or p.kind]


def _fill_square(dirs: Sequence[str], story: Story) -> None:
    """A square of four: a corner and the two edges beside it, and no other edge."""
    up = (corner(*dirs) or "", *(EDGES[d] for d in dirs))
    story.add(Statement("shape", cells.shape("corner") & cells.both(map(cells.shows, up)), "edge", up))


def place_square(phrase: Phrase, story: Story) -> bool:
    """Where the square named before is. True if the phrase says that."""
    if len(phrase.dirs) != 2 or phrase.kind or not corner(*phrase.dirs):
        return False
    _fill_square(phrase.dirs, story)
    story.block = False
    return True


def _line(clause: Clause, story: Story) -> None:
    dirs = _straight(clause)
    way = clause.line
    for one, two in pairwise(dirs):
        if cells.OPPOSITE[one] == two:
            way = "LR" if one in "LR" else "FB"
    if way is None and len(set(dirs)) == 2 and not any(p.kind == "corner" for p in clause.phrases):
        return
    if way is None and dirs in (["F"], ["B"]):
        way = "FB"
    if way:
        for phrase in clause.phrases:
            if not (phrase.kind or phrase.row) and len(phrase.dirs) == 1:
                phrase.dirs = []
        clause.phrases = [p for p in clause.phrases if p.dirs or p.kind or p.row or p.hand]
        up = ("U3", "U5") if way == "LR" else ("U7", "U1")
        story.add(Statement("line", cells.shape("line") & cells.both(map(cells.shows, up)), "edge", up))
    elif not story.said("shape"):
        story.add(Statement("line", cells.shape("line"), "edge"))
        if not any(p.kind or p.row or len(p.dirs) > 1 for p in clause.phrases):
            clause.phrases = []


_DENIED = {"adjacent": "opposite", "opposite": "adjacent", "diagonal": "adjacent", "same_side": "diagonal"}
_OF_CORNERS = {"adjacent": "adjacent", "same_side": "adjacent", "diagonal": "opposite"}
_OF_EDGES = {"adjacent": "adjacent", "opposite": "opposite"}


def take_relation(clause: Clause, story: Story) -> None:
    """How the two pieces lie to each other, where that fits what was said."""
    kind = next((p.kind for p in reversed(clause.phrases) if p.kind), None) or story.asked
    name = clause.relation or ""
    if clause.relation_denied:
        name = _DENIED[name]
    name = (_OF_CORNERS if kind == "corner" else _OF_EDGES).get(name, "")
    if name and kind in CELLS:
        mask = cells.same(name, kind)
        if mask & story.mask:
            story.add(Statement("relation", mask, kind))


# --- short answers


def expand_short(clauses: Sequence[Clause]) -> None:
    """Asked for the edges: a whole answer of "back left" names two, one of "a corner" the shape."""
    placed = [(clause, phrase) for clause in clauses for phrase in clause.phrases if phrase]
    if len(placed) == 1 and len(placed[0][1].dirs) == 2:
        clause, phrase = placed[0]
        plain = not (phrase.named or phrase.definite or phrase.sticker or phrase.down or phrase.colours)
        if plain and not (clause.shape or clause.only or clause.predicate or clause.facing):
            clause.phrases = [Phrase(dirs=[direction]) for direction in phrase.dirs]
    if _corner_is_shape(clauses):
        for clause in clauses:
            for phrase in clause.phrases:
                if phrase.kind == "corner":
                    clause.shape, phrase.kind = "corner", None


def _corner_is_shape(clauses: Sequence[Clause]) -> bool:
    """"A corner, back and left": nothing else was said."""
    phrases = [phrase for clause in clauses for phrase in clause.phrases]
    nouns = [phrase for phrase in phrases if phrase.kind == "corner"]
    more = any(clause.shape or clause.line or clause.closes or clause.relation for clause in clauses)
    if len(nouns) != 1 or more or any(phrase.centre for phrase in phrases):
        return False
    noun = nouns[0]
    others = [p for p in phrases if p is not noun and (p.placed or p.number or p.rest)]
    indefinite = not (noun.plural or noun.number or noun.down or noun.none or noun.definite)
    return indefinite and all(p.placed and not p.named for p in others)


def locates_shape(phrase: Phrase, story: Story) -> bool:
    """"An L, back left": the place of the shape named just before, not of one more corner."""
    last = story.last
    plain = not (phrase.named or phrase.listed or phrase.definite or phrase.sticker)
    bent = last is not None and last.sort == "shape" and not last.up and last.mask == cells.shape("corner")
    return story.asked == "edge" and plain and bent and len(phrase.dirs) == 2
