"""Turns said aloud from memory, in the three styles of calling, as people say them.

Plain speech names the direction in which the part of the layer facing the learner goes; the clock style is as seen by
somebody looking straight at that side; letters are those of the WCA Regulations with words for their signs.
"""

from __future__ import annotations

from collections.abc import Callable
from random import Random

from coach.language.en.answers.manner import framed, hesitant, written
from coach.language.en.answers.marks import MARK, numbered
from coach.language.en.answers.phrasing import choose, options, pick
from coach.language.en.answers.sample import Sample

MOST = 8
_FACES = "RRRRUUUUFFFLLDDB"
_SIGNS = ("", "", "", "", "'", "'", "'", "2")
_WAYS = {
    "R": ("up", "down"), "L": ("down", "up"), "U": ("left", "right"), "D": ("right", "left"),
}  # fmt: skip
"""The direction of the near part when a layer turns clockwise, and the opposite one."""

_NAMES = {"R": "right", "L": "left", "U": "top", "D": "bottom", "F": "front", "B": "back"}
_OTHER_NAMES = {"R": "right hand", "L": "left hand", "U": "upper", "D": "lower", "F": "front", "B": "back"}
_CLOCKWISE = options("clockwise|clockwise|clockwise|clock wise|the clock way|with the clock|like the clock")
_ANTICLOCKWISE = options(
    "anticlockwise|anticlockwise|counterclockwise|counter clockwise|anti-clockwise|anti clockwise|against the clock"
    "|the other way round from the clock|counter-clockwise"
)
_UPRIGHT = options(
    "{f} {w}|{f} {w}|{f} {w}|{f} side {w}|{f} side {w}|the {f} layer goes {w}|the {f} layer goes {w}|{f} goes {w}"
    "|{f} layer {w}|the {f} one {w}|the {f} {w}|{f} one {w}|{f} side goes {w}|turn the {f} {w}|{w} with the {f} side"
    "|{f} hand {w}|push the {f} {w}|I turn the {f} side {w}|the {f} side {w}|you go {f} {w}|move the {f} layer {w}"
    "|the {f} goes {w}"
)
_FLAT = options(
    "{f} {w}|{f} {w}|{f} {w}|{f} to the {w}|{f} to the {w}|the {f} layer goes {w}|the {f} layer goes {w}"
    "|{f} goes {w}|{f} layer {w}|the {f} one {w}|the {f} to the {w}|{f} goes to the {w}|{f} layer to the {w}"
    "|turn the {f} {w}|{f} round to the {w}|{f} side {w}|the {f} {w}|move the {f} layer {w}"
    "|I turn the {f} to the {w}|{f} row {w}|the {f} one goes {w}|push the {f} to the {w}"
)
_CLOCK = options(
    "{f} {c}|{f} {c}|{f} {c}|{f} {c}|the {f} layer goes {c}|the {f} {c}|{f} side {c}|{f} layer {c}|turn the {f} {c}"
    "|the {f} one {c}|{f} goes {c}|{f} face {c}|{c} on the {f}|I turn the {f} {c}|the {f} side goes {c}"
)
_FRONT = {
    "": options(
        "front round to the right|front to the right|front over to the right|the front goes round to the right"
    ),
    "'": options("front round to the left|front to the left|front over to the left|the front goes round to the left"),
}  # fmt: skip
_TWICE = options(", twice| twice|, two times| two times|, and again| and again|, twice over")
_HALF = options(
    "{f} half turn|{f} half a turn|{f} twice|{f} side twice|half turn {f}|{f} half|double {f}|{f} layer twice"
    "|{f} two times|the {f} layer goes half a turn|the {f} twice|a half turn of the {f}|{f} one hundred and eighty"
    "|{f} 180|{f} halfway round"
)
_PRIMES = options(
    " prime| prime| prime| prime| dash| dash| inverted| inverse| i|'|'| apostrophe| tick| anti| reverse| counter"
    "| minus"
)
_TWOS = options(" two| two| two|2|2| double| twice| squared| times two| 2")
_JOINTS = (", ", ", ", ", ", " ", ", then ", " then ", " and then ", " and ", ". ", ", and ", "... ", ", next ", "; ",
           ", um, ")  # fmt: skip
_LASTS = options(
    ", and last |, and finally |, and |, and then |, last |, and to finish | and at the end |, and the last one is "
)
_STARTS = options(
    "||||||||||first |it's |it goes |so it's |I think it's |you start with |start with |it begins |the turns are "
    "|let me think, |I do |we do |first comes |from memory: |so first "
)
_BACK = options(
    "no|no wait|sorry|I mean|no, sorry|wait, no|not that|or rather|er, no|um, no|oh no|correction|no no|hang on"
)
_STUCK = options(
    "and then I don't know|and I've forgotten the rest|and then, wait|and then something|I forget the rest"
    "|and what comes next|and then I'm stuck|and that's all I remember|and now I'm lost|and then... no idea"
    "|and I don't remember how it goes on"
)
_ASIDES = options(
    "the dog's barking|stop it, Biscuit|my glasses are in the kitchen|I practised a lot|I did it on the bus"
    "|that's all of it|I learnt it yesterday|someone's at the door|I love this one|my hands know it better than I do"
    "|sorry, I coughed|be quiet, Tom"
)
_OPENERS = options(
    "okay|ok so|so|well|um|uh|er|hmm|let me think|let's see|wait|yes|yeah|all right|oh|ah|I know this|easy|now"
)


