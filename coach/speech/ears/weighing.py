"""Which phrase of the moment an utterance was, according to Whisper.

The model gives a posterior over all that could be said. A phrase gets the share of all its spellings, relative to their
prior where nothing can be made out: words that the model hears in everything need more evidence. The share left for
other words tells whether to believe the result.
"""

import math
import re
import tomllib
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import SequenceMatcher
from functools import cached_property, lru_cache
from importlib import resources
from typing import Any

import numpy as np

from coach.speech.ears.whisper import Free, Logs

Tokens = tuple[int, ...]
Likelihoods = Callable[[Sequence[Tokens]], Sequence[Sequence[float]]]
"""The log probability of each token of some texts, given the tokens before it."""
Steps = Mapping[Tokens, Sequence[float]]  # these for each spelling of a phrase, at least for its first tokens

_MOST = 5  # phrases that are examined word by word
_WAYS = 2  # spellings examined of each
_FAR = 6.0  # a phrase further behind the best than this many nats does not count
_FAINT = 2.5  # nats; leave out spellings whose first token is this much less likely than the best
_NUMBERS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_DIGITS = {word: str(digit) for digit, word in enumerate(_NUMBERS)}
_SAME_SOUND = {"a line": "align"}  # phrases that sound like a single word
_I = re.compile(r"\bi\b")
_CONTRACTED = (
    ("it is", "it's"), ("is not", "isn't"), ("do not", "don't"), ("did not", "didn't"), ("are not", "aren't"),
    ("I am", "I'm"), ("they are", "they're"), ("there is", "there's"), ("that is", "that's"), ("can not", "can't"),
    ("I have", "I've"), ("what is", "what's"), ("where is", "where's"), ("let us", "let's"),
)  # fmt: skip
_APART = re.compile(r"^(yes|no|okay|oh|well|sorry) ")  # words that are written with a comma after them
_NOT_WORDS = re.compile(r"[^a-z0-9']+")
# Nats that a phrase loses if it is only the beginning of the transcript ("it is a line", in "it is a line from left to
# right"); what follows a yes or no seldom takes it back. Chosen, not fitted: single recorded words hardly go on.
_GOES_ON, _GOES_ON_ALIKE = 9.0, 3.0
_NEVER = -25.0  # log probability of the practically impossible


@dataclass(frozen=True)
class Background:
    """The prior: log probabilities of first tokens where nothing can be made out."""

    known: Mapping[int, float]
    other: float

    @classmethod
    @lru_cache(maxsize=1)
    def load(cls) -> "Background":
        """The measured prior that comes with the package."""
        text = resources.files(__package__).joinpath("whisper_background.toml").read_text("utf-8")
        data: dict[str, Any] = tomllib.loads(text)
        nats = [-tenths / 10 for tenths in data["tenths"]]
        return cls(dict(zip(data["tokens"], nats, strict=True)), nats[-1])

    def share(self, tokens: Sequence[int]) -> float:
        """The log probability that one of the tokens comes first."""
        return total([self.known.get(token, self.other) for token in tokens])

    @cached_property
    def table(self) -> tuple[np.ndarray, np.ndarray]:
        """The known tokens and their log probabilities, as arrays."""
        return np.fromiter(self.known.keys(), np.int64), np.fromiter(self.known.values(), np.float64)


@dataclass(frozen=True)
class Weighed:
    """A phrase with its evidence: in nats, the log ratio of its share among all that could have been said to its prior
    share."""

    text: str
    evidence: float


@dataclass(frozen=True)
class Spelled:
    """The spellings that the model uses for a phrase, as tokens."""

    text: str
    ways: tuple[Tokens, ...]

    @property
    def firsts(self) -> tuple[int, ...]:
        """The tokens with which it can begin."""
        return tuple(dict.fromkeys(way[0] for way in self.ways))

    @property
    def whole(self) -> bool:
        """Whether every spelling that counts is one token, so that the first token decides everything."""
        return all(len(way) == 1 for way in self.ways)


