"""What an answer to how many means: the rules and the learned reader side by side, which have to agree."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from coach.language.en.counts import room, shares
from coach.language.en.counts.attendance import attendance
from coach.language.en.counts.hands import Count, counted
from coach.language.en.counts.masks import ways
from coach.language.en.counts.numerals import figured
from coach.language.en.reader.claims import Weighted
from coach.language.en.reader.network import Network
from coach.language.en.reader.normalise import HARD, SOFT, normalise
from coach.language.en.reader.reader import added, readings
from coach.language.meaning import Command, Meaning, Scene

_YES_NO: Final[Mapping[str, Command]] = {
    "yes": "yes", "yeah": "yes", "yep": "yes", "yup": "yes", "aye": "yes", "no": "no", "nope": "no", "nah": "no",
}  # fmt: skip
_SURE: Final = 0.99
_DOUBT: Final = 0.6
"""Asked about: said with doubt, or read by one of the two alone."""
_LIKELY: Final = 0.5
_CLEAR: Final = 0.8
_LEFT_OUT: Final = re.compile(r"all-but-(\d+)")
_COUNTING: Final = re.compile(
    r"(?<!for )\b(?:\d+|a(?: few| couple of)?|half a|another) (?:(?:little|quick|wee|more) )?(?:secs?|seconds?|moments?"
    r"|minutes?|mins?|mo|ticks?)\b(?! (?:ago|late|left|old|early|to go|past|each|before))"
    r"|\b(?:still|trying to|have to|need to|must|will|let (?:me|us|him|her)|am|is|are) (?:re )?count(?:ing)?\b"
    r"|\b(?:let me|i (?:will|must|have to|need to|am)|we will) (?:just )?(?:ask|check|see|look)(?:ing)?\b"
    r"|\b(?:hold on|hang on|wait|moment|patience)\b"
)
_PEOPLE: Final = re.compile(rf"\b{ways('people')}\b")
_CUBE: Final = re.compile(rf"\b{ways('cube')}\b")
_NAMED: Final = re.compile(r"\b(?:me|myself|I) and\b|\band (?:me|myself|I)\b|(?<=[a-z,] )[A-Z][a-z]+(?:,| and) [A-Z]")
_ONWARD: Final = re.compile(
    r"\b(?:ready|done|go|going|on|next|finished|set|start\w*|begin|ok|okay|there|proceed|fire)\b"
)
"""Some word of these says that they want to go on."""
_OF_SOME: Final = re.compile(r"\d|\bhanded\b")
_BOTH: Final = re.compile(r"\bboth\b", re.IGNORECASE)


def plainly(text: str, scene: Scene) -> tuple[Meaning | None, float] | None:
    """What is plainly counted, with nothing else said, and how surely; None if that takes the reader."""
    words, count = normalise(text), counted(text)
    if words and set(words) <= _YES_NO.keys() | {SOFT, HARD}:
        return Meaning(command=_YES_NO[words[-1]]), _SURE
    if room.onward(words):
        return Meaning(command="next"), _SURE
    if count is None or not count.whole or not count.exact:
        return None
    return _meaning(count, scene, text), _SURE if _is_sure(count, text, scene) else _DOUBT


def told(network: Network, text: str, scene: Scene) -> Weighted:
    """The possible meanings of `text`, with probabilities."""
    count, said = counted(text), figured(text)
    if (count is None or not count.exact) and _COUNTING.search(said):
        return [(Meaning(command="wait"), _SURE)]
    found = added([
        (_resolved(_in_numbers(meaning), scene), chance) for meaning, chance in readings(network, text, "hands", scene)
    ])  # fmt: skip
    if count is None:
        return _uncounted(network, found, text, scene)
    others = [(meaning, chance) for meaning, chance in found if not _counts(meaning) and not _is_verdict(meaning)]
    beside, clear = max(others, key=lambda each: each[1], default=(None, 0.0))
    if not count.exact:
        if not count.whole:
            return [(meaning, chance if _is_said(meaning, said) else min(chance, _DOUBT)) for meaning, chance in found]
        return [(beside, clear)] if beside and clear > _LIKELY and not count.bare else [(None, _SURE)]
    meant = _meaning(count, scene, text)
    if meant is None:
        return [(None, _SURE)]
    if clear > _CLEAR:
        return found
    agreed = sum(chance for meaning, chance in found if meaning == meant)
    people = _PEOPLE.search(said)
    if not people and (_CUBE.search(said) or (not count.bare and agreed < _CLEAR)):
        return [(None, _SURE)]
    if not people and not count.bare:
        return [(meant, _DOUBT)]
    return [(meant, _SURE if agreed > _LIKELY and _is_sure(count, text, scene) else _DOUBT)]


def _uncounted(network: Network, found: Weighted, text: str, scene: Scene) -> Weighted:
    """The possible meanings where the rules find no count: one that is not in figures may be a list of names."""
    onward, clear = readings(network, room.as_one(text), "ready", scene)[0]
    best = max(chance for _, chance in found)
    of_some = _OF_SOME.search(figured(text))
    ready = onward == Meaning(command="ready") and normalise(text)[0] not in _YES_NO
    if ready and _ONWARD.search(figured(text)) and not of_some and clear > _CLEAR > best:
        return [(Meaning(command="next"), clear)]
    named = None if of_some else _NAMED.search(text)
    return [each for each in found if not _counts(each[0])] + [
        (meaning, min(chance, _DOUBT)) for meaning, chance in found if named and _counts(meaning)
    ] or [(None, _SURE)]


def _is_sure(count: Count, text: str, scene: Scene) -> bool:
    """Whether it is said without doubt; both are doubtful where there are not two."""
    return count.sure and (not _BOTH.search(text) or 2 in (scene.size, scene.rest))


def _is_said(meaning: Meaning | None, said: str) -> bool:
    """Whether it is no count, or one whose number stands in the words."""
    return not _counts(meaning) or (meaning is not None and str(meaning.number) in said.split())


def _is_verdict(meaning: Meaning | None) -> bool:
    return meaning is not None and meaning.command in ("unsure", "yes", "no")


def _counts(meaning: Meaning | None) -> bool:
    return meaning is not None and (meaning.number is not None or meaning.all_but is not None)


def _in_numbers(meaning: Meaning | None) -> Meaning | None:
    """A share of the class as a number that is left out; None for one that is not exact."""
    if meaning is None or meaning.case is None:
        return meaning
    if meaning.case == "all":
        return Meaning(all_but=0)
    found = _LEFT_OUT.fullmatch(meaning.case)
    return Meaning(all_but=int(found[1])) if found else None


def _meaning(count: Count, scene: Scene, text: str) -> Meaning | None:
    """The count as a meaning; None if it cannot be told, or is that of a class that has grown."""
    if scene.about != "size" and (come := attendance(text)) and come.size is not None and come.size == count.number:
        return None if scene.size is not None and come.size > scene.size else Meaning(number=count.number)
    if count.rest:
        return None if scene.rest is None else Meaning(number=scene.rest)
    if count.share is not None:
        share = shares.many(count.share, scene.size)
        return None if share is None else Meaning(number=share)
    return _resolved(Meaning(number=count.number, all_but=count.all_but), scene)


def _resolved(meaning: Meaning | None, scene: Scene) -> Meaning | None:
    """The number of those who are not left out, where the size of the class is known."""
    if meaning is None or meaning.all_but is None or scene.size is None or meaning.all_but > scene.size:
        return meaning
    return Meaning(number=scene.size - meaning.all_but)