def turns(random: Random) -> Sample:
    """From one to eight turns, nearly always in one style throughout."""
    said = _sequence(random)
    style = _STYLES[int(random.random() * len(_STYLES))](random)
    parts = [_marked(style(random, turn), number) for number, turn in enumerate(said)]
    if random.random() < 0.13:
        at = int(random.random() * len(parts))
        parts[at] = _taken_back(random, said[at], parts[at], style)
    joint = pick(random, _JOINTS)
    text = joint.join(parts)
    if len(parts) > 1 and random.random() < 0.15:
        text = joint.join(parts[:-1]) + pick(random, _LASTS) + parts[-1]
    elif len(parts) > 3 and random.random() < 0.25:
        half = len(parts) // 2
        text = joint.join(parts[:half]) + choose(random, ". ", "... ", ", ") + joint.join(parts[half:])
    text = pick(random, _STARTS) + text
    complete = random.random() > 0.06
    if not complete:
        text += choose(random, ", ", "... ", ". ") + pick(random, _STUCK)
    text, begins = numbered(_spoken(random, text))
    words = tuple((begins[number], turn) for number, turn in enumerate(said))
    return Sample("recite", text, turns=said, turn_words=words, complete=complete)


def _marked(words: str, number: int) -> str:
    """The words for a turn, the first of them marked with its number."""
    first, *rest = words.split(" ")
    return " ".join((f"{first}{MARK}{number}", *rest))


def _sequence(random: Random) -> tuple[str, ...]:
    """Turns with no two in a row of the same layer, as in any sequence worth learning."""
    length = 1 + int(random.random() * MOST)
    said: list[str] = []
    while len(said) < length:
        turn = _FACES[int(random.random() * len(_FACES))] + pick(random, _SIGNS)
        if not said or said[-1][0] != turn[0]:
            said.append(turn)
    return tuple(said)


def _spoken(random: Random, text: str) -> str:
    """Framed and in writing; letters keep their capitals unless nothing does."""
    if random.random() < 0.12:
        text = hesitant(random, text)
    return written(random, framed(random, text, openers=_OPENERS, asides=_ASIDES))


_Style = Callable[[Random, str], str]


def _clock_words(random: Random, turn: str) -> str:
    return pick(random, _ANTICLOCKWISE if "'" in turn else _CLOCKWISE)


def _plain(random: Random, way: str) -> _Style:
    """Plain speech: one wording for all turns, or a different one for each."""
    upright, flat, clock = (pick(random, table) for table in (_UPRIGHT, _FLAT, _CLOCK))

    def say(random: Random, turn: str) -> str:
        name = _NAMES[turn[0]] if random.random() < 0.95 else _OTHER_NAMES[turn[0]]
        if turn.endswith("2") and random.random() < 0.5:
            return pick(random, _HALF[2:10]).replace("{f}", name)
        end = pick(random, _TWICE) if turn.endswith("2") else ""
        if turn[0] == "F" and not end and way == "round":
            return pick(random, _FRONT[turn[1:]])
        if turn[0] in "FB":
            wording = pick(random, _CLOCK) if way == "mixed" else clock
            seen = choose(random, ", seen from behind", " from behind", "", "") if turn[0] == "B" else ""
            return wording.replace("{f}", name).replace("{c}", _clock_words(random, turn)) + seen + end
        tables = (_UPRIGHT, _FLAT) if way == "mixed" else ((upright,), (flat,))
        wording = pick(random, tables[turn[0] in "UD"])
        return wording.replace("{f}", name).replace("{w}", _WAYS[turn[0]]["'" in turn]) + end

    return say


def _clock(random: Random) -> _Style:
    """The clock style: every turn clockwise, anticlockwise or by half."""
    wording, words = pick(random, _CLOCK), (pick(random, _CLOCKWISE), pick(random, _ANTICLOCKWISE))

    def say(random: Random, turn: str) -> str:
        name = _NAMES[turn[0]]
        if turn.endswith("2"):
            return pick(random, _HALF).replace("{f}", name)
        return wording.replace("{f}", name).replace("{c}", words["'" in turn])

    return say


def _letters(random: Random) -> _Style:
    """Letters, with one word each for the signs."""
    ends = {"": "", "'": pick(random, _PRIMES), "2": pick(random, _TWOS)}

    def say(random: Random, turn: str) -> str:
        return turn[0] + ends[turn[1:]]

    return say


_STYLES: tuple[Callable[[Random], _Style], ...] = (
    lambda random: _plain(random, "same"),
    lambda random: _plain(random, "mixed"),
    lambda random: _plain(random, "round"),
    _clock,
    _letters,
    _letters,
)


def _taken_back(random: Random, turn: str, said: str, style: _Style) -> str:
    """Another turn first, mostly of the same layer, which is taken back."""
    wrong = turn[0] + ("" if "'" in turn else "'")
    if random.random() < 0.4:
        wrong = choose(random, *[face for face in "RULFD" if face != turn[0]]) + turn[1:]
    return f"{style(random, wrong)}, {pick(random, _BACK)}, {said}"