def spell(phrase: str, tokens: Callable[[str], Sequence[int]]) -> Spelled:
    """A phrase in all spellings that the model uses."""
    capital = _capital(phrase)
    texts = [phrase, capital, phrase.upper(), *([_DIGITS[phrase]] if phrase in _DIGITS else [])]
    ways = [tuple(tokens(f" {text}")) for text in texts] + [tuple(tokens(text)) for text in (phrase, capital)]
    # If one token is a whole spelling, spellings in pieces ("S-T-OP") are hardly ever written.
    if whole := [way for way in ways if len(way) == 1]:
        return Spelled(phrase, tuple(dict.fromkeys(whole)))
    return Spelled(phrase, tuple(dict.fromkeys(tuple(tokens(text)) for text in _sentences(phrase))))


def _sentences(phrase: str) -> list[str]:
    """Spellings of a phrase of several words: with capitals, contracted, with a comma, as it sounds."""
    plain = _I.sub("I", phrase)
    forms = [plain, *(plain.replace(long, short, 1) for long, short in _CONTRACTED if long in f"{plain} ")]
    texts = [text for form in forms for text in (form, _capital(form))]
    if _APART.match(phrase):
        texts += [_capital(form).replace(" ", ", ", 1) for form in forms]
    if len(set(plain.split())) == 1:  # "green green green"
        texts.append(_capital(plain).replace(" ", ", "))
    same = _SAME_SOUND.get(phrase)
    alike = [f" {same}", f" {_capital(same)}", same] if same else []
    return [*(f" {text}" for text in texts), *alike]


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def weigh(
    phrases: Sequence[Spelled],
    free: Free,
    background: Background,
    likelihoods: Likelihoods,
) -> list[Weighed]:
    """The phrases by decreasing evidence.

    `likelihoods` is called only for the phrases of several tokens that are in question.
    """
    begun = {phrase.text: _first(phrase, free.first, background) for phrase in phrases}
    heard = words(free.text)
    if all(phrase.whole for phrase in phrases):
        return _ranked(begun.values(), heard)
    wanted = {phrase: _likely(phrase, free) for phrase in _in_question(phrases, begun, once(heard))}
    steps: dict[Tokens, Sequence[float]] = {}
    for phrase, ways in wanted.items():
        steps |= {way: _told(way, phrase, free) for way in ways}
    asked = _untold(wanted, steps, background)
    steps |= dict(zip(asked, likelihoods(asked), strict=True))
    weighed = []
    for phrase, ways in wanted.items():
        share = total([float(free.first[way[0]]) + sum(steps[way][1:]) + _ends(way, steps) for way in ways])
        weighed.append(Weighed(phrase.text, share - background.share(phrase.firsts)))
    return _ranked(weighed, heard)


def _told(way: Tokens, phrase: Spelled, free: Free) -> list[float]:
    """The log probabilities of a spelling's tokens as far as the free text provides them: while both agree (apart from
    a capital), it also provides the token after."""
    told = [float(free.first[way[0]])]
    for at, logs in enumerate(free.then[: len(way) - 1], 1):
        if free.tokens[0] not in phrase.firsts or free.tokens[1:at] != way[1:at]:
            break
        told.append(float(logs[way[at]]))
    return told


def _untold(wanted: Mapping[Spelled, list[Tokens]], told: Steps, background: Background) -> list[Tokens]:
    """The spellings that must be examined: of phrases that the free text neither covers in full nor shows to be far
    behind."""
    most = {
        phrase: total([sum(told[way]) for way in ways]) - background.share(phrase.firsts)
        for phrase, ways in wanted.items()
    }
    settled = [most[phrase] for phrase, ways in wanted.items() if all(len(told[way]) == len(way) for way in ways)]
    least = max(settled, default=-math.inf) - _FAR
    near = [way for phrase, ways in wanted.items() if most[phrase] >= least for way in ways]
    return [way for way in dict.fromkeys(near) if len(told[way]) < len(way)]


