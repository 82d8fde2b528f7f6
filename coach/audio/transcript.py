"""An answer in the learner's own words: several ways to write it down, settled by what they mean."""

import math
from collections import defaultdict
from collections.abc import Callable, Hashable, Sequence
from dataclasses import replace

from coach.audio.recogniser import Alternative, Heard
from coach.audio.wav import RATE

BEAMS = 6
SPACE = 3 * RATE  # samples of silence after the sound: with less the model says everything twice
SURE = 0.5  # a meaning with a smaller share of the probability is not understood
_FEWEST = 3  # words that must come again for it to be a loop, not an answer like "yes no yes no"


def heard(written: Sequence[tuple[str, float]], engine: str) -> Heard:
    """Texts with their log probabilities as one result with alternatives, likeliest first."""
    return _ranked([(once(text), math.exp(log)) for text, log in written], engine)


def respelled(heard: Heard, respell: Callable[[str], str]) -> Heard:
    """The same with every text in another spelling; those that become alike count together."""
    texts = [(heard.text, heard.confidence), *((one.text, one.confidence) for one in heard.alternatives)]
    return _ranked([(respell(text), share) for text, share in texts], heard.engine)


def _ranked(texts: Sequence[tuple[str, float]], engine: str) -> Heard:
    weights: defaultdict[str, float] = defaultdict(float)
    for text, weight in texts:
        if text:  # the model now and then begins with the end
            weights[text] += weight
    whole = sum(weights.values())
    if not whole:
        return Heard("", 0.0, engine)
    best, *rest = (Alternative(text, weights[text] / whole) for text in sorted(weights, key=lambda t: -weights[t]))
    return Heard(best.text, best.confidence, engine, tuple(rest))


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


def once(text: str) -> str:
    """A text without what the model wrote twice over."""
    said = text.split()
    plain = [word.strip(".,;!?").lower() for word in said]
    for length in range(_FEWEST, len(said) // 2 + 1):
        if plain[:length] == plain[length : 2 * length] and len(set(plain[:length])) > 2:
            return " ".join(said[:length])
    return text
