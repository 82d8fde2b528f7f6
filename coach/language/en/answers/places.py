"""Words for where a piece is and where its colours face, as people say them."""

from __future__ import annotations

from random import Random

from coach.language.en.answers.manner import RETRACTIONS
from coach.language.en.answers.phrasing import choose, options, pick
from coach.language.en.answers.sample import ROLES

OPPOSITE = {"U": "D", "D": "U", "F": "B", "B": "F", "R": "L", "L": "R"}
_OTHER_LAYERS = {"U": "MD", "M": "UD", "D": "UM"}

LAYERS = {
    "U": options(
        "in the top layer|top layer|top|on top|on the top|upper layer|in the upper layer|up top|upstairs|at the top"
        "|on the top floor|in the top row|up here on top|up in the top layer|in the lid|in the roof layer"
        "|in the top bit|row one, so the top one|way up top|in the highest layer|top slice|above|in top layer"
        "|in the top one|on the upper floor|top deck|upmost layer|in the layer on top|on the upper level"
        "|in the first row from the top"
    ),
    "M": options(
        "in the middle layer|middle layer|middle|in the middle|in the middle row|in between top and bottom"
        "|halfway up|in the belt|in the waist|second layer|in the second layer|middle floor|middle storey"
        "|middle deck|in the mid layer|in middle layer|row two, so the middle one|not top, not bottom, the middle"
        "|in the centre layer|middle slice|neither up nor down, in the middle|in the layer between"
        "|on the middle level|in the middle bit|at middle height|in the one in between"
    ),
    "D": options(
        "in the bottom layer|bottom layer|bottom|at the bottom|on the bottom|lower layer|in the lowest layer"
        "|down below|downstairs|underneath|in the basement|in the cellar|on the ground floor|down at the bottom"
        "|in the bottom row|on the bottom floor|right down at the bottom|low down|bottom slice|in bottom layer|below"
        "|under it all|row three, so the bottom one|down in the bottom|all the way down|on the lowest level"
        "|bottom deck|in the bottom bit|on the floor of the cube|in the bottom one|down under"
    ),
}
LAYER_NAMES = {
    "U": options("top layer|top|upper layer|top floor|top row|lid"),
    "M": options("middle layer|middle|second layer|middle row|belt"),
    "D": options("bottom layer|bottom|lower layer|lowest layer|bottom floor|bottom row"),
}
LAYER_WORDS = {"U": ("top", "top", "upper"), "M": ("middle", "middle", "mid"), "D": ("bottom", "bottom", "lower")}
ADJECTIVES = {
    "F": ("front", "front", "front", "near"),
    "B": ("back", "back", "back", "far", "rear"),
    "L": ("left", "left", "left", "left-hand"),
    "R": ("right", "right", "right", "right-hand"),
}
_SIDES = {
    "F": options(
        "front|at the front|in front|on the front|front side|near me|nearest me|near|on my side|close to me"
        "|in front of me|on the side facing me|the tummy side|the side towards me|at six o'clock|to the south"
        "|on the south side|here at the front|on the front side|in the front|my end|at the near side|by my belly"
        "|six o'clock|front face"
    ),
    "B": options(
        "back|at the back|behind|on the back|back side|at the far side|far side|round the back|in the back"
        "|away from me|on the side away from me|at the rear|rear|furthest from me|opposite me|at twelve o'clock"
        "|to the north|on the north side|on the back side|far away|in behind|at the far end|way in the back"
        "|twelve o'clock|back face"
    ),
    "L": options(
        "left|on the left|left side|on the left side|to the left|on my left|at the left|left-hand side"
        "|on the left-hand side|by my left hand|at nine o'clock|to the west|on the west side|at my left hand"
        "|on the left face|in the left|over on the left|nine o'clock|left hand"
    ),
    "R": options(
        "right|on the right|right side|on the right side|to the right|on my right|at the right|right-hand side"
        "|on the right-hand side|by my right hand|at three o'clock|to the east|on the east side|at my right hand"
        "|on the right face|in the right|over on the right|three o'clock|right hand"
    ),
}
_NOT_THERE = options(
    "not {w}, {s}|{w}? No. {s}|it was {w} a minute ago, now it's {s}|not {w} but {s}|not {w}, I keep saying that, {s}"
)
_CLOCK = {"BR": "half past one", "FR": "half past four", "FL": "half past seven", "BL": "half past ten"}
_COMPASS = {"F": "south", "B": "north", "L": "west", "R": "east"}
_PAIRS = options(
    "{a} {b}|{a} {b}|{a} {b}|{b} {a}|at the {a} on the {b}|on the {b} at the {a}|at the {a}, on the {b}"
    "|between {a} and {b}|{a} and {b}|{b} and {a}|where the {a} meets the {b}|between the {a} and the {b}"
    "|at the {a} and to the {b}|on the {b} side at the {a}|the {a} one on the {b}|the {a} one, {b} side"
    "|{b} side of the {a}|the {b} one at the {a}|round the {a} on the {b}|{a}, {b}|{b}, {a}|both {a} and {b}"
    "|{a} side and {b} side|right at the {a}, on the {b}|the {a} {b} one|in the {a} {b}|on the {a} {b}"
    "|{a} and then {b}|to the {b}, at the {a}"
)

