"""What speakers say about the four corners on top: pairs, diagonals, sides, and everything that lists can say."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import Final

from coach.language.en.answers.looks import lists, rows
from coach.language.en.answers.looks import open as opened
from coach.language.en.answers.looks.lists import Speaker
from coach.language.en.answers.looks.top import ACROSS, CORNER_LOOK, CORNERS, EDGE_LOOK, SIDES, STICKER, Clause, Top
from coach.language.en.answers.phrasing import joined, pick

Teller = Callable[[Speaker, Top], Clause]
_WHERE: Final[Mapping[str, str]] = {"B": "back", "R": "right", "F": "front", "L": "left"}
_FACING: Final[Mapping[str, str]] = {"B": "F", "F": "B", "L": "R", "R": "L"}
_NONE: Final = (
    "none", "none of (them|the corners|the four|'em|the four corners)", "no (corners|corner|yellow corners|one)",
    "nothing", "not any [corner]",
    "not (one|a single one|even one|a one|one corner)", "zero", "zero (corners|out of four|of four)", "nil",
    "count is zero", "nada", "nobody",
    "nothing (at all|on the corners|on any corner|anywhere)", "I (can't|don't) (see|find|have) any",
    "there (isn't|aren't) any", "how many, none",
    "they're all (wrong|on the sides|turned to the side|other colours|looking sideways)",
    "all four (look|point|face) (to the side|sideways|outwards)",
    "no corner (has|with|have) yellow [on top]", "(not a sausage|nowt|zilch|zip|nane|nutten)",
    "(corners|corner)[,] (none|no|zero|not one)",
    "the (yellows are|yellow is) all on the sides", "no, no, no and no",
    "front left no, front right no, the back ones (also no|neither)",
    "nowhere", "all no", "all four [of them] (are|is) (wrong|no|not yellow|off)",
    "neither in front nor (behind|at the back)", "corners without yellow",
    "nothing (at|in) any of the four", "each corner has its yellow on a side", "four times no",
    "the corners (aren't|are not) [yellow]",
)  # fmt: skip
_ALL: Final = (
    "all (four|of them|the four|four of them|corners|'em|four corners)", "all",
    "every (one|corner|single one|one of them|last one)", "four",
    "four corners", "the (whole|full) (lot|four|gang)", "all yellow", "four (out of|from|of) four",
    "(each|each one) (has|is|shows) [it|yellow]",
    "all the corners (are|have) yellow", "everything", "everywhere", "they all (have it|are|do)",
    "yes on all (four|of them)", "all corner have yellow",
    "there's (none missing|not one missing)", "no corner (is missing|without yellow)",
    "both in front and both at the back", "all done",
    "the two at the back and the two in front", "hundred percent", "one, two, three, four",
    "both on the left and both on the right", "how many, four",
)  # fmt: skip


def _pair_side(up: list[str]) -> str:
    """The side that two neighbours share."""
    return next(iter(set(SIDES[up[0]]) & set(SIDES[up[1]])))


def _pair(speaker: Speaker, top: Top) -> Clause:
    up = top.up(CORNER_LOOK)
    if ACROSS[up[0]] == up[1]:
        return _diagonal(speaker, top, up)
    side = _pair_side(up)
    short, at = speaker.side(side)
    other, other_at = speaker.side(_FACING[side])
    one, two = ("left", "right") if side in "BF" else (speaker.short_depth("B"), speaker.short_depth("F"))
    text = speaker.say(
        "(both|the two|both of them|the pair|two|both corners|the two corners|just the two) {at}"
        "|[the] {short} (two|pair|ones|corners)"
        "|both [of] the {short} (ones|corners)|the whole {short} (side|{line})|[the] {short} {line}"
        "|two, both {at}|two[,|.] {at}"
        "|(at|on) the {short} [side] both[, (at|on) the {other} [side] (none|nothing|neither)]"
        "|the {short} ones[,] (not|and not) the {other} ones"
        "|{short} (side|ones) yes, {other} (side|ones) no|the {other} ones (aren't|not), the {short} ones (are"
        "|yes)|all but the (two|ones) {oat}"
        "|{at}[,] {one} and {two}|the {short} (ones|side)[,] {one} and {two}|all the {short} ones"
        "|nothing {oat}, both {at}|only the (ones|two) {at}"
        "|two, next to each other, {at}|one {at} and the one next to it, also {at}|the {other} ones are (wrong"
        "|no good|nothing), the {short} ones (good|fine|yellow)",
        at=at, short=short, other=other, oat=other_at, one=one, two=two, line="column" if side in "LR" else "row",
    )  # fmt: skip
    if speaker.slips and speaker.chance(0.5):
        speaker.slips -= 1
        wrong = speaker.side(pick(speaker.random, [s for s in "BRFL" if s != side]))[1]
        start = speaker.say(
            "both {w}, (no|no wait|sorry|I had it upside down|scratch that|hang on, no|I mean), {t}"
            "|the two {w}? No, {t}",
            w=wrong,
            t=text,
        )
        return Clause(start, top.cells(CORNER_LOOK))
    return Clause(text, top.cells(CORNER_LOOK))


def _diagonal(speaker: Speaker, top: Top, up: list[str]) -> Clause:
    a, b = speaker.mixed(up)
    text = speaker.say(
        "[two,] (diagonal|on a diagonal|crossed|a diagonal|a slant|kitty-corner|catty-corner|crosswise"
        "|slanting)[,|:] [from] {a} (to|and) {b}"
        "|{a} and (the one (diagonally opposite|across|opposite|diagonal to it|across from it)|its opposite"
        "|the opposite (corner|one))"
        "|{a} and {b}[,] (diagonal|across from each other|opposite each other|so diagonal|on the diagonal"
        "|criss-cross)"
        "|the diagonal (from|between) {a} (to|and) {b}|from {a} to {b}|one is {at}, the other [one] (is across"
        "|is diagonally opposite|opposite)"
        "|one {at} and one {bt}|two, one {at}[,] (the other|one) {bt}",
        a=speaker.np(a), b=speaker.np(b), at=speaker.at(a), bt=speaker.at(b),
    )  # fmt: skip
    return Clause(text, top.cells(CORNER_LOOK))


def _relative(speaker: Speaker, top: Top) -> Clause:
    """One of a pair by its place, the other relative to it."""
    a, b = speaker.mixed(top.up(CORNER_LOOK))
    if ACROSS[a] == b:
        return _diagonal(speaker, top, [a, b])
    clockwise = CORNERS[(CORNERS.index(a) + 1) % 4] == b
    side = _pair_side([a, b])
    options = [
        "the next (one|corner) (clockwise|going clockwise)"
        if clockwise
        else "the next (one|corner) (anticlockwise|counterclockwise)"
    ]
    if side in "LR":
        options += ["the one (behind it|behind that|behind)" if SIDES[a][0] == "F" else "the one in front of it"] * 2
    else:
        options += [
            "the one [next to it] to its " + _WHERE[SIDES[b][1]],
            "the one beside it on the " + _WHERE[SIDES[b][1]],
        ]
    text = speaker.say(
        "[it's|I see|yellow on] {a}[,] (and|and then|plus|and also) {b}", a=speaker.np(a), b=speaker.pick(options)
    )
    return Clause(text, top.cells(CORNER_LOOK))


def _lone(speaker: Speaker, top: Top) -> Clause:
    """A single corner, by its two sides one after the other."""
    (cell,) = top.up(CORNER_LOOK)
    first, second = speaker.mixed(list(SIDES[cell]))
    (short, at), (other, _) = speaker.side(first), speaker.side(second)
    wrong = speaker.side(_FACING[second])[0]
    text = speaker.say(
        "{one}[,|.] (it's|it is|that's|it sits|is|) {at}[,|.] [on] the {other} one[, not the {wrong} one]"
        "|{one}, {at}, not the {wrong} one, the {other} one"
        "|of the [two] {short} ones [only|just] the {other} one|the {other} one of the [two] {short} ones[, "
        "nothing else]|{at}, only the {other} one"
        "|{at} one, the {other} [one]|three (are|of them are) (not|wrong|no|not yellow), only {np} (is|has it)"
        "|{np} is the only one|{at}[,] only the {other} one|{at} (only|just) one[,] [and it's] the {other} one"
        "|the only [yellow] (one|corner) is {np}|it's {np} and (nothing else|no other|that's it)|{one}, {np}",
        one=speaker.say("[just|only] one [corner|of them|]|a single one|one|just the one"), at=at, short=short,
        other=other, wrong=wrong,
        np=speaker.np(cell),
    )  # fmt: skip
    return Clause(text, top.cells(CORNER_LOOK))


def _by_sides(speaker: Speaker, top: Top) -> Clause:
    """One row (or column) after the other: "at the back only the left one, in front none"."""
    sides = pick(speaker.random, ("BF", "FB", "LR", "RL"))
    manner = speaker.chance(0.5)
    parts = []
    for side in sides:
        pair = _on(side)
        up = [cell for cell in pair if top.shows[cell]]
        short, at = speaker.side(side)
        if len(up) == 1:
            across = SIDES[up[0]].replace(side, "")
            said = speaker.say(
                "(only|just) the {o} one|the {o} [one]|one, the {o} one|{o} yes, {p} no",
                o=_side_word(speaker, across),
                p=_side_word(speaker, _FACING[across]),
            )
        else:
            said = speaker.say("both|both of them|two|both yes" if up else "none|nothing|neither|no|zero|not one")
        line = "row" if side in "BF" else "(side|column)"
        parts.append(
            speaker.say(
                "{at}[:|,] {said}" if manner else "[the] {short} " + line + "[:|,] {said}",
                at=at,
                short=short,
                said=said,
            )
        )
    return Clause(
        joined(speaker.random, parts) if speaker.chance(0.3) else speaker.say("(. |, |; )").join(parts),
        top.cells(CORNER_LOOK),
    )


def _side_word(speaker: Speaker, side: str) -> str:
    return speaker.short_depth(side) if side in "BF" else _WHERE[side]


def _none(speaker: Speaker, top: Top) -> Clause:
    text = speaker.pick(_NONE)
    return Clause(
        text if speaker.chance(0.6) else text + speaker.say("(, |. )") + speaker.pick(_NONE), top.cells(CORNER_LOOK)
    )


def _all(speaker: Speaker, top: Top) -> Clause:
    if top.shape == "cross" and speaker.chance(0.4):
        text = speaker.say(
            "the whole (top|thing|face) is (yellow|done)|everything on top is yellow"
            "|it's all yellow, the whole (top|face)|nine yellows [on top]|the top is full"
        )
        return Clause(text, {**top.cells(CORNER_LOOK), **top.cells(EDGE_LOOK)})
    text = speaker.pick(_ALL)
    return Clause(
        text if speaker.chance(0.6) else text + speaker.say("(, |. )") + speaker.pick(_ALL), top.cells(CORNER_LOOK)
    )


def _relation_alone(speaker: Speaker, top: Top) -> Clause:
    """Two corners, with their relation to each other but not their places."""
    up = top.up(CORNER_LOOK)
    relation = (
        "diagonal|on a diagonal|across from each other|crossed|opposite each other|not neighbours|catty-corner"
        "|criss-cross|on a slant"
        if ACROSS[up[0]] == up[1]
        else "next to each other|side by side|on the same side|neighbours|adjacent|in one row|on one side"
        "|not diagonal"
        "|beside each other"
    )
    two = speaker.say("two|two corners|[just] two [of them]|exactly two|a pair|there's two|I have two|it's two")
    return Clause(
        speaker.say("{t}[,] [and (they're|they are)] {r}|{t}, {r}|{r}, {t}", t=two, r=speaker.say(relation)),
        corners=2
    )


def _one_on_a_side(speaker: Speaker, top: Top) -> Clause:
    """One corner, and only one of its two sides."""
    (cell,) = top.up(CORNER_LOOK)
    side = pick(speaker.random, SIDES[cell])
    end = "[, I think|, that I know|, but which (one|side), (wait|hm|dunno)|, didn't catch which|, I can't say more]"
    text = speaker.say(
        "(one|just one|only one|one corner|a single one|there's one|I have one), [(it's|and it's)] {at}" + end,
        at=speaker.side(side)[1],
    )
    return Clause(text, {other: False for other in CORNERS if side not in SIDES[other]}, corners=1)


def _one_side(speaker: Speaker, top: Top) -> Clause:
    """Both corners of one side, leaving the others open."""
    alike = [side for side in "BRFL" if len({top.shows[cell] for cell in _on(side)}) == 1]
    if not alike:
        return opened.some_not(speaker, top, CORNER_LOOK)
    side = pick(speaker.random, alike)
    up = top.shows[_on(side)[0]]
    text = speaker.say(
        "[the] {short} (ones|two|pair) {verb}|{start} {at}|both {short} (ones|corners) {verb}",
        short=speaker.side(side)[0],
        at=speaker.side(side)[1],
        verb=speaker.say("(are|have it|yes|are yellow)" if up else "(aren't|not|don't have it|have none|no"
        "|are wrong)"),
        start=speaker.say("both|two" if up else "(none|nothing|neither)"),
    )
    open_end = speaker.say(
        "(, |. |... |, but )(the {o} ones (I (have still to|must) (feel|look at|check)|wait|hm|I can't see"
        "|I don't know)"
        "|that's only the {s} ones, {o} ones (come|later)|the {o} (side|ones) (in a moment|next, wait))",
        o=speaker.side(_FACING[side])[0],
        s=speaker.side(side)[0],
    )
    return Clause(text + open_end, dict.fromkeys(_on(side), up))


def _on(side: str) -> list[str]:
    return [cell for cell in CORNERS if side in SIDES[cell]]


def on_its_side(speaker: Speaker, top: Top) -> Clause:
    """Where incorrect corners have their colour: one of them, or those on one side."""
    wrong = top.down(CORNER_LOOK)
    cell = pick(speaker.random, wrong)
    side = next(side for side in SIDES[cell] if top.shows[STICKER[cell, side]])
    alike = [other for other in CORNERS if (other, side) in STICKER and top.shows[STICKER[other, side]]]
    if len(alike) == 2 and speaker.chance(0.6):
        text = speaker.say(
            "(both|the|the two) {s} (ones|corners) have (it|yellow|their yellow) on (the|their) {s} (face"
            "|side, not on top)"
            "|(there's two|two [of them|corners]) (looking|pointing|facing|turned) {to}|the two {s} corners (look"
            "|face) {to}"
            "|two (look|point|face) {to}[, not up]|two have their yellow (looking|facing) {to}",
            s=_WHERE[side], to={"F": "at me", "B": "away from me"}.get(side, "to the " + _WHERE[side]),
        )  # fmt: skip
        return Clause(text, {STICKER[other, side]: True for other in alike})
    text = speaker.say(
        "{np} has (it|the yellow|its yellow|yellow) on (its|the) {s} [side|face][, not on top]|(its"
        "|the) yellow (of|on) {np} (looks|points|faces) {to}"
        "|{np} (looks|points|faces) {to}|{np}: yellow on the {s} (side|face)|with {np} the yellow is {to}"
        "|{np} is twisted, yellow {to}",
        np=speaker.np(cell), s=_WHERE[side],
        to=speaker.say({"F": "to the front|at me|forward|towards me", "B": "to the back|backwards|away from me", "L":
        "left|to the left", "R": "right|to the right"}[side]),
    )  # fmt: skip
    return Clause(text, {STICKER[cell, side]: True})


def all_sides(speaker: Speaker, top: Top) -> Clause:
    """No corner is right; says where each of them has its colour."""
    parts = []
    told: dict[str, bool] = {}
    for cell in speaker.mixed(CORNERS):
        side = next(side for side in SIDES[cell] if top.shows[STICKER[cell, side]])
        told[STICKER[cell, side]] = True
        parts.append(
            speaker.say(
                "{np}[:|,] [(on|to)] [the] {s}|{np} (points|looks|faces) [to the] {s}",
                np=speaker.short(cell),
                s=_WHERE[side],
            )
        )
    return Clause(
        speaker.say("none on top[,|.] |none[.|,] |all on the sides: |") + ", ".join(parts),
        {**told, **top.cells(CORNER_LOOK)},
    )


_of = partial(lists.about, CORNER_LOOK)


_LISTS: Final = (
    *(_of(lists.which),) * 4,
    *(_of(lists.counted),) * 2,
    _of(lists.each),
    _of(lists.each),
    _of(lists.walked),
    _of(lists.all_but),
)
_MORE: Final = (
    _of(lists.not_these),
    _of(lists.others_not),
    *(_of(rows.rows),) * 2,
    _by_sides,
    _by_sides,
    _of(rows.a_line_and_which),
)
_OPEN: Final = (
    *(_of(opened.count_alone),) * 2,
    _of(opened.some),
    _of(opened.some),
    _of(opened.some_not),
    _of(opened.some_of_both),
    _of(opened.count_and_some),
    _of(rows.a_line),
    _of(rows.some_rows),
)
_COMPLETE: Final[Mapping[int, tuple[Teller, ...]]] = {
    0: (*(_none,) * 9, _of(lists.each), _of(lists.walked), _of(rows.rows), _by_sides, all_sides, all_sides),
    1: (*(_lone,) * 4, *_LISTS, *_MORE),
    2: (*(_pair,) * 6, _relative, *_LISTS, *_MORE),
    4: (*(_all,) * 9, _of(lists.each), _of(rows.rows), _of(lists.which), _by_sides),
}
_INCOMPLETE: Final[Mapping[int, tuple[Teller, ...]]] = {
    0: (_of(opened.some_not), _of(opened.some_not), *(on_its_side,) * 2, _one_side),
    1: (*_OPEN, _one_on_a_side, _one_on_a_side, _one_side),
    2: (*_OPEN, _relation_alone, _relation_alone, on_its_side, _one_side),
    4: (_of(opened.some), _one_side),
}


def complete(speaker: Speaker, top: Top) -> Clause:
    """An answer that settles all four corners."""
    return pick(speaker.random, _COMPLETE[len(top.up(CORNER_LOOK))])(speaker, top)


def incomplete(speaker: Speaker, top: Top) -> Clause:
    """An answer that leaves some open."""
    return pick(speaker.random, _INCOMPLETE[len(top.up(CORNER_LOOK))])(speaker, top)


def beside(speaker: Speaker, top: Top) -> Clause:
    """What is said about the corners without being asked."""
    up = top.up(CORNER_LOOK)
    if len(up) in (0, 4):
        words = (
            "no corners [either]|none of the corners|not a corner either|the corners (are all wrong|aren't)"
            "|corners, none"
            if not up
            else "all (the|four) corners are yellow [too|as well]|(and|even) the four corners (are|have it)"
            "|the corners are all (fine|there|good)"
        )
        return Clause(speaker.say(words), top.cells(CORNER_LOOK))
    n = "one corner" if len(up) == 1 else speaker.say("two corners|two of the corners|a couple of corners"
    "|two corners")
    if speaker.chance(0.5):
        verb = "is" if len(up) == 1 else "are"
        return Clause(
            speaker.say("{n} {v} (yellow|there|done) [too|as well|already]|{n} {v} yellow", n=n, v=verb),
            corners=len(up),
        )
    return Clause(
        speaker.say(
            "{n}[,] {x}|{n}[,] {x}[,] (too|as well)", n=n, x=joined(speaker.random, [speaker.at(cell) for cell in up])
        ),
        top.cells(CORNER_LOOK),
    )
