"""Which piece an answer is about, if it is not the piece asked for."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from coach.language.en.reader.network import Network
from coach.language.en.reader.reader import readings
from coach.language.en.reader.roles import in_roles, role
from coach.language.en.rows.elsewhere import is_of_something_else
from coach.language.meaning import USUAL_COLOURS, Meaning, Question, Scene

_PIECE: Final = 0.8
"""Where the piece lies needs this confidence; otherwise the coach asks."""
_ROLES: Final = frozenset(USUAL_COLOURS.values())
_FACE_OF: Final = {word: face for face, word in USUAL_COLOURS.items()}
_KINDS: Final = frozenset({"edge", "corner", "piece", "one", "bit", "block", "thing"})
_ARTICLES: Final = frozenset({"the", "a", "an", "my", "this"})
_OF_SIDES: Final = frozenset({"side", "sides", "face", "centre", "center", "centres", "centers", "middles", "wall"})
"""After a colour, these say that it belongs to a side of the cube, not to a piece."""
_TOWARDS: Final = frozenset({
    "on", "in", "at", "to", "onto", "into", "towards", "toward", "facing", "faces", "face", "by", "near", "beside",
    "against", "next", "under", "below", "above", "over", "behind", "opposite", "between", "of", "with", "from",
    "touching", "touches", "like", "meets", "matches", "match", "not",
})  # fmt: skip
"""Before a colour, these only say that the piece is near it."""
_HAVING: Final = frozenset({"with", "of"})
_FACING: Final = ("facing", "faces", "in", "towards", "points", "pointing")
_FILLERS: Final = (
    r"(?:(?:ah|oh|oops|ow|er|um|uh|hm+|well|ok|okay|no|nope|wait|hang on|hold on|shit|fuck|damn|crap|god)\W+)*"
)
_CORRECTS: Final = re.compile(
    rf"\W*{_FILLERS}(?:oops|whoops|oopsie|sorry|i'?m sorry|wrong|correction|scratch that|my mistake|my bad|mistake"
    r"|i made a mistake|i mean\b|i meant|that(?:'s| is| was) (?:the )?wrong|i got (?:it|that|them) wrong)"
)
_NO: Final = re.compile(rf"\W*(?:ah\W+|oh\W+)?(?:no|nope|not)\b|\W*{_FILLERS}(?:actually|no)\b")
_WAS: Final = re.compile(r"\b(?:that|it) was(?: the| my)? $|\bi was (?:on|talking) about(?: the| my)? $")
_IS: Final = re.compile(r"\bthat(?:'s| is)(?: the| my)? $")
_ASKS: Final = re.compile(
    rf"\W*{_FILLERS}(?:and |so |but )?"
    r"(?:what|which|where|who|why|how|is|are|do|does|did|can|should|could|would|you mean)\b"
)
_ONE: Final = r"(?:one|piece|edge|corner|bit)"
_EARLIER: Final = re.compile(
    rf"\b(?:(?:that|the) (?:other|last|previous|earlier|former) {_ONE}|(?:last|previous|earlier) {_ONE}(?:'s| is| was)"
    rf"|(?:the |that )?{_ONE} (?:from |of |just )?before|that of before|just then"
    r"|i (?:had|have|said|gave|told|answered|described|called)\b"
    r".*\b(?:wrong|not|but|should|too (?:fast|quick|soon|early))"
    r"|(?:should have|should've|meant to|wanted to) (?:said|say))\b"
)
"""Refers to the piece told before without naming its colours."""
_ORDER: Final = {0: {"first", "former"}, 1: {"second", "latter", "last", "other"}}


@dataclass(frozen=True)
class _Naming:
    """The colours (roles) that name a piece; `whole`: certainly a piece, because of a word for one or several colours.
    `past` and `present`: it says that the earlier answer was, or is, about that piece."""

    colours: tuple[str, ...]
    whole: bool
    past: bool
    present: bool


def of_another(network: Network, text: str, asked: Question, scene: Scene) -> Meaning | None:
    """What is said about a piece other than the one asked for: a correction, with the piece's colours as `piece`, and
    where it lies if that is told. None if the answer is about the piece asked for, or none.

    Pieces share colours: only a colour that the piece asked for lacks shows that another is meant."""
    said = text.casefold().replace("\u2019", "'")
    if "?" in said or _ASKS.match(said):
        return None
    return _named(network, said, asked, scene) or _earlier(network, said, asked, scene)


def _earlier(network: Network, said: str, asked: Question, scene: Scene) -> Meaning | None:
    """What is said about the piece told last, if its colours are not named."""
    if asked != "piece" or not scene.others or not _EARLIER.search(said):
        return None
    last = scene.others[0]
    lies = _lying(network, said, said, replace(scene, piece=last))
    return replace(lies or Meaning(), piece=last, command="correct")


def _named(network: Network, said: str, asked: Question, scene: Scene) -> Meaning | None:
    """What is said about a piece named by its colours."""
    sentences = re.split(r"(?<=[.!?;])\s+", said)
    found = [(at, each) for at, part in enumerate(sentences) for each in _namings(in_roles(part, scene))]
    if not found:
        return None
    # A single colour may be that of a sticker, so a certain name of a piece takes precedence.
    at, naming = [*found, *(each for each in found if each[1].whole)][-1]
    own = [role(word, scene) for word in scene.piece]
    others = [[role(word, scene) for word in other] for other in scene.others]
    corrects = bool(_CORRECTS.match(said)) or naming.past
    named = _fitted(naming.colours, others, own)
    strays = not set(named) <= set(own)
    if asked != "piece" and not (corrects and _among(named, others)):
        return None
    if naming.past or (naming.present and strays):  # so the last answer was not about the piece that was asked for
        if not scene.others:
            return None
        named = others[0]
    elif not (strays or (corrects and _among(named, others))):
        return None
    if not (naming.whole or _among(named, others)) or (not naming.whole and _faces(said, named, scene)):
        return None
    if asked != "piece":
        return _about(named, None, scene)
    piece = next((other for other, roles in zip(scene.others, others, strict=True) if set(named) <= set(roles)), ())
    lies = _lying(network, " ".join(sentences[at:]), said, replace(scene, piece=piece or scene.piece))
    sure = corrects or _NO.match(said) or len(naming.colours) > 1
    return _about(named, lies, scene) if lies or sure else None


def chosen(text: str, scene: Scene) -> tuple[str, ...]:
    """Which of several pieces is meant; () if that is not said."""
    words = [_bare(word) for word in in_roles(text, scene)]
    named = {word for at, word in enumerate(words) if word in _ROLES and "not" not in words[max(at - 4, 0) : at]}
    fits = [other for other in scene.others if named <= {role(word, scene) for word in other}] if named else []
    fits = fits or [scene.others[at] for at, order in _ORDER.items() if order & set(words) and at < len(scene.others)]
    return fits[0] if len(fits) == 1 else ()


def _namings(words: Sequence[str]) -> Iterator[_Naming]:
    """The names of pieces in `words` (roles), leaving out colours that only say what a piece is near."""
    plain = [_bare(word) for word in words]
    at = 0
    while at < len(words):
        end = _end(words, plain, at)
        if end == at:
            at += 1
            continue
        before = [word for word in plain[max(at - 4, 0) : at] if word not in _ARTICLES]
        after = plain[end] if end < len(plain) and words[end - 1][-1].isalpha() else ""
        having = len(before) > 1 and before[-1] in _HAVING and before[-2] in _KINDS
        named = after not in _OF_SIDES and not is_of_something_else(plain[end - 1], after)
        if named and (not before or before[-1] not in _TOWARDS or having):
            colours = tuple(dict.fromkeys(word for word in plain[at:end] if word in _ROLES))
            lead, tail = " ".join([*plain[:at], ""]), " ".join(plain[end:])
            past = bool(_WAS.search(lead)) or "i was on about" in tail or "i was talking about" in tail
            yield _Naming(colours, len(colours) > 1 or after in _KINDS, past, bool(_IS.search(lead)))
        at = end


def _end(words: Sequence[str], plain: Sequence[str], at: int) -> int:
    """The end of the run of colours that starts at `at`, allowing "and" in between."""
    end = at
    while end < len(plain) and plain[end] in _ROLES:
        end += 1
        if not words[end - 1][-1].isalpha():
            break
        if plain[end : end + 1] == ["and"] and plain[end + 1 : end + 2] and plain[end + 1] in _ROLES:
            end += 1
    return end


def _fitted(colours: Sequence[str], others: Sequence[Sequence[str]], own: Sequence[str]) -> Sequence[str]:
    """The colours, or only the last ones if two pieces follow each other without a stop."""
    size = len(own) or max(map(len, others), default=0)
    return colours if len(colours) <= size else colours[-size:]


def _among(named: Sequence[str], others: Sequence[Sequence[str]]) -> bool:
    return any(set(named) <= set(other) for other in others)


def _faces(said: str, named: Sequence[str], scene: Scene) -> bool:
    """Whether it says that the front colour faces the learner, which is about the hold."""
    front = role(scene.colours["F"], scene)
    words = [_bare(word) for word in in_roles(said, scene)]
    follow = [words[at + 1 : at + 3] for at, word in enumerate(words) if word == front]
    return set(named) == {front} and any(set(after) & set(_FACING) for after in follow)


def _lying(network: Network, part: str, said: str, scene: Scene) -> Meaning | None:
    """Where the piece lies according to the sentence that names it, else to everything said."""
    for text in dict.fromkeys((part, said)):
        best, chance = readings(network, text, "piece", replace(scene, about=""))[0]
        if best and best.place and not best.command and chance >= _PIECE:
            return best
    return None


def _about(named: Sequence[str], lies: Meaning | None, scene: Scene) -> Meaning:
    colours = tuple(scene.colours[face] for face in map(_FACE_OF.__getitem__, named))
    return replace(lies or Meaning(), piece=colours, command="correct")


def _bare(word: str) -> str:
    return re.sub(r"^\W+|'s$|\W+$", "", re.sub(r"\W+$", "", word.casefold()))