_TOWARDS = {
    "U": options("up|up|up|upwards|upward|straight up|to the top|up, up, up|up top|up to the sky"),
    "D": options(
        "down|down|down|belly down|face down|downwards|downward|straight down|to the bottom|to the floor|to the ground"
        "|down below"
    ),
    "F": options("to me|towards me|towards me|to the front|toward me|to my side|out to me|to my belly|straight to me"),
    "B": options(
        "away from me|away|to the back|backwards|towards the back|out the back|to behind|to the far side|behind"
    ),
    "L": options(
        "left|left|left|to the left|to the left|out to the left|to my left|leftwards|to the left side|to the west"
        "|off to the left|out left|towards my left hand"
    ),
    "R": options(
        "right|right|right|to the right|to the right|out to the right|to my right|rightwards|to the right side"
        "|to the east|off to the right|out right|towards my right hand"
    ),
}
_TARGETS = {
    "U": options("the ceiling|the sky|the lamp|the roof|heaven|the lampshade|the light"),
    "D": options("the floor|the table|the ground|the carpet|my lap|the desk|my knees"),
    "F": options("me|me|me|my face|my tummy|my nose|my belly|my chest"),
    "B": options("the back wall|the wall behind|the far side|the back|the wall across from me"),
    "L": options("my left hand|the left wall|the left side|my left elbow|the west|my left"),
    "R": options("my right hand|the right wall|the right side|my right elbow|the east|my right"),
}
_LIES = {
    "U": options("up|on top|on the top|up top|on the roof|face up|on the lid|on the top face|upwards|above|up, up"),
    "D": options(
        "down|on the bottom|underneath|on the floor|face down|under|on the underside|on the bottom face|downwards|below"
    ),
    "F": options(
        "in front|at the front|on the front|on my side|on the front face|facing me|in front of me|on the front side"
    ),
    "B": options(
        "at the back|behind|on the back|round the back|on the far side|on the back face|facing away|at the rear"
    ),
    "L": options("left|on the left|on the left side|on the left face|out left|to the left|at the left"),
    "R": options("right|on the right|on the right side|on the right face|out right|to the right|at the right"),
}
_LOOKS = options(
    "points|faces|looks|goes|is pointing|is facing|is looking|is turned|pointing|facing|looking|point|look|is poking"
    "|pokes|sticks out|is going|are pointing|are looking|must be pointing|seems to point|it points|points out"
)
_AIMS = options(
    "looks at|faces|points at|is looking at|is facing|is pointing at|stares at|looking at|facing|is staring at"
    "|look at|pointing at|points to|looks to|are facing|is turned to|is aimed at"
)
_SO = options(
    "as it should be|so it's wrong|which is annoying|I can't see it but I can feel it|of course|like a soldier"
    "|so that's good|which is the wrong way|yes it is|I had to tilt it|that's right I think|if you see what I mean"
    "|is that good"
)
_IS = options("is|is|is|is|'s|'s|are|sits|lies|would be|must be|is lying|seems to be|has to be")
_SUBJECTS = options(
    "{c}|{c}|{c}|{c}|the {c}|the {c}|the {c} bit|the {c} part|the {c} sticker|its {c}|the {c} side of it"
    "|the {c} colour|its {c} sticker|{c} sticker|the {c} one|the {c} of it|the bit that's {c}"
)


def layer(random: Random, face: str, slips: float = 0.06) -> str:
    """The layer, perhaps after a wrong one that is taken back."""
    if random.random() < slips:
        wrong = pick(random, LAYERS[pick(random, _OTHER_LAYERS[face])])
        return f"{wrong}, {pick(random, RETRACTIONS)}, {pick(random, LAYERS[face])}"
    return pick(random, LAYERS[face])


