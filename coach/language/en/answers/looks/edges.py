"""What speakers say about the four edges on top: shapes and their direction, and everything that lists can say."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import Final

from coach.language.en.answers.looks import lists, rows
from coach.language.en.answers.looks import open as opened
from coach.language.en.answers.looks.lists import Speaker
from coach.language.en.answers.looks.top import ACROSS, EDGE_LOOK, EDGES, SIDE, STICKER, Clause, Top
from coach.language.en.answers.phrasing import pick

Teller = Callable[[Speaker, Top], Clause]
_NAMES: Final[Mapping[str, str]] = {
    "dot":
    "dot|dot|point|spot|speck|single square|lonely dot|dot in the middle|little dot|button|full stop|tiny island",
    "line":
    "line|line|line|straight line|stripe|bar|stick|road|strip|straight one|band|beam|long one|snake|bridge|pole"
    "|stroke"
    "|row of three|pipe|plank|ruler",
    "corner":
    "corner|corner|corner|L|letter L|angle|elbow|bend|right angle|seven|V|boomerang|hook|L shape|corner shape|arrow"
    "|bent one|bendy one|knee|half a cross|bracket|little roof|bent arm|corner thing|L lying down|turned L|gamma|J"
    "|backwards L|ninety degree angle|v shape|chair",
    "cross":
    "cross|cross|plus|plus sign|big cross|full cross|complete cross|whole cross|plus shape|proper cross"
    "|yellow cross"
    "|cross with four arms|star with four arms|windmill|four-leaf clover|cross (like|as) on a church"
    "|plus like in maths",
}  # fmt: skip
_ACROSS: Final = (
    "from left to right", "from right to left", "left to right", "sideways", "horizontal", "horizontally",
    "lying (down|flat)",
    "side to side", "across", "going across", "across the middle", "through the middle, left to right",
    "the middle row", "from one hand to the other", "from my left [hand] to my right [hand]",
    "like a (minus|dash|hyphen|minus sign)", "east to west", "from (nine to three|three to nine) [o'clock]",
    "west east",
    "along the middle row", "from my left thumb to my right thumb", "from this hand to that hand, left to right",
    "flat",
    "between left and right", "straight across from left to right", "the (middle|second) row", "left right",
    "crossways",
    "like the Japanese number one", "from L to R", "asleep, left to right", "parallel to my (chest|shoulders|tummy)",
)  # fmt: skip
_AWAY: Final = (
    "from front to back", "from back to front", "front to back", "back to front", "up and down", "vertical",
    "vertically",
    "standing [up]", "upright", "away from me", "going straight away from me",
    "from me to the (wall|window|far side|other side|end)",
    "top to bottom", "down the middle", "up the middle", "the middle column", "lengthwise", "north to south",
    "noon to six", "from (twelve to six|six to twelve) [o'clock]", "like (a|the number|the digit) one",
    "like (a capital|the letter|an|a letter) I",
    "lengthways",
    "from my (tummy|belly|chest|lap) to the (far side|wall|other side)", "pointing (at|away from) me",
    "straight ahead [of me]",
    "along the middle column", "from near to far", "from far to near", "towards me", "toward my (belly|nose|belt)",
    "front back",
    "between front and back", "in the middle column", "from bottom to top", "back and forth, I mean front to back",
    "the long way, from me",
)  # fmt: skip
_NONE: Final = (
    "none", "none of (them|the edges|the four|'em)", "no (edges|edge|yellow edges|one)", "nothing",
    "not (one|a single one|any|a one)",
    "zero", "nothing (at all|on the edges|anywhere|there)", "only the (middle|centre|center) [one|piece]",
    "just the (middle|centre|center)",
    "zero (edges|out of four|of four)", "nil", "nope, none", "no yellow on any (edge|of them|side)",
    "I (can't|don't) (see|find) any",
    "there (isn't|is not) (one|any)", "all (four|edges) are (wrong|other colours|not yellow|no)",
    "neither back nor front nor left nor right",
    "(not a sausage|nowt|nada|zilch|zip|nane)", "(edges|edge)[,] (none|no|zero|not one|nothing)", "no, no, no and no",
    "none has [it|yellow]",
    "all the edges have it on their sides", "is only point in middle", "nobody", "the edges are all (wrong|bad|off)",
    "four times no",
)  # fmt: skip
_ALL: Final = (
    "all (four|of them|the four|four of them|edges|'em)", "all", "every (one|edge|single one|one of them|last one)",
    "four", "four edges",
    "(back, front, left and right|left, right, front, back|front and back and both sides)",
    "the (whole|full) (lot|four|thing)", "all yellow",
    "four out of four", "(each|each one|each of them) (has|is|shows) [it|yellow]", "all the edges (are|have) yellow",
    "all four arms",
    "everything", "all sides", "they all (have it|are|do)", "yes on all (four|of them)",
    "there's (none missing|not one missing)",
    "no edge (is missing|without yellow)", "yellow on every (side|edge)", "both pairs",
    "one, two, three, four[, all]",
    "all edge (is|have) yellow",
)  # fmt: skip


def _named(speaker: Speaker, shape: str) -> str:
    """The shape, with or without its article."""
    name = speaker.say(_NAMES[shape])
    article = "" if name.startswith(("half", "L lying")) else ("an " if name[0] in "aeoL" else "a ")
    if speaker.manner in ("foreign", "clipped") and speaker.chance(0.6):
        article = ""
    start = speaker.say(
        "|||it's |it is |I see |I have |I've got |that's |it looks like |there's |is |like |I'd say |it makes "
        "|kind of |it's like |this is "
    )
    return start + speaker.say("{a}{n}", a=article, n=name)


def _way(speaker: Speaker, top: Top) -> str:
    """The direction of the line."""
    across = top.shows["U3"]
    if speaker.chance(0.3):
        a, b = speaker.mixed(top.up(EDGE_LOOK))
        return speaker.say(
            "[(running|going|extending|stretching|leading|reaching)] from {a} [through the (middle|centre)] to {b}"
            "|between {a} and {b}|{a} to {b}|from {an} [through the (middle|centre)] (over|all the way|) to {bn}",
            a=speaker.short(a),
            b=speaker.short(b),
            an=speaker.np(a),
            bn=speaker.np(b),
        )
    way = speaker.pick(_ACROSS if across else _AWAY)
    if speaker.slips and speaker.chance(0.6):
        speaker.slips -= 1
        wrong = speaker.pick(_AWAY if across else _ACROSS)
        way = speaker.say(
            "{w}, (no|no wait|sorry, no|I mean|scratch that,|hang on,|er, no,) {r}|not {w}, {r}", w=wrong, r=way
        )
    elif speaker.chance(0.08):
        way = speaker.say("not {w}|not {w}, the other way", w=speaker.pick(_AWAY if across else _ACROSS))
    return way


def _line(speaker: Speaker, top: Top) -> Clause:
    text = speaker.say(
        "{line}[,|.] [(it goes|going|it runs|lying|it's|that runs|and it's|and it lies|it lies)] {way}"
        "|{way}, {line}|{way}",
        line=_shape(speaker, "line"), way=_way(speaker, top),
    )  # fmt: skip
    return Clause(text, top.cells(EDGE_LOOK))


def _shape(speaker: Speaker, shape: str) -> str:
    """The shape, sometimes after another one that is taken back."""
    named = _named(speaker, shape)
    if speaker.slips and speaker.chance(0.35):
        speaker.slips -= 1
        wrong = pick(speaker.random, [other for other in _NAMES if other != shape])
        return speaker.say(
            "{w}, (no|no wait|sorry|I mean|scratch that|hang on|er, no|not that), {r}|not {w}, {r}"
            "|first I thought {w}, but (no, |now |){r}"
            "|{w}? No, {r}|{w}... no, {r}",
            w=_named(speaker, wrong), r=named,
        )  # fmt: skip
    return named


def _corner(speaker: Speaker, top: Top) -> Clause:
    a, b = speaker.mixed(top.up(EDGE_LOOK))
    places = speaker.list([a, b], top.down(EDGE_LOOK))
    text = speaker.say(
        "{c}[,|.|:] [(at|with|it's|on|in|it touches|touching|made of|using|towards|to|facing|pointing|comprising"
        "|consisting of|formed by"
        "|made up of|composed of|joining|of)] {x}"
        "|{c}, (one|an) (arm|leg|end|part|side) (is|lies|goes|points|sits) {a}[,] and (the other|one|another"
        "|second) [one|arm|is|goes] {b}"
        "|{c} (between|that joins|joining|connecting|from) {np} (and|to|with) {nq}|{c}, {x} (are yellow|have it"
        "|are the arms|are in it)"
        "|{x}, [so|that makes|it makes|like|makes] {c}|(it's|) {x}[,|.] {c}|{c}: {sa} {sb}|{c}[,] {sa} and {sb}"
        "|{c} (going|coming|running|bending) from {np} to the (middle|centre) [and] then [to] {nq}",
        c=_shape(speaker, "corner"), x=places, a=speaker.at(a), b=speaker.at(b), np=speaker.np(a), nq=speaker.np(b),
        sa=speaker.short(a), sb=speaker.short(b),
    )  # fmt: skip
    return Clause(text, top.cells(EDGE_LOOK))


def _shape_and_rest(speaker: Speaker, top: Top) -> Clause:
    """The shape, located by the edges outside it, or by those it opens towards."""
    down = speaker.list(top.down(EDGE_LOOK), top.up(EDGE_LOOK))
    text = speaker.say(
        "{s}[,|.] [(and|but|because)] ({d} (are not|aren't|not|have nothing|are out|don't have it)|not (at|on"
        "|with|) {d}|without {d}|nothing on {d})",
        s=_shape(speaker, top.shape), d=down,
    )  # fmt: skip
    if top.shape == "corner" and speaker.chance(0.2):
        text = speaker.say(
            "{s}, (it opens|opening|the opening is|open) (to|towards) {d}, so (it's|the arms are|) {x}"
            "|{s}[,] (open|opening|opened|that opens) (to|towards) {d}|{s}[,] with (its|the) opening (to"
            "|towards) {d}",
            s=_named(speaker, "corner"), d=speaker.list(top.down(EDGE_LOOK)), x=speaker.list(top.up(EDGE_LOOK)),
        )  # fmt: skip
    return Clause(text, top.cells(EDGE_LOOK))


def _clock(speaker: Speaker, top: Top) -> Clause:
    """The position of a clock's hands with this shape."""
    up = frozenset(top.up(EDGE_LOOK))
    time = {
        frozenset({"U1", "U5"}): "three o'clock|at three o'clock|three", frozenset({"U1", "U3"}):
        "nine o'clock|at nine o'clock|nine",
        frozenset({"U1", "U7"}): "six o'clock|at six o'clock", frozenset({"U3", "U5"}):
        "quarter to three|a quarter past nine",
        frozenset({"U5", "U7"}): "half past three|half three|three thirty", frozenset({"U3",
        "U7"}): "half past nine|half nine|nine thirty",
    }[up]  # fmt: skip
    text = speaker.say(
        "{s}[,] like (the hands of a clock|clock hands|a clock|a watch) (at|showing|that says) {t}",
        s=_named(speaker, top.shape),
        t=speaker.say(time).removeprefix("at "),
    )
    return Clause(text, top.cells(EDGE_LOOK))


