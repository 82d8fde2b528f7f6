"""Answers to how many: raised hands, or people present.

`number` is what was said, counted or calculated. If only the size of the group settles it, `case` says how: "all",
"half", "all-but-2"; without a number the command is "unsure" (about ten, a few, don't know).
"""

from __future__ import annotations

from itertools import accumulate
from random import Random

from coach.language.en.answers.manner import ASIDES, RETRACTIONS, framed, hesitant, written
from coach.language.en.answers.phrasing import choose, options, pick
from coach.language.en.answers.sample import Sample

MOST = 60
_UNITS = options(
    "zero|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen"
    "|eighteen|nineteen"
)
_TENS = ("", "", "twenty", "thirty", "forty", "fifty", "sixty")

_FRAMES = options(
    "{n}|{n}|{n}|{n}|{n} of us|{n} hands|{n} hands are up|{n} hands up|I count {n}|there are {n} of us|we are {n}"
    "|we're {n}|{n} people|{n} have it|{n} have got it|I make it {n}|it's {n}|that's {n}|just {n}|only {n}"
    "|{n} of them|{n} so far|{n} in all|{n} altogether|I see {n} hands|there's {n}|{n} persons|{n} kids|{n} children"
    "|{n} pupils|we've got {n}|{n} hands in the air|head count is {n}|exactly {n}|{n} all told|{n}, I counted twice"
    "|they say {n}|I can see {n}|{n} including me|{n} with me|{n} have their hand up|{n} have raised their hands"
    "|{n} of the class|{n} students have it|now it's {n}|{n} already|{n} do|{n} say yes|{n} of us in the room"
    "|there's {n} of us here|{n} here|I counted {n}|{n} have one|{n} got it|{n} people have their hands up"
    "|let me count... {n}|let me count, {n}|{n}, if I count myself|{n} in the room|we make {n}|I have {n} hands"
    "|must be {n}, yes, {n}|how many? {n}|{n}, {n} hands|{n} hands up, and somebody scratching their ear"
    "|{n} and no more|{n} at the moment|a total of {n}|{n} for now|{n} now|{n} fingers up|number is {n}|it makes {n}"
    "|well, {n}|so {n}|{n} have done it|{n} are ready|{n} people here|{n} pieces|we are {n} here today"
    "|{n}, they're all present|{n} hands, no more|{n} of my lot|{n} lads|{n} ladies|{n} of the kids"
    "|{n}, if you count {p}|{n} with {p}|{n}, because {p} is ill today|{n}, counting {p}"
    "|{n}, I counted along the chairs|{n}, {p} included"
)
_ONE = options(
    "just one|only one|just me|only me|one person|only the one|one hand|me alone|it's only me|I'm alone|just the one"
    "|one of us|a single hand|a single person|one, that's me|I am alone today|nobody but me|just one hand"
    "|only one, over there|me, just me|one only|there's just the one|one kid|one pupil|it's just me here"
    "|I'm on my own"
)
_NONE = options(
    "nobody|none|no one|no hands|zero|not one|not a single one|nobody yet|no one yet|none of us|nobody has it"
    "|nobody's got one|no hands up|no hand is up|not a soul|none yet|nobody at all|nil|nobody has one|none of them"
    "|there's nobody|no one here|nobody put their hand up|I see no hands|I don't see any hands|no hands at all"
    "|not any|nought|no takers|there are none|no one's got it|nobody here has it|none of the children"
    "|nobody, not one|no one has"
)
_WORDS = (
    (2, options(
        "a couple|a couple of us|a pair|a couple of hands|a pair of us|the two of us|both of us|both"
        "|a couple of them"
    )),
    (3, options("a trio|the three of us|us three|three of us only")),
    (6, options("half a dozen|half a dozen of us|half a dozen hands")),
    (12, options(
        "a dozen|a dozen hands|a dozen of us|one dozen|exactly a dozen|a dozen have it|a full dozen|a dozen people"
    )),
    (24, options("two dozen|two dozen of us|two dozen hands")),
)  # fmt: skip
_ALL = options(
    "all|everybody|everyone|all of us|all of them|the whole class|every one|all hands are up|every hand"
    "|every single one|the lot|everybody has it|everyone's got it|all the hands|every last one|the whole group"
    "|all of the class|we all have|they all do|everyone has one|all have it|all of the kids|the entire class"
    "|each of us|a full house|everybody in the room|all, all of us|everyone here|the complete group|all the children"
    "|absolutely everybody|no one is missing, all|every one of us"
)
_HALF = options(
    "half|half of us|half of them|half the class|one half|exactly half|half the hands|half have it|half of the class"
    "|half do|every second one|fifty percent|half the group|half of the kids"
)
_ALL_BUT = options(
    "all but {n}|everybody but {n}|all except {n}|everyone except {n}|everybody apart from {n}|all of us but {n}"
    "|all bar {n}|everyone but {n}|all minus {n}|everybody except {n}|all of them except {n}|the whole class but {n}"
    "|all hands but {n}|only {n} haven't|just {n} haven't got it|only {n} don't have it"
    "|{n} are missing, the others have it|{n} not, the rest yes|only {n} are still without"
    "|all the others, {n} haven't|everybody, only {n} not|all save {n}|only {n} hands are down"
)
_ABOUT = options(
    "about {n}|around {n}|roughly {n}|{n} or so|{n}-ish|maybe {n}|{n} or {m}|between {n} and {m}|something like {n}"
    "|approximately {n}|perhaps {n}|I'd guess {n}|more or less {n}|nearly {n}|almost {n}|more than {n}|at least {n}"
    "|over {n}|not more than {n}|{n}, give or take|{n} I guess, hard to see|{n} to {m}|{n}, maybe {m}|some {n}"
    "|less than {n}|{n} or thereabouts|close to {n}|I think {n} or {m}|under {n}|{n} or more|up to {n}"
    "|I lost count at {n}|it's {n} or {m}, I can't see|I think about {n}"
)
_VAGUE = options(
    "a few|several|many|lots|most of us|most|some|loads|quite a few|not many|I don't know|I can't see them all"
    "|don't know how many|hard to say|I'm not sure|too many to count|a handful|plenty|some of us|a lot|nearly all"
    "|almost everybody|about half|more than half|I lost count|can't count that fast|they keep moving|a bunch"
    "|the majority|less than half|one or two|hardly any|who knows|I can't tell|no idea how many|a good few"
    "|let me count again|wait, I'm counting|they won't keep still|two or three|most of them|a third of us maybe"
    "|only a few|couldn't say|I haven't counted|not sure, ask them"
)
_PEOPLE = options(
    "Sam|Anna|my sister|Noah|the teacher|Ines|Tom|my mum|Keith|grandma|Mia|Jo|Mr Brown|Poppy|Lee|my brother|Ada"
)
_WHY = options(
    "I forgot myself|I forgot to count me|there's one behind the pole|one just went out|put your hand down"
    "|that was an ear|{p} just came in|{p} went home|I counted {p} twice|{p} has put it down|one more at the back"
)


