"""Answers during row reading that correct a row instead of telling one."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from coach.language.aside import RowPutRight
from coach.language.en.reader.normalise import HARD, SOFT, normalise
from coach.language.en.reader.roles import in_roles
from coach.language.en.rows.orders import exchanged, is_backwards
from coach.language.en.rows.words import COLOUR, FACE_OF, PARTS, colours_in, placed, places_in, without_time
from coach.language.meaning import Scene

_ROW: Final = re.compile(
    r"\b(?:(?:that|this|the|my|your|a) )?(?:whole )?"
    r"(?:(?:very )?(?:last|previous|first|second|third|other|upper|middle|lower|top|bottom|left|right|front|back) )?"
    r"(?:row|line)(?: (?:before|of before|i|we|you|just|last|read|said|told|gave|got|did|heard)\b)*"
    r"|\b(?:the )?(?:one|answer) (?:just )?before\b(?: (?:that|this|it))?"
)
_BEFORE: Final = re.compile(r"\b(?:before|previous)\b")
_AGO: Final = re.compile(r"\b(?:rows?|lines?) ago\b|\bbefore the last\b")
_DENIED: Final = re.compile(
    rf"\b(?:not|instead of|rather than|never)(?: (?:a|an|the|it|was|is|as|all|and|{COLOUR} or))*"
    rf" {COLOUR}(?: {COLOUR} {COLOUR})?\b"
)
_TOLD: Final = r"(?:said|say|told you|told|read|gave you|gave|called it|called|call|took it for|thought)"
_SAID: Final = re.compile(
    rf"\b(?:i (?:had |have )?{_TOLD}|you (?:wrote|heard|have|got|noted))(?: (?:it|that|was|is|a|as|the))* {COLOUR}\b"
    rf"|\b{COLOUR} (?:i {_TOLD}|was wrong)\b(?!(?: (?:you|it|that|was|is|a|as|the))* {COLOUR}\b)"
    rf"|\bwhat i {_TOLD} {COLOUR}\b"
    rf"|\b(?:swap|change|exchange|replace)(?: (?:that|the|this|my))* {COLOUR} (?:for|by|with|to|into)\b"
)
_WRONG: Final = re.compile(
    r"\b(?:wrong|wrongly|incorrect|incorrectly|mistake|mistakes|misread|mis read|mixed up|messed up|muddled|rubbish"
    r"|nonsense|garbage|false|not right|not correct|not true|not so|forget|scrap|scratch|cross out|take back|redo"
    r"|re read|reread|backwards)\b"
)
_AGAIN: Final = re.compile(r"\b(?:again|once more|over|anew)\b")
_RIGHTS: Final = re.compile(
    rf"{_WRONG.pattern}|\b(?:oops|whoops|sorry|actually|correction|meant|mean|instead|rather|should|ought|supposed"
    rf"|change|make|fix|correct|really|was|were|had|began|started|ended|my bad|not {COLOUR})\b"
    r"|^(?:(?:ah|oh|well|but|and) )*(?:no|nope|wait|hang on|hold on|damn|damn it|shit|crap|bugger|fuck|argh|dear)\b"
)
_OF_HOLD: Final = re.compile(
    r"\b(?:front|facing|faces|face|towards|top|bottom|back|up|down|now|side|not|find|see|where)\b"
)
"""With these words, colours tell how the cube is held, or are being looked for."""
_TAKEN_BACK: Final = re.compile(
    rf"{_WRONG.pattern}|\b(?:no|nope|not|sorry|oops|whoops|actually|correction|meant|mean|instead|rather|swap|said"
    r"|but|or)\b"
)
"""Among the colours of a row, tells that one of them is put right before the row is complete."""
_NO_CORRECTION: Final = re.compile(r"\bif i am wrong\b|\b(?:at|on) the other (?:end|side)\b")
_MISREAD: Final = re.compile(
    r"\b(?:i|you) (?:have |just )?(?:read|said|told(?: you)?|gave(?: you)?|heard|called)"
    r"(?: (?:that|it|them|this|those|one|you|all|out|to|the|a|my|from))*"
    r" (?:wrongly|incorrectly|wrong(?! (?:end|way|direction)))\b|\bread (?:wrong|wrongly)\b"
)
_READ: Final = re.compile(r"\bi (?:\w+ )?(?:read|told|gave|said)\b")


_TOLD_ROW: Final = re.compile(
    rf"\b(?:last|previous|earlier|other) (?:row|line|one)\b|\bbefore\b|\bi (?:just )?{_TOLD}\b|\bi just (?:did|had)\b"
)
_THIS_ROW: Final = re.compile(
    r"\b(?:now|here|current(?:ly)?|present|actual|(?:this|the new|the next)(?: \w+)? (?:row|line|one)"
    r"|this (?=is|has|here))\b"
)
"""Opens what is told of the row that is asked for."""
_THEN_ROW: Final = re.compile(rf"(?:then|next)(?: (?:it|is|there|{SOFT}))*(?: (?:{SOFT} )?{COLOUR}){{3}}$")
"""The same, if the places of the row before were named."""
_ROW_OF_SIDE: Final = re.compile(
    r"\b(?:(first|upper|top)|(second|middle|centre)|(third|lower|bottom|last)) (?:row|line|three)\b"
)
_OF_TOLD_ROW: Final = re.compile(
    rf"(?:(?:and|but|oh|sorry|wait|no|in|the|{SOFT}|\{HARD}) )*"
    r"(?:(?:last|previous|earlier|other) (?:row|line)|(?:row|line|one) before)\b"
)
"""Opens what is told of a row before, after the row that is asked for."""
_THREE, _NINE = 3, 9
_IN_A_ROW: Final = re.compile(rf"\b{COLOUR} (?:and )?{COLOUR} (?:and )?{COLOUR}\b")
_COLOURED: Final = re.compile(rf"\b{COLOUR}\b")


def put_right(text: str, scene: Scene, may_be_answer: bool) -> RowPutRight | None:
    """How `text` corrects a row that was already told; None if it does not. If it `may_be_answer` to the question for a
    row, leave three colours to be read as a row."""
    words = normalise(" ".join(in_roles(text, scene)))
    if both := _both(words):
        right = _put_right(both[0], scene, may_be_answer=False)
        return right and replace(right, sure=True, answers=True)
    return _put_right(words, scene, may_be_answer)


def takes_back(text: str, scene: Scene) -> bool:
    """Whether it says that a row or side was read wrongly or from right to left, without saying what is right."""
    said = " ".join(word for word in normalise(" ".join(in_roles(text, scene))) if word not in (HARD, SOFT))
    return not _COLOURED.search(said) and bool(
        _MISREAD.search(said) or (_READ.search(said) and is_backwards(said))
    )


def answered(text: str, scene: Scene) -> tuple[str, ...]:
    """The colours of the row that is asked for, if a row told before is put right in the same breath; () otherwise."""
    both = _both(normalise(" ".join(in_roles(text, scene))))
    if not both or not _put_right(both[0], scene, may_be_answer=False):
        return ()
    return tuple(_word(role, scene) for role in colours_in(" ".join(both[1])))


def put_right_in_itself(text: str, scene: Scene, count: int) -> tuple[str, ...]:
    """The `count` colours of a row or side that is told whole and then put right in the same answer by the places or
    the row that were wrong; () for any other answer."""
    told, after = _told_first(text, scene, count)
    right = _mended(told, after) if told else []
    return tuple(_word(role, scene) for role in right) if right != told else ()


def takes_back_itself(text: str, scene: Scene, colours: Sequence[str]) -> bool:
    """Whether a row of these `colours` is told and then, in the same answer, said to be another one."""
    told, after = _told_first(text, scene, len(colours))
    return [_word(role, scene) for role in told] == [*colours] and bool(
        _WRONG.search(after) or exchanged(after) or (_RIGHTS.search(after) and places_in(after))
    )


def _told_first(text: str, scene: Scene, count: int) -> tuple[list[str], str]:
    """The first `count` colours (roles), if they are told one after the other, and the text after them."""
    words = [word for word in normalise(" ".join(in_roles(text, scene))) if word not in (HARD, SOFT)]
    at = [number for number, word in enumerate(words) if word in FACE_OF]
    if len(at) < count:
        return [], ""
    head, after = " ".join(words[: at[count - 1] + 1]), " ".join(words[at[count - 1] + 1 :])
    of_another = count == _THREE and _TOLD_ROW.search(f"{head} {HARD} {after}")
    if of_another or _TAKEN_BACK.search(head) or places_in(head):
        return [], ""
    return [words[number] for number in at[:count]], _NO_CORRECTION.sub(" ", after)


def _mended(told: Sequence[str], after: str) -> list[str]:
    """The colours that were `told` as they are put right `after` that; as they were if they are not."""
    new, said = [*told], without_time(_without_denied(after))
    if len(colours_in(said)) == _THREE == len(told):
        return new  # it is told anew
    ends = exchanged(said)
    if ends and len(told) == _THREE:
        one, other = ends.places
        if isinstance(one, int) and isinstance(other, int):
            new[one], new[other] = new[other], new[one]
        else:
            pair = {one: other, other: one}
            new = [str(pair.get(role, role)) for role in told]
        return new
    row, colours = _ROW_OF_SIDE.search(said), colours_in(said)
    if not _RIGHTS.search(after):
        return new
    if (instead := _instead(after.split(), said, ())) and told.count(instead[0]) == 1:
        return [instead[1] if role == instead[0] else role for role in told]
    if row and len(colours) == _THREE and len(told) == _NINE:
        first = _THREE * next(number for number, way in enumerate(row.groups()) if way)
        right = dict(enumerate(colours, first))
    else:
        right = {} if row else placed(said)
    for place, role in right.items():
        if -len(new) <= place < len(new):
            new[place] = role
    return new


def _both(words: Sequence[str]) -> tuple[Sequence[str], Sequence[str]] | None:
    """What is said about a row told before, and what about the row that is asked for; None if only one is spoken of."""
    for at in range(1, len(words)):
        said, after = " ".join(words[:at]), " ".join(words[at:])
        if _OF_TOLD_ROW.match(after) and len(colours_in(said)) == _THREE and _names_change(after):
            return words[at:], words[:at]
        if len(colours_in(after)) != _THREE or not _names_change(said):
            continue
        told = _TOLD_ROW.search(said)
        right = told or exchanged(said) or _RIGHTS.search(said)
        opens = _THIS_ROW.match(after) or (words[at - 1] == HARD and _IN_A_ROW.match(after))
        if right and (opens or (_THEN_ROW.match(after) and (places_in(said) or told))):
            return words[:at], words[at:]
    return None


def _names_change(said: str) -> bool:
    """Whether it names what a row should be instead."""
    return bool(_COLOURED.search(said) or exchanged(said))


def _put_right(words: Sequence[str], scene: Scene, may_be_answer: bool) -> RowPutRight | None:
    told = _Told.of(words)
    ends = None if _IN_A_ROW.search(told.said) else exchanged(told.said)
    if ends:
        one, other = ends.places
        if isinstance(one, str) and isinstance(other, str):
            return RowPutRight(before=told.before, exchanged=(_word(one, scene), _word(other, scene)))
        return RowPutRight(before=told.before, exchanged=ends.places, sure=ends.plain or bool(told.rows))
    if len(colours_in(told.said)) >= _THREE:
        return _of_whole(told, scene, may_be_answer)
    return _of_some(told, scene, may_be_answer)


def _of_whole(told: _Told, scene: Scene, may_be_answer: bool) -> RowPutRight | None:
    """A correction that tells all three stickers. Where nothing is asked, a row of one colour may be one."""
    named = colours_in(told.said)
    corrects = told.corrects or is_backwards(told.said)
    alike = len(set(named)) == 1
    puts_right = told.rows and told.denied if may_be_answer else corrects or told.rows or alike
    if len(named) != _THREE or not puts_right:
        return None
    colours = {at: _word(role, scene) for at, role in enumerate(named)}
    return RowPutRight(colours, before=told.before, sure=corrects or bool(told.rows))


def _of_some(told: _Told, scene: Scene, may_be_answer: bool) -> RowPutRight | None:
    """A correction of some stickers, or only that the row was wrong."""
    said, rows = told.said, told.rows
    instead = _instead(told.words, said, rows)
    put_in = (_word(instead[0], scene), _word(instead[1], scene)) if instead else None
    plain = not may_be_answer and not _OF_HOLD.search(said)  # nothing else is asked that it could refer to
    if (told.corrects or rows or plain) and (places := placed(said)):
        if may_be_answer and len(places) == _THREE and not (told.before or told.denied or _WRONG.search(said)):
            return None
        return RowPutRight({at: _word(role, scene) for at, role in places.items()}, put_in, told.before)
    if put_in:
        return RowPutRight({}, put_in, told.before)
    named = bool(colours_in(said))
    if (told.corrects or rows) and told.denied and not named and PARTS.search(said):
        return RowPutRight(before=told.before)
    if _MISREAD.search(said) or (rows and (_WRONG.search(said) or (_AGAIN.search(said) and not named))):
        return RowPutRight(before=told.before)
    return None


@dataclass(frozen=True)
class _Told:
    """What may be a correction: its `words` (roles), and the text with "row" for the `rows` that are mentioned, without
    colours that are only `denied`. `before`: it is about a row before the last one."""

    words: Sequence[str]
    said: str
    rows: Sequence[str]
    denied: bool
    before: bool
    corrects: bool

    @classmethod
    def of(cls, marked: Sequence[str]) -> _Told:
        """From words with clause marks."""
        words = [word for word in marked if word not in (HARD, SOFT)]
        whole = " ".join(words)
        said = _without_denied(whole)
        rows = [found.group() for found in _ROW.finditer(said)]
        said = without_time(_ROW.sub(" row ", said))
        before = any(map(_BEFORE.search, rows)) or bool(_AGO.search(said))
        return cls(words, said, rows, bool(_DENIED.search(whole)), before, bool(_RIGHTS.search(whole)))


def _instead(words: Sequence[str], said: str, rows: Sequence[str]) -> tuple[str, str] | None:
    """The colour that is denied, or was only told, and the one that replaces it."""
    right = {word for word in said.split() if word in FACE_OF}
    wrong = {word for word in words if word in FACE_OF} - right
    if len(right) != 1 or len(wrong) != 1 or (_OF_HOLD.search(said) and not rows):
        return None
    return wrong.pop(), right.pop()


def _without_denied(said: str) -> str:
    """The text without colours that are named only to deny them."""
    said = _DENIED.sub(" ", said)
    kept = _SAID.sub(" ", said)
    return kept if any(word in FACE_OF for word in kept.split()) else said


def _word(role: str, scene: Scene) -> str:
    return scene.colours[FACE_OF[role]]
