"""How people say things: how they begin and end, dialects, first languages, hesitation, a recogniser's transcript.

A manner changes words and their order, never the meaning: no word that denies, counts or names is left out. Words that
carry marks (see marks.py) keep them wherever they move.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from importlib.resources import files
from random import Random
from tomllib import loads

from coach.language.en.answers.marks import MARK
from coach.language.en.answers.phrasing import capitals, choose, options, pick, tidy

Manner = Callable[[Random, str], str]

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
FILLERS = options("um|uh|er|erm|hmm|like|you know|let me see|well")
RETRACTIONS = options(
    "no|no wait|no, sorry|sorry|I mean|wait, no|no, no|oops|or rather|no, I mean|ah no|correction|sorry, I meant"
    "|um, no|not that|wait|hang on, no|no, it's|scratch that|actually no|my mistake|let me correct that|oh no|er, no"
)
_STUTTERED = frozenset(
    ["the", "it's", "in", "on", "and", "at", "its", "is", "to", "a", "i", "my", "it", "there's", "from", "so", "that"]
)
_MARKS = re.compile(r"[.,!?;:…]+")
_WORD = re.compile(r"[\w']+")
_SENTENCE = re.compile(r"[.!?]\s+")
_ASKING = re.compile(
    r"(?:(?:but|and|so|well|sorry|um|er|oh|ah|hmm|okay|now)\W+)*"
    r"(?:what|why|how|which|where|when|who|can|could|would|will|may|shall|should|do|does|did|is|are|am|was|have|must)\b"
    r"(?!n't)",
    re.IGNORECASE,
)
_ARTICLES = re.compile(r"(?<=\s)(?:the|a|an)\s+", re.IGNORECASE)
_BE = re.compile(r"\b(it|that|this|there|I|they|we|you)'(?:s|m|re)\b", re.IGNORECASE)
_IT_IS = re.compile(r"\bit's\b", re.IGNORECASE)
_ING = re.compile(r"\b(\w{2,})ing\b")
_CLIPPED = re.compile(r"\bt' (?=\w+\b(?!" + MARK + "))")
_SINGULAR = {"turns": "turn", "edges": "edge", "corners": "corner", "layers": "layer", "colours": "colour"}
_PRESENT = {
    "did": "do", "was": "is", "were": "are", "turned": "turn", "went": "go", "made": "make", "said": "say",
    "has": "have", "does": "do", "lost": "lose", "heard": "hear", "forgot": "forget",
}  # fmt: skip
_FULL = {
    "it's": "it is", "i'm": "I am", "i've": "I have", "that's": "that is", "don't": "do not", "isn't": "is not",
    "can't": "cannot", "doesn't": "does not", "aren't": "are not", "there's": "there is", "didn't": "did not",
    "you're": "you are", "i'll": "I will", "i'd": "I would", "haven't": "have not", "what's": "what is",
    "wasn't": "was not", "couldn't": "could not", "let's": "let us", "they're": "they are", "won't": "will not",
}  # fmt: skip
_MUMBLED = {"them": "'em", "because": "cause", "of": "o'", "about": "'bout", "and": "an'", "it's": "s'", "yes": "yeh",
            "probably": "prob'ly", "perhaps": "p'raps"}  # fmt: skip


def said(random: Random, text: str, asides: Sequence[str] = ASIDES) -> str:
    """The text with a beginning and an end, in some speaker's manner, in writing."""
    return say_as_people_do(random, framed(random, text, asides=asides))


def say_as_people_do(random: Random, text: str) -> str:
    """The text in some speaker's manner, as written by them or by a recogniser."""
    text = accented(random, text)
    return written(random, hesitant(random, text) if random.random() < 0.15 else text)


def accented(random: Random, text: str) -> str:
    """The text as said by somebody from some place, of some age or with some first language."""
    for manner, share in _MANNERS:
        if random.random() < share:
            text = manner(random, text)
    return text