def _relative(speaker: Speaker, top: Top) -> Clause:
    """One by its place, the other relative to it."""
    a, b = speaker.mixed(top.up(EDGE_LOOK))
    if ACROSS[a] == b:
        other = (
            "the one (opposite|across from it|facing it|on the other side|directly across)|its opposite"
            "|the opposite one|what is opposite"
        )
    elif EDGES[(EDGES.index(a) + 1) % 4] == b:
        other = (
            "the (next|one next to it|neighbour|following one), [going] clockwise|the next one clockwise"
            "|its clockwise neighbour"
        )
    else:
        other = (
            "the (next|one next to it|neighbour|following one), [going] (anticlockwise|counterclockwise)"
            "|the next one anti-clockwise"
        )
    text = speaker.say(
        "[it's|I see|there's|yellow on] {a}[,] (and|and then|plus|and also) {b}", a=speaker.np(a),
        b=speaker.say(other)
    )
    return Clause(text, top.cells(EDGE_LOOK))


def _none(speaker: Speaker, top: Top) -> Clause:
    return Clause(_whole(speaker, "dot", _NONE), top.cells(EDGE_LOOK))


def _all(speaker: Speaker, top: Top) -> Clause:
    return Clause(_whole(speaker, "cross", _ALL), top.cells(EDGE_LOOK))


