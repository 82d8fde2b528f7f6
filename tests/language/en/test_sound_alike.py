"""Phrases that are open at the same moment and mean something else sound different, and the coach offers those
that are easily heard. How alike phrases sound is told in `sounds`."""

from __future__ import annotations

import re
import tomllib
from importlib.resources import files
from itertools import combinations

import pytest

from coach.language import QUESTIONS, Question, Scene
from tests.language.en.sounds import close_pairs, distance
from tests.loaded import load

LEAST = 2.0  # phones; a pair of phrases that is closer is too close
LEAST_OFFERED = 2.5  # between phrases that the coach offers at once

LANGUAGE = load()
MOMENTS: list[tuple[Question, str]] = [(asked, "") for asked in QUESTIONS]
MOMENTS += [("other", about) for about in ("step", "colour", "front", "return")]
MOMENTS += [("piece", "placed"), ("claim", "line")]
MOMENTS += [("ready", "scramble"), ("other", "another")]
NUMBERS = tomllib.loads(files("coach.language").joinpath("en", "vocabulary.toml").read_text("utf-8"))["lists"]["number"]
TIMED: list[tuple[Question, str]] = [("other", "inspection"), ("other", "solve")]
"""Here the coach only waits for one word."""
MOMENT = pytest.mark.parametrize(
    ("asked", "about"), MOMENTS + TIMED, ids=["-".join(moment) for moment in MOMENTS + TIMED]
)


def meant_alike(one: str, other: str, asked: Question, about: str) -> bool:
    """Whether it does no harm to hear one for the other."""
    first, second = (LANGUAGE.understand(text, asked, Scene(about=about)) for text in (one, other))
    return one == other or (first is not None and first == second)


def are_numbers(one: str, other: str, asked: Question) -> bool:
    """Whether both are numbers of people in the same words around them: there are no other words for these."""
    first, second = (re.findall("|".join(NUMBERS), text) for text in (one, other))
    return asked == "hands" and bool(first and second)


@pytest.mark.parametrize(
    ("one", "other", "apart"),
    [
        ("no", "no", 0),
        ("speed up", "speak up", 0.5),  # D and K are both stops
        ("no", "go", 1),  # a nasal and a stop
        ("none", "one", 1),
        ("yes", "no", 3),  # both vowels differ in kind, and the S has to go
        ("a dot", "a line", 3),
        ("the dot", "a dot", 1),  # beginning with DH is the least of their pronunciations
        ("go back one", "next one", distance("go back", "next")),
    ],
)
def test_the_measure_tells_close_from_far(one: str, other: str, apart: float) -> None:
    assert distance(one, other) == apart
    assert distance(other, one) == apart


def test_of_many_phrases_the_close_pairs_are_found() -> None:
    assert {pair[1:] for pair in close_pairs(("wait", "right", "white", "stop", "a corner"), LEAST)} == {
        ("wait", "right"),
        ("wait", "white"),
        ("right", "white"),
    }


@MOMENT
def test_what_means_something_else_sounds_different(asked: Question, about: str) -> None:
    phrases = LANGUAGE.phrases(asked, Scene(about=about))
    too_close = [
        f'"{one}" and "{other}" are {apart} apart'
        for apart, one, other in sorted(close_pairs(phrases, LEAST))
        if not meant_alike(one, other, asked, about) and not are_numbers(one, other, asked)
    ]
    assert not too_close


@MOMENT
def test_what_is_offered_can_be_heard_and_is_far_from_the_rest(asked: Question, about: str) -> None:
    offers, phrases = LANGUAGE.offers(asked, Scene(about=about)), LANGUAGE.phrases(asked, Scene(about=about))
    assert offers
    assert set(offers) <= set(phrases)
    for one, other in combinations(offers, 2):
        assert not meant_alike(one, other, asked, about)
        assert distance(one, other) >= LEAST_OFFERED, (one, other)