def spoken(number: int) -> str:
    """The number in words: "twenty-five"."""
    if number < 20:
        return _UNITS[number]
    tens, ones = divmod(number, 10)
    return _TENS[tens] + (f"-{_UNITS[ones]}" if ones else "")


def numbers(random: Random) -> Sample:
    """How many, in one of the ways people say it."""
    return random.choices(_TELLERS, cum_weights=_WEIGHTS)[0](random)


def _some(random: Random, least: int = 0, most: int = MOST) -> int:
    """A number with the distribution found in groups: small ones are more frequent."""
    if random.random() < 0.6:
        most = max(least, min(most, 25))
    return least + int(random.random() * (most - least + 1))


def _said(random: Random, number: int, figures: float = 0.2) -> str:
    if random.random() < figures:
        return str(number)
    words = spoken(number)
    return words.replace("-", " ") if random.random() < 0.4 else words


def _sample(
    random: Random, text: str, number: int | None, case: str | None = None, command: str | None = None
) -> Sample:
    if random.random() < 0.12:
        text = hesitant(random, text)
    text = written(random, framed(random, text, asides=_QUIET))
    return Sample("hands", text, number=number, case=case, command=command, complete=command is None)


_QUIET = tuple(aside for aside in ASIDES if "no," not in aside and "two" not in aside and "count" not in aside)
"""Asides without a number or a word that would take one back."""


def _plain(random: Random) -> Sample:
    number, draw = _some(random), random.random()
    if number == 0 or draw < 0.06:
        return _sample(random, pick(random, _NONE), 0)
    if number == 1 or draw < 0.12:
        return _sample(random, pick(random, _ONE), 1)
    text = pick(random, _FRAMES).replace("{n}", _said(random, number)).replace("{p}", pick(random, _PEOPLE))
    return _sample(random, text, number)


def _word(random: Random) -> Sample:
    number, ways = _WORDS[int(random.random() * len(_WORDS))]
    return _sample(random, pick(random, ways), number)


def _whole(random: Random) -> Sample:
    """All, with or without the number, or half."""
    draw = random.random()
    if draw < 0.3:
        number = _some(random, 5)
        n = _said(random, number)
        text = choose(
            random, f"all {n}", f"all {n} of us", f"everybody, {n}", f"all of us, {n}", f"everyone. All {n}",
            f"{n} out of {n}", f"the whole class, {n}", f"all {n} hands are up", f"{pick(random, _ALL)}, {n}",
            f"the complete group, which is {n}", f"full class, {n}", f"every one of the {n}",
        )  # fmt: skip
        return _sample(random, text, number, case=None if " out of " in text else "all")
    if draw < 0.75:
        return _sample(random, pick(random, _ALL), None, case="all")
    return _sample(random, pick(random, _HALF), None, case="half")