def _whole(speaker: Speaker, shape: str, words: Sequence[str]) -> str:
    return speaker.say(
        "{s}|{s}(, |. |, so ){w}|{w}|{w}|{w}(, |. |, so |. So ){s}", s=_shape(speaker, shape), w=speaker.pick(words)
    )


def _shape_alone(speaker: Speaker, top: Top) -> Clause:
    text = _shape(speaker, top.shape)
    if speaker.chance(0.55):
        text += speaker.say(
            "(, |. |... )(I think|I guess|which way, (wait|I don't know)|not sure how it lies|turned somehow"
            "|but which way, (hang on|hm|dunno)|for sure"
            "|I'd say|I don't know how to (describe|say) it|you call it|let me see which way"
            "|give me a moment for the direction|again|clearly"
            "|the way it lies, (one moment|I can't tell)|in your words|if you like|as always|pointing somewhere"
            "|how do you say|I can't tell the sides)"
        )
    return Clause(text, shape=top.shape)


def _relation_alone(speaker: Speaker, top: Top) -> Clause:
    two = speaker.say(
        "two|two edges|[just] two [of them]|exactly two|a pair|there's two|I have two|it's two|two yellow ones"
        "|there are two"
    )
    relation = (
        "opposite [each other]|across from each other|facing each other|on opposite sides|one opposite the other"
        "|with the middle between them"
        "|not next to each other|not neighbours"
        if top.shape == "line"
        else "next to each other|side by side|neighbours|adjacent|touching at a corner|beside each other|not opposite"
        "|one next to the other"
        "|neighbouring [each other]|at right angles"
    )
    text = speaker.say("{t}[,] [and (they're|they are)] {r}|{t}, {r}", t=two, r=speaker.say(relation))
    return Clause(text, shape=top.shape, edges=2)