# Which answers each sentence that says "say" offers, and where they must be open: a question with what it is about.
LOOKS: tuple[tuple[Question, str], ...] = (("look-top-edges", ""), ("look-top-corners", ""))
ANYWHERE = tuple(MOMENTS)
SAID: dict[str, tuple[tuple[str, ...], tuple[tuple[Question, str], ...]]] = {
    "lesson.rest": (("wait a moment",), ANYWHERE),
    "ask.step": (("bottom cross", "middle edges", "i'll read you the cube"), (("other", "step"),)),
    "ask.look-top-edges": (("a dot", "a line", "a corner", "a cross", "back and left"), LOOKS[:1]),
    "ask.look-top-edges-where": (("back and left",), LOOKS[:1]),
    "ask.look-top-corners": (("none", "one corner", "two corners", "all four", "front left"), LOOKS[1:]),
    "ask.look-top-corners-where": (("front left", "back left", "back right", "front right"), LOOKS[1:]),
    "ask.yes-no": (("yes", "no", "wait a moment"), (("claim", ""), ("other", ""))),
    "ask.ready": (("ready", "i am ready", "repeat that"), (("ready", ""),)),
    "class.loud": (("louder please", "softer please"), ANYWHERE),
    "class.not-there": ((), ()),  # it says when I say something
    "class.rest": (("wait a moment",), ANYWHERE),
    "class.ready": (("ready", "i am ready", "how do i hold it"), (("ready", ""),)),
    "class.solved-now": (("ready", "i am ready"), (("ready", ""),)),
    "class.together": ((), ()),  # what is to be said has just been told
    "scramble.ready": (("ready", "i am ready", "it's scrambled already"), (("ready", "scramble"),)),
    "stopwatch.how": (("start", "stop"), ()),  # each is open when it is time for it
    "stopwatch.ready": (("ready", "i am ready"), (("ready", ""),)),
    "stopwatch.still": (("stop", "i give up"), (("other", "solve"),)),
    "stopwatch.did-you-stop": ((), ()),
    "ask.continue": (("yes", "stop"), (("continue", ""),)),
    "ask.next": (("next", "repeat that"), (("turn", ""),)),
    "ask.still-there": (("yes",), (("continue", ""),)),
    "ask.more-time": (("repeat that",), ANYWHERE),
    "ask.colour": (("white", "smooth"), (("other", "colour"),)),
    "ask.colour-next": (("white", "smooth"), (("other", "colour"),)),
    "ask.piece": (("top layer front right white faces up",), (("piece", ""),)),
    "ask.piece-where": (("top layer front right white faces up",), (("piece", ""),)),
    "ask.face": (("wait a moment",), (("face", ""),)),
    "ask.row": (("white green orange",), (("row", ""),)),
    "lower.placed": (("no",), (("piece", "placed"),)),
    "hold.soon": (("wait",), (("ready", ""),)),
    "turn.on-word": (("next",), (("turn", ""),)),
    "turn.first-plain": ((), ()),  # tells, and offers nothing
    "reply.fast-enough": (("faster please",), ANYWHERE),
    "reply.slowest": (("on my word",), ANYWHERE),
    "reply.here": (("go on",), (("continue", ""),)),
    "stopwatch.waiting": (("ready",), (("ready", ""),)),
    "reply.waiting": (("go on",), (("continue", ""),)),
    "reply.waiting-unclear": (("repeat that",), ANYWHERE),
    "reply.confuse": ((), ()),  # any way to say that one cannot tell
    "reply.pain": (("go on",), (("continue", ""),)),
    "turn.stop-again": (("stop",), (("turn", ""),)),
    "turn.did-you": (("yes", "no"), (("other", "done"),)),
    "turn.not-yet": (("ready",), (("ready", ""),)),
    "turn.not-understood-ready": (("ready", "wait"), (("ready", ""),)),
    "turn.not-understood": (("next", "repeat that", "go back", "wait"), (("turn", ""),)),
    "do.alone": (("done", "give me a hint", "call it for me"), (("do", ""),)),
    "do.step": (("done", "give me a hint", "call it for me"), (("do", ""),)),
    "do.try": (("done", "give me a hint", "call it for me"), (("do", ""),)),
    "do.go-on": (("done", "give me a hint", "call it for me"), (("do", ""),)),
    "do.still": (("done", "give me a hint", "call it for me"), (("do", ""),)),
    "do.no-hurry": (("give me a hint", "call it for me"), (("do", ""),)),
    "do.mend": (("done", "call it for me"), (("do", ""),)),
    "do.right": (("yes", "no"), (("other", "right"),)),
    "do.begun": (("yes", "no"), (("other", "begun"),)),
    "do.begun-rest": (("yes", "no"), (("other", "begun"),)),
    "practice.solve-first": (("yes", "no"), (("other", "solve-first"),)),
    "practice.solve-last": (("yes", "no"), (("other", "solve-last"),)),
    "recite.ask": ((), ()),  # any style of call
    "recite.group": ((), ()),  # what is to be said has just been told
    "recite.go-on": ((), ()),
    "recite.mended": ((), ()),  # tells, and offers nothing
    "telling.ask-name": ((), ()),  # the answer is not to be given away
    "telling.ask-side": ((), ()),
    "telling.ask-way": ((), ()),
    **{f"telling.{key}": ((), ()) for key in ("ask-sequence", "ask-out", "ask-in", "ask-piece", "ask-step")},
    **{f"telling.own-{key}": ((), ()) for key in ("name", "side", "way", "sequence", "in", "out")},
    **{f"telling.more-{key}": ((), ()) for key in ("sequence", "out", "in", "step")},
    "telling.more-side": (("front left",), (("hold", ""),)),
    "by-heart.hint": (("tell me the whole sequence",), ANYWHERE),
    "switch.to-practice": (("stop now", "quiz me"), ANYWHERE),
    "switch.to-lesson": (("stop now",), ANYWHERE),
    "switch.practises": ((), ()),  # a wish, in any words
    "sound.headphones": (("yes", "no"), ()),
    "ask.front": ((), ()),  # the learner's own word
    "return.read": (("i'll read you the cube",), (("other", "step"),)),
    "reply.help": ((), ()),  # what it offers is filled in
    "reply.did-you-mean": ((), ()),
    "reply.did-you-say": ((), ()),  # what has just been heard is filled in
    "reply.unsure": (("wait a moment",), ANYWHERE),
    "reply.help-always": (
        ("repeat that", "wait a moment", "slow down", "speed up", "where are we", "stop now"), ANYWHERE
    ),
}  # fmt: skip
FILLED = {"colour": "white", "spot": "front right", "example": "white, green, orange"}


