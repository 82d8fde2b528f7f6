"""What is common to all who speak: where they begin and end, hesitate, digress, and leave marks out."""

from __future__ import annotations

import re
from collections.abc import Sequence
from random import Random

MARK = "\ue000"
"""Stands behind a word, with the numbers of what it tells, until all words are in their places and can be counted."""
_MARKED = re.compile(MARK + r"(\d*)")


def options(text: str) -> tuple[str, ...]:
    """The ways of saying one thing, written with bars between them."""
    return tuple(text.split("|"))


OPENERS = options(
    "okay|ok so|so|well|um|uh|er|hmm|let me see|let me look|let's see|wait|hang on|hold on|one moment|oh|ah|yes|yeah"
    "|all right|here we go|righto|now|just a second|okay okay|now then|sure|mm|good|so then|well now|yep"
)
ENDERS = options(
    "I think|I'd say|I guess|I believe|I reckon|as far as I can see|as far as I can tell|yes|okay|mate|love|please"
    "|you know|I'm sure|I'm pretty sure|innit|isn't it|that's it|that's all|hope that helps|eh|if I'm not mistaken"
    "|thanks|dear|there you go|I promise|for sure|over|simple|easy|done|I checked|I looked again|definitely|haha|po"
    "|see|like|you see"
)
ASIDES = options(
    "the dog's barking|stop it, Biscuit|the kettle's boiling|sorry about the noise|my glasses are in the kitchen"
    "|I had to peek|I had to turn my wrist|sorry, the phone|that took me a while|it's dark in here|my hands are cold"
    "|not now, Tom|be quiet, you two|I'm coming, Mum|sorry, I sneezed|the light's bad|I dropped it nearly"
    "|this is fun|my fingers are stiff today|someone's at the door|where was I|I love this|I need more light"
    "|it's so shiny|the baby's awake|no, that's my tea|mind the cat|these stickers are old"
    "|I'm getting better at this|give me that back, Leo|the radio's too loud|what a day|I nearly lost count"
    "|I'm tired|it's a bit scratched"
)
FILLERS = options("um|uh|er|erm|hmm|like|you know|let me see|what's it called|how do you say|well|I mean it's|okay")
RETRACTIONS = options(
    "no|no wait|no, sorry|sorry|I mean|wait, no|no, no|oops|or rather|no, I mean|ah no|correction|sorry, I meant"
    "|um, no|not that|wait|hang on, no|no, it's|scratch that|actually no|my mistake|let me correct that|oh no|er, no"
)
_STUTTERED = frozenset(["the", "it's", "in", "on", "and", "at", "its", "is", "to"])
_MARKS = re.compile(r"[.,!?;:]+")
_SENTENCES = re.compile(r"(^|[.!?] )([a-z])")
_LOOSE = re.compile(r" +([.,!?;:])")
_DOUBLED = re.compile(r"([.!?])[.,!?;:]*,|,([.,!?;:])")


def numbered(text: str) -> tuple[str, dict[int, int]]:
    """The text without marks, and which word (of text.split()) tells each number that stood in them."""
    told = {
        int(number): at
        for at, word in enumerate(text.split())
        if (found := _MARKED.search(word))
        for number in found[1]
    }
    return _MARKED.sub("", text), told


def choose(random: Random, *ways: str) -> str:
    """One of the ways of saying it."""
    return ways[int(random.random() * len(ways))]


def one_of(random: Random, ways: Sequence[str]) -> str:
    """One of the ways in a table."""
    return ways[int(random.random() * len(ways))]


def hesitant(random: Random, text: str) -> str:
    """With fillers between words, or a small word said twice."""
    words = text.split(" ")
    for _ in range(1 + (random.random() < 0.3)):
        at = int(random.random() * len(words))
        if words[at].lower() in _STUTTERED and random.random() < 0.6:
            words.insert(at, words[at])
        elif random.random() < 0.7:
            filler = one_of(random, FILLERS[:8])
            words.insert(at, choose(random, f"{filler},", f"{filler}...", filler))
            if at and words[at - 1][-1] not in ".,!?:;":
                words[at - 1] += ","
        else:
            words[at] += "..." if words[at][-1:].isalnum() else ""
    return " ".join(words)


def framed(random: Random, text: str, openers: Sequence[str] = OPENERS, asides: Sequence[str] = ASIDES) -> str:
    """With a beginning, an end, or an aside, each now and then."""
    if random.random() < 0.22:
        text = one_of(random, openers) + choose(random, ", ", ", ", " ", "... ") + text
    draw = random.random()
    if draw < 0.12:
        text = text.rstrip(".") + ", " + one_of(random, ENDERS)
    elif draw < 0.18:
        text = text.rstrip(".") + ". " + one_of(random, asides)
    elif draw < 0.21:
        text = one_of(random, asides) + ". " + text
    elif draw < 0.23:
        text = text.rstrip(".") + "! " + choose(random, "ha", "next", "what now", "is that good", "like that", "easy")
    return text


def written(random: Random, text: str) -> str:
    """With marks and capitals as some write them, and others or a recogniser do not."""
    text = _DOUBLED.sub(lambda found: found[1] or found[2], _LOOSE.sub(r"\1", " ".join(text.split()))).rstrip(" ,;")
    draw = random.random()
    if draw < 0.18:
        return _MARKS.sub("", text).lower()
    if draw < 0.25:
        return text.lower()
    if draw < 0.32:
        text = text.replace(", ", choose(random, ". ", "... "), 1)
    if text[-1:].isalnum() and random.random() < 0.9:
        text += "." if random.random() < 0.9 else "!"
    return _SENTENCES.sub(lambda found: found[1] + found[2].upper(), text)


def said(random: Random, text: str, hesitation: float = 0.2) -> str:
    """The text as somebody says it: framed, perhaps hesitant, and written down."""
    if random.random() < hesitation:
        text = hesitant(random, text)
    return written(random, framed(random, text))