def _one_arm(speaker: Speaker, top: Top) -> Clause:
    """A corner shape with only one arm told."""
    arm = pick(speaker.random, top.up(EDGE_LOOK))
    text = speaker.say(
        "{s}[,|.] (one (arm|leg|end|side) (is|goes|points|lies) {at}|one part {at}|it touches {np}|{np} is (in it"
        "|part of it))"
        "(, |. |... )(the other (one|arm|) (I can't see|I lost|wait|hm|let me look|I don't know)|and the other"
        "|and then... I'm not sure|and somewhere else|, the rest I must look)",
        s=_shape(speaker, "corner"), at=speaker.at(arm), np=speaker.np(arm),
    )  # fmt: skip
    return Clause(text, {arm: True}, shape="corner")


def on_its_side(speaker: Speaker, top: Top) -> Clause:
    """Where an incorrect edge has its colour instead."""
    cell = pick(speaker.random, top.down(EDGE_LOOK))
    side = speaker.say({"B": "back", "R": "right", "F": "front", "L": "left"}[SIDE[cell]])
    text = speaker.say(
        "{np} (has|shows) (it|the yellow|its yellow) on (the|its) ({s} side|side)[, not on top]"
        "|on {np} the yellow (looks|points|faces) (to the {s}|sideways|outwards)"
        "|{np} is (flipped|turned over), yellow on the ({s}|side)|{np}'s yellow is (on the {s} side|down the side)"
        "|on the {s} (side|face)[,] the (top middle|middle of the top row|upper middle) [one] is yellow"
        "[, so {np} (isn't|is not|no)]|yellow (sits|is) in the middle of the top row of the {s} side[, not on top]",
        np=speaker.np(cell), s=side,
    )  # fmt: skip
    return Clause(text, {cell: False, STICKER[cell, SIDE[cell]]: True})