def _all_but(random: Random) -> Sample:
    number = 1 + int(random.random() * 6)
    if number == 1 and random.random() < 0.6:
        text = choose(random, "everybody but me", "all but me", "everyone except {p}", "all except {p}", "all but {p}")
        return _sample(random, text.replace("{p}", pick(random, _PEOPLE)), None, case="all-but-1")
    n = choose(random, "one", "one of us", "one person") if number == 1 else _said(random, number)
    text = pick(random, _ALL_BUT[:16] if number == 1 else _ALL_BUT).replace("{n}", n)
    return _sample(random, text, None, case=f"all-but-{number}")


def _about(random: Random) -> Sample:
    if random.random() < 0.45:
        return _sample(random, pick(random, _VAGUE), None, command="unsure")
    number = _guess(random)
    n, m = _said(random, number), _said(random, number + 1 + int(random.random() * 3))
    return _sample(random, pick(random, _ABOUT).replace("{n}", n).replace("{m}", m), None, command="unsure")


def _guess(random: Random) -> int:
    """A guess: round numbers are more frequent."""
    return 5 * (1 + int(random.random() * 10)) if random.random() < 0.5 else _some(random, 4, 50)


_STEPS = (-3, -2, -1, -1, 1, 1, 2, 3, 10)
"""Possible errors of a first count."""


def _corrected(random: Random) -> Sample:
    """A wrong number first, then the right one."""
    number = _some(random, 1)
    step = _STEPS[int(random.random() * len(_STEPS))]
    wrong = number + step if 0 <= number + step <= MOST else number - 1
    n, w, back = _said(random, number), _said(random, wrong), pick(random, RETRACTIONS)
    why = pick(random, _WHY).replace("{p}", pick(random, _PEOPLE))
    text = choose(
        random,
        f"{w}, {back}, {n}",
        f"{w}, {back}, {n}",
        f"{w}... {back} {n}",
        f"{w} hands, {back}, {n}",
        f"we're {w}, {back}, {n}, {why}",
        f"{w}, {back}, {n}, {why}",
        f"not {w}, {n}",
        f"there were {w} but {pick(random, _PEOPLE)} is away, so {n}" if wrong > number else f"first {w}, now {n}",
        f"{w}? No, {n}",
        f"about {w}, {back}, exactly {n}",
        f"I said {w} but it's {n}",
        f"{n}. There were {w} a minute ago",
        f"{w}, wait, {why}, {n}",
    )
    return _sample(random, text, number)


def _counted(random: Random) -> Sample:
    """Counted aloud to a total, or added up."""
    draw = random.random()
    if draw < 0.55:
        number = _some(random, 2, 18)
        start = 1 if random.random() < 0.6 else max(1, number - 1 - int(random.random() * 4))
        comma = choose(random, ", ", ", ", " ", "... ", " and ")
        counted = comma.join(spoken(n) for n in range(start, number + 1))
        n = spoken(number)
        tail = choose(random, "", "", "... {n}", ", so {n}", ", that's {n}", ". {n} hands", ", {n} of us", ". {n}")
        counted += tail.replace("{n}", n)
        return _sample(random, choose(random, "", "", "let me count, ", "so ") + counted, number)
    if draw < 0.75:
        people = random.sample(_PEOPLE, 1 + int(random.random() * 4))
        number = len(people) + 1
        n, names = spoken(number), ", ".join(["me", *people[:-1]]) + f" and {people[-1]}"
        text = choose(random, f"{names}, so {n}", f"{n}. {names}", f"{names}. {n}", f"{n}, {names}", f"{names}, {n}")
        return _sample(random, text, number)
    a, b = 1 + int(random.random() * 15), 1 + int(random.random() * 12)
    where = choose(random, "at the back", "by the window", "over there", "in front", "behind me", "on the floor")
    n, x, y = spoken(a + b), _said(random, a), _said(random, b)
    text = choose(
        random, f"{x}, and {y} {where}, so {n}", f"{x} here and {y} {where}, {n}", f"{x} plus {y}, {n}",
        f"{x} and {y} makes {n}", f"{x} {where} and {y} here, that's {n}", f"me and {y} others, so {spoken(b + 1)}",
        f"{n}, {x} here and {y} {where}", f"{n} out of {_said(random, a + b + 3)}", f"{n} have it and {y} don't",
        f"{n} have it, the other {y} are fighting", f"{n} of the {_said(random, a + b + 2)}",
    )  # fmt: skip
    return _sample(random, text, b + 1 if text.startswith("me and") else a + b)


_SHARES = {_plain: 44, _word: 5, _whole: 11, _all_but: 9, _about: 12, _corrected: 10, _counted: 9}
_TELLERS = tuple(_SHARES)
_WEIGHTS = tuple(accumulate(_SHARES.values()))
