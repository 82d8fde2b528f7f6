"""How people say the same thing: dialects, first languages, children, mumblers, hesitation, a recogniser's writing.

A manner changes words and order of saying, never what is meant: no word that denies, counts or names is left out.
"""

from __future__ import annotations

import random as rnd
import re
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from importlib.resources import files
from tomllib import loads

from coach.language.en.answers.phrasing import capitals, tidy

Manner = Callable[[rnd.Random, str], str]

_WORD = re.compile(r"[\w']+")
_BARE = re.compile(r"[^\w' ]+")
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
_FILLERS = ("um", "er", "uh", "like", "erm", "you know", "hmm", "I mean", "kind of", "so", "well", "let me see")
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


def say_as_people_do(random: rnd.Random, text: str) -> str:
    """The text in some speaker's manner, written as they or a recogniser would."""
    for manner, share in _MANNERS:
        if random.random() < share:
            text = manner(random, text)
    return _written(random, tidy(text))


@lru_cache(1)
def _dialects() -> Sequence[tuple[Mapping[str, Sequence[str]], Sequence[str], Sequence[str]]]:
    """The words of each way of speaking, and what its speakers say before and after a sentence."""
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


def _dialect(random: rnd.Random, text: str) -> str:
    words, before, after = random.choice(_dialects())
    text = _swap({word: random.choice(said) for word, said in words.items()}, text).replace("t' ", "t'")
    if random.random() < 0.3:
        text = f"{random.choice(before)}, {lowered(text)}"
    if random.random() < 0.35:
        end = text[-1] if text[-1:] in "?!." else ""
        text = f"{text.rstrip('?!.')}, {random.choice(after)}{end}"
    return text


def _learner(random: rnd.Random, text: str) -> str:
    """Articles, forms of "be", endings and tenses as in many first languages."""
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


def _in_full(_: rnd.Random, text: str) -> str:
    return _swap(_FULL, text)


def _mumbling(_: rnd.Random, text: str) -> str:
    return _swap(_MUMBLED, _ING.sub(r"\1in'", text.replace("give me", "gimme").replace("let me", "lemme")))


def _hesitating(random: rnd.Random, text: str) -> str:
    words = text.split()
    for _ in range(random.choice((1, 1, 2))):
        words.insert(random.randrange(len(words) + 1), random.choice(_FILLERS) + random.choice((",", "")))
    return " ".join(words)


def _repeating(random: rnd.Random, text: str) -> str:
    """A word said twice, as children, stutterers and people in a hurry do."""
    words = text.split()
    at = random.randrange(len(words))
    if _WORD.fullmatch(words[at]):
        words[at:at] = [words[at]] * random.choice((1, 1, 2))
    return " ".join(words)


_MANNERS: Sequence[tuple[Manner, float]] = (
    (_dialect, 0.2),
    (_learner, 0.15),
    (_in_full, 0.12),
    (_mumbling, 0.04),
    (_hesitating, 0.1),
    (_repeating, 0.06),
)


def lowered(text: str) -> str:
    """The text as it follows a comma: "I" and names in capitals keep theirs."""
    first = text.split(" ", 1)[0]
    return text if first.split("'")[0].rstrip(",.") == "I" else text[:1].lower() + text[1:]


def _written(random: rnd.Random, text: str) -> str:
    """Sentences, hasty typing, or the bare words that a recogniser writes down."""
    style = random.random()
    if style < 0.2:
        return " ".join(_BARE.sub(" ", text).lower().split())
    if style < 0.3:
        return text.lower().rstrip(".")
    text = capitals(text)
    if text[-1:] not in ".?!":
        text += random.choice("??!." if _ASKING.match(_SENTENCE.split(text)[-1]) else "...! ")
    return text.strip()
