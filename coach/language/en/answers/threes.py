"""Three stickers side by side, as people say them.

While an answer is being built, every word that names a colour carries the stickers it stands for (see `MARK`).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from random import Random

from coach.language.en.answers.manner import RETRACTIONS
from coach.language.en.answers.marks import MARK
from coach.language.en.answers.phrasing import choose, options, pick
from coach.language.en.answers.sample import ROLES

COLOURS = tuple(ROLES.values())
Row = Sequence[str]

_COMMAS = (", ", ", ", ", ", " ", " ", ". ", "... ", ", then ", " then ", " and ", ", and ", " and then ", "! ",
           ", um, ")  # fmt: skip
_LASTS = options(
    ", and |, and | and | and then |, then |, and last |, and finally |, and at the end | and last "
    "|, and the last one's |, followed by |, last |, and to finish | plus |, and the last is |, and then it's "
)
_PLACES = (
    options(
        "first|on the left|left|the first is|the first one's|at the left|number one|starts with|the left one is|one:"
        "|to begin with"
    ),
    options(
        "second|in the middle|middle|the second is|the second one's|in the centre|number two|next|the middle one is"
        "|two:|the next is"
    ),
    options(
        "third|on the right|right|the third is|the last one's|at the right|number three|last|the right one is|three:"
        "|at the end"
    ),
)
_AFTER = (
    options("first|on the left|at the start|to start with|left|is first|goes first|'s first"),
    options("in the middle|second|in the centre|next|middle|is in the middle|comes next|'s in the middle"),
    options("last|on the right|at the end|to finish|right|is last|comes last|'s last|third"),
)
_EDGES = options(
    "at both ends|on both ends|at the ends|on the outside|either end|left and right|on both sides|first and last"
)


def tag(colour: str, first: int, count: int = 1) -> str:
    """The word for `count` stickers from `first` on."""
    return f"{colour}{MARK}{''.join(map(str, range(first, first + count)))}"


def told_by(words: Mapping[int, int], last: int) -> tuple[tuple[int, int], ...]:
    """The stickers up to the last one told, as the words that name them and the number of stickers for each."""
    stickers: list[tuple[int, int]] = []
    for at in range(last + 1):
        word = words.get(at, -1)
        if stickers and stickers[-1][0] == word:
            stickers[-1] = (word, stickers[-1][1] + 1)
        else:
            stickers.append((word, 1))
    return tuple(stickers)


def _plural(word: str) -> str:
    return word + "s"


def three(random: Random, row: Row, at: int) -> str:
    """Three stickers, starting with number `at`, in one of the ways that suit their pattern."""
    a, b, c = row
    if random.random() < 0.12:
        return _placed(random, row, at)
    if random.random() < 0.07:
        return _slipped(random, row, at)
    if random.random() < 0.06:
        return _partly_placed(random, row, at)
    if a == b == c and random.random() < 0.8:
        return same(random, a, at, 3)
    if a == c and a != b and random.random() < 0.4:
        return _sandwich(random, a, b, at)
    if a == b and b != c and random.random() < 0.6:
        return same(random, a, at, 2) + _link(random) + _single(random, c, at + 2)
    if b == c and a != b and random.random() < 0.6:
        return _single(random, a, at) + _link(random) + _rest(random, b, at + 1)
    return listed(random, [_single(random, colour, at + n, row[n - 1] if n else "") for n, colour in enumerate(row)])


def _single(random: Random, colour: str, at: int, before: str = "") -> str:
    word = tag(colour, at)
    if colour == before and random.random() < 0.4:
        return pick(random, options(
            "another {w}|{w} again|again {w}|also {w}|one more {w}|and {w} again|{w} too|{w}, yes {w}"
        )[:7]).replace("{w}", word)
    if random.random() < 0.75:
        return word
    return pick(random, options(
        "a {w}|one {w}|the {w}|a {w} one|{w}, I think,|{w}, yes|a {w} sticker|it's {w}|I see {w}"
    )).replace("{w}", word)




def _link(random: Random) -> str:
    return pick(random, _LASTS) if random.random() < 0.5 else pick(random, _COMMAS[3:11])


def same(random: Random, colour: str, at: int, count: int) -> str:
    """Two or three of one colour in a row."""
    word = tag(colour, at, count)
    if random.random() < 0.25:
        return listed(random, [tag(colour, at + n) for n in range(count)])
    return pick(random, _TWICE if count == 2 else _THRICE).replace("{s}", _plural(word)).replace("{w}", word)


_TWICE = options(
    "double {w}|two {s}|two {w}|{w} twice|twice {w}|two times {w}|a pair of {s}|{w} two times|the first two are {w}"
    "|two of {w}|both {w}|{w}, same again|{w}, same|{w} and another one|{w}, another one|{w}, and again|two {w} ones"
    "|2 {w}|{w} and the same next to it|a brace of {w}|a brace of {s}|a couple of {w}|a twosome of {w}|a duo of {w}"
    "|twin {s}|{w} and its twin|{w} doubled|twain {w}|{w} two|{w}, two of it|{w} times two"
)
_THRICE = options(
    "all {w}|all three {w}|three {s}|three {w}|{w} three times|three times {w}|triple {w}|{w} all the way"
    "|{w} right across|the whole row is {w}|nothing but {w}|they're all {w}|all of them {w}|only {w}|every one {w}"
    "|{w} the whole way|all {s}|{w} everywhere|just {w}|{w}, all three|{w} across|3 {w}|thrice {w}"
    "|each of them is {w}|completely {w}|{w} from end to end|all three are {w}|three of {w}"
)


def _rest(random: Random, colour: str, at: int) -> str:
    """Two of a colour at the end of the row."""
    word, draw = tag(colour, at, 2), random.random()
    if draw < 0.8:
        return pick(random, _OTHERS if draw < 0.35 else _TWO_MORE).replace("{s}", _plural(word)).replace("{w}", word)
    return listed(random, [tag(colour, at), _single(random, colour, at + 1, colour)])


_TWO_MORE = options(
    "double {w}|two {s}|two {w}|{w} twice|twice {w}|two times {w}|a pair of {s}|two {w} ones|{w} two times|2 {w}"
    "|a brace of {w}|a brace of {s}|a couple of {w}|twin {s}|{w} doubled|a pair of {w}|{w} and its twin"
)
_OTHERS = options(
    "the other two are {w}|the other two's {w}|the rest is {w}|all the rest is {w}|the rest {w}|the last two are {w}"
    "|both others {w}|two {s} after it|the next two {w}|the others are {w}|then only {w}|it's all {w}, both of them"
    "|the remaining two {w}|{w} for both the others|{w} for the other two|{w} for the rest|{w} on both the others"
    "|{w} the rest of the way|{w} from there on|{w} for the last two|the others both {w}|{w} to the end"
)


def _sandwich(random: Random, outer: str, inner: str, at: int) -> str:
    """The same at both ends."""
    ends, middle = f"{outer}{MARK}{at}{at + 2}", tag(inner, at + 1)
    where = pick(random, _EDGES)
    return choose(
        random,
        f"{ends} {where}, {middle} in the middle",
        f"{ends} {where} and {middle} in the middle",
        f"{middle} in the middle, {ends} {where}",
        f"{middle} in the middle and {ends} {where}",
        f"{middle} between two {_plural(ends)}",
        f"either side of {middle} there's {ends}",
        f"either side of the {middle} there's a {ends}",
        f"on both sides of {middle} a {ends}",
        f"{middle} with a {ends} on each side",
        f"{middle} flanked by {ends}",
        f"{ends} hugging a {middle}",
        f"a {middle} between two {_plural(ends)}",
        f"{ends} either side of a {middle}",
        f"{ends} on either side of {middle}",
        f"two {_plural(ends)} with {middle} between them",
        f"the middle's {middle} and the other two are {ends}",
        f"the outer two {ends} and {middle} in between",
        f"{ends} with a {middle} in the middle",
    )


def _placed(random: Random, row: Row, at: int) -> str:
    """Each with its place, before or after it."""
    draw = random.random()
    order = [0, 1, 2] if draw < 0.85 else random.sample((0, 1, 2), 3)
    before = random.random() < 0.55
    kind = int(random.random() * 11)
    parts = []
    for n in order:
        word = tag(row[n], at + n)
        if before:
            place = _PLACES[n][kind] if draw < 0.85 and random.random() < 0.8 else _PLACES[n][1]
            parts.append(f"{place} {word}")
        else:
            place = pick(random, _AFTER[n][:4] if n != 1 else _AFTER[1][:3])
            parts.append(f"{word} {place}")
    return choose(random, ", ", ", ", ". ", ", and ", ", then ", " ").join(parts)


_ENDS = (
    options(
        "at the near end|at my end|at this end|at one end|to begin|at the left end|nearest me|comes first|leads|opens"
        "|in front|goes ahead|starts it off|for a start|to start|at the beginning|to the left"
    ),
    options("in the middle|between|halfway|in the centre|amidships|at the waist|in between|at the heart"),
    options(
        "at the far end|at the other end|to end|to close|at the right end|furthest off|brings up the rear|at the back"
        "|comes last|closes|at the tail|for the last|to the right"
    ),
)


def _partly_placed(random: Random, row: Row, at: int) -> str:
    """In order, one of them with its place; two equal ones after it are told together."""
    words = [tag(colour, at + n) for n, colour in enumerate(row)]
    if row[1] == row[2] != row[0] and random.random() < 0.6:
        return f"{words[0]} {pick(random, _ENDS[0])}{_link(random)}{_rest(random, row[1], at + 1)}"
    placed = pick(random, (0, 0, 1, 2))
    words[placed] += f" {pick(random, _ENDS[placed])}"
    return choose(random, ", ", ", ", ", then ", " and ", ", and ").join(words)


def _slipped(random: Random, row: Row, at: int) -> str:
    """One sticker named wrongly and corrected at once."""
    wrong_at = int(random.random() * 3)
    items = [tag(colour, at + n) for n, colour in enumerate(row)]
    right = row[wrong_at]
    wrong = choose(random, *[colour for colour in COLOURS if colour != right])
    again = items[wrong_at]
    items[wrong_at] = choose(
        random,
        f"{wrong}, {pick(random, RETRACTIONS)}, {again}",
        f"{wrong}, {pick(random, RETRACTIONS)} {again}",
        f"{wrong}... {pick(random, RETRACTIONS)}, {again}",
        f"not {wrong}, {again}",
        f"{wrong}? no, {again}",
        f"is that {wrong}? no, {again}",
        f"{right}, bad light, yes, {again}",
        f"{right}, hmm, is it, yes, {again}",
        f"it's {wrong} or {right}, it's {again}",
    )
    return ", ".join(items)


def listed(random: Random, items: Sequence[str]) -> str:
    """One after the other, mostly joined by the same word throughout."""
    comma = pick(random, _COMMAS)
    if len(items) > 3 and comma in (". ", "! "):
        comma = ", "
    last = pick(random, _LASTS) if random.random() < 0.25 else comma
    return comma.join(items[:-1]) + last + items[-1]


