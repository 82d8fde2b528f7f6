"""Answers to rows of three stickers and to whole faces of nine, told row by row."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from random import Random
from typing import Literal

from coach.language.en.answers.manner import ASIDES, said
from coach.language.en.answers.marks import MARK, numbered
from coach.language.en.answers.phrasing import choose, options, pick, word
from coach.language.en.answers.sample import Sample
from coach.language.en.answers.threes import COLOURS, Row, listed, same, tag, three, told_by

_STARTS = options(
    "|||||||||it's |that's |I have |I see |there's |I've got |it goes |it says |they're |here it's |it is "
    "|that one is |I get |left to right |from left to right |from the left |left to right it's "
    "|starting from the left |the row is |those are |across the waist I have |round the waist |along here I have "
    "|in the belt I've |my fingers find |under my fingers |reading along, |along it |going along I meet |here I've got "
    "|have |got |across, |I make it |it runs |it reads |we've |on this one I've |in a row "
)
_BACKWARDS = options(
    "from right to left |from the right |right to left |starting at the right |right to left it's "
    "|going from right to left |from the right side |I'll read it from the right: |beginning on the right, "
    "|the wrong way round, right to left: "
)
_HIDDEN = options(
    "can't see the {n} one|I can't see the {n} one|something I can't make out|the {n} I can't tell|one I can't read"
    "|my thumb's on the {n} one|the {n} one is too dark|I don't know the {n} one|the {n} one I'm not sure of"
    "|one that I can't see|the {n} I don't know what that is|question mark|one is covered"
    "|the {n} sticker has come off|can't tell the {n}|the {n} is dirty|I can't feel the {n} one"
    "|not sure, skip the {n}|the {n}'s hidden|no idea about the {n}|something|who knows|then something I can't see"
    "|the {n} is {x} or {y}, I can't tell which|either {x} or {y}|is that {x} or {y}, I can't tell|a blank"
    "|a scratched one|the {n} has no sticker|don't know|the {n} one's worn off"
)
_ORDINALS = ("first", "middle", "last")
_ROW_NAMES = (
    options(
        "top row|upper row|first row|row one|the top row is|top|first|the upper one|at the top|the first row is"
        "|first the top row,|the top|the upper row|in the upper row|up top"
    ),
    options(
        "middle row|second row|row two|next row|the middle row is|middle|second|then the middle,|next"
        "|the next one is|then the middle row|the middle|the middle row|in the middle row|in between"
    ),
    options(
        "bottom row|lower row|third row|last row|row three|the bottom row is|bottom|third|the last row is"
        "|and the lowest|and at the bottom|the bottom|the lower row|in the lower row|down below"
    ),
)
_IN_ORDER = (3, 6, 7, 8, 9, 10)
"""Names of rows that only make sense in sequence."""


def rows(random: Random) -> Sample:
    """A row of three, or the nine of a face."""
    if random.random() < 0.65:
        return _row_sample(random)
    return _face_sample(random)


def _sample(random: Random, moment: Literal["row", "face"], text: str, size: int, unseen: Sequence[int] = ()) -> Sample:
    """Build a sample: number the words of the text, and map them in order to the stickers that they stand for.

    A sticker that nobody named, before the last one told, is one that the learner cannot tell, or has left out.
    """
    plain, names = numbered(said(random, text, asides=_CALM))
    stickers = told_by(names, max([*names, *unseen], default=-1))
    return Sample(moment, plain, stickers=stickers, complete=len(names) == size)


_CALM = tuple(aside for aside in ASIDES if "no," not in aside)
"""Asides without a word that would take a colour back."""


# One row of three


def _random_row(random: Random) -> Row:
    draw, (a, b, c) = random.random(), random.sample(COLOURS, 3)
    if draw < 0.15:
        return (a, a, a)
    if draw < 0.55:
        return ((a, a, b), (a, b, b), (a, b, a))[int(random.random() * 3)]
    return (a, b, c)


_LIKE = (
    ", like the French flag|, like a sandwich|, easy peasy|. Symmetrical|. All in order|, like a traffic light"
    "|, like a carrot|, like the flag|, over|, in this order|. That's three|, like my football team|, like a bee"
    "|. Pretty|, next|. Happy|, like a (hen|snowman|bee) with a {c} (tummy|nose|hat|middle|belt|sock)"
    "|, like a (bee|zebra|wasp|clown|parrot|snake|flag) with a {c} (tummy|stripe|nose|tail|sash|waistcoat)"
    "|, like a {c} (bus|sandwich|jumper|bow tie|bee)|, (a|what a|some) {c} (sandwich|stripe|party)"
    "|, (three|that's three) in a row|, as God made them|, and that's your lot|, in that order|, near to far"
)
"""Comparisons for a row: a colour in one of them is no sticker."""


def _row_sample(random: Random) -> Sample:
    row, draw = _random_row(random), random.random()
    if draw < 0.08:
        return _sample(random, "row", _remarked(random, row), 3)
    if draw < 0.11:
        return _sample(random, "row", _out_of_order(random, row), 3)
    if draw < 0.72:
        text = pick(random, _STARTS) + three(random, row, 0)
        return _sample(random, "row", text + _likened(random, row) if draw < 0.18 else text, 3)
    if draw < 0.78:
        items = [tag(colour, at) for at, colour in enumerate(row)][::-1]
        return _sample(random, "row", pick(random, _BACKWARDS) + listed(random, items), 3)
    if draw < 0.84:
        return _hidden(random, row)
    if draw < 0.9:
        return _sample(random, "row", _taken_back(random, row), 3)
    return _partial(random, row)


def _likened(random: Random, row: Row) -> str:
    return word(random, _LIKE, c=choose(random, *row, *COLOURS))


def _covered(random: Random, name: str) -> str:
    """What stands for a sticker that the learner cannot tell; colours that it might be do not count as told."""
    one, other = random.sample(COLOURS, 2)
    return pick(random, _HIDDEN).replace("{n}", name).replace("{x}", one).replace("{y}", other)


def _hidden(random: Random, row: Row) -> Sample:
    """One sticker that the learner cannot tell."""
    unseen = int(random.random() * 3)
    if row[0] == row[1] and random.random() < 0.5:
        third = _covered(random, choose(random, "third", "last"))
        text = same(random, row[0], 0, 2) + choose(random, ", and ", ", ", ". ") + third
        return _sample(random, "row", text, 3, unseen=(2,))
    items = [tag(colour, n) for n, colour in enumerate(row)]
    name = choose(random, _ORDINALS[unseen], _ORDINALS[unseen], ("first", "second", "third")[unseen])
    items[unseen] = _covered(random, name)
    text = choose(random, ", ", ", ", ". ", ", then ", ", and ").join(items)
    return _sample(random, "row", text, 3, unseen=(unseen,))


_REMARKS = options(
    "{c}, I keep calling it {x}|{c}, I always say {x}|{c}, not {x}|not {x}, {c}|{x}, no, {c}|{x}? no, {c}"
    "|I'd have said {x} but it's {c}|I want to say {x} but no, {c}|no wait yes {c}|no yes {c}|no, it is {c}"
    "|{c}, my favourite|{c}, like the sky|{c}, like grass|{c}, the scratched one|{c}, definitely|not {x} this time, {c}"
    "|{c}, it looks like {x} in this light|{c}, half under my thumb|{c}, I think|{x}, no, second thoughts, {c}"
    "|{x}, no wait, {c}|{c}, or is it {x}, no, it's that|{c}, which I mixed up with {x} before|it's not {x} so it's {c}"
    "|{c}, easily taken for {x}|{c}, the same {c} as the {x} side isn't|{x}... no, I tell a lie, {c}|{c} this time"
    "|{x}, I mean {c}|{c}, a bit worn|{c}, with glue on it|{c}, that's right|no doubt {c}|{c}, don't laugh"
    "|not {x}, I checked, {c}|{c}, stop me if I'm wrong|{c}, I lost my glasses but I can tell|{c} like your jumper"
)
"""One sticker with a remark that may name another colour, which is not there."""


def _remarked(random: Random, row: Row) -> str:
    """The row with a remark on one or two of its colours."""
    items = [tag(colour, at) for at, colour in enumerate(row)]
    for at in random.sample(range(3), 1 + (random.random() < 0.25)):
        other = choose(random, *[colour for colour in COLOURS if colour != row[at]])
        first, *rest = pick(random, _REMARKS).split("{c}")  # only the first mention carries the mark
        items[at] = (first + items[at] + row[at].join(rest)).replace("{x}", other)
    if random.random() < 0.2:
        items[-1] = choose(random, "the last one's ", "and the last is ", "and the last one, that's ") + items[-1]
    return listed(random, items)


_NAMES_OF_PLACES = (
    ("left", "middle", "right"), ("left", "centre", "right"), ("the left one", "the middle one", "the right one"),
    ("first", "second", "third"), ("first", "middle", "last"), ("the first is", "the middle's", "the last is"),
    ("on the left", "in the middle", "on the right"),
)  # fmt: skip


def _out_of_order(random: Random, row: Row) -> str:
    """Each with its place, the ends first or the last first; two equal ones together."""
    names = pick(random, _NAMES_OF_PLACES)
    if row[1] == row[2] and random.random() < 0.6:
        both = pick(random, options("the last two are|the right two are|the two on the right are|the other two are"))
        first = choose(random, "the first is", "the left one is", "and first")
        return f"{both} {tag(row[1], 1, 2)}, {first} {tag(row[0], 0)}"
    if row[0] == row[1] and random.random() < 0.6:
        last = choose(random, "the last is", "the right one is", "at the end there's a", "on the right")
        return (
            f"{last} {tag(row[2], 2)}, {choose(random, 'the first two are', 'the other two are')} {tag(row[0], 0, 2)}"
        )
    order = pick(random, ((0, 2, 1), (2, 1, 0), (1, 0, 2), (2, 0, 1), (1, 2, 0)))
    return choose(random, ", ", ", ", " and ", ". ", " ").join(f"{names[at]} {tag(row[at], at)}" for at in order)


_ONCE_MORE = options(
    "I'll say it again,|once more:|yes,|so, that's|again:|from the left again,|that's right,|so all in all"
)
_INSTEAD = options(
    "no, I read it backwards,|no, all wrong, it's|wait, that's the wrong row, it's|sorry, again:"
    "|no, let me start over.|no no, from the left:|one moment. No,|sorry, wrong side,"
    "|hang on, no, from the beginning,|no, it's|no, that was the other side. It's|no, wrong row,|oops, wrong face,"
    "|ah no, this row is|sorry, I mean"
)


def _taken_back(random: Random, row: Row) -> str:
    """A whole row, then another in its place; only the second counts."""
    wrong: Sequence[str] = row[::-1] if random.random() < 0.4 else [choose(random, *COLOURS) for _ in row]
    if random.random() < 0.3:
        wrong = row
    why = pick(random, _ONCE_MORE if tuple(wrong) == tuple(row) else _INSTEAD)
    return f"{choose(random, ', ', ' ').join(wrong)}, {why} {three(random, row, 0)}"


def _partial(random: Random, row: Row) -> Sample:
    """Part of the row: one or two stickers, or a count without places."""
    a, b, c = (tag(colour, n) for n, colour in enumerate(row))
    if random.random() < 0.15:
        text = choose(random, "there are two {s} in it", "it has two {s}", "there's some {c}", "there's a {c} in there")
        return _sample(random, "row", text.replace("{s}", row[0] + "s").replace("{c}", row[0]), 3)
    text = choose(
        random,
        f"{a}", f"{a}", f"{a}, {b}", f"{a} {b}", f"{a} and {b}", f"first {a}", f"the first is {a}",
        f"it starts with {a}",
        f"{a} and then", f"{a}, {b}, and wait", f"first {a}, then {b}", f"the middle one is {b}", f"{b} in the middle",
        f"the last is {c}", f"{c} at the end", f"the last one's {c}", f"{a} on the left", f"{c} on the right",
        f"the centre is {b}", f"{a}, {b}, sorry, the phone", f"{a} first, {c} last",
        f"it begins with {a}1, and in the middle too", f"{b} in the middle and one side I can't see", f"{a}... and",
        f"the second is {b}",
        f"{a} on the left and the last one is {c}", f"one's {a}, let me see", f"I see {a} first, wait",
        f"{a}, {b} and um",
    )  # fmt: skip
    return _sample(random, "row", text, 3)


# A face of nine


def _random_face(random: Random) -> list[str]:
    draw = random.random()
    if draw < 0.06:
        return [choose(random, *COLOURS)] * 9
    few = random.sample(COLOURS, 2 if draw < 0.35 else 4)
    face = [few[int(random.random() * len(few))] for _ in range(9)]
    if draw < 0.5:
        at = 3 * int(random.random() * 3)
        face[at : at + 3] = [few[0]] * 3
    return face


def _face_sample(random: Random) -> Sample:
    draw = random.random()
    if draw < 0.12:
        return _sample(random, "face", _broad(random), 9)
    face = _random_face(random)
    if draw < 0.15:
        return _sample(random, "face", _alike(random, face), 9)
    if draw < 0.26:
        text = _in_rows(random, face[: 3 if random.random() < 0.6 else 6])
        text += choose(random, "", "", ". Wait a moment", "... hang on", ". Shall I go on", ". One moment for the rest")
        return _sample(random, "face", text, 9)
    if draw < 0.45:
        comma = choose(random, ", ", " ", ", ", ". ")
        return _sample(random, "face", comma.join(tag(colour, n) for n, colour in enumerate(face)), 9)
    if draw < 0.5:
        unseen = int(random.random() * 9)
        items = [tag(colour, n) for n, colour in enumerate(face)]
        items[unseen] = choose(
            random, "can't see that one", "one I can't tell", "something dark", "one I don't know", "one is hidden"
        )
        return _sample(random, "face", ", ".join(items), 9, unseen=(unseen,))
    return _sample(random, "face", _in_rows(random, face), 9)


def _in_rows(random: Random, face: Sequence[str]) -> str:
    """Row by row, with or without naming them."""
    named, kind = random.random() < 0.55, int(random.random() * len(_ROW_NAMES[0]))
    colon = choose(random, " ", " ", ": ", ", ")
    parts = []
    for n in range(len(face) // 3):
        row = three(random, face[3 * n : 3 * n + 3], 3 * n)
        parts.append(f"{_ROW_NAMES[n][kind].rstrip(',')}{colon}{row}" if named else row)
    if named and len(parts) == 3 and kind not in _IN_ORDER and random.random() < 0.12:
        random.shuffle(parts)
    between = choose(random, ". ", ". ", ", ", "; ", ". Then ", ". Next row ", "... ", ", next, ", ", new row, ")
    return between.join(parts)


_ALIKE = (
    "{r}, (three times [the same|over]|all three rows|in every row|each row|every row the same|and that three times"
    "|times three|three times down|and the same again twice|the same for the other two|the other rows are the same)"
    "|(each row is|every row's|all three rows are|all rows) {r}"
    "|{r}, (then|and|and then) (the same (again|twice more|two more times)|twice more the same|two more like it)"
)


def _alike(random: Random, face: Sequence[str]) -> str:
    """Three equal rows, told once."""
    row = [f"{colour}{MARK}{at}{at + 3}{at + 6}" for at, colour in enumerate(face[:3])]
    return word(random, _ALIKE, r=choose(random, ", ", " ", " and ", ", then ").join(row))


def _broad(random: Random) -> str:
    """A whole face in one phrase: all of one colour, all but one, the same all round, or some and then the rest."""
    colour, odd = random.sample(COLOURS, 2)
    how: Sequence[Callable[[], str]] = (
        lambda: pick(random, _ALL).replace("{w}", tag(colour, 0, 9)),
        lambda: _all_but(random, colour, odd),
        lambda: _and_the_rest(random, colour),
    )
    return how[int(random.random() * 3)]()


_ALL = options(
    "all nine are {w}|it's all {w}|everything is {w}|the whole face is {w}|all {w}|nine times {w}|only {w}"
    "|completely {w}|every one of them is {w}|{w} everywhere|all of it is {w}|nothing but {w}|{w}, all nine"
    "|the whole side {w}|nine {w}"
)
_BUT = options(
    "all {w} but the {n} one, that's {o}|everything's {w} except the {n}, which is {o}|all {w} except {o} {p}"
    "|{o} {p}, all the rest is {w}|{o} {p} and {w} everywhere else|{w} all over and {o} {p}"
    "|{o} {p}, the others are all {w}|the {n} one is {o}, the rest is {w}|it's {w} but the {n} one is {o}"
)
_SPOTS = {0: ("very first", "at the top left"), 4: ("middle", "in the middle"), 8: ("very last", "at the bottom right")}


def _all_but(random: Random, colour: str, odd: str) -> str:
    spot = (4, 4, 4, 4, 0, 8)[int(random.random() * 6)]  # mostly the middle
    rest = "".join(str(n) for n in range(9) if n != spot)
    name, place = _SPOTS[spot]
    text = pick(random, _BUT).replace("{w}", f"{colour}{MARK}{rest}").replace("{o}", tag(odd, spot))
    return text.replace("{n}", name).replace("{p}", place)


_REST = options("and all the rest is {w}|and the rest is {w}|then only {w}|everything else is {w}|all the others {w}")


def _and_the_rest(random: Random, colour: str) -> str:
    """The first few stickers, and then one colour to the end."""
    few = 1 + int(random.random() * 4)
    items = [tag(choose(random, *COLOURS), n) for n in range(few)]
    rest = pick(random, _REST)
    return ", ".join(items) + ", " + rest.replace("{w}", tag(colour, few, 9 - few))