def framed(random: Random, text: str, openers: Sequence[str] = OPENERS, asides: Sequence[str] = ASIDES) -> str:
    """Sometimes add a beginning, an end, or an aside."""
    if random.random() < 0.22:
        text = pick(random, openers) + choose(random, ", ", ", ", " ", "... ") + text
    draw = random.random()
    if draw < 0.12:
        text = text.rstrip(".") + ", " + pick(random, ENDERS)
    elif draw < 0.18:
        text = text.rstrip(".") + ". " + pick(random, asides)
    elif draw < 0.21:
        text = pick(random, asides) + ". " + text
    elif draw < 0.23:
        text = text.rstrip(".") + "! " + choose(random, "ha", "next", "what now", "is that good", "like that", "easy")
    return text


def hesitant(random: Random, text: str) -> str:
    """Add fillers between words, or repeat a small word."""
    words = text.split()
    for _ in range(1 + (random.random() < 0.3)):
        at = int(random.random() * len(words))
        if words[at].lower() in _STUTTERED and random.random() < 0.6:
            words[at:at] = [words[at]] * pick(random, (1, 1, 2))
        elif random.random() < 0.7:
            filler = pick(random, FILLERS)
            words.insert(at, choose(random, f"{filler},", f"{filler}...", filler))
            if at and words[at - 1][-1] not in ".,!?:;":
                words[at - 1] += ","
        else:
            words[at] += "..." if words[at][-1:].isalnum() else ""
    return " ".join(words)


def written(random: Random, text: str) -> str:
    """Sentences with punctuation and capitals, hasty typing, or a recogniser's bare words."""
    text, style = tidy(text), random.random()
    if style < 0.19:
        return " ".join(_MARKS.sub(" ", text).lower().split())
    if style < 0.27:
        return text.lower().rstrip(".")
    if style < 0.32:
        text = capitals(text.replace(", ", choose(random, ". ", "... "), 1))
    if text[-1:] not in ".?!":
        text += pick(random, "??!." if _ASKING.match(_SENTENCE.split(text)[-1]) else "......! ")
    return text.strip()


def lowered(text: str) -> str:
    """The text as it follows a comma: "I" and names in capitals stay as they are."""
    first = text.split(" ", 1)[0]
    return text if first.split("'")[0].rstrip(",.") == "I" else text[:1].lower() + text[1:]


@lru_cache(1)
def _dialects() -> Sequence[tuple[Mapping[str, Sequence[str]], Sequence[str], Sequence[str]]]:
    """The words of each dialect, and what its speakers say before and after a sentence."""
    tables: dict[str, dict[str, list[str]]] = loads(
        files(__package__).joinpath("manner.toml").read_text(encoding="utf-8")
    )
    return [
        ({word: said.split("|") for word, said in (entry.split("=") for entry in table["words"])},
         table["before"], table["after"])
        for table in tables.values()
    ]  # fmt: skip


def _swap(words: Mapping[str, str], text: str) -> str:
    return _WORD.sub(lambda found: words.get(found.group().lower(), found.group()), text)


def _dialect(random: Random, text: str) -> str:
    words, before, after = pick(random, _dialects())
    text = _CLIPPED.sub("t'", _swap({word: pick(random, ways) for word, ways in words.items()}, text))
    if random.random() < 0.3:
        text = f"{pick(random, before)}, {lowered(text)}"
    if random.random() < 0.35:
        end = text[-1] if text[-1:] in "?!." else ""
        text = f"{text.rstrip('?!.')}, {pick(random, after)}{end}"
    return text


def _learner(random: Random, text: str) -> str:
    """Use articles, forms of "be", endings and tenses as speakers of many first languages do."""
    if random.random() < 0.7:
        text = _ARTICLES.sub("", text)
    if random.random() < 0.3:
        text = _IT_IS.sub("is", text)
    if random.random() < 0.25:
        text = _BE.sub(r"\1", text)
    if random.random() < 0.3:
        text = _swap(_SINGULAR, text)
    if random.random() < 0.3:
        text = _swap(_PRESENT, text)
    return text


def _in_full(_: Random, text: str) -> str:
    return _swap(_FULL, text)


def _mumbling(_: Random, text: str) -> str:
    return _swap(_MUMBLED, _ING.sub(r"\1in'", text.replace("give me", "gimme").replace("let me", "lemme")))


_MANNERS: Sequence[tuple[Manner, float]] = (
    (_dialect, 0.2),
    (_learner, 0.15),
    (_in_full, 0.12),
    (_mumbling, 0.04),
)
