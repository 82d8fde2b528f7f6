"""Descriptions of the top to what they settle: places, counts, shapes, rest, negation, side stickers."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from coach.language.en import cells
from coach.language.en.cells import CELLS, EDGES, corner, touching
from coach.language.en.clauses import split
from coach.language.en.closing import Look, close, result
from coach.language.en.context import settle
from coach.language.en.grid import read_grid, read_run
from coach.language.en.lexicon import Token
from coach.language.en.phrase import Clause, Phrase
from coach.language.en.rows import end_row, fill_row, middle_of_row, names_row, take_part, take_row
from coach.language.en.scan import Reader
from coach.language.en.shapes import expand_short, locates_shape, place_square, take_relation, take_shape
from coach.language.en.sides import look_ahead, on_face, reads_as_side, take_facing, take_topic
from coach.language.en.story import Statement, Story, spots


def describe(tokens: Sequence[Token], asked: str, up: str) -> Look:
    """What `tokens` say of the top, asked for its "edge" or "corner" pieces (or for neither, "")."""
    tokens = [token for token in tokens if token.kind != "skip"]
    grid = read_grid(tokens, up) or read_run(tokens, up, CELLS.get(asked, ()))
    if grid:
        return Look(grid)
    parts = split(settle(tokens, up))
    clauses = [Reader(part, up).read() for part in parts]
    if asked == "edge":
        expand_short(clauses)
    story = Story(asked)
    corrected = doubted = False
    previous: Clause | None = None
    for number, (part, clause) in enumerate(zip(parts, clauses, strict=True)):
        story.number = number
        if clause.corrects:
            corrected = corrected or previous is None
            story = Story(asked, number) if clause.corrects == "all" else story
        _mark_correction(clause, story)
        if any(token.words.startswith("if") for token in part[:2]):
            continue
        doubted = (doubted and part[0].kind == "conj") or (clause.unsure and not clause.corrects)
        story.open_ended = story.open_ended or doubted or _leaves_open(clause, asked)
        if not doubted:
            look_ahead(clause, clauses[number + 1 :], story)
            _take(clause, story, previous)
        if doubted or clause.phrases or clause.shape or clause.line:
            previous = clause
    end_row(story)
    close(story)
    return result(story, corrected)


def _mark_correction(clause: Clause, story: Story) -> None:
    """A correction reaches to the next clause that says something."""
    idle = story.correcting is not None and not any(s.clause == story.correcting for s in story.statements)
    if clause.corrects or idle:
        story.correcting = story.number


def _leaves_open(clause: Clause, asked: str) -> bool:
    """There may be more of what was asked for than was said."""
    elsewhere = any(p.kind and p.kind != asked for p in clause.phrases)
    return (clause.more and not elsewhere) or (clause.another and not any(p.placed for p in clause.phrases))


def _take(clause: Clause, story: Story, previous: Clause | None) -> None:
    """Turn one clause into statements."""
    if previous is not None:
        clause.denied = previous.denied or previous.facing if clause.same else clause.denied
        if clause.tail and previous.facing:
            clause.facing, clause.faces = True, clause.tail
    if clause.starts:
        end_row(story)
        story.topic, story.view, story.told_side = (), None, None
        story.kind = story.kind if story.pending else ""
    if clause.closes:
        story.closed |= CELLS.keys()
    story.view = clause.view or story.view
    story.dubious |= clause.doubled
    take_shape(clause, story)
    if clause.relation:
        take_relation(clause, story)
    if (clause.facing or (clause.sideways and not clause.affirmed)) and take_facing(clause, story, previous):
        return
    if clause.inverted and not any(p.placed for p in clause.phrases):
        kind = next((p.kind for p in clause.phrases if p.kind), None) or story.asked
        if kind in CELLS:
            story.count(kind, 4)
    elif clause.topic and len(clause.phrases) == 1 and clause.phrases[0].placed and not clause.predicate:
        clause.denied = True
        story.topic = story.spots_of(clause.phrases[0])
    else:
        _take_phrases(clause, story)


def _take_phrases(clause: Clause, story: Story) -> None:
    _share_directions(clause.phrases)
    if clause.denied:
        for phrase in clause.phrases:
            phrase.down = not phrase.down if phrase.none else True
            story.dubious |= phrase.none  # "none of those on the left aren't"
    if (clause.only or clause.exhaustive) and any(p.down and p.placed for p in clause.phrases):
        _all_but(clause.phrases, story)
        return
    for at, phrase in enumerate(clause.phrases):
        _take_phrase(phrase, clause, story, clause.phrases[at + 1 :])


def _share_directions(phrases: Sequence[Phrase]) -> None:
    """"Back left and right" and "left and right at the back": the shared direction belongs to both."""
    for one, two in pairwise(phrases):
        if not (two.bare and two.listed) or one.kind == "edge":
            continue
        if len(one.dirs) == 2 and len(two.dirs) == 1 and not (two.pronoun or two.kind):
            shared = [d for d in one.dirs if cells.OPPOSITE[d] != two.dirs[0]]
            two.dirs = [*shared, *two.dirs] if len(shared) == 1 else two.dirs
        elif len(one.dirs) == 1 and len(two.dirs) == 2 and not (one.pronoun or one.kind):
            opposite = cells.OPPOSITE[one.dirs[0]] == two.dirs[0]
            one.dirs = [one.dirs[0], two.dirs[1]] if opposite else one.dirs


def _all_but(phrases: Sequence[Phrase], story: Story) -> None:
    """"Only the left one is missing", "the ones that aren't are ...": the others of the kind are up."""
    down = [spot for phrase in phrases for spot in story.spots_of(phrase)]
    up = tuple(c for pieces in CELLS.values() if set(down) & set(pieces) for c in pieces if c not in down)
    story.add(Statement("place", cells.both(map(cells.shows, up)) & cells.both(map(cells.hides, down)), "", up))


def _take_phrase(phrase: Phrase, clause: Clause, story: Story, later: Sequence[Phrase]) -> None:
    """What one phrase says: the first of its senses that fits."""
    kind = story.kind_of(phrase)
    if phrase.kind or (kind == "corner" and len(phrase.dirs) == 2):
        story.kind = kind
    middle_of_row(phrase, clause, story)
    if phrase.part:
        take_part(phrase.part, story)
    elif phrase.everything or (phrase.every and not phrase.kind and not phrase.placed and story.asked == ""):
        _everything(phrase, clause, story)
    elif phrase.rest and not phrase.placed:
        _rest(phrase, clause, story)
    elif phrase.centre and not phrase.dirs and not story.row:
        _centre(phrase, clause, story)
    elif phrase.excepted or (story.excepted and story.universe and phrase.dirs and not phrase.down):
        _except(phrase, story, kind)
    elif _square(phrase, clause, story):
        return
    elif not fill_row(phrase, clause, story) and names_row(phrase):
        take_row(phrase, clause, story, later)
    else:
        _pieces(phrase, clause, story)


def _square(phrase: Phrase, clause: Clause, story: Story) -> bool:
    """A number or place that belongs to a square of four."""
    if story.asked != "edge":
        return False
    if phrase.number == 4 and not (phrase.kind or phrase.every or story.kind):
        story.block = story.four = True
        return True
    lone = phrase.square and not (clause.predicate or phrase.number or phrase.colours or story.ups("edge"))
    return (story.block or lone) and place_square(phrase, story)


def _pieces(phrase: Phrase, clause: Clause, story: Story) -> None:
    """Edges or corners, by place or by number."""
    kind = story.kind_of(phrase)
    if clause.only and kind in CELLS and phrase.placed and not phrase.down and not story.row:
        story.closed.add(kind)
    if phrase.between:
        _between(story)
    elif kind not in CELLS:
        return
    elif story.topic and (phrase.number == 1 or phrase.rest) and len(phrase.dirs) == 1 and not phrase.kind:
        take_topic(phrase.dirs, story)
    elif story.view and story.asked == "corner" and phrase.number and not phrase.kind and not phrase.dirs:
        on_face(story.view, (), 2 if phrase.ends else phrase.number, story)
    elif phrase.placed:
        _place(phrase, story, kind)
    else:
        _number(phrase, clause, story, kind)


def _everything(phrase: Phrase, clause: Clause, story: Story) -> None:
    if phrase.down:
        return
    if phrase.dirs:
        if len(phrase.dirs) == 1 and story.asked == "corner":
            story.up("place", touching(phrase.dirs[0]), "corner")
        return
    story.universe = CELLS["edge"] + CELLS["corner"]
    if not any(p.excepted for p in clause.phrases):
        story.up("everything", story.universe, story.asked)


def _rest(phrase: Phrase, clause: Clause, story: Story) -> None:
    """The others of a kind: not up, or, where only some that are not were named, up."""
    kind = phrase.kind or story.kind or story.asked
    if kind not in CELLS:
        return
    named = story.ups(kind)
    if phrase.down or clause.facing or clause.sideways:
        if named or story.centre:
            story.closed.add(kind)
        others = len(CELLS[kind]) - len(named | story.sure(kind, True))
        story.dubious |= not others or phrase.number not in (None, 1, others)
        if story.centre and not named:
            story.count(kind, 0)
        return
    denied = story.sure(kind, False)
    if denied and not named:
        story.up("rest", (cell for cell in CELLS[kind] if cell not in denied), kind)


def _centre(phrase: Phrase, clause: Clause, story: Story) -> None:
    """"Just the middle", or "one yellow, the middle": no edge."""
    story.centre = True
    last = story.last
    counted = last is not None and last.sort == "count" and story.wanted.get("edge") == 1
    if counted:
        story.statements.pop()
        story.wanted["edge"] = 0
    if (clause.only or counted) and not phrase.down and story.asked == "edge" and not story.ups("edge"):
        story.add(Statement("shape", cells.shape("dot"), "edge"))


def _except(phrase: Phrase, story: Story, kind: str) -> None:
    """A place, a kind or a number left out of "everything but ..."."""
    if phrase.placed and kind in CELLS:
        story.universe = story.universe or CELLS[kind]
        story.excepted.extend(spots(phrase, kind))
    elif phrase.kind:
        story.excepted.extend(CELLS[phrase.kind])
    elif phrase.number and story.universe:
        story.excepted.append("")
    else:
        return
    story.statements = [s for s in story.statements if s.sort != "everything" and len(s.up) != 4]


def _between(story: Story) -> None:
    """The corner between the two edges named."""
    named = [d for d, cell in EDGES.items() if cell in story.ups("edge")]
    if len(named) == 2 and (spot := corner(*named)):
        story.up("place", (spot,), "corner")


def _place(phrase: Phrase, story: Story, kind: str) -> None:
    """Pieces by their place: all of a side, or one of it where only one is meant."""
    cells_there = spots(phrase, kind)
    if not cells_there:
        return
    if phrase.down != phrase.none:
        story.down("place", cells_there, kind)
        return
    mask, up = cells.both(map(cells.shows, cells_there)), cells_there
    if kind == "corner" and len(cells_there) == 2:
        numbers = _how_many(phrase, story)
        if numbers != (2,):
            mask, up = cells.count(cells_there, *numbers), ()
        if _joins_last(phrase, story):
            return
    if kind == "corner" and reads_as_side(phrase, story, mask):
        return
    if locates_shape(phrase, story):
        story.up("place", (EDGES[d] for d in phrase.dirs), "edge")
        return
    lone = phrase.number == 1 and not up and kind not in story.wanted
    story.add(Statement("place", mask, kind, up, said=frozenset(phrase.dirs), lone=lone))


def _how_many(phrase: Phrase, story: Story) -> tuple[int, ...]:
    """How many of the two corners of a side are meant."""
    wanted = story.wanted.get("corner")
    many = (phrase.plural or phrase.every or phrase.number == 2) and phrase.number != 1
    if (phrase.number == 1 or phrase.pronoun or phrase.kind) and not many:
        return (1,)
    last = story.last
    corrected = story.correcting == story.number and last is not None and len(last.up) == 2
    if many or (corrected and last is not None and last.kind == "corner"):
        return (2,)
    return {1: (1,), 2: (2,)}.get(wanted or 0, (1, 2))


def _joins_last(phrase: Phrase, story: Story) -> bool:
    """"At the back", then "on the left": together they are one corner."""
    last = story.last
    if last is None or phrase.number is not None or phrase.plural or phrase.kind or phrase.listed:
        return False
    if last.sort != "place" or last.kind != "corner" or last.up or len(last.said) != 1:
        return False
    spot = corner(*last.said, *phrase.dirs) if len(phrase.dirs) == 1 else None
    if spot is None or story.correcting == story.number:
        return False
    story.statements[-1] = Statement("place", cells.shows(spot), "corner", (spot,), story.number)
    return True


def _number(phrase: Phrase, clause: Clause, story: Story, kind: str) -> None:
    """So many of a kind, no place named."""
    single = phrase.down and phrase.number in (None, 1) and (phrase.kind or phrase.number) and not phrase.pronoun
    if phrase.none or phrase.number == 0 or single:
        if not (phrase.down and phrase.none):
            story.kind = ""
            story.count(kind, 0)
    elif clause.reason or phrase.some:
        return
    elif phrase.down:
        if clause.denied and phrase.number:
            story.count(kind, 4 - phrase.number)
    elif phrase.every and phrase.number == 2:
        _whole_side(story)
    else:
        many = _many(phrase, clause, story, kind)
        said = story.wanted.get(kind)
        if many is not None and (said in (None, many) or story.correcting == story.number):
            story.kind = kind
            story.count(kind, many)


def _many(phrase: Phrase, clause: Clause, story: Story, kind: str) -> int | None:
    """The number of pieces of a kind that a phrase without a place says are up."""
    number = phrase.number
    if number is not None and number > 5 and story.asked == "corner":
        return number - 5 if number <= 9 else None  # "seven yellows", of which five are the cross
    told = phrase.kind or number or phrase.pronoun or clause.affirmed or clause.colour
    if phrase.every and number in (None, 4) and told:
        return 4
    if number is None or number > 4 or (phrase.every and number == 1):
        return None
    if number == 1 and phrase.pronoun and not clause.only and kind != story.asked:
        return None
    if number == 1 and kind == "edge" and story.centre and not phrase.kind:
        return None  # "only the middle, one yellow": that is the middle
    return None if phrase.sticker and not phrase.kind and story.asked == "edge" else number


def _whole_side(story: Story) -> None:
    """"Both corners", said of the side named before."""
    last = story.last
    if last is not None and last.kind == "corner" and last.sort == "place" and not last.up and len(last.said) == 1:
        story.statements.pop()
        story.up("place", touching(next(iter(last.said))), "corner")