def side(random: Random, face: str, slips: float = 0.06) -> str:
    """One of the names of a side, perhaps after the opposite side, which is taken back."""
    if random.random() < 0.07:
        words = choose(random, "on the {c} side", "at the {c} side", "{c} side", "on the side of the {c} middle")
        words = words.replace("{c}", ROLES[face])
    else:
        words = pick(random, _SIDES[face])
    if random.random() < slips:
        wrong = side(random, OPPOSITE[face], 0)
        draw = random.random()
        if draw < 0.5:
            return pick(random, _NOT_THERE).replace("{w}", wrong).replace("{s}", words)
        return f"{wrong}, {pick(random, RETRACTIONS)}, {words}"
    return words


def pair(random: Random, faces: str) -> str:
    """Two sides: front or back, and right or left."""
    a, b = tuple(faces)
    draw = random.random()
    if draw < 0.03:
        return choose(random, "at ", "about ", "") + _CLOCK[faces]
    if draw < 0.06:
        return choose(random, "", "in the ", "to the ") + f"{_COMPASS[a]}{choose(random, '-', ' ')}{_COMPASS[b]}"
    if draw < 0.11:
        first, second = (a, b) if random.random() < 0.5 else (b, a)
        the = choose(random, "the ", "")
        return f"between the {ROLES[first]} and {the}{ROLES[second]} {choose(random, 'side', 'side', 'sides')}"
    if draw < 0.4:
        first, second = (a, b) if random.random() < 0.6 else (b, a)
        return f"{side(random, first)}{choose(random, ', ', ', ', ' and ', ', and ')}{side(random, second)}"
    near = "front" if a == "F" else choose(random, "back", "back", "back", "rear")
    return pick(random, _PAIRS).format(a=near, b=ADJECTIVES[b][0])


def subject(random: Random, colour: str) -> str:
    """The colour as the subject, for the piece in question."""
    return pick(random, _SUBJECTS).replace("{c}", colour)


def predicate(random: Random, face: str) -> str:
    """Where it faces, with or without a verb."""
    draw = random.random()
    if draw < 0.05:
        return f"{choose(random, 'is on', 'is on', 'faces', 'looks to', 'points to')} the {ROLES[face]} side"
    if draw < 0.3:
        return f"{pick(random, _LOOKS)} {pick(random, _TOWARDS[face])}"
    if draw < 0.45:
        return f"{pick(random, _AIMS)} {pick(random, _TARGETS[face])}"
    if draw < 0.85:
        return f"{pick(random, _IS)} {pick(random, _LIES[face])}"
    return pick(random, _LIES[face] if random.random() < 0.6 else _TOWARDS[face])


def facing(random: Random, colour: str, face: str, slips: float = 0.08, questions: float = 0.04) -> str:
    """Where a colour of the piece faces, perhaps after a denial, a slip or a question."""
    draw = random.random()
    if draw < slips:
        return _denied(random, colour, face)
    if draw < slips + questions:
        return f"{choose(random, 'and', 'and the', 'what about', 'the')} {colour}? {predicate(random, face)}"
    words = f"{subject(random, colour)} {predicate(random, face)}"
    return f"{words}, {pick(random, _SO)}" if draw > 0.95 else words


def accompanied(random: Random, colour: str, face: str) -> str:
    """"With the white up", "with white looking left": follows a place in the same phrase."""
    where = (
        pick(random, _LIES[face])
        if random.random() < 0.5
        else f"{choose(random, 'pointing', 'facing', 'looking', 'turned', 'going')} {pick(random, _TOWARDS[face])}"
    )
    return f"with {subject(random, colour)} {where}"


def _denied(random: Random, colour: str, face: str) -> str:
    """Where it faces, after where it does not."""
    wrong = choose(random, *[other for other in "UDFBRL" if other != face])
    lies, wrongly = pick(random, _LIES[face]), pick(random, _LIES[wrong])
    towards, elsewhere = pick(random, _TOWARDS[face]), pick(random, _TOWARDS[wrong])
    what, taken_back = subject(random, colour), pick(random, RETRACTIONS)
    return choose(
        random,
        f"{what} is {wrongly}, {taken_back}, {lies}",
        f"{what} is not {wrongly}, it's {lies}",
        f"{what} isn't {wrongly} but {lies}",
        f"you'd think {colour} was {wrongly} but no, it {pick(random, _LOOKS[:4])} {towards}",
        f"{what} {pick(random, _LOOKS[:4])} {elsewhere}, {taken_back}, {towards}",
        f"{what} {pick(random, _LOOKS[:4])} {elsewhere}, {taken_back}, {colour} goes {towards}",
        f"{what}, not {wrongly}, {lies}",
        f"{what} {wrongly}? No, {lies}",
        f"{what} doesn't {choose(random, 'point', 'face', 'look', 'go')} {elsewhere}, it goes {towards}",
    )
