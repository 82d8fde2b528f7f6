"""Answers during row reading that correct a row instead of telling one."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from coach.language.aside import RowPutRight
from coach.language.en.normalise import HARD, SOFT, normalise
from coach.language.en.reader.roles import in_roles
from coach.language.meaning import USUAL_COLOURS, Scene

_FACES: Final = {role: face for face, role in USUAL_COLOURS.items()}
_COLOUR: Final = rf"(?:{'|'.join(_FACES)})"
_ROW: Final = re.compile(
    r"\b(?:(?:that|this|the|my|your|a) )?(?:whole )?"
    r"(?:(?:very )?(?:last|previous|first|second|third|other|upper|middle|lower|top|bottom|left|right|front|back) )?"
    r"(?:row|line)(?: (?:before|of before|i|we|you|just|last|read|said|told|gave|got|did|heard)\b)*"
    r"|\b(?:the )?(?:one|answer) (?:just )?before\b(?: (?:that|this|it))?"
)
_BEFORE: Final = re.compile(r"\b(?:before|previous)\b")
_AGO: Final = re.compile(r"\b(?:rows?|lines?) ago\b|\bbefore the last\b")
_PLACES: Final = {
    (0, 1): r"first two|left two|two on the left",
    (1, 2): r"last two|right two|two on the right|other two",
    (0, 2): r"outer two|both ends|two ends",
    (1,): r"last but one|one but last|second (?:to|from) last|second last|penultimate|second(?: one| sticker"
    r"| square)? from"
    r" (?:the )?(?:left|right)|middle|second|centre|number two|2nd",
    (2,): r"(?:first|one)(?: one| sticker| square)? from the right|last|third|number three|3rd|right ?most"
    r"|right hand(?: side| end)?|on the right(?: hand side)?|right (?:one|sticker|square|end|side)|(?:at )?the end"
    r"|ends?|ended",
    (0,): r"third(?: one| sticker| square)? from the right|first|left ?most|left hand(?: side| end)?"
    r"|on the left(?: hand side)?|left (?:one|sticker|square|end|side)|number one|1st|begins?|began|begun"
    r"|starts?|started"
    r"|(?:at )?the (?:start|beginning)",
}  # fmt: skip
_NO_PLACE: Final = re.compile(
    r"\b(?:(?:wait|hang on|hold on|half|just|give me) (?:a |one )?second|a second|at first|at last|first of all"
    r"|last time|in the end)\b"
)
_DENIED: Final = re.compile(
    rf"\b(?:not|instead of|rather than|never)(?: (?:a|an|the|it|was|is|as|all|and|{_COLOUR} or))*"
    rf" {_COLOUR}(?: {_COLOUR} {_COLOUR})?\b"
)
_TOLD: Final = r"(?:said|say|told you|told|read|gave you|gave|called it|called|call|took it for|thought)"
_SAID: Final = re.compile(
    rf"\b(?:i (?:had |have )?{_TOLD}|you (?:wrote|heard|have|got|noted))(?: (?:it|that|was|is|a|as|the))* {_COLOUR}\b"
    rf"|\b{_COLOUR} (?:i {_TOLD}|was wrong)\b(?!(?: (?:you|it|that|was|is|a|as|the))* {_COLOUR}\b)"
    rf"|\bwhat i {_TOLD} {_COLOUR}\b"
    rf"|\b(?:swap|change|exchange|replace)(?: (?:that|the|this|my))* {_COLOUR} (?:for|by|with|to|into)\b"
)
_WRONG: Final = re.compile(
    r"\b(?:wrong|wrongly|incorrect|incorrectly|mistake|mistakes|misread|mis read|mixed up|messed up|muddled|rubbish"
    r"|nonsense|garbage|false|not right|not correct|not true|not so|forget|scrap|scratch|cross out|take back|redo"
    r"|re read|reread|backwards)\b"
)
_AGAIN: Final = re.compile(r"\b(?:again|once more|over|anew)\b")
_RIGHTS: Final = re.compile(
    rf"{_WRONG.pattern}|\b(?:oops|whoops|sorry|actually|correction|meant|mean|instead|rather|should|ought|supposed"
    rf"|change|make|fix|correct|really|was|were|had|began|started|ended|my bad|not {_COLOUR})\b"
    r"|^(?:(?:ah|oh|well|but|and) )*(?:no|nope|wait|hang on|hold on|damn|damn it|shit|crap|bugger|fuck|argh|dear)\b"
)
_OF_HOLD: Final = re.compile(
    r"\b(?:front|facing|faces|face|towards|top|bottom|back|up|down|now|side|not|find|see|where)\b"
)
"""With these words, colours tell how the cube is held, or are being looked for."""
_MISREAD: Final = re.compile(
    r"\b(?:i|you) (?:have |just )?(?:read|said|told(?: you)?|gave(?: you)?|heard|called)"
    r"(?: (?:that|it|them|this|those|one|you|all|out|to))* (?:wrong|wrongly|incorrectly)\b|\bread (?:wrong|wrongly)\b"
)


def put_right(text: str, scene: Scene, may_be_answer: bool) -> RowPutRight | None:
    """How `text` corrects a row that was already told; None if it does not. If it `may_be_answer` to the question for a
    row, leave three colours to be read as a row."""
    words = [word for word in normalise(" ".join(in_roles(text, scene))) if word not in (HARD, SOFT)]
    denied = bool(_DENIED.search(" ".join(words)))
    said = _without_denied(" ".join(words))
    named = [word for word in said.split() if word in _FACES]
    rows = [found.group() for found in _ROW.finditer(said)]
    said = _NO_PLACE.sub(" ", _ROW.sub(" row ", said))
    before = any(map(_BEFORE.search, rows)) or bool(_AGO.search(said))
    instead = _instead(words, said, rows)
    put_in = (_word(instead[0], scene), _word(instead[1], scene)) if instead else None
    corrects = bool(_RIGHTS.search(" ".join(words)))
    whole = 3 * named if len(named) == 1 and re.search(r"\b(?:all|every|each|everything)\b", said) else named
    if len(whole) >= 3:
        if len(whole) > 3 or not (rows and denied if may_be_answer else corrects or rows):
            return None
        return RowPutRight({at: _word(role, scene) for at, role in enumerate(whole)}, None, before)
    plain = not may_be_answer and not _OF_HOLD.search(said)  # nothing else is asked that it could refer to
    if (corrects or rows or plain) and (told := _placed(said)):
        if may_be_answer and len(told) == 3 and not (before or denied or _WRONG.search(said)):
            return None
        return RowPutRight({at: _word(role, scene) for at, role in told.items()}, put_in, before)
    if put_in:
        return RowPutRight({}, put_in, before)
    if (corrects or rows) and denied and not named and _PARTS.search(said):
        return RowPutRight(before=before)
    if _MISREAD.search(said) or (rows and (_WRONG.search(said) or (_AGAIN.search(said) and not named))):
        return RowPutRight(before=before)
    return None


def _instead(words: Sequence[str], said: str, rows: Sequence[str]) -> tuple[str, str] | None:
    """The colour that is denied, or was only told, and the one that replaces it."""
    right = {word for word in said.split() if word in _FACES}
    wrong = {word for word in words if word in _FACES} - right
    if len(right) != 1 or len(wrong) != 1 or (_OF_HOLD.search(said) and not rows):
        return None
    return wrong.pop(), right.pop()


def _without_denied(said: str) -> str:
    """The text without colours that are named only to deny them."""
    said = _DENIED.sub(" ", said)
    kept = _SAID.sub(" ", said)
    return kept if any(word in _FACES for word in kept.split()) else said


def _word(role: str, scene: Scene) -> str:
    return scene.colours[_FACES[role]]


_PARTS: Final = re.compile(
    "|".join(rf"(?P<p{''.join(map(str, places))}>\b(?:{way})\b)" for places, way in _PLACES.items())
    + rf"|(?P<colour>\b{_COLOUR}\b)"
)


def _placed(said: str) -> dict[int, str]:
    """The colours by place, whichever of the two is named first; empty if one of them is left over."""
    told: dict[int, str] = {}
    places: list[int] = []
    colour = ""
    for part in _PARTS.finditer(said):
        kind = part.lastgroup or ""
        if kind != "colour":
            places += map(int, kind[1:])
        elif colour:
            return {}
        else:
            colour = part.group()
        if colour and places:
            told |= dict.fromkeys(places, colour)
            places, colour = [], ""
    return {} if colour or places else told
