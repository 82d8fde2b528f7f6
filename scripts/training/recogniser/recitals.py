"""Turns said from memory, to learn from: as the generator of answers has people say them, and plainly.

Plain ones are random turns or parts of the method's sequences, so that no sequence becomes likelier than another.
"""

import re
from random import Random

from coach.cube import Turn
from coach.language.en.answers import turns as answers
from coach.method import default_method
from training.recogniser.sentences import Sentence

_SPEAKABLE = re.compile(r"[A-Za-z ,.!?;:'-]{9,170}")
_SIGNED = re.compile(r"\b[URFLDB]['2i]")  # a voice would not say the sign
_FACES = "RRRUUUFFLLDB"
_NAMES = {"R": "right", "L": "left", "U": "top", "D": "bottom", "F": "front", "B": "back"}
_WAYS = {
    "R": ("up", "down"), "L": ("down", "up"), "U": ("left", "right"), "D": ("right", "left"),
    "F": ("clockwise", "anticlockwise"), "B": ("clockwise", "anticlockwise"),
}  # fmt: skip
_PLAIN = ("{f} {w}", "{f} side {w}", "{f} layer {w}", "the {f} layer goes {w}", "the {f} goes {w}", "{f} goes {w}")
_PRIMES, _TWOS, _HALVES = (" prime", " prime", " dash", " inverted"), (" two", " twice"), ("half turn", "twice")
_JOINTS = (", ", ", ", " ", ", then ", " then ", " and ", ". ")
_MOST = 6


def recitals(count: int, random: Random) -> list[Sentence]:
    """So many, half of them as people say them."""
    found: dict[str, Sentence] = {}
    while len(found) < count:
        text = answers.turns(random).text if len(found) % 2 else _plainly(random)
        if _SPEAKABLE.fullmatch(text) and not _SIGNED.search(text):
            found.setdefault(text, Sentence(text, "recite"))
    return list(found.values())


def _plainly(random: Random) -> str:
    style = random.choice((_in_words, _in_words, _by_the_clock, _in_letters, _in_letters))
    form = random.random()
    said = random.choice(_JOINTS).join(style(turn, form) for turn in _some(random))
    return said[0].upper() + said[1:] + random.choice((".", ""))


def _some(random: Random) -> tuple[Turn, ...]:
    count = random.randint(2, _MOST)
    if random.random() < 0.5:
        return tuple(Turn(random.choice(_FACES), random.choice((1, 1, 3, 3, 2))) for _ in range(count))
    turns = random.choice(default_method().sequences).turns
    begin = random.randrange(len(turns))
    return turns[begin : begin + count]


def _one(forms: tuple[str, ...], form: float) -> str:
    return forms[int(form * len(forms))]


def _in_words(turn: Turn, form: float) -> str:
    way = _WAYS[turn.face][turn.quarters == 3]
    return _one(_PLAIN, form).format(f=_NAMES[turn.face], w=way) + (" twice" if turn.quarters == 2 else "")


def _by_the_clock(turn: Turn, form: float) -> str:
    way = _one(_HALVES, form) if turn.quarters == 2 else ("clockwise", "anticlockwise")[turn.quarters == 3]
    return f"{_NAMES[turn.face]} {way}"


def _in_letters(turn: Turn, form: float) -> str:
    return turn.face + {1: "", 2: _one(_TWOS, form), 3: _one(_PRIMES, form)}[turn.quarters]
