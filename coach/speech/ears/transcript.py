"""An answer in the learner's own words, as several transcripts."""

import math
from collections import defaultdict
from collections.abc import Callable, Sequence

from coach.speech.ears.recogniser import Alternative, Transcript
from coach.speech.signal.wav import RATE

BEAMS = 6
SPACE = 3 * RATE  # samples of silence after the sound; with less the model says everything twice
# Log probability per token of the likeliest text; below this nothing intelligible was said. On 25 November 2026
# descriptions by 18 synthetic voices had -0.05 to -0.75, background and noise -1.1 and less, pieces of the talk of six
# people -0.8 and less. The second limit is for one or two words and for sound that hardly stands out.
FLUENT, FLUENT_SURELY = -0.8, -0.5
_FEWEST = 3  # a repetition of at least this many words is a loop, and no answer like "yes no yes no"


def heard(written: Sequence[tuple[str, float]], engine: str) -> Transcript:
    """Combine texts and their log probabilities into one result with alternatives, likeliest first."""
    return _ranked([(text, math.exp(log)) for text, log in written], engine)


def respelled(heard: Transcript, respell: Callable[[str], str]) -> Transcript:
    """The same with every text respelled; texts that become equal are added up."""
    texts = [(heard.text, heard.confidence), *((one.text, one.confidence) for one in heard.alternatives)]
    return _ranked([(respell(text), share) for text, share in texts], heard.engine)


def _ranked(texts: Sequence[tuple[str, float]], engine: str) -> Transcript:
    weights: defaultdict[str, float] = defaultdict(float)
    for text, weight in texts:
        if text:  # the model sometimes starts with the end token
            weights[text] += weight
    whole = sum(weights.values())
    if not whole:
        return Transcript("", 0.0, engine)
    best, *rest = (Alternative(text, weights[text] / whole) for text in sorted(weights, key=lambda t: -weights[t]))
    return Transcript(best.text, best.confidence, engine, tuple(rest))


def merged(*writings: Transcript) -> Transcript:
    """Merge several transcripts of the same sound; each counts equally, even an empty one."""
    shares: defaultdict[str, float] = defaultdict(float)
    for heard in writings:
        for text in texts(heard):
            shares[text.text] += text.confidence / len(writings)
    ranked = sorted((Alternative(*each) for each in shares.items()), key=lambda text: -text.confidence)
    if not ranked:
        return Transcript("", 0.0, writings[0].engine)
    return Transcript(ranked[0].text, ranked[0].confidence, writings[0].engine, tuple(ranked[1:]))


def texts(heard: Transcript) -> list[Alternative]:
    """All writings with their shares."""
    return [Alternative(heard.text, heard.confidence), *heard.alternatives] if heard.text else [*heard.alternatives]


def echo(text: str) -> tuple[int, int]:
    """Where the end of the text says again what stands just before it: the numbers of the word at which the first of
    the two begins, and the second; the shortest such words. (0, 0) if it does not."""
    plain = [word.strip(".,;!?").lower() for word in text.split()]
    for length in range(1, len(plain) // 2 + 1):
        if plain[-length:] == plain[-2 * length : -length]:
            return len(plain) - 2 * length, len(plain) - length
    return 0, 0


def once(text: str) -> str:
    """The text without a repetition by the model."""
    said = text.split()
    plain = [word.strip(".,;!?").lower() for word in said]
    for length in range(_FEWEST, len(said) // 2 + 1):
        if plain[:length] == plain[length : 2 * length] and len(set(plain[:length])) > 2:
            return " ".join(said[:length])
    return text
