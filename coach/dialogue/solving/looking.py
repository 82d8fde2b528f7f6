"""Questions about stickers in the present hold: one by its colour, several at once, the side in front."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from coach.belief.evidence import Facts, claim_of
from coach.cube import FACES, Turn, parse
from coach.dialogue.acts import Claimed, Heard, Query
from coach.dialogue.replies import answered, yes_or_no
from coach.dialogue.saying import Talking
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.solving.wording import claiming, row_words, sticker_question
from coach.dialogue.talk import Talk

_HIDDEN_TO_FRONT: Final = {"B": "y2", "D": "x"}
TO_FRONT: Final = {**_HIDDEN_TO_FRONT, "R": "y", "L": "y'"}
"""How to bring a side to the front; fingers can tell left from right only there and on top."""
_CORNERS: Final = (0, 2, 6, 8)
"""The places of a face that are of corners."""
_MOST_FRONTS: Final = 2
"""Ask this often which side is in front before asking about one side after the other."""


def ask_sticker(talk: Talk, knowledge: Knowledge, place: str, face: str) -> Talking[bool]:
    """Ask whether the sticker at `place` has the colour of `face`."""
    question = sticker_question(talk, (place, face), knowledge.colours)
    query = claiming(((place, face),), knowledge.colours)
    return (yield from talk.insist(query, talk.forms("claim.again", question=question)))


def compare(talk: Talk, knowledge: Knowledge, place: str, side: str) -> Talking[bool]:
    """Ask whether the sticker at `place` looks like the middle of the face `side` in this hold."""
    face, number = place[0], int(place[1])
    words = {
        **row_words(talk, face, number // 3 + 1),
        "where": talk.phrases.part(f"columns.{number % 3}"),
        "side": talk.phrases.part(f"faces.{side}"),
    }
    forms = talk.forms("claim.again", question=talk.words("claim.same-as", 0, **words))
    query = Query("claim", claim=(Claimed(face, number, knowledge.held[side]),))
    # If the learner cannot tell that either, it is guessed; a wrong guess shows once the cube is impossible.
    return (yield from talk.ask(query, forms, _same)) is not False


def _same(heard: Heard) -> bool | None:
    unsure = heard.meaning is not None and heard.meaning.command == "unsure"
    return True if unsure else yes_or_no(heard)


def bring_to_front(talk: Talk, moved: Callable[[Turn], None], place: int) -> Talking[int]:
    """Have a side that is hard to read turned to the front; the result is where the sticker at `place` is then."""
    turns = parse((TO_FRONT if talk.touch else _HIDDEN_TO_FRONT).get(FACES[place // 9], ""))
    yield from talk.rotate(turns, moved)
    for turn in turns:
        place = turn.permutation.index(place)
    return place


def confirm(talk: Talk, knowledge: Knowledge, forms: Sequence[str], facts: Facts) -> Talking[bool]:
    """Ask whether the stickers are as in `facts`, and remember the answer. Who denies it because of a corner, where it
    is about edges alone, is asked once more."""
    query = claiming(claim_of(facts), knowledge.colours)
    yes, heard = yield from talk.until(query, forms, answered)
    if not yes and heard.says("of-corners") and not any(place % 9 in _CORNERS for place, _ in facts):
        yield from talk.tell("check.corners-later")
        yes, heard = yield from talk.until(query, forms, answered)
    knowledge.hear_whether(facts, yes, heard.aside.sticker)
    talk.record.check(yes)
    return yes


def ask_front(talk: Talk, knowledge: Knowledge) -> Talking[str]:
    """The face whose colour (or mark) is in the middle of the side that faces the learner. If that is the top's or the
    bottom's, they are told how to hold the cube; if they have no word for it, they are asked about side after side."""
    ring = [knowledge.reading.centre(side) for side in "FRLB"]

    def take(heard: Heard) -> str | None:
        words = heard.meaning.colours if heard.meaning else ()
        face = knowledge.face_of(words[0]) if len(words) == 1 else None
        return None if face in knowledge.alike else face

    for _ in range(_MOST_FRONTS):
        face = yield from talk.ask(Query("other", about="front"), talk.forms("ask.front"), take)
        if face in ring:
            return face
        if face is None:
            break
        yield from talk.tell_hold()
    for centre in ring[:-1]:
        word = knowledge.colour(centre)
        forms = talk.forms("claim.front", colour=word)
        if (yield from talk.insist(Query("claim", claim=(Claimed("F", 4, word),)), forms)):
            return centre
    return ring[-1]
