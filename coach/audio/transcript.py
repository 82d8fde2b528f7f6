"""An answer in the learner's own words: several ways to write it down, settled by what they mean."""

import math
import re
from collections import defaultdict
from collections.abc import Callable, Hashable, Sequence
from dataclasses import replace

from coach.audio.recogniser import Alternative, Heard
from coach.audio.wav import RATE

BEAMS = 6
SPACE = 3 * RATE  # samples of silence after the sound: with less the model says everything twice
SURE = 0.5  # a meaning with a smaller share of the probability is not understood
_FEWEST = 3  # words that must come again for it to be a loop, not an answer like "yes no yes no"

# What could have been said before: the model leans towards the words of this text.
_BEFORE = (
    "A line from left to right, two edges, front and back. The back left corner. A dot, a cross, yellow, front right."
)

# The same sounds as words of the lesson, in places where only those make sense.
_SAME_SOUND = (
    (re.compile(r"\bknow\b", re.I), "no"),
    (
        re.compile(r"\bto(?=(?: (?:yellow|of|corners?|edges?|ones|facing|more|at|on|in)\b|[,.]|$))", re.I),
        "two",
    ),
    (re.compile(r"\ba cross,? (?=no\b|yes\b)", re.I), "across "),
)


def context(vocabulary: Sequence[str] = ()) -> str:
    """The text to put before an answer; the words of `vocabulary` become likelier too."""
    return f"{', '.join(vocabulary)}. {_BEFORE}" if vocabulary else _BEFORE


def heard(written: Sequence[tuple[str, float]], engine: str) -> Heard:
    """Texts with their log probabilities as one result with alternatives, likeliest first."""
    weights: defaultdict[str, float] = defaultdict(float)
    for text, log in written:
        weights[mend(text)] += math.exp(log)
    whole = sum(weights.values())
    best, *rest = sorted(weights, key=lambda text: -weights[text]) or [""]
    if not best or not whole:
        return Heard("", 0.0, engine)
    others = tuple(Alternative(text, weights[text] / whole) for text in rest if text)
    return Heard(best, weights[best] / whole, engine, others)


def settle(heard: Heard, meaning: Callable[[str], Hashable | None]) -> Heard:
    """The text of the meaning that has the most probability.

    `meaning` of a text is None where it tells nothing. With less than SURE, or where nothing is told,
    nothing useful was heard. Texts of the same meaning count together; the rest are the alternatives.
    """
    texts = [Alternative(heard.text, heard.confidence), *heard.alternatives]
    shares: defaultdict[Hashable, float] = defaultdict(float)
    meanings = [meaning(one.text) if one.text else None for one in texts]
    for one, meant in zip(texts, meanings, strict=True):
        if meant is not None:
            shares[meant] += one.confidence
    best = max(shares, key=lambda meant: shares[meant], default=None)
    if best is None or shares[best] < SURE:
        return replace(heard, text="", alternatives=tuple(texts) if heard.text else ())
    chosen = texts[meanings.index(best)]
    others = tuple(one for one, meant in zip(texts, meanings, strict=True) if meant != best)
    return Heard(chosen.text, min(shares[best], 1.0), heard.engine, others)


def mend(text: str) -> str:
    """A text without what the model said twice over, and with the lesson's spelling of same sounds."""
    for pattern, word in _SAME_SOUND:
        text = pattern.sub(word, text)
    said = text.split()
    plain = [word.strip(".,;!?").lower() for word in said]
    for length in range(_FEWEST, len(said) // 2 + 1):
        if plain[:length] == plain[length : 2 * length] and len(set(plain[:length])) > 2:
            return " ".join(said[:length])
    return text