def sentences() -> dict[str, str]:
    """All that the coach may say, all forms of a sentence together, plain."""
    table = tomllib.loads(files("coach.language").joinpath("en", "phrases.toml").read_text("utf-8"))
    joined = {
        f"{section}.{name}": " ".join([form] if isinstance(form, str) else form)
        for section, entries in table.items()
        if section not in ("calls", "glossary", "meant")
        for name, form in entries.items()
        if isinstance(form, str | list)
    }
    for key, text in joined.items():
        for gap, words in FILLED.items():
            text = text.replace(f"{{{gap}}}", words)
        joined[key] = " ".join("".join(c if c.isalpha() or c in "' " else " " for c in text.lower()).split())
    return joined


def test_every_sentence_that_says_what_to_say_is_looked_at_here() -> None:
    # "Please say yes or no" needs no look: what is asked so is a claim or some other yes/no question.
    special = {key for key, text in sentences().items() if " say " in f" {text} ".replace(" please say ", " ")}
    assert special <= set(SAID), "put them into SAID, with what they offer and where that must be open"
    for asked in ("claim", "other"):
        assert {"yes", "no"} <= set(LANGUAGE.phrases(asked))


@pytest.mark.parametrize("key", sorted(set(SAID) & set(sentences())))
def test_what_the_coach_tells_to_say_can_be_heard(key: str) -> None:
    forms, moments = SAID[key]
    text = sentences()[key]
    for form in forms:
        assert form in text, "the sentence no longer offers it"
        for asked, about in moments:
            assert form in LANGUAGE.phrases(asked, Scene(about=about)), (form, asked, about)
