"""People told by their names: "only Mia", "me and Tom", "everybody except the twins"."""

from __future__ import annotations

import re
from typing import Final

from coach.language.en.counts.masks import KEPT, ways
from coach.language.en.counts.numerals import figured

_NAME: Final = r"(?:me|myself|I|(?:[A-Z][\w'-]*[a-z]|[A-Z]\w?)(?: [A-Z][\w'-]+)?)"
_LISTED: Final = re.compile(
    rf"\W*(?:(?:[Uu]m+|[Uu]h+|[Oo]h|[Ii]t's|[Tt]here's|[Yy]es|[Ww]ell)\W+)*(?P<only>(?:[Oo]nly|[Jj]ust) )?"
    rf"(?P<who>{_NAME}(?:(?:, and |,? and |, | & ){_NAME})*)"
    r"(?P<not> (?:do|does|have|has|is|are)(?: not|n'?t)(?: (?:have|got|yet|it|one|done|a \w+))*)?"
    r"(?: (?:has|have|does|do|is|are)(?: (?:got|it|one|that|up|a \w+))*)?"
    r"(?P<else>(?:,|,? and) (?:nobody|no one) else)?\W*"
)
_APART: Final = re.compile(r"(?:,|\band\b|\bplus\b|\bor\b)+")
_ENDS: Final = re.compile(
    r"[|]|\b(?:he|she|they|who|because|is|are|has|have|have not|has not|still|but|that|i think|it|we|can|at|by|in"
    r"|over|on|now|again|do|does|so)\b"
)
_PAIRS: Final = re.compile(r"(?:the |my |our )(?:twins|pair|couple)")
_GROUP: Final = re.compile(r"\b(?:row|table|side|group|team|half|class|rest|lot|front|back|window|door|few|couple)\b")
_VAGUE: Final = re.compile(rf"{ways('vague')}\b")
_PERSON: Final = re.compile(
    r"(?:me|myself|i|him|her|you|yours truly|1 \w+|1|(?:a|the|my|our|that|this|his|her|poor|little|wee|old|mr|mrs|ms"
    r"|miss) [a-z]+(?<!s)(?: \w+)?|[a-z']+(?: [a-z']+)?)"
)
_FILLERS: Final = re.compile(
    r"^(?:(?:like|for|just|only|maybe|poor|um|little|the|our|those|these) )+(?=\d)|[,] (?=\d)|^, "
)


def listed(text: str) -> tuple[int, bool] | None:
    """How many people are named, if `text` is just a list of names, and whether these are the ones who do not; None
    otherwise. A single name needs an "only"."""
    found = _LISTED.fullmatch(text.strip().replace("\u2019", "'"))
    if found is None:
        return None
    each = [name for name in re.split(r"(?:, and |,? and |, | & )", found["who"]) if name]
    said = figured(found["who"])
    plain = {word.lower() for name in each for word in name.split()} - {"me", "myself", "i"}
    if re.search(r"\d", said) or plain & (KEPT | _WORDS):
        return None
    return (len(each), bool(found["not"])) if len(each) > 1 or found["only"] or found["else"] else None


_WORDS: Final = frozenset(re.findall(r"\w+", """
    nobody everybody all none no yes not wait stop sorry next repeat help slow slower faster louder ready done go back
    right left front what why how who where when hold hang please again okay seven few many most some half both neither
    zero nothing mistake lost undo continue carry red green blue white yellow orange
"""))
"""Words that are no names however they are written."""


def people(said: str) -> int | None:
    """How many people the words stand for: a number, or as many as are named; None if it cannot be told."""
    said = _ENDS.split(_FILLERS.sub("", said.strip(" ,")), maxsplit=1)[0].strip(" ,")
    if number := re.match(r"(?:(?:the|those|these|like|only|maybe) )*(\d+)\b", said):
        return int(number[1])
    if _PAIRS.fullmatch(said):
        return 2
    if _GROUP.search(said) or _VAGUE.match(said):
        return None
    each = [part.strip() for part in _APART.split(said) if part.strip()]
    return len(each) if each and all(_PERSON.fullmatch(part) for part in each) else None
