"""Rules for short answers in plain or broken English that the network misreads."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from coach.language.commands import Trait, has
from coach.language.en.reader.normalise import HARD, SOFT
from coach.language.meaning import Meaning, Question, Scene

_MARKS: Final = frozenset({HARD, SOFT})
_ON: Final = frozenset({"done", "did", "next", "ready", "go", "continue"})
_WITH_ON: Final = frozenset({"i", "am", "have", "it", "this", "that", "on", "okay", "so", "now", "just", "and", "then"})
_OF_WHOLE: Final = frozenset({"finished", "all", "is"})
"""About whole layers these words say that they are finished; about single stickers they say nothing."""
_FEW: Final = 3
_DID: Final = frozenset({"done", "did", "made", "finish", "finished", "turned"})
_DO: Final = frozenset({"do", "make", "turn"})
_WITH_DID: Final = frozenset({
    "i", "it", "this", "that", "one", "is", "am", "have", "has", "was", "turn", "move", "call", "already", "now",
    "the", "last", "okay", "yes", "so", "and", "very", "too", "long", "slow", "hard", "quick",
})  # fmt: skip
_TIRED: Final = frozenset({"bored", "tired", "hate", "sick", "stop", "enough", "boring"})
_OFFERS: Final = frozenset({"cube", "whole", "everything", "let", "will", "would"})
_FALLS: Final = frozenset({"fall", "falls", "fell", "fallen", "drop", "dropped", "floor"})
_ENDS: Final = frozenset({"stop", "end", "quit", "enough", "bye", "goodbye", "exit"})
_GOES_ON: Final = (("let", "us", "go"), ("go", "on"), ("we", "go"), ("we", "continue"), ("let", "us", "continue"))
_WHOLE: Final = frozenset({
    "done", "finished", "complete", "completed", "solved", "sorted", "fine", "ready", "right", "good", "perfect",
    "did", "made", "built", "finish", "in", "there",
})  # fmt: skip
_LOST: Final = frozenset({
    "not", "no", "never", "nothing", "broken", "broke", "wrong", "messed", "mess", "gone", "lost", "anymore", "longer",
    "undone", "ruined", "destroyed", "kaput", "mixed", "un", "if", "still", "ago", "before", "earlier", "until", "till",
    "moment", "minute", "now",
})  # fmt: skip
"""What was whole no longer is, or may not be: that it was done is not enough to say so."""
_IN: Final = frozenset({"in", "place"})
_WITH_IN: Final = frozenset({"it", "is", "its", "the", "that", "this", "one", "now", "yes", "there", "okay", "right"})


def only_goes_on(words: Sequence[str], asked: Question, scene: Scene) -> bool:
    """Whether an answer about what is to be seen says only that something is done, or to go on: it is no answer."""
    said = set(words) - _MARKS
    if asked == "claim" and scene.claimed:
        beside = _WITH_ON | _OF_WHOLE if len(scene.claimed) <= _FEW else _WITH_ON
        done = _ON | {"finished"} if len(scene.claimed) <= _FEW else _ON
    elif asked == "piece":
        beside, done = _WITH_ON, frozenset({"done", "did"})
    else:
        return False
    return bool(said & done) and said <= beside | done


def is_placed(words: Sequence[str]) -> bool:
    """Whether it says that a piece is in, and nothing else."""
    said = set(words) - _MARKS
    return bool(said & _IN) and said <= _IN | _WITH_IN


def has_done(words: Sequence[str]) -> bool:
    """Whether it says that a turn is done, in any order and form of the words ("this one finish")."""
    said = set(words) - _MARKS
    if not said <= _WITH_DID | _DID | _DO or words[:1] == ["finish"] or words[0] in _DO:
        return False
    if words[0] in ("is", "have", "am") and "already" not in said:  # a question, by its word order
        return False
    return bool(said & _DID) or ("already" in said and bool(said & _DO))


def is_whole(words: Sequence[str], meaning: Meaning | None) -> bool:
    """Whether somebody who seems to say that layers are broken only says that they are done."""
    said = set(words[words[:1] == ["no"] :])
    return meaning is not None and meaning.command == "layers-broken" and bool(said & _WHOLE) and not said & _LOST


def offers_no_reading(words: Sequence[str], meaning: Meaning | None) -> bool:
    """Whether somebody who seems to offer to read the cube has had enough of it, or has read something wrongly."""
    said = set(words)
    misread = bool({"wrong", "wrongly"} & said) and not _OFFERS & said
    return meaning is not None and meaning.command == "read" and (misread or bool(_TIRED & said))


def with_care(words: Sequence[str], asked: Question, meaning: Meaning | None) -> Meaning | None:
    """A safer meaning of what was said between turns: a fallen cube means no turn was done, and "let's go" does not
    stop the lesson."""
    command = meaning.command if meaning else None
    said = [word for word in words if word not in _MARKS]
    if has(command, Trait.DONE) and _FALLS & set(said):
        return None
    if has(command, Trait.WRONG) and asked == "turn" and HARD in words and has_done(words[: words.index(HARD)]):
        return Meaning(command="next")  # what follows is something else
    goes_on = any(tuple(said[-len(way) :]) == way for way in _GOES_ON)
    if command == "stop" and goes_on and not _ENDS & set(said):
        return Meaning(command="next" if asked == "turn" else "resume")
    return meaning
