"""Stickers of the top layer that show the top colour to a side."""

from __future__ import annotations

from collections.abc import Sequence

from coach.language.en import cells
from coach.language.en.cells import CELLS, EDGES, SIDES, Mask, corner
from coach.language.en.phrase import Clause, Phrase
from coach.language.en.story import Statement, Story


def look_ahead(clause: Clause, later: Sequence[Clause], story: Story) -> None:
    """A place that only says where the next clause looks, or whom it speaks of.

    "On the right side, I see a yellow sticker", "the left ones: one at the front, one at the back".
    """
    after = next((c for c in later if c.phrases or c.facing), None)
    if story.asked != "corner" or len(clause.phrases) != 1 or after is None or after.starts or clause.predicate:
        return
    phrase = clause.phrases[0]
    if len(phrase.dirs) != 1:
        return
    if phrase.side and not (phrase.named or phrase.colours):
        if after.colour or any(p.sticker for p in after.phrases):
            clause.view, clause.phrases = phrase.side, []
    elif phrase.plural and phrase.pronoun and after.phrases and after.phrases[0].number == 1:
        clause.topic = len(story.ups("corner")) == 2


def take_facing(clause: Clause, story: Story, previous: Clause | None) -> bool:
    """Pieces that show the top colour to a side. True if that is what the clause says."""
    if clause.unfaced:
        story.dubious = True  # nobody tells where it does not face; "isn't" was heard for "is"
        return True
    sideways = clause.left_or_right and not (story.asked == "edge" and clause.outward)
    faces = list(dict.fromkeys(clause.faces)) or (["L", "R"] if sideways else [])
    if not (faces or clause.outward or clause.sideways):
        return False
    subjects = [p for p in clause.phrases if p]
    placed = any(p.placed for p in subjects)
    if story.asked == "edge" and faces and not clause.colour and not placed:
        for face in faces:
            story.up("place", (EDGES[face],), "edge")
        return True
    owners = _owners(subjects, story)
    if story.topic and not placed:
        take_topic(faces, story)
        return True
    if not subjects and previous is not None and story.asked == "corner":
        owners = [spot for p in previous.phrases if p.placed for spot in story.spots_of(p)]
    if owners:
        _facing(owners, faces, story)
    else:
        _somewhere(subjects, faces, clause, story)
    return True


def _owners(subjects: Sequence[Phrase], story: Story) -> list[str]:
    """The pieces spoken of; "the others" are those not said to be up."""
    owners: list[str] = []
    for phrase in subjects:
        kind = story.kind_of(phrase)
        if phrase.rest and kind in CELLS:
            story.closed.add(kind)
            owners.extend(cell for cell in CELLS[kind] if cell not in story.ups(kind))
        elif phrase.placed:
            owners.extend(story.spots_of(phrase))
    return owners


def _facing(owners: Sequence[str], faces: Sequence[str], story: Story) -> None:
    """Each of these pieces is not up, and shows the top colour on one of these faces."""
    for spot in owners:
        story.down("side", (spot,))
        touched = tuple(SIDES[spot][face] for face in faces if face in SIDES[spot])
        if touched:
            story.add(Statement("side", cells.count(touched, 1)))


def _somewhere(subjects: Sequence[Phrase], faces: Sequence[str], clause: Clause, story: Story) -> None:
    """Some stickers on a side, or all of them on the sides, no piece being named."""
    everyone = any(p.every or p.pronoun for p in subjects)
    if (clause.outward or clause.sideways) and everyone and story.asked in CELLS and not story.ups(story.asked):
        story.count(story.asked, 0)
    many = max((p.number or (2 if p.plural or p.every else 0) for p in subjects), default=0)
    if story.asked == "corner":
        for face in faces:
            on_face(face, (), 2 if clause.has_ends or (many == 2 and len(faces) == 1) else 1, story)


def take_topic(faces: Sequence[str], story: Story) -> None:
    """One of the corners spoken of shows the top colour to each of these sides."""
    for face in faces:
        touched = tuple(SIDES[spot][face] for spot in story.topic if face in SIDES[spot])
        if touched:
            story.add(Statement("side", cells.count(touched, 1, 2), "corner"))
    story.down("side", story.topic, "corner")


def on_face(face: str, ends: Sequence[str], many: int, story: Story) -> None:
    """So many corner stickers of a side show the top colour, perhaps at a named end of it."""
    if ends:
        spot = corner(face, ends[0])
        if spot:
            story.up("side", (SIDES[spot][face],), "corner")
        return
    stickers = tuple(SIDES[cell][face] for cell in CELLS["corner"] if face in SIDES[cell])
    numbers = (2,) if many == 2 else (1, 2)
    story.add(Statement("side", cells.count(stickers, *numbers), "corner"))


def reads_as_side(phrase: Phrase, story: Story, mask: Mask) -> bool:
    """A yellow "on the left side" that cannot be up, because those that are up are known, is on that side.

    `mask` is what the phrase would say of the corners that are up.
    """
    if story.asked != "corner" or phrase.kind == "corner":
        return False
    view = story.view or (story.told_side if phrase.number is None else None)
    if view and len(phrase.dirs) == 1 and corner(view, *phrase.dirs):
        on_face(view, phrase.dirs, 1, story)
        return True
    sideish = bool(phrase.sticker or phrase.side or (phrase.colours and not phrase.pronoun))
    fits = bool(mask & story.mask)
    counted = "corner" in story.wanted or "corner" in story.closed
    full = counted and len(story.ups("corner")) >= story.wanted.get("corner", 1)
    if fits and not (sideish and full) and not (phrase.side and phrase.sticker):
        return False
    if phrase.side is None and len(phrase.dirs) == 2 and (fits or not (phrase.number or sideish)):
        return False
    face = phrase.side or (phrase.dirs[0] if phrase.dirs else phrase.hand or "")
    ends = [d for d in phrase.dirs if d != face]
    story.told_side = None if ends else face
    on_face(face, ends, 2 if phrase.ends else phrase.number or (2 if phrase.plural else 1), story)
    return True
