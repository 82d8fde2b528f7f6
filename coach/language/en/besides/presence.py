"""Words that only say that somebody is there, or ask whether the coach is: "I'm here", "hello?"; a bare yes or okay."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from coach.language.en.reader.normalise import HARD, SOFT

_HERE: Final = re.compile(
    r"\b(?:i am|we are|still)(?: (?:still|just|right|all|yes))* (?:here|there|listening|present|back|with you)\b"
    r"|^(?:(?:yes|yeah|yep|oh|right) )*(?:here|present|listening|hello|hallo|hi|hey)\b"
    r"|\b(?:not|never) (?:gone|go|went|left|leave)\b"
)
_BESIDE: Final = frozenset({
    "yes", "yeah", "yep", "yup", "oh", "sorry", "i", "am", "we", "are", "is", "it", "me", "still", "just", "right",
    "all", "here", "there", "hello", "hallo", "hi", "hey", "listening", "present", "back", "with", "you", "of",
    "course", "okay", "and", "but", "well", "so", "have", "do", "did", "not", "never", "gone", "go", "went", "left",
    "leave", "anywhere", "away", "worry", "love", "dear", "mate", "looking", "thinking", "waiting", "sitting", "at",
    "now", "again", "coach",
})  # fmt: skip
_ASKS: Final = re.compile(
    r"(?:(?:hello|hallo|hi|hey|oh|okay|so|and|but|well|sorry|coach|wait|yes|no) )*"
    r"(?:(?:are |is )?(?:you|anyone|anybody|someone|somebody) (?:(?:still|even|just|really|actually) )*"
    r"(?:there|here|listening|with me|awake|alive|around|gone|asleep)"
    r"|(?:can|do|could|did) you (?:(?:still|even|really|actually) )*hear me|have you (?:gone|left|fallen asleep))"
    r"(?: (?:still|now|at all|hello|coach|or not|or what|please|away))*"
)
_READY: Final = frozenset({"ready", "back"})
_BESIDE_READY: Final = frozenset({
    "yes", "yeah", "yep", "oh", "okay", "right", "so", "well", "and", "then", "now", "again", "i", "am", "we", "are",
    "all", "here", "good", "got", "coach", "please", "sorry",
})  # fmt: skip
_OKAY: Final = r"(?:okay|all right|right o|righty)"
_BESIDE_OKAY: Final = (
    r"(?:um|oh|mm|hm+|well|so|and|then|now|right|all|coach|there|i see"
    r"|i get you|i get it|i hear you|i heard (?:you|that)|i heard|sorry)"
)
_ONLY_OKAY: Final = re.compile(rf"(?:{_BESIDE_OKAY} )*{_OKAY}(?: (?:{_OKAY}|{_BESIDE_OKAY}))*")
_YES: Final = frozenset({"yes", "yeah", "yep", "yup", "aye"})


def asks_here(words: Sequence[str]) -> bool:
    """Whether an answer only asks whether the coach is there."""
    return bool(_ASKS.fullmatch(" ".join(word for word in words if word not in (HARD, SOFT))))


def only_here(words: Sequence[str]) -> bool:
    """Whether an answer says no more than that the learner is there."""
    said = [word for word in words if word not in (HARD, SOFT)]
    return not asks_here(words) and set(said) <= _BESIDE and bool(_HERE.search(" ".join(said)))


def only_ready(words: Sequence[str]) -> bool:
    """Whether an answer says no more than that the learner is ready, or back."""
    said = {word for word in words if word not in (HARD, SOFT)}
    return bool(said & _READY) and said <= _READY | _BESIDE_READY


def only_yes(words: Sequence[str]) -> bool:
    """Whether an answer is a bare yes."""
    said = {word for word in words if word not in (HARD, SOFT)}
    return bool(said) and said <= _YES


def only_okay(words: Sequence[str]) -> bool:
    """Whether an answer is a bare okay, which may only mean that the coach was heard."""
    return bool(_ONLY_OKAY.fullmatch(" ".join(word for word in words if word not in (HARD, SOFT))))
