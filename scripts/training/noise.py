"""What a recogniser and a mirror do to an answer.

A recogniser writes without marks and in lower case, loses words, says some twice and takes some for others that sound
alike. In a mirror left is right, and an answer about a cube is one about its mirror image.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from random import Random

from coach.language.en.answers.sample import ROLES
from coach.language.en.reader.heads import HEAD, HEADS, UNSAID
from training.examples import Example

_PLAIN = 0.5
_LOSSY, _LOST = 0.12, 0.08  # answers that lose words, and the share of the words lost there
_CONFUSED, _WRONG = 0.15, 0.07
_READ, _SPELT = 0.06, 0.015  # answers in which red is written "read", and those with a colour letter by letter
_SOUNDS = (
    "right write rite|one won|two to too|four for fore|here hear|there their they're|back bag bak|edge hedge age itch"
    "|edges hedges|aren't are|isn't is|not knot hot|are our or|line lying lion|dot dots hot|yellow hello mellow"
    "|front from|left laugh lift|top tip stop|green grain|blue blew|red read|white wide why|orange arrange"
    "|cross crows across|corner corners coroner|far fa for|near mere nearer|no know now|yes yeah|none nun|all or oh"
    "|sticker thicker|facing pacing|side sight|piece peace|middle metal|row road|the a|and an|its it's|oh o"
)
_ALIKE = {
    word: tuple(other for other in group.split() if other != word)
    for group in _SOUNDS.split("|")
    for word in group.split()
}
_COUNTS = "one two three four five six seven eight nine ten eleven twelve"
_DIGITS = {word: str(number) for number, word in enumerate(_COUNTS.split(), 1)}
_WITH_ASIDE, _WITH_STRANGE = 0.04, 0.3
_LIGHT = frozenset(
    "the a an is are there there's it it's that's I i've I've have has got see feel so well and um er".split()  # noqa: SIM905
)
_MARKS = ".,!?;:…\"“”()"

Word = tuple[str, str]


def heard(random: Random, example: Example) -> Example:
    """The example as a recogniser might write it, or as it was typed."""
    words: list[Word] = list(zip(example.words, example.turns, strict=True))
    if random.random() < _PLAIN:
        bare = [(word.strip(_MARKS).lower(), turn) for word, turn in words]
        words = [word for word in bare if word[0]] or words
        if random.random() < 0.3:
            words = [(_DIGITS.get(word, word), turn) for word, turn in words]
    if random.random() < _CONFUSED:
        words = [(_misheard(random, word), turn) for word, turn in words]
    if random.random() < _READ:
        words = [(_READ_FOR.get(word.lower(), word), turn) for word, turn in words]
    if random.random() < _SPELT:
        words = [(letter, turn) for word, turn in words for letter in _letters(word)]
    if random.random() < _LOSSY and len(words) > 3:
        words = [word for word in words if word[1] or random.random() > _LOST] or words
    return replace(example, words=tuple(word for word, _ in words), turns=tuple(turn for _, turn in words))


# --- beside the point


class Beside:
    """What says nothing: words that the data lacks, and what people said that was not for the coach."""

    def __init__(self, words: Sequence[str], asides: Sequence[Sequence[str]]) -> None:
        self._words, self._asides = words, asides

    def added(self, random: Random, example: Example) -> Example:
        """The example with some of it put in, or words of little weight replaced."""
        said: list[Word] = list(zip(example.words, example.turns, strict=True))
        if self._asides and random.random() < _WITH_ASIDE and len(said) > 2:
            aside: list[Word] = [(word, "") for word in random.choice(self._asides)]
            said = [*aside, *said] if random.random() < 0.5 else [*said, *aside]
        if random.random() < _WITH_STRANGE:
            said = [(random.choice(self._words), turn) if word in _LIGHT and random.random() < 0.3 else (word, turn)
                    for word, turn in said]  # fmt: skip
            for _ in range(random.choice((0, 1, 1, 2, 3))):
                at = self._gap(random, [word for word, _ in said])
                said[at:at] = [(random.choice(self._words), "") for _ in range(random.choice((1, 1, 2, 2, 3, 4)))]
        return replace(example, words=tuple(word for word, _ in said), turns=tuple(turn for _, turn in said))

    def _gap(self, random: Random, words: Sequence[str]) -> int:
        """Somewhere between the words, mostly where a breath is taken."""
        breaths = [at + 1 for at, word in enumerate(words) if word[-1] in _MARKS] + [0, len(words)]
        return random.choice(breaths) if random.random() < 0.7 else random.randrange(len(words) + 1)


_READ_FOR = {f"red{mark}": f"read{mark}" for mark in ("", ",", ".", "!", "...")}


def _letters(word: str) -> Sequence[str]:
    """The letters of a word for a colour; any other word as it is."""
    return tuple(word) if word.strip(_MARKS).lower() in ROLES.values() and word.isalpha() else (word,)


def _misheard(random: Random, word: str) -> str:
    bare = word.strip(_MARKS).lower()
    if random.random() > _WRONG or bare not in _ALIKE:
        return word
    return random.choice(_ALIKE[bare])


# --- mirrored

_SWAPPED = {"left": "right", "lefts": "rights", "leftmost": "rightmost", "lefty": "righty", "west": "east",
            "lefthand": "righthand", "orange": "red"}  # fmt: skip
_SWAP = _SWAPPED | {new: old for old, new in _SWAPPED.items()}
_AMBIGUOUS = frozenset(
    "at in there so next behind by here now then way okay ok i it the well let and um uh".split()  # noqa: SIM905
)
_UNTURNED = frozenset(
    "column columns clock o'clock oclock first second third last row clockwise".split()  # noqa: SIM905
)
_MIRROR_PLACE = {"0": "2", "1": "1", "2": "0", "3": "5", "5": "3", "6": "8", "7": "7", "8": "6"}
_MIRROR_FACE = {"L": "R", "R": "L"}


def mirrored(example: Example) -> Example | None:
    """The example about the mirror image; None where its words would not be true there."""
    bare = [word.strip(_MARKS).lower() for word in example.words]
    if _UNTURNED & set(bare) or any(word[:1].isdigit() for word in bare) or not example.mirrors:
        return None
    for at, word in enumerate(bare):
        behind = bare[at + 1] if at + 1 < len(bare) else ""
        bounded = not at or example.words[at - 1][-1:] in _MARKS
        if word == "right" and (behind in _AMBIGUOUS or (bounded and (not at or example.words[at][-1:] in ",."))):
            return None
    words = tuple(_swapped(word) for word in example.words)
    first, *piece = example.context.split()
    context = " ".join((first, *sorted(_SWAP.get(colour, colour) for colour in piece)))
    return replace(example, words=words, context=context, allowed=_mirrored_classes(example.allowed))


def _swapped(word: str) -> str:
    bare = word.strip(_MARKS)
    return word.replace(bare, _SWAP[bare.lower()]) if bare.lower() in _SWAP else word


def _turned(name: str) -> str:
    """The name of a cell, place or face in the mirror."""
    return "".join(_MIRROR_FACE.get(letter, letter) for letter in name)


def _mirror_classes() -> dict[int, int]:
    """Which class each becomes."""
    become: dict[int, int] = {}
    for head in HEADS:
        other, values = head, {value: value for value in head.classes}
        if head.name[0] in "UFRBL" and head.name[1:].isdigit():
            face, place = head.name[0], head.name[1:]
            other = HEAD[_turned(face) + _MIRROR_PLACE[place]]
        elif head.name == "place":
            values = {value: _same_place(_turned(value)) if value else UNSAID for value in head.classes}
        elif head.name.startswith("shows-"):
            other = HEAD[f"shows-{_turned(head.name[-1])}"]
            values = {value: _turned(value) for value in head.classes}
        become |= {head.at(value): other.at(new) for value, new in values.items()}
    return become


def _same_place(name: str) -> str:
    return next(known for known in HEAD["place"].classes if sorted(known) == sorted(name))


_BECOME = _mirror_classes()


def _mirrored_classes(allowed: Sequence[int]) -> tuple[int, ...]:
    return tuple(sorted(_BECOME[each] for each in allowed))
