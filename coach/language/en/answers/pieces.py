"""Answers to where a piece of the two lower layers is and how it lies."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from itertools import accumulate
from random import Random

from coach.language.en.answers import places
from coach.language.en.answers.manner import said
from coach.language.en.answers.phrasing import choose, options, pick, word
from coach.language.en.answers.placements import Placement, one_of_placements
from coach.language.en.answers.sample import Sample

_THEN = (", ", ", ", ", ", ". ", ". ", " and ", ", and ", "; ", " ")
_ITS = options(
    "it's |it's |it is |it's sitting |the piece is |that's |it lies |it sits |is |I found it |there it is, "
    "|I have it, |found it, |got it, |it's hiding |here, |it lives |I see it |I've got it ||||||||"
)
_NAMED = options(
    "the {a} {b} one is |the {a} and {b} one is |the {a} {b} piece is |the piece with {a} and {b} is |{a} and {b}, "
    "|{a} {b}, |{a} and {b}... yes, here. It's |the {a} and {b} piece, it's |my {a} {b} is |{a} with {b} is "
    "|where's {a} {b}, ah, |so {a} and {b}. That's |the {a}-{b} one's |the one with {a} and {b} on it, that's "
    "|there's {a} and {b}, |the {a} {b} thing is |I was looking for {a} and {b}. It's "
    "|so the one that is {a} and {b} is "
)  # fmt: skip
_WAITING = options(
    "give me a second for the rest|one moment for the rest|let me look how it lies|I can't see how it lies"
    "|which way it lies I don't know|and which way it points, let me see|I'm still turning it|the rest I can't see"
    "|and the other thing, wait|that's all I can see|what else did you want|I don't know how it's turned"
    "|how it lies I must look|wait for the other thing|what was the other question|that's all I've got"
    "|hang on for the other bit"
    "|I can't make out which way it sits|I can't work out which way the {c} goes|no idea about the {c}"
    "|but the {c} I can't tell|the {c} could be anywhere|I can't feel which way the {c} is|don't ask me about the {c}"
)
_LOST = options(
    "I can't find it|I can't see it|where is it|I don't see it anywhere|I can't find the {p}"
    "|I don't know where it is|not found|no idea where it is|I've looked everywhere|it's nowhere"
    "|there's no such piece|I lost it|I can't find that one|I can't find any {p}|I see no {p}"
    "|still looking for the {p}, can't find it|the {p} is gone|I haven't found it|cannot find the {p}"
    "|I don't have a {p}|haven't a clue where the {p} is|I keep turning it and I can't find it|it isn't anywhere"
    "|can't find it, sorry|I don't think there is a {p}|I looked on all sides and there's no {p}"
)
_AT_HOME = options(
    "it's in its place already|it is in its place|it's where it should be|it's already in the right place"
    "|already there|it's in the right spot|it's home already|it sits in its place|it's already where it belongs"
    "|it's in its own place|{n}in its place|{n}already where it should be|{n}at home|it's already in"
    "|that one's in the right place already"
)
_RIGHT = options(
    "the right way round|and the right way round|and it's right|correct|and turned right|solved|and it fits"
    "|all its colours match|and its colours match the middles|facing the right way|and properly turned"
    "|exactly as it should be|and matching all round"
)
_WRONG = {
    2: options(
        "but the wrong way round|but flipped|only flipped|but it's the other way round|but turned over"
        "|just upside down|but its two colours are swapped|but the colours are the wrong way about|flipped though"
        "|but back to front"
    ),
    3: options(
        "but twisted|but it's twisted|but the corner's turned wrong|but the corner's twisted|only it's twisted"
        "|but that corner isn't right|but that corner is the wrong way round"
    ),
}


def pieces(random: Random) -> Sample:
    """Where some edge or corner of the two lower layers is, told in full or in part."""
    piece = one_of_placements(random)
    teller = random.choices(_TELLERS, cum_weights=_WEIGHTS)[0]
    return teller(random, piece)


def _told(random: Random, piece: Placement, text: str, **tells: object) -> Sample:
    """The text in the manner of somebody who was asked for this piece, and what it tells."""
    return Sample("piece", said(random, text), piece=piece.colours, **tells)  # type: ignore[arg-type]


def _named(random: Random, piece: Placement) -> str:
    """The piece by its colours, as an introduction: nothing about where they face."""
    colours = list(piece.colours)
    random.shuffle(colours)
    last = colours.pop()
    between = choose(random, " ", ", ", " and ") if len(colours) > 1 else ""
    return pick(random, _NAMED).replace("{a}", between.join(colours)).replace("{b}", last)


def _begun(random: Random, piece: Placement, where: str, named: float = 0.14) -> str:
    """A place with what people say before it."""
    begin = _named(random, piece) if random.random() < named else pick(random, _ITS)
    return begin + where


def _place(random: Random, piece: Placement) -> str:
    """The full place: its layer and its sides in any order."""
    sides, layer = piece.sides, piece.layer
    draw = random.random()
    if draw < 0.22 and not (layer == "M" and draw < 0.1):
        return _compact(random, piece)
    level = places.layer(random, layer)
    where = places.pair(random, sides) if len(sides) == 2 else places.side(random, sides)
    if len(sides) == 2 and random.random() < 0.12:
        a, b = tuple(sides) if random.random() < 0.5 else tuple(sides[::-1])
        return ", ".join((places.side(random, a), level, places.side(random, b)))
    first, second = (level, where) if random.random() < 0.65 else (where, level)
    return first + choose(random, ", ", ", ", ", ", " ", " ", " and ", ", and ", ", and it's ", ". ", "... ") + second


def _adjectives(random: Random, sides: Iterable[str]) -> str:
    return " ".join(pick(random, places.ADJECTIVES[face]) for face in sides)


def _compact(random: Random, piece: Placement) -> str:
    """The place in one phrase: "the top front edge", "the left edge of the bottom layer"."""
    layer, sides = piece.layer, list(piece.sides)
    if len(sides) == 2 and random.random() < 0.25:
        sides.reverse()
    words = _adjectives(random, sides)
    level, name = pick(random, places.LAYER_WORDS[layer]), pick(random, places.LAYER_NAMES[layer])
    kind = "corner" if len(piece.position) == 3 else "edge"
    noun = choose(random, kind, kind, "one")
    return choose(
        random,
        f"{level} {words}",
        f"{level} {words}",
        f"the {level} {words} {noun}",
        f"{level} {words} {noun}",
        f"the {words} {noun} of the {name}",
        f"{words} {noun}, {name}",
        f"in the {name}, the {words} {noun}",
        f"{name}, {words} {noun}",
        f"{words} of the {name}",
        f"the {words} {noun} in the {name}",
        f"{words}, {level}",
        f"{words} on the {name}" if layer != "M" else f"{words} in the {name}",
    )


def _asked(random: Random, piece: Placement) -> str:
    """The colour whose facing is told: mostly the one that was asked about."""
    return piece.colours[0] if random.random() < 0.8 else choose(random, *piece.colours)


def _facings(random: Random, piece: Placement, colours: list[str]) -> str:
    asks = 0.04 if len(colours) == 1 else 0.0
    told = [places.facing(random, colour, piece.shows[colour], questions=asks) for colour in colours]
    joint = choose(random, ", ", ", and ", " and ", ". ", ", so ", ", because ", ", which means ", ", while ")
    return joint.join(told)


def _whole(random: Random, piece: Placement) -> Sample:
    """The place and where one or more colours face."""
    first = _asked(random, piece)
    told, draw = [first], random.random()
    if draw < 0.27:
        others = [colour for colour in piece.colours if colour != first]
        told += others if draw < 0.08 else [choose(random, *others)]
        random.shuffle(told)
    faces = _facings(random, piece, told)
    shows = {colour: piece.shows[colour] for colour in told}
    draw = random.random()
    if draw < 0.04 and len(told) == 1:
        where = places.pair(random, piece.sides) if len(piece.sides) == 2 else places.side(random, piece.sides)
        layer = pick(random, places.LAYER_NAMES[piece.layer])
        text = f"layer: {layer}. Sides: {where}. {first}: {places.predicate(random, shows[first])}"
        if random.random() < 0.4:
            text = f"{choose(random, 'three parts. ', '')}One, {layer}. Two, {where}. Three, {faces}"
    elif draw < 0.28:
        joint = choose(random, ", and it's ", ". It's ", ", and the piece is ", ". ", ", and the whole thing is ")
        text = faces + joint + _place(random, piece)
    else:
        text = _begun(random, piece, _place(random, piece))
        if len(told) == 1 and random.random() < 0.12:
            text += choose(random, " ", ", ") + places.accompanied(random, first, shows[first])
        else:
            text += pick(random, _THEN) + faces
    return _told(random, piece, text, place=piece.position, shows=shows)


def _implied(random: Random, piece: Placement) -> Sample:
    """The place is implied: by its sides and a colour that faces up or down, or by all colours."""
    vertical = [colour for colour, face in piece.shows.items() if face in "UD"]
    if vertical and random.random() < 0.6:
        told = vertical
        where = places.pair(random, piece.sides) if len(piece.sides) == 2 else places.side(random, piece.sides)
        faces = _facings(random, piece, told)
        text = _begun(random, piece, where) + pick(random, _THEN) + faces
        if random.random() < 0.3:
            text = f"{faces}, and it's {where}"
    else:
        told = list(piece.colours)
        random.shuffle(told)
        text = _facings(random, piece, told)
        if random.random() < 0.2:
            text = _named(random, piece) + "here. " + text
    return _told(random, piece, text, place=piece.position, shows={c: piece.shows[c] for c in told})


def _waits(random: Random, text: str, colour: str) -> str:
    """Perhaps adds a word about what is still to come."""
    if random.random() > 0.35:
        return text
    return text + choose(random, ". ", ", ", "... ") + pick(random, _WAITING).replace("{c}", colour)


def _place_only(random: Random, piece: Placement) -> Sample:
    text = _waits(random, _begun(random, piece, _place(random, piece), named=0.2), piece.colours[0])
    return _told(random, piece, text, place=piece.position, complete=False)


def _layer_only(random: Random, piece: Placement) -> Sample:
    """Only its layer, or also where a colour faces, without settling the place."""
    text = _begun(random, piece, places.layer(random, piece.layer), named=0.25)
    shows = {}
    if random.random() < 0.25:
        colour = _asked(random, piece)
        if piece.shows[colour] in "UD" or piece.layer == "M" or len(piece.position) == 3:
            shows = {colour: piece.shows[colour]}
            text += pick(random, _THEN) + places.facing(random, colour, piece.shows[colour])
    elif len(piece.position) == 3 and random.random() < 0.4:
        level = pick(random, places.LAYER_NAMES[piece.layer])
        where = places.side(random, choose(random, *piece.sides))
        text = choose(random, f"a {level} corner, {where}", f"it's a corner of the {level}, {where}")
    text = _waits(
        random,
        text + choose(random, "", "", "", " somewhere"),
        choose(random, *[each for each in piece.colours if each not in shows]),
    )
    return _told(random, piece, text, layer=piece.layer, shows=shows, complete=False)


def _facing_only(random: Random, piece: Placement) -> Sample:
    """Only where one colour faces; up or down also gives its layer."""
    colour = _asked(random, piece)
    face = piece.shows[colour]
    other = choose(random, *[each for each in piece.colours if each != colour])
    text = _waits(random, places.facing(random, colour, face), other)
    layer = face if face in "UD" else None
    return _told(random, piece, text, layer=layer, shows={colour: face}, complete=False)


def _its(random: Random, piece: Placement) -> Sample:
    """One colour stands for the piece, with "its" or "the other one" for the rest; the place comes first or last."""
    first = _asked(random, piece)
    rest = [colour for colour in piece.colours if colour != first]
    shows = {first: piece.shows[first]}
    if random.random() < 0.3 and len(piece.position) == 2:
        faces = places.facing(random, first, shows[first], questions=0)
        other = piece.shows[rest[0]]
        text = f"{faces}{pick(random, _THEN)}{pick(random, _OTHER)} {places.predicate(random, other)}"
        shows = {colour: piece.shows[colour] for colour in piece.colours}
        return _told(random, piece, text, place=piece.position, shows=shows)
    name = pick(random, _ONE).replace("{c}", choose(random, *rest))
    whole = random.random() < 0.65
    where = f"{name} {_place(random, piece) if whole else places.layer(random, piece.layer)}"
    faces = f"{choose(random, 'its', 'its', 'his', 'the')} {first} {places.predicate(random, shows[first])}"
    if random.random() < 0.25:
        text = f"{faces}{choose(random, ', and ', ', ', '. ', ' and ')}{where}"
    else:
        text = f"{where}{choose(random, ' and ', ', and ', ', ', ' with ', ', with ', '. ')}{faces}"
    text = text
    if whole or set(shows.values()) | {piece.layer} >= set(piece.position):
        return _told(random, piece, text, place=piece.position, shows=shows)
    return _told(random, piece, text, layer=piece.layer, shows=shows, complete=False)


_ONE = options("the {c} one's|the {c} one is|the {c}'s|the {c} is|the {c} one sits|that {c} thing is|my {c} one is")
_OTHER = options("the other one|the other|the other colour|the other side|the other bit|its other colour")


def _side_only(random: Random, piece: Placement) -> Sample:
    """A side without a layer: not yet a place, except for an edge described as lying between two sides."""
    sides = piece.sides
    if len(sides) == 2 and len(piece.position) == 2:
        words = places.pair(random, sides)
        if random.random() < 0.4:
            words = f"the {_adjectives(random, sides)} edge"
        colour = _asked(random, piece)
        text = _begun(random, piece, words) + pick(random, _THEN) + places.facing(random, colour, piece.shows[colour])
        return _told(random, piece, text, place=piece.position, shows={colour: piece.shows[colour]})
    words = places.side(random, choose(random, *sides))
    if len(sides) == 2 and random.random() < 0.5:
        words = f"in the {_adjectives(random, sides)} corner"
    text = _waits(random, _begun(random, piece, words) + choose(random, "", " somewhere", ""), piece.colours[0])
    return _told(random, piece, text, complete=False)


def _at_home(random: Random, piece: Placement) -> Sample:
    """At home, as a case: `home`, `home-right` or `home-wrong`; where that is depends on the piece."""
    name = pick(random, _NAMED[:4]).replace("{a}", piece.colours[0]).replace("{b}", " ".join(piece.colours[1:]))
    text = pick(random, _AT_HOME).replace("{n}", name)
    draw, size = random.random(), len(piece.position)
    if draw < 0.3:
        return _told(random, piece, text, case="home", complete=False)
    between = choose(random, ", ", " ", ". ")
    if draw < 0.55:
        text += between + pick(random, _RIGHT)
        return _told(random, piece, text, case="home-right")
    text += between + pick(random, _WRONG[size])
    return _told(random, piece, text, case="home-wrong", complete=size == 2)


def _lost(random: Random, piece: Placement) -> Sample:
    kind = " edge" if len(piece.colours) == 2 else " corner"
    name = choose(random, " ", " and ").join(piece.colours) + choose(random, "", " one", " piece", kind)
    return _told(random, piece, pick(random, _LOST).replace("{p}", name), command="unsure", complete=False)


_WHICH_END = options(
    "I can't work out if that's {a} or {b}|can't tell if it's the {a} or the {b}|{a} or {b} I can't say"
    "|whether it's {a} or {b} I don't know|not sure if {a} or {b}|is that the {a} or the {b}, I don't know|somewhere"
    "|which end I can't tell|and then {a} or {b}, one of the two|I mix up {a} and {b}"
)


def _one_side(random: Random, piece: Placement) -> Sample:
    """One of its two sides, with or without its layer; the learner cannot tell the other one."""
    sides = piece.sides
    if len(sides) == 1:
        return _layer_only(random, piece)
    told, left = random.sample(sides, 2)
    ends = ("front", "back") if left in "FB" else ("left", "right")
    a, b = random.sample(ends, 2)
    parts, layer = [places.side(random, told)], None
    if random.random() < 0.75:
        layer = piece.layer
        parts.append(places.layer(random, layer))
        random.shuffle(parts)
    doubt = pick(random, _WHICH_END).replace("{a}", a).replace("{b}", b)
    text = _begun(random, piece, ", ".join(parts)) + choose(random, ", ", " but ", ". ", "... ") + doubt
    return _told(random, piece, text, layer=layer, complete=False)


_DOUBTS = (
    "I {cant} which way the {c} (sits|faces|points|goes|looks|lies)",
    "no idea which way the {c} (sits|faces|goes|is)",
    "I {cant} where the {c} is[ pointing| facing]",
    "which way the {c} (faces|goes) I {cant}",
    "I {cant} how it (lies|sits|is turned)",
)
_CANT = "(can't tell|can't make out|can't work out|cannot see|couldn't say|don't know)"


def _doubtful(random: Random, piece: Placement) -> Sample:
    """The learner cannot tell how it lies, and names no place."""
    wording = pick(random, _DOUBTS).replace("{cant}", _CANT).replace("{c}", choose(random, *piece.colours))
    return _told(random, piece, word(random, wording), command="unsure", complete=False)


_ASKED_BACK = (
    "which (piece|one|two colours|colours)[ was it| again| is it| do you mean| sorry]",
    "what was the (second|last|other|first|third) colour[ again]",
    "what were (the|its|those) colours[ again]",
    "is it the one with {p}", "was it {p}", "did you say {p}", "the {p} one, (was it|is that right|did you say|yes)",
    "(sorry|hang on), {p} (was it|did you say)", "{a} and what[ was it| again]", "you said {a} and",
    "do you (want|mean) the one with {p}",
)  # fmt: skip


def _asks_back(random: Random, piece: Placement) -> Sample:
    """Asks which piece it was."""
    colours = list(piece.colours)
    random.shuffle(colours)
    named = ", ".join(colours[:-1]) + " and " + colours[-1] if random.random() < 0.7 else " ".join(colours)
    text = word(random, pick(random, _ASKED_BACK), p=named, a=colours[0])
    return _told(random, piece, text, command="repeat", complete=False)


_FOUND = ("(found it|got it|there it is|ah there|I have it)", "(still looking|nearly|not yet|I'm searching)")
_A_MOMENT = "(give me a sec|hang on|wait a moment|let me see|one moment|just a second|let me turn it)"


def _found(random: Random, piece: Placement) -> Sample:
    """The piece is found, or not yet, and the answer is still to come."""
    text = word(random, pick(random, _FOUND) + choose(random, ", ", " ") + _A_MOMENT)
    return _told(random, piece, text, command="more-time", complete=False)


_SHARES: dict[Callable[[Random, Placement], Sample], int] = {
    _whole: 54, _implied: 10, _place_only: 7, _layer_only: 6, _facing_only: 6, _side_only: 7, _its: 9, _at_home: 6,
    _lost: 4, _one_side: 5, _doubtful: 2, _asks_back: 3, _found: 1,
}  # fmt: skip
_TELLERS = tuple(_SHARES)
_WEIGHTS = tuple(accumulate(_SHARES.values()))