def is_another(best: Weighed, phrases: Sequence[Spelled], first: Logs, background: Background) -> bool:
    """Whether another phrase is likelier than `best` by these log probabilities of first tokens, which only decide
    between phrases of one token."""
    begun = {phrase.text: _first(phrase, first, background).evidence for phrase in phrases if phrase.whole}
    return best.text in begun and max(begun.values()) > begun[best.text]


def _ranked(weighed: Iterable[Weighed], heard: tuple[str, ...]) -> list[Weighed]:
    """Sorted by evidence, with a penalty for a phrase after which the transcript goes on."""
    fair = [replace(one, evidence=one.evidence - _cut_short(words(one.text), heard)) for one in weighed]
    return sorted(fair, key=lambda one: -one.evidence)


def _cut_short(said: tuple[str, ...], heard: tuple[str, ...]) -> float:
    """The penalty for a phrase that comes within the first few words and is followed by at least two others."""
    begins = [at for at in range(4) if heard[at : at + len(said)] == said]
    if not begins or len(set(heard[begins[0] + len(said) :]) - set(said)) < 2:
        return 0.0
    return _GOES_ON_ALIKE if said in (("yes",), ("no",)) else _GOES_ON


def _in_question(phrases: Sequence[Spelled], begun: Mapping[str, Weighed], heard: tuple[str, ...]) -> list[Spelled]:
    """The few phrases worth examining word by word: those with the best beginnings.

    Later tokens can only take evidence away, so a phrase that begins far worse than one that is complete with its first
    token is out.
    """
    continued = {way[0] for phrase in phrases for way in phrase.ways if len(way) > 1}
    settled = [begun[one.text].evidence for one in phrases if one.whole and not continued & {*one.firsts}]
    least = max(settled, default=-math.inf) - _FAR
    near = [phrase for phrase in phrases if begun[phrase.text].evidence >= least]
    return sorted(near, key=lambda phrase: -_promise(begun[phrase.text], heard))[:_MOST]


def _likely(phrase: Spelled, free: Free) -> list[Tokens]:
    """The spellings that contribute to the share of a phrase: those most like the free text."""
    best = max(float(free.first[way[0]]) for way in phrase.ways)
    near = [way for way in phrase.ways if free.first[way[0]] > best - _FAINT]
    return sorted(near, key=lambda way: -SequenceMatcher(None, way, free.tokens, autojunk=False).ratio())[:_WAYS]


def words(text: str) -> tuple[str, ...]:
    """The plain words of a text: lower case, no punctuation, digits as words; "to" and "too" become "two"."""
    names = {digit: word for word, digit in _DIGITS.items()} | {"to": "two", "too": "two"}
    return tuple(names.get(word, word) for word in _NOT_WORDS.sub(" ", text.lower()).split())


def once(heard: tuple[str, ...]) -> tuple[str, ...]:
    """The words up to where they repeat: unconstrained, the model says what it has heard over and over. One repeated
    word may be an answer ("green green green")."""
    again = (at for at in range(2, len(heard) - 1) if heard[at : at + 2] == heard[:2] and len(set(heard[:2])) == 2)
    return heard[: next(again, len(heard))]


def total(logs: Sequence[float]) -> float:
    """The log of a sum of probabilities given by their logs."""
    highest = max(logs)
    return highest + math.log(sum(math.exp(one - highest) for one in logs))


def _first(phrase: Spelled, first: Logs, background: Background) -> Weighed:
    share = total([float(first[token]) for token in phrase.firsts])
    return Weighed(phrase.text, share - background.share(phrase.firsts))


def _promise(begun: Weighed, heard: tuple[str, ...]) -> float:
    """How much a phrase deserves a closer look: by its beginning and its likeness to the free text."""
    alike = SequenceMatcher(None, begun.text, " ".join(heard), autojunk=False).ratio()
    return begun.evidence + 6 * alike


def _ends(way: Tokens, steps: Steps) -> float:
    """The log probability that no longer phrase goes on from here."""
    goes_on = {
        longer[len(way)]: math.exp(chances[len(way)])
        for longer, chances in steps.items()
        if len(chances) > len(way) and longer[: len(way)] == way
    }
    return math.log(max(1 - sum(goes_on.values()), math.exp(_NEVER)))
