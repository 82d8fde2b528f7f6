"""Plain verdicts and wishes that the network reads as their opposite, or as something else altogether."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from coach.language.en.reader.normalise import HARD, SOFT
from coach.language.en.slips.tellings import telling
from coach.language.meaning import Command, Meaning, Question
from coach.language.questions import asks_whether_so

_LEAD: Final = r"(?:(?:oh|ah|well|um|hm+|so|but|okay|yes|there|now|look|i think|i would say) )*"
_IS_RIGHT: Final = re.compile(
    rf"{_LEAD}(?:(?:it|that|this|they|those|all|everything|both|the \w+) )*(?:feels?|looks?|seems?|sounds?|is|are)"
    r" (?:(?:to be|all|just|about|quite|very|pretty|perfectly|exactly) )*(?:right|fine|okay|good|correct|true|in place)"
    r"(?: (?:to (?:me|my (?:hands?|fingers?|eyes?))|from here|so far|here|on mine|enough|now|i think"
    r"|as far as i can (?:tell|feel|see)|(?:under|in) my (?:hands?|fingers?|thumbs?)))*"
)
_GETS_ON: Final = re.compile(
    r"(?:\b(?:can|could|may|shall|should|will|would|why (?:can|do))(?: not)? (?:we|you|i|us)"
    r"(?: (?:not|just|please|simply|finally|maybe))* (?:get|go|carry|move|press|crack|push) on\b"
    r"|\b(?:just|let us) get on\b|\bget on with (?:it|this|things)\b)(?! my\b)"
)
_OWN_WORDS: Final = re.compile(
    r"\b(?:let me|(?:can|could|may|might|shall) i|i (?:will|want to|would (?:like|rather|love)(?: to)?|am going to))"
    r"(?: (?:try|just|now|please|to|and))* (?:say|saying|recite|reciting|tell|name|speak|repeat)\b"
)
_ALL: Final = (
    r"(?:the (?:lot|whole (?:lot|thing|sequence|run)|rest)|all of (?:it|them)|everything|every one|it all|them all)"
)
_DID_ALL: Final = re.compile(
    rf"{_LEAD}(?:(?:that|this) (?:is|was) the lot"
    rf"|(?:i (?:have )?)?(?:(?:already|just|now) )*(?:done|did|finished|turned|made|completed) {_ALL})"
    r"(?: (?:now|already|myself|then|too|alone|by myself|on my own|in one go|sorry|thanks|you know))*"
)
_WHICH_WAY: Final = re.compile(
    r"\b(?:was|is|does|do|did|should|must|will|goes|which (?:way|direction|side|layer)|left or right|right or left"
    r"|up or down|down or up)\b.*\b(?:left|right|up|down|ways?|directions?|clockwise|twice|once|goes?)\b"
)
_ASKS_WAY: Final = re.compile(
    rf"{_LEAD}(?:(?:and|wait|sorry|hang on|remind me) )*"
    r"(?:was|is|does|do|should|must|which|left or|right or|up or|down or)\b"
)
_UNTAUGHT: Final = re.compile(
    r"\b(?:nobody|no one|not|never|who)\b(?: \w+){0,4}? (?:taught|teach|learn(?:ed|t)?|shown|showed|been told|heard of"
    r"|done (?:that|this|it) (?:one )?before|know (?:that|this) one)\b"
)
_LIMBS: Final = r"(?:hands?|fingers?|fingertips?|thumbs?|wrists?|arms?|elbows?|shoulders?|knuckles?|joints?)"
_HURTS: Final = re.compile(
    rf"\bmy (?:\w+ )?{_LIMBS}(?: and (?:my )?\w+)? (?:(?:is|are|has|have|feels?|go|goes|going|gone|getting|gets|got"
    r"|went|starting|to|all|a bit|so|really|very|quite|rather|both|just|fallen|falling|fell|always|still) )*"
    r"(?:numb|asleep|dead|tingl\w*|prickl\w*|cramp\w*|seiz\w*|stiff\w*|sore|ach\w*|hurt\w*|burn\w*|throb\w*|swollen)\b"
)


def settles(words: Sequence[str], asked: Question, about: str) -> tuple[Meaning | None] | None:
    """What it plainly means, in a tuple; just None if that is for the reader."""
    said = " ".join(word for word in words if word not in (HARD, SOFT))
    if (asked == "claim" or asks_whether_so(asked, about)) and _IS_RIGHT.fullmatch(said):
        return _meant("yes")
    if _HURTS.search(said) and "not" not in words:
        return _meant("pain")
    if asked != "ready" and "yet" not in words and telling(said).whole:
        return _meant("mistake")
    if asked in ("turn", "ready") and did_all(words):
        return _meant("next" if asked == "turn" else "ready")
    if asked == "do" and _ASKS_WAY.match(said) and _WHICH_WAY.search(said):
        return _meant("hint")
    if asked == "do" and _UNTAUGHT.search(said):
        return _meant("call-it")
    return _meant("resume" if asked == "continue" else "faster") if _GETS_ON.search(said) else None


def wants_called(words: Sequence[str], meaning: Meaning | None) -> Meaning | None:
    """The meaning; but whoever wants to say something themselves does not want it called."""
    calls: Command = "call-it"
    own = meaning is not None and meaning.command == calls and _OWN_WORDS.search(" ".join(words))
    return None if own else meaning


def did_all(words: Sequence[str]) -> bool:
    """Whether they have done not only the last turn but all that is to be done, and say nothing else."""
    return bool(_DID_ALL.fullmatch(" ".join(word for word in words if word not in (HARD, SOFT))))


def _meant(command: Command) -> tuple[Meaning | None]:
    return (Meaning(command=command),)
