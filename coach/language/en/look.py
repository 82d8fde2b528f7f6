"""Descriptions of the top to what they settle: places, counts, shapes, rest, negation, side stickers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from coach.language.en import cells
from coach.language.en.cells import CELLS, EDGES, EVERY, ROWS, SIDES, Mask, corner, touching
from coach.language.en.context import settle
from coach.language.en.lexicon import Token
from coach.language.en.clauses import split
from coach.language.en.grid import read_grid, read_run
from coach.language.en.scan import Clause, Phrase, Reader


@dataclass
class Statement:
    """One thing said: its sort (for self-correction), the states in which it is true, what it is about."""

    sort: str
    mask: Mask
    kind: str = ""
    up: tuple[str, ...] = ()
    clause: int = 0
    said: frozenset[str] = frozenset()
    lone: bool = False


@dataclass
class Story:
    """What an answer has said so far."""

    asked: str
    statements: list[Statement] = field(default_factory=list)
    closed: set[str] = field(default_factory=set)
    kind: str = ""
    wanted: dict[str, int] = field(default_factory=dict)
    open_ended: bool = False
    correcting: int | None = None
    view: str | None = None
    block: bool = False
    four: bool = False
    row: Phrase | None = None
    universe: tuple[str, ...] = ()
    excepted: list[str] = field(default_factory=list)
    centre: bool = False
    figure: bool = False
    topic: tuple[str, ...] = ()
    row_up: list[str] = field(default_factory=list)

    def add(self, statement: Statement, clause: int) -> None:
        """Take a statement in; after a correction mark it replaces the last one of its sort."""
        statement.clause = clause
        if self.correcting == clause:
            for at in range(len(self.statements) - 1, -1, -1):
                old = self.statements[at]
                if old.clause == clause:
                    continue
                if old.clause < clause - 6:
                    break
                if old.sort == statement.sort:
                    del self.statements[at]
                    break
        if statement.sort == "place":
            self.statements = [
                old for old in self.statements if old.sort != "place" or old.mask & statement.mask or len(old.up) > 1
            ]
        self.statements.append(statement)

    @property
    def mask(self) -> Mask:
        return cells.both(statement.mask for statement in self.statements)

    def ups(self, kind: str) -> set[str]:
        """The pieces of a kind said to be up, by their places."""
        return {cell for statement in self.statements for cell in statement.up if cell in CELLS[kind]}

    def downs(self, kind: str) -> set[str]:
        settled = cells.settled(self.mask) if self.mask else {}
        return {cell for cell in CELLS[kind] if settled.get(cell) is False}


@dataclass(frozen=True)
class Look:
    """What a description settles."""

    look: dict[str, bool]
    shape: str | None
    edges: int | None
    corners: int | None
    corrected: bool = False

    def __bool__(self) -> bool:
        return bool(self.look) or (self.shape, self.edges, self.corners) != (None, None, None)


def describe(tokens: Sequence[Token], asked: str, up: str) -> Look:
    """What `tokens` say of the top, asked for its "edge" or "corner" pieces (or for neither, "")."""
    story = Story(asked)
    tokens = [token for token in tokens if token.kind != "skip"]
    grid = read_grid(tokens, up)
    if grid is None and asked in CELLS:
        run = read_run(tokens, up)
        grid = dict.fromkeys(CELLS[asked], run[0]) if len(run) == 4 and len(set(run)) == 1 else None
    if grid is not None:
        return Look(grid, None, None, None)
    tokens = settle(tokens, up)
    corrected = told = doubted = False
    previous: Clause | None = None
    parts = split(tokens)
    clauses = [Reader(part, up).read() for part in parts]
    if asked == "edge":
        _edges_in_short(clauses)
    for number, (part, clause) in enumerate(zip(parts, clauses, strict=True)):
        if clause.same and previous is not None:
            clause.denied = previous.denied
        if clause.corrects:
            corrected = corrected or not told
            if clause.corrects == "all":
                story = Story(asked)
            story.correcting = number
        elif story.correcting is not None and not any(s.clause == story.correcting for s in story.statements):
            story.correcting = number
        if any(token.words.startswith("if") for token in part[:2]):
            continue
        if clause.more and not any(p.kind and p.kind != asked for p in clause.phrases):
            story.open_ended = True
        if clause.another and not any(phrase.placed for phrase in clause.phrases):
            story.open_ended = True
        doubted = doubted if part[0].kind == "conj" else False
        doubted = doubted or (clause.unsure and not clause.corrects)
        if doubted:
            previous = clause
            story.open_ended = True
            continue
        _face_ahead(clause, clauses[number + 1 :], story)
        if clause.tail and previous is not None and previous.facing:
            clause.facing, clause.faces = True, clause.tail
        _take(clause, story, number, previous)
        if clause.phrases or clause.shape or clause.line:
            previous = clause
            told = True
    _end_row(story, len(tokens))
    _close(story)
    return _result(story, corrected)


def _face_ahead(clause: Clause, later: Sequence[Clause], story: Story) -> None:
    """A place that only says where the next clause looks, or whom it speaks of.

    "On the right side, I see a yellow sticker", "the left ones: one at the front, one at the back".
    """
    after = next((c for c in later if c.phrases or c.facing), None)
    if story.asked != "corner" or len(clause.phrases) != 1 or after is None or after.starts or clause.predicate:
        return
    phrase = clause.phrases[0]
    if phrase.side and len(phrase.dirs) == 1 and not (phrase.kind or phrase.number or phrase.colours or phrase.pronoun):
        if after.colour or any(p.sticker for p in after.phrases):
            clause.view, clause.phrases = phrase.side, []
    elif phrase.plural and phrase.pronoun and len(phrase.dirs) == 1 and after.phrases and after.phrases[0].number == 1:
        clause.topic = len(story.ups("corner")) == 2


# --- one clause


def _take(clause: Clause, story: Story, number: int, previous: Clause | None) -> None:
    """Turn one clause into statements."""
    if clause.starts:
        story.topic = ()
        story.view = None
        _end_row(story, number)
        story.kind = story.kind if previous is not None and _pending(story) else ""
    if clause.closes:
        story.closed |= {"edge", "corner"}
    story.view = clause.view or story.view
    _take_shape(clause, story, number)
    if clause.relation:
        _take_relation(clause, story, number)
    if (clause.facing or (clause.sideways and not clause.affirmed)) and _take_facing(clause, story, number, previous):
        return
    if clause.inverted and not any(p.placed for p in clause.phrases):
        kind = next((p.kind for p in clause.phrases if p.kind), None) or story.asked
        if kind in CELLS:
            story.add(Statement("count", cells.count(CELLS[kind], 4), kind, CELLS[kind]), number)
        return
    if clause.topic and len(clause.phrases) == 1 and clause.phrases[0].placed and not clause.predicate:
        clause.denied = True
        story.topic = _spots(clause.phrases[0], _kind(clause.phrases[0], story) or "corner")
        return
    phrases = _spread_denial(clause)
    if any(p.down and p.placed for p in phrases) and (clause.only or clause.exhaustive):
        _all_but(phrases, story, number)
        return
    for at, phrase in enumerate(phrases):
        later = phrases[at + 1 :]
        _take_phrase(phrase, clause, story, number, later, previous)


def _all_but(phrases: Sequence[Phrase], story: Story, number: int) -> None:
    """"Only the left one is missing", "the ones that aren't are ...": the others of the kind are up."""
    down: list[str] = []
    for phrase in phrases:
        kind = _kind(phrase, story)
        if kind in CELLS:
            down.extend(_spots(phrase, kind))
    kinds = {kind for kind in CELLS if any(cell in CELLS[kind] for cell in down)}
    up = tuple(cell for kind in kinds for cell in CELLS[kind] if cell not in down)
    mask = cells.both(map(cells.shows, up)) & cells.both(map(cells.hides, down))
    story.add(Statement("place", mask, "", up), number)


def _pending(story: Story) -> bool:
    """A count was said whose places are not known yet."""
    return any(len(story.ups(kind)) < n for kind, n in story.wanted.items() if n)


def _spread_denial(clause: Clause) -> list[Phrase]:
    for one, two in zip(clause.phrases, clause.phrases[1:], strict=False):
        if len(one.dirs) == 2 and len(two.dirs) == 1 and two.bare and two.listed and not (two.pronoun or two.kind):
            shared = [d for d in one.dirs if cells.OPPOSITE[d] != two.dirs[0]]
            if len(shared) == 1 and not one.kind == "edge":
                two.dirs = [*shared, *two.dirs]
        elif len(one.dirs) == 1 and len(two.dirs) == 2 and two.bare and two.listed and one.kind != "edge":
            if cells.OPPOSITE[one.dirs[0]] == two.dirs[0] and not (one.pronoun or one.kind):
                one.dirs = [one.dirs[0], two.dirs[1]]
    if clause.denied:
        for phrase in clause.phrases:
            phrase.down = not phrase.down if phrase.none else True
    return clause.phrases


def _take_shape(clause: Clause, story: Story, number: int) -> None:
    shape = clause.shape
    story.figure = story.figure or shape == "figure"
    dirs = [d for d in clause.span if d in "FBLR" and len(d) == 1]
    spans = any(cells.OPPOSITE[one] == two for one, two in zip(dirs, dirs[1:], strict=False))
    if shape in (None, "figure") and story.asked == "edge" and not any(p.kind for p in clause.phrases):
        if spans and "to" in clause.span:
            shape = "line"
        elif story.figure and clause.motion and dirs in (["B"], ["F"]):
            shape = "line"
    if clause.faces_sideways and not clause.phrases and (shape == "line" or _said_line(story)):
        shape, clause.line, clause.facing = "line", "LR", False
    if shape is None and clause.line and any("line" == s.sort for s in story.statements):
        shape = "line"
    elif shape in (None, "figure") and clause.line and story.asked == "edge" and not any(
        p.placed and not p.centre for p in clause.phrases
    ):
        shape = "line"
    if shape in (None, "figure"):
        return
    if clause.shape_denied:
        if shape in cells.SHAPES:
            story.add(Statement("not", EVERY & ~cells.shape(shape), "edge"), number)
        return
    if shape == "x":
        story.add(Statement("shape", cells.shape("dot") & cells.count(CELLS["corner"], 4), "edge"), number)
        return
    if shape == "block":
        dirs = [d for phrase in clause.phrases for d in phrase.dirs]
        mask = cells.shape("corner")
        if len(set(dirs)) == 2 and (spot := corner(*dirs)):
            mask &= cells.both(cells.shows(EDGES[d]) for d in dirs) & cells.shows(spot)
            clause.phrases = [p for p in clause.phrases if not p.dirs]
            story.add(Statement("shape", mask, "edge", (spot, *(EDGES[d] for d in dirs))), number)
        elif story.asked == "edge":
            story.add(Statement("shape", mask, "edge"), number)
            story.block = True
        clause.phrases = [p for p in clause.phrases if p.placed or p.kind]
        return
    row = any(p.row for p in clause.phrases)
    if shape == "line" and clause.relation == "diagonal":
        return
    if shape == "line":
        _take_line(clause, story, number)
        return
    if not row:
        story.add(Statement("shape", cells.shape(shape), "edge"), number)
        if shape == "cross" and clause.only and story.asked == "corner" and "corner" not in story.wanted:
            story.wanted["corner"] = 0
            story.add(Statement("count", cells.count(CELLS["corner"], 0), "corner"), number)
    if shape == "dot":
        return
    if shape == "corner":
        for phrase in clause.phrases:
            located = len(phrase.dirs) == 2 and phrase.kind != "edge" and not phrase.listed
            if located and phrase.number is None:
                story.add(
                    Statement("place", cells.both(cells.shows(EDGES[d]) for d in phrase.dirs), "edge",
                              tuple(EDGES[d] for d in phrase.dirs)), number)  # fmt: skip
                phrase.dirs, phrase.kind = [], None
        clause.phrases = [p for p in clause.phrases if p]


def _said_line(story: Story) -> bool:
    return any(statement.sort == "line" for statement in story.statements)


def _take_line(clause: Clause, story: Story, number: int) -> None:
    dirs = [d for d in clause.span if d in "FBLR" and len(d) == 1]
    way = clause.line
    for one, two in zip(dirs, dirs[1:], strict=False):
        if cells.OPPOSITE[one] == two:
            way = "LR" if one in "LR" else "FB"
    if way is None and len(set(dirs)) == 2 and "corner" not in [p.kind for p in clause.phrases]:
        return
    unplaced = [p for p in clause.phrases if p.kind or p.row or len(p.dirs) > 1]
    if way is None and len(dirs) == 1 and dirs[0] in "FB":
        way = "FB"
    elif way is None and dirs:
        way = None
    if way:
        along = ("L", "R") if way == "LR" else ("F", "B")
        for phrase in clause.phrases:
            if not phrase.kind and not phrase.row and len(phrase.dirs) == 1:
                phrase.dirs = []
        clause.phrases = [p for p in clause.phrases if p.dirs or p.kind or p.row or p.hand]
        mask = cells.shape("line") & cells.both(cells.shows(EDGES[d]) for d in along)
        story.add(Statement("line", mask, "edge", tuple(EDGES[d] for d in along)), number)
    elif not any(s.sort == "shape" for s in story.statements):
        story.add(Statement("line", cells.shape("line"), "edge"), number)
        if not unplaced:
            clause.phrases = [p for p in clause.phrases if p.kind]


def _take_relation(clause: Clause, story: Story, number: int) -> None:
    kind = story.asked
    for phrase in clause.phrases:
        kind = phrase.kind or kind
    if not kind or clause.relation == "between":
        return
    name = clause.relation
    assert name is not None
    if clause.relation_denied:
        name = {"adjacent": "opposite", "opposite": "adjacent", "diagonal": "adjacent", "same_side": "diagonal"}[name]
    if kind == "corner":
        name = {"adjacent": "adjacent", "same_side": "adjacent", "opposite": "", "diagonal": "opposite"}.get(name, "")
    elif name == "diagonal":
        return
    if name and kind in CELLS:
        mask = cells.same(name, kind)
        if mask & story.mask:
            story.add(Statement("relation", mask, kind), number)


# --- phrases that name places or numbers


def _take_phrase(
    phrase: Phrase, clause: Clause, story: Story, number: int, later: Sequence[Phrase], previous: Clause | None
) -> None:
    kind = _kind(phrase, story)
    if phrase.kind or (kind == "corner" and len(phrase.dirs) == 2):
        story.kind = kind
    if phrase.centre and phrase.row == "row" and len(phrase.dirs) == 1:
        if clause.only:
            ends = [cell for cell in ROWS[phrase.dirs[0]] if cell not in EDGES.values()]
            story.add(Statement("row", cells.both(map(cells.hides, ends)), ""), number)
        phrase.row, phrase.centre, phrase.kind = None, False, "edge"
    if phrase.part:
        _part(phrase, story, number)
        return
    if phrase.everything or (phrase.every and not phrase.kind and not phrase.placed and story.asked == ""):
        _everything(phrase, clause, story, number)
        return
    if phrase.rest and not phrase.placed:
        _rest(phrase, clause, story, kind, number)
        return
    if phrase.centre and not phrase.dirs and not story.row:
        story.centre = True
        last = story.statements[-1] if story.statements else None
        counted = last is not None and last.sort == "count" and story.wanted.get("edge") == 1
        if counted:
            story.statements.pop()
            story.wanted["edge"] = 0
        if (clause.only or counted) and not phrase.down and story.asked == "edge" and not story.ups("edge"):
            story.add(Statement("shape", cells.shape("dot"), "edge"), number)
        return
    if phrase.excepted or (story.excepted and story.universe and phrase.dirs and not phrase.down):
        if phrase.placed and kind in CELLS:
            _except(phrase, story, kind)
        elif phrase.kind in CELLS:
            story.statements = [s for s in story.statements if s.sort != "everything"]
            story.excepted.extend(CELLS[phrase.kind])
        elif phrase.number and story.universe:
            story.statements = [s for s in story.statements if s.sort != "everything"]
            story.excepted.append("")
        return
    if phrase.number == 4 and story.asked == "edge" and not (phrase.kind or phrase.every or story.kind):
        story.block = story.four = True
    if story.block and (phrase.number == 4 or _block(phrase, story, number)):
        return
    if story.row and _in_row(phrase, story):
        kind = phrase.kind or kind
        story.row_up.extend(_spots(phrase, kind) or ("U4",))
        story.row.whole = story.row.whole or clause.only
    elif phrase.row or _is_row(phrase):
        _row(phrase, clause, story, number, later)
        return
    if clause.only and kind in CELLS and phrase.placed and not phrase.down and not story.row:
        story.closed.add(kind)
    if phrase.between:
        _between(story, number)
        return
    if kind not in CELLS:
        return
    if story.topic and (phrase.number == 1 or phrase.rest) and len(phrase.dirs) == 1 and not phrase.kind:
        _on_topic(phrase.dirs, story, number)
        return
    if story.view and story.asked == "corner" and phrase.number and not phrase.kind and not phrase.dirs:
        _on_face(story.view, (), phrase.number, phrase.ends, story, number)
        return
    if phrase.square and kind == "corner" and story.asked == "edge" and not story.ups("edge") and not (
        clause.predicate or phrase.number or phrase.colours
    ):
        story.block = True
        if _block(phrase, story, number):
            return
    if phrase.placed:
        _place(phrase, clause, story, kind, number)
    else:
        _count(phrase, clause, story, kind, number)


def _kind(phrase: Phrase, story: Story) -> str:
    if phrase.kind:
        return phrase.kind
    if len(phrase.dirs) == 2 or (phrase.hand and (phrase.dirs or story.asked == "corner")):
        return "corner"
    if story.asked == "edge" and phrase.number == 2 and len(phrase.dirs) == 1:
        return ""
    if story.kind and (phrase.pronoun or phrase.number is not None or phrase.every or _pending(story)):
        return story.kind
    return story.kind if story.kind and story.asked != "edge" else story.asked


def _is_row(phrase: Phrase) -> bool:
    return phrase.number == 3 and len(phrase.dirs) == 1 and not phrase.kind


def _everything(phrase: Phrase, clause: Clause, story: Story, number: int) -> None:
    if phrase.down:
        return
    if phrase.dirs:
        spots = touching(phrase.dirs[0]) if len(phrase.dirs) == 1 and story.asked == "corner" else ()
        test = cells.hides if phrase.down or phrase.none else cells.shows
        if spots:
            story.add(Statement("place", cells.both(map(test, spots)), "corner", spots), number)
        return
    story.universe = CELLS["edge"] + CELLS["corner"]
    if any(later.excepted for later in clause.phrases):
        return
    mask = cells.count(CELLS["edge"], 4) & cells.count(CELLS["corner"], 4)
    story.add(Statement("everything", mask, story.asked, CELLS["edge"] + CELLS["corner"]), number)


def _rest(phrase: Phrase, clause: Clause, story: Story, kind: str, number: int) -> None:
    kind = phrase.kind or story.kind or story.asked
    if kind not in CELLS:
        return
    named = story.ups(kind)
    left = tuple(cell for cell in CELLS[kind] if cell not in named)
    if phrase.down or clause.facing or clause.sideways:
        if named or story.centre:
            story.closed.add(kind)
            if not named:
                story.wanted.setdefault(kind, 0)
                story.add(Statement("count", cells.count(CELLS[kind], 0), kind), number)
        return
    denied = story.downs(kind)
    if clause.affirmed or clause.colour or clause.predicate or not named:
        if denied and not named:
            up = tuple(cell for cell in left if cell not in denied)
            story.add(Statement("rest", cells.both(map(cells.shows, up)), kind, up), number)


def _except(phrase: Phrase, story: Story, kind: str) -> None:
    """A place left out of "everything but ..."."""
    if not story.universe:
        story.universe = CELLS.get(kind, ())
    story.excepted.extend(_spots(phrase, kind))
    story.statements = [s for s in story.statements if s.sort != "everything" and len(s.up) != 4]


def _block(phrase: Phrase, story: Story, number: int) -> bool:
    """A place for the square named before: its corner and the two edges beside it."""
    spot = corner(*phrase.dirs) if len(phrase.dirs) == 2 and not phrase.kind else None
    if spot is None:
        return False
    up = (spot, *(EDGES[d] for d in phrase.dirs))
    story.add(Statement("shape", cells.shape("corner") & cells.both(map(cells.shows, up)), "edge", up), number)
    story.block = False
    return True


def _line_of(phrase: Phrase) -> tuple[str, ...]:
    """The stickers of a row or column, the centre left out."""
    if phrase.row == "row2":
        return ("U3", "U5")
    if phrase.row == "column2":
        return ("U1", "U7")
    return ROWS[phrase.dirs[0]] if len(phrase.dirs) == 1 else ()


def _row(phrase: Phrase, clause: Clause, story: Story, number: int, later: Sequence[Phrase]) -> None:
    """A row said as a whole; one that is only named waits for what is said to be in it."""
    _end_row(story, number)
    line = _line_of(phrase)
    if not line:
        return
    if phrase.down:
        story.add(Statement("row", cells.both(map(cells.hides, line)), ""), number)
        return
    whole = phrase.whole or phrase.every or phrase.number == 3
    partial = any(p.number in (1, 2) and not p.dirs for p in (phrase, *later))
    if whole or (clause.colour and not later and not partial):
        story.add(Statement("row", cells.both(map(cells.shows, line)), "", line), number)
    else:
        phrase.listed = partial
        story.row, story.row_up = phrase, []


def _end_row(story: Story, number: int) -> None:
    """A row named and not filled in was meant as a whole."""
    row, story.row = story.row, None
    if row is None:
        return
    line = _line_of(row)
    if row.number == len(story.row_up) or (row.whole and story.row_up):
        left = [cell for cell in line if cell not in story.row_up]
        story.add(Statement("row", cells.both(map(cells.hides, left)), ""), number)
    elif not row.listed:
        story.add(Statement("row", cells.both(map(cells.shows, line)), "", line), number)


def _in_row(phrase: Phrase, story: Story) -> bool:
    """A sticker told by its place in the row named before: "in the back row, the left and the middle"."""
    row = story.row
    assert row is not None
    sideways = row.row != "column2" and (row.row == "row2" or row.dirs[0] in "FB")
    if phrase.row or phrase.kind or not (phrase.centre or len(phrase.dirs) == 1):
        return False
    if phrase.dirs and (phrase.dirs[0] in "LR") != sideways:
        return False
    if row.row == "row":
        if phrase.centre:
            phrase.dirs, phrase.kind, phrase.centre = [row.dirs[0]], "edge", False
        else:
            phrase.dirs, phrase.kind = [row.dirs[0], *phrase.dirs], "corner"
    row.listed = True
    return True


def _part(phrase: Phrase, story: Story, number: int) -> None:
    """Two stickers of the row named before: "the first two", "the outer ones"."""
    row = story.row
    if row is None:
        return
    line = _line_of(row)
    full = (line[0], "U4", line[1]) if len(line) == 2 else line
    up = {"first": full[:2], "last": full[1:], "outer": (full[0], full[2])}[phrase.part or "outer"]
    down = [cell for cell in line if cell not in up]
    mask = cells.both(cells.shows(c) for c in up if c != "U4") & cells.both(map(cells.hides, down))
    story.add(Statement("row", mask, "", tuple(c for c in up if c != "U4")), number)
    row.listed = True


def _between(story: Story, number: int) -> None:
    named = [d for d, cell in EDGES.items() if cell in story.ups("edge")]
    if len(named) == 2 and (spot := corner(*named)):
        story.add(Statement("place", cells.shows(spot), "corner", (spot,)), number)


def _spots(phrase: Phrase, kind: str) -> tuple[str, ...]:
    """The pieces of a kind that a place takes in."""
    dirs = list(phrase.dirs)
    if phrase.hand:
        dirs = [d for d in dirs if d in "FB"] + [phrase.hand]
        many = phrase.plural or phrase.every or phrase.number == 2
        if kind == "corner" and len(dirs) == 1 and not many:
            dirs.insert(0, "F")
    if kind == "edge":
        return tuple(EDGES[d] for d in dirs)
    if len(dirs) == 2:
        spot = corner(*dirs)
        return (spot,) if spot else ()
    return touching(dirs[0]) if dirs else ()


def _place(phrase: Phrase, clause: Clause, story: Story, kind: str, number: int) -> None:
    spots = _spots(phrase, kind)
    if not spots:
        return
    if phrase.none:
        phrase.down = not phrase.down
    if phrase.down:
        story.add(Statement("place", cells.both(map(cells.hides, spots)), kind), number)
        return
    mask, up, sort = cells.both(map(cells.shows, spots)), spots, "place"
    wanted = story.wanted.get(kind)
    if kind == "corner" and len(spots) == 2:
        many = (phrase.plural or phrase.every or phrase.number == 2) and phrase.number != 1
        single = (phrase.number == 1 or phrase.pronoun or phrase.kind) and not many
        many = many or (story.correcting == number and _was_pair(story))
        if single or (wanted == 1 and not many):
            mask, up = cells.count(spots, 1), ()
        elif not many and wanted != 2:
            mask, up = cells.count(spots, 1, 2), ()
        if _joins_last(phrase, story, spots, number):
            return
        if not single and not many and wanted is None:
            sort = "place"
    if kind == "corner" and story.asked == "corner" and _reads_as_side(phrase, clause, story, mask, number):
        return
    if story.asked == "edge" and _locates_shape(phrase, story):
        edges = tuple(EDGES[d] for d in phrase.dirs)
        story.add(Statement(sort, cells.both(map(cells.shows, edges)), "edge", edges), number)
        return
    lone = phrase.number == 1 and not up and wanted is None
    story.add(Statement(sort, mask, kind, up, said=frozenset(phrase.dirs), lone=lone), number)


def _was_pair(story: Story) -> bool:
    """What is being corrected was a whole side."""
    last = story.statements[-1] if story.statements else None
    return last is not None and last.kind == "corner" and len(last.up) == 2


def _locates_shape(phrase: Phrase, story: Story) -> bool:
    """"An L, back left": the place of the shape named just before, not of one more corner."""
    last = story.statements[-1] if story.statements else None
    plain = not (phrase.kind or phrase.pronoun or phrase.number or phrase.listed or phrase.definite or phrase.sticker)
    bent = last is not None and last.sort == "shape" and not last.up and last.mask == cells.shape("corner")
    return plain and bent and len(phrase.dirs) == 2


def _joins_last(phrase: Phrase, story: Story, spots: tuple[str, ...], number: int) -> bool:
    """"At the back", then "on the left": together they are one corner."""
    if not story.statements or phrase.number is not None or phrase.plural or phrase.kind:
        return False
    last = story.statements[-1]
    if last.sort != "place" or last.kind != "corner" or last.up or len(last.said) != 1 or phrase.listed:
        return False
    spot = corner(*last.said, *phrase.dirs) if len(phrase.dirs) == 1 else None
    if spot is None or story.correcting == number:
        return False
    story.statements[-1] = Statement("place", cells.shows(spot), "corner", (spot,), number)
    return True


def _count(phrase: Phrase, clause: Clause, story: Story, kind: str, number: int) -> None:
    if phrase.none or phrase.number == 0 or (
        phrase.down and phrase.number in (None, 1) and (phrase.kind or phrase.number) and not phrase.pronoun
    ):
        if phrase.down and phrase.none:
            return
        story.wanted[kind] = 0
        story.kind = ""
        story.add(Statement("count", cells.count(CELLS[kind], 0), kind), number)
        return
    if phrase.down and clause.denied and phrase.number and not clause.reason:
        story.wanted.setdefault(kind, 4 - phrase.number)
        story.add(Statement("count", cells.count(CELLS[kind], 4 - phrase.number), kind), number)
        return
    if phrase.down or phrase.some or clause.reason:
        return
    if many := _total(phrase, story):
        story.wanted[kind] = many
        story.add(Statement("count", cells.count(CELLS[kind], many), kind), number)
        return
    many = phrase.number
    if phrase.every and (phrase.number in (None, 4)) and (
        phrase.kind or phrase.number or phrase.pronoun or clause.affirmed or clause.colour
    ):
        many = 4
    if many is None or many > 4 or (many == 1 and phrase.pronoun and not clause.only and kind != story.asked):
        return
    if phrase.every and many == 1:
        return
    if phrase.every and many == 2:
        _whole_group(story)
        return
    if phrase.sticker and not phrase.kind and story.asked == "edge":
        return
    mask = cells.count(CELLS[kind], many)
    if story.wanted.get(kind) is not None and story.correcting != number and story.wanted[kind] != many:
        return
    story.wanted[kind] = many
    story.kind = kind
    up = CELLS[kind] if many == 4 else ()
    story.add(Statement("count", mask, kind, up), number)


def _whole_group(story: Story) -> None:
    """"Both corners", said of the side named before."""
    last = story.statements[-1] if story.statements else None
    if last is not None and last.kind == "corner" and last.sort == "place" and not last.up and len(last.said) == 1:
        spots = touching(next(iter(last.said)))
        story.statements[-1] = Statement("place", cells.both(map(cells.shows, spots)), "corner", spots, last.clause)


def _total(phrase: Phrase, story: Story) -> int | None:
    """"Seven yellows" on a top that has its cross: five of them are the cross."""
    number = phrase.number or 0
    return number - 5 if 5 < number <= 9 and story.asked == "corner" else None


# --- side stickers


def _reads_as_side(phrase: Phrase, clause: Clause, story: Story, mask: Mask, number: int) -> bool:
    """A yellow "on the left side" that cannot be up, because the ones that are up are known, is on that side."""
    if phrase.kind == "corner":
        return False
    if story.view and story.view not in phrase.dirs and len(phrase.dirs) == 1:
        _on_face(story.view, phrase.dirs, 1, False, story, number)
        return True
    sideish = phrase.sticker or phrase.side or (phrase.colours and not phrase.pronoun)
    fits = bool(mask & story.mask)
    said_count = story.wanted.get("corner") is not None or "corner" in story.closed
    full = said_count and len(story.ups("corner")) >= story.wanted.get("corner", 1)
    if fits and not (sideish and said_count and full) and not (phrase.side and phrase.sticker):
        return False
    if phrase.side is None and len(phrase.dirs) == 2 and (fits or not (phrase.number or sideish)):
        return False
    face = phrase.side or phrase.dirs[0]
    ends = [d for d in phrase.dirs if d != face]
    story.view = story.view if ends else face
    _on_face(face, ends, phrase.number or (2 if phrase.plural or phrase.ends else 1), phrase.ends, story, number)
    return True


def _on_topic(faces: Sequence[str], story: Story, number: int) -> None:
    """One of the corners spoken of shows the top colour to each of these sides."""
    for face in faces:
        touched = tuple(SIDES[spot][face] for spot in story.topic if face in SIDES[spot])
        if touched:
            story.add(Statement("side", cells.count(touched, 1, 2), "corner"), number)
    for spot in story.topic:
        story.add(Statement("side", cells.hides(spot), "corner"), number)


def _on_face(face: str, ends: Sequence[str], many: int, both_ends: bool, story: Story, number: int) -> None:
    """So many corner stickers of a side show the top colour, perhaps at a named end of it."""
    stickers = tuple(sides[face] for cell, sides in SIDES.items() if face in sides and len(sides) == 2)
    if ends:
        spot = corner(face, ends[0])
        if spot:
            story.add(Statement("side", cells.shows(SIDES[spot][face]), "corner"), number)
        return
    many = 2 if both_ends else many
    mask = cells.count(stickers, 2) if many == 2 else cells.count(stickers, 1, 2)
    story.add(Statement("side", mask, "corner"), number)


def _take_facing(clause: Clause, story: Story, number: int, previous: Clause | None) -> bool:
    """Pieces that show the top colour to a side. True if that is all the clause says."""
    faces = list(dict.fromkeys(clause.faces))
    if clause.faces_sideways and not faces:
        faces = ["L", "R"]
    subjects = [p for p in clause.phrases if p]
    if not faces and not clause.outward and not clause.sideways:
        return False
    if story.asked == "edge" and faces and not clause.colour and not any(p.placed for p in subjects):
        for face in faces:
            story.add(Statement("place", cells.shows(EDGES[face]), "edge", (EDGES[face],)), number)
        return True
    spots: list[str] = []
    for phrase in subjects:
        kind = _kind(phrase, story)
        if phrase.rest and kind in CELLS:
            story.closed.add(kind)
            spots.extend(c for c in CELLS[kind] if c not in story.ups(kind))
        elif phrase.placed and kind in CELLS:
            spots.extend(_spots(phrase, kind))
    if story.topic and not any(p.placed for p in subjects):
        _on_topic(faces, story, number)
        return True
    if not subjects and previous is not None:
        for phrase in previous.phrases:
            if phrase.placed and story.asked == "corner":
                spots.extend(_spots(phrase, _kind(phrase, story)))
    if spots:
        for spot in spots:
            story.add(Statement("side", cells.hides(spot), "", ()), number)
            touched = [SIDES[spot][f] for f in faces if f in SIDES[spot]]
            if touched:
                story.add(Statement("side", cells.count(tuple(touched), 1), ""), number)
        return True
    if (clause.outward or clause.sideways) and any(p.every or p.pronoun for p in subjects) and story.asked in CELLS:
        if not story.ups(story.asked):
            story.wanted[story.asked] = 0
            story.add(Statement("count", cells.count(CELLS[story.asked], 0), story.asked), number)
    many = max((p.number or (2 if p.plural or p.every else 0) for p in subjects), default=0)
    if story.asked == "corner" and faces:
        for face in faces:
            _on_face(face, (), 2 if many == 2 and len(faces) == 1 else 1, clause.has_ends, story, number)
    return True


# --- the end of the answer


def _four(story: Story) -> None:
    """A bare "four" was no square: all four edges."""
    if story.block and story.four and not any(s.sort in ("shape", "place") for s in story.statements):
        story.statements.append(Statement("count", cells.count(CELLS["edge"], 4), "edge", CELLS["edge"]))


def _bare_corner(clauses: Sequence[Clause]) -> bool:
    """"A corner, back and left", asked for the edges, is the shape: nothing else was said."""
    nouns = [p for clause in clauses for p in clause.phrases if p.kind == "corner"]
    said = [clause for clause in clauses if clause.shape or clause.line or clause.closes or clause.relation]
    if len(nouns) != 1 or said or any(p.centre for clause in clauses for p in clause.phrases):
        return False
    noun = nouns[0]
    others = [p for clause in clauses for p in clause.phrases if p is not noun and (p.placed or p.number or p.rest)]
    return not (noun.plural or noun.number or noun.down or noun.none or noun.definite) and all(
        p.placed and not (p.pronoun or p.kind or p.number) for p in others
    )


def _edges_in_short(clauses: Sequence[Clause]) -> None:
    """A whole answer of "back left" names two edges; of "a corner" or "a corner, back left" the shape."""
    placed = [(clause, p) for clause in clauses for p in clause.phrases if p]
    if len(placed) == 1 and len(placed[0][1].dirs) == 2:
        clause, p = placed[0]
        plain = not (p.kind or p.pronoun or p.number or p.definite or p.sticker or p.down or p.colours)
        if plain and not (clause.shape or clause.only or clause.predicate or clause.facing):
            clause.phrases = [Phrase(dirs=[direction]) for direction in p.dirs]
    if not _bare_corner(clauses):
        return
    for clause in clauses:
        for phrase in clause.phrases:
            if phrase.kind == "corner":
                clause.shape, phrase.kind = "corner", None


def _leave_out(story: Story) -> None:
    """All of the universe but what was excepted."""
    if any(story.excepted):
        up = tuple(cell for cell in story.universe if cell not in story.excepted)
        mask = cells.both(map(cells.shows, up)) & cells.both(cells.hides(c) for c in story.excepted if c)
        story.statements.append(Statement("place", mask, "", up))


def _close(story: Story) -> None:
    """What an answer that is a complete list leaves out is not so."""
    _four(story)
    _leave_out(story)
    placed = [s for s in story.statements if s.sort == "place" and s.kind == "corner"]
    if story.asked == "corner" and len(placed) == 1 and placed[0].lone and not story.open_ended:
        story.wanted["corner"] = 1
        story.statements.append(Statement("count", cells.count(CELLS["corner"], 1), "corner"))
    settled = cells.settled(story.mask) if story.mask else {}
    for kind in CELLS:
        named = {cell for cell in CELLS[kind] if settled.get(cell)} or story.ups(kind)
        wanted = story.wanted.get(kind)
        closing = kind in story.closed
        if kind == story.asked and not story.open_ended and wanted is None:
            closing = closing or len(named) in ((2, 4) if kind == "edge" else (1, 2, 4))
        if not closing or (wanted is not None and len(named) != wanted):
            continue
        if not named and wanted is None:
            continue
        others = [cell for cell in CELLS[kind] if cell not in named]
        mask = cells.both(map(cells.hides, others))
        if mask & story.mask:
            story.statements.append(Statement("closing", mask, kind))


def _result(story: Story, corrected: bool) -> Look:
    """What every state that fits the statements agrees on; statements that clash are left out."""
    weak = ("closing", "relation", "side", "count", "shape", "line")
    mask = story.mask
    for sort in weak:
        if mask:
            break
        story.statements = [s for s in story.statements if s.sort != sort]
        mask = story.mask
    if not mask or not story.statements:
        return Look({}, None, None, None, corrected)
    settled = cells.settled(mask)
    look = {cell: settled[cell] for kind in ("edge", "corner") for cell in CELLS[kind] if cell in settled}
    look |= {cell: True for cell, shown in settled.items() if shown and cell[0] != "U" and cell[1] != "1"}
    said = {statement.sort for statement in story.statements}
    shape = None
    if not all(cell in look for cell in CELLS["edge"]):
        shape = next((name for name in cells.SHAPES if not mask & ~cells.shape(name)), None)
    counts = {
        kind: story.wanted.get(kind) if not all(c in look for c in CELLS[kind]) else None for kind in CELLS
    }
    del said
    return Look(dict(sorted(look.items(), key=_order)), shape, counts["edge"], counts["corner"], corrected)


def _order(item: tuple[str, bool]) -> tuple[int, str]:
    return "URFDLB".index(item[0][0]) if item[0][0] != "U" else -1, item[0]