_of = partial(lists.about, EDGE_LOOK)


_LISTS: Final = (
    *(_of(lists.which),) * 3,
    _of(lists.counted),
    *(_of(lists.each),) * 2,
    _of(lists.walked),
    _of(lists.all_but),
)
_MORE: Final = (
    *(_of(lists.not_these),) * 2,
    _of(lists.others_not),
    *(_of(rows.rows),) * 2,
    _of(rows.a_line_and_which),
)
_OPEN: Final = (
    _of(opened.count_alone),
    _of(opened.some),
    _of(opened.some),
    _of(opened.some_not),
    _of(opened.some_of_both),
    _of(opened.count_and_some),
    _of(rows.a_line),
    _of(rows.some_rows),
)
_COMPLETE: Final[Mapping[str, tuple[Teller, ...]]] = {
    "dot": (*(_none,) * 9, _of(lists.each), _of(lists.walked), _of(rows.rows)),
    "cross": (*(_all,) * 9, _of(lists.each), _of(lists.walked), _of(rows.rows), _of(lists.which)),
    "line": (*(_line,) * 7, _shape_and_rest, _clock, _relative, *_LISTS, *_MORE),
    "corner": (*(_corner,) * 6, _shape_and_rest, _clock, _relative, *_LISTS, *_MORE),
}
_INCOMPLETE: Final[Mapping[str, tuple[Teller, ...]]] = {
    "dot": (*(_of(opened.some_not),) * 2, _of(rows.a_line)),
    "cross": (_of(opened.some),),
    "line": (*(_shape_alone,) * 6, _relation_alone, *_OPEN),
    "corner": (*(_shape_alone,) * 5, _one_arm, _relation_alone, *_OPEN),
}


def complete(speaker: Speaker, top: Top) -> Clause:
    """An answer that settles all four edges."""
    return pick(speaker.random, _COMPLETE[top.shape])(speaker, top)


def incomplete(speaker: Speaker, top: Top) -> Clause:
    """An answer that leaves some open."""
    return pick(speaker.random, _INCOMPLETE[top.shape])(speaker, top)


def beside(speaker: Speaker, top: Top) -> Clause:
    """What is said about the edges without being asked."""
    up = top.up(EDGE_LOOK)
    if top.shape in ("cross", "dot"):
        words = {
            "cross":
            "(the|your|my) cross is (there|done|complete)|I have the cross|the edges are (all yellow|all done"
            "|fine)|all (the|four) edges are yellow [too]"
            "|just the [big] plus|there's a (cross|plus)|of edges I have all four",
            "dot":
            "no edges|the edges are (all wrong|not yellow)|none of the edges|there's no cross|not one edge either"
            "|edges, none|not even an edge",
        }  # fmt: skip
        return Clause(speaker.say(words[top.shape]), top.cells(EDGE_LOOK))
    if speaker.chance(0.5):
        return Clause(
            speaker.say(
                "the edges (make|are|form|are like) a {s}|of the edges there's a {s}|the edges have a {s}",
                s=top.shape
            ),
            shape=top.shape,
        )
    text = speaker.say(
        "(two edges, {x}|the {sa} edge and the {sb} edge are yellow|of the edges {x})",
        x=speaker.list(up),
        sa=speaker.short(up[0]),
        sb=speaker.short(up[1]),
    )
    return Clause(text, top.cells(EDGE_LOOK))
