"""Answers that name places, shared by edges and corners: lists, yes and no for each, exceptions, counts.

A bare list that answers "which ones?" is complete: the listener takes the others as not shown, so they are labelled as
not shown. There are three exceptions: a single edge (there is never just one, so more must follow), a list that says
that it is unfinished ("and...", "still looking"), and a list of places that are NOT, which tells about those alone
unless the speaker says that the others are, or that these are the only ones.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from random import Random
from typing import Final

from coach.language.en.answers.looks.places import Places
from coach.language.en.answers.looks.top import Clause, LookKind, Top
from coach.language.en.answers.phrasing import joined, pick, word

NUMBERS: Final = ("none", "one", "two", "three", "four")
_YES: Final = {
    "plain": "{np} is yellow|{np} has (it|yellow|got it|some)|{np}, yes|{np} is|there's yellow {at}|{np} (does"
    "|is too)"
    "|I (see|have|'ve got|feel) yellow {at}|{np} (is (good|okay|done|correct)|checks out)|yellow {at}|{np}, (yep"
    "|yeah)|{np} (is|shows) nothing but yellow|{np} (displays|bears|shows|has the) yellow|{np} (is sorted|sits right)"
    "|{np} couldn't be yellower|{np} (is no (exception|other colour than yellow)|isn't missing|doesn't lack it)"
    "|(yellow is|it's) present {at}",
    "foreign":
    "{np} have [yellow]|{np} yellow|yellow (is|I see|I have) {at}|{np} it is yellow|is yellow {at}|{np} (is yes"
    "|yes)"
    "|{np} (is having|have got) yellow|here {at} is yellow|it has yellow {at}|{np}, he is yellow",
    "clipped":
    "{short} yes|{short}: yes|{short}, yes|{short} yellow|{short} good|{short}, (affirmative|positive|check|tick"
    "|present)"
    "|yes {at}|{short} is",
    "child":
    "{np}'s (yellow|a yellow one|got it)|{np} got (it|yellow)|{np} (is yes|yup|yep)|yup for {np}"
    "|{np} is yellow yay|a yellow (is hiding|lives|sits) {at}|{np} is my friend, yellow",
}  # fmt: skip
_NO: Final = {
    "plain":
    "{np} isn't|{np} is not|not {np}|nothing {at}|{np}, no|no yellow {at}|{np} (hasn't [got it]|doesn't)"
    "|{np} is {c}"
    "|{np} (is (plain|clean|dead|empty|blank|different)|looks (different|wrong))|{np} (isn't (good|done|yellow)"
    "|is wrong|has none|is something else|is another colour|is just {c})"
    "|{np}, (nope|nah)|it (isn't|is not|ain't) {np}|it's not {np}|{np} (lacks (it|yellow)|fails|is (still"
    "|) (missing|to do|to come|absent)"
    "|has anything but yellow)"
    "|{np} is (far from yellow|missing|without yellow|a good {c}|nothing but {c}|definitely {c})"
    "|anything but yellow {at}",
    "foreign":
    "{np} not|{np} no have|{np} is not yellow|{np} don't have|not have {at}|{np} no|no yellow is {at}"
    "|{np} it is {c}"
    "|{at} nothing|{np} other colour|{at} is not|{np} is no|{np} not have yellow",
    "clipped": "{short} no|{short}: no|{short}, no|{short} not|{short} {c}|{short}, (negative|nope|nothing|nil"
    "|cross|absent|missing)"
    "|no {at}"
    "|none {at}",
    "child": "{np} (isn't|is not|ain't|doesn't)|{np} got {c}|{np} (is no|nope)|nope for {np}|{np} is {c} yuck"
    "|not {np}",
}  # fmt: skip
COLOURS: Final = ("red", "blue", "green", "orange", "red", "blue", "green", "orange", "white")
_STARTS: Final = (
    "", "", "", "", "it's", "I see", "I have", "I've got", "yellow on", "yellow is", "the yellow ones are",
    "that would be",
    "they're", "I (can|) see yellow on", "I feel", "it is", "the ones with yellow [on top] are", "we have",
    "it has yellow on",
    "the ones I see are", "I'd say", "yellow:", "ones with yellow:", "I count", "these:", "I'm (seeing|getting)",
    "I find",
)  # fmt: skip
_ENDS: Final = (
    "", "", "", "", "{v} yellow", "{have} it", "{have} yellow", "{v}", "{v} [the] (good|yellow) (one|ones)",
    "{have} got it",
    "{have} yellow on top", "{v} showing yellow", "yes", "{v} up", "bear yellow", "display it", "then", "for certain",
)  # fmt: skip
_CLOSERS: Final = (
    "that's (it|all|everything|the lot)", "nothing else", "no more", "the (others|rest) (aren't|no|don't|isn't|not)",
    "only (that|those)", "not the (others|rest)", "the rest (is|are) (nothing|wrong|other colours)",
    "that's (your|yer) lot",
    "nowhere else", "and no others", "that is all", "others no", "end of list", "other ones not",
)  # fmt: skip
_SLIPS: Final = (
    "{w}, no, {r}", "{w}, no wait, {r}", "{w}, sorry, {r}", "{w}, I mean {r}", "{w}... no, {r}",
    "{w}, scratch that, {r}",
    "{w}, er, no, {r}", "{w}, wait no, {r}", "{w}, correction, {r}", "{w}, no no, {r}", "{w}, hang on, no, {r}",
    "{w}? No, {r}", "{w}, or rather {r}", "{w}, no I lied, {r}", "{w}, excuse me, {r}", "{w}, actually no, {r}",
    "{w}, oops, {r}", "{w}, what am I saying, {r}", "{w}, make that {r}", "{w}, ach no, {r}",
    "{w}, I always mix them up, {r}", "{w}, I tell a lie, {r}", "{w}, mistake, {r}", "{w}, I meant {r}",
    "{w}, or, no, {r}",
    "I thought {w} but it's {r}", "{w}, no, wrong, {r}", "{w}, nope, {r}",
)  # fmt: skip


class Speaker(Places):
    """A speaker: their names for places, their grammar, how often they slip."""

    def __init__(self, random: Random) -> None:
        super().__init__(random)
        self.manner = pick(random, ("plain", "plain", "plain", "plain", "foreign", "foreign", "clipped", "child"))
        self.slips = random.choices((0, 1, 2, 3), cum_weights=(70, 87, 96, 100))[0]

    def say(self, pattern: str, **slots: str) -> str:
        return word(self.random, pattern, **slots)

    def pick(self, options: Sequence[str]) -> str:
        return word(self.random, pick(self.random, options))

    def chance(self, share: float) -> bool:
        return self.random.random() < share

    def mixed(self, cells: Sequence[str]) -> list[str]:
        """The places in any order."""
        return self.random.sample(cells, len(cells))

    def list(self, cells: Sequence[str], wrong: Sequence[str] = (), at: bool = False) -> str:
        """The places as a list in any order; sometimes one of those in `wrong` comes first and is taken back."""
        name = self.at if at else (self.short if self.chance(0.25) else self.item)
        items = []
        for cell in self.mixed(cells):
            item = name(cell)
            if wrong and self.slips and self.chance(0.8):
                self.slips -= 1
                item = self._slip(cell, pick(self.random, wrong), item, at)
            items.append(item)
        return joined(self.random, items)

    def _slip(self, cell: str, wrong: str, item: str, at: bool) -> str:
        if cell in ("U3", "U5") and wrong in ("U3", "U5") and self.chance(0.4):
            side = "left" if wrong == "U3" else "right"
            return self.say("{s}, no, [(wait|sorry),] [the|my] other {s}", s="on the " + side if at else side)
        return self.say(pick(self.random, _SLIPS), w=self.at(wrong) if at else self.item(wrong), r=item)

    def yes(self, cell: str, manner: str = "") -> str:
        return self.say(_YES[manner or self.manner], np=self.np(cell), at=self.at(cell), short=self.short(cell))

    def no(self, cell: str, manner: str = "") -> str:
        colour = pick(self.random, COLOURS)
        return self.say(
            _NO[manner or self.manner], np=self.np(cell), at=self.at(cell), short=self.short(cell), c=colour
        )

    def closer(self) -> str:
        return self.pick(_CLOSERS)


def about(
    kind: LookKind, teller: Callable[[Speaker, Top, LookKind], Clause]
) -> Callable[[Speaker, Top], Clause]:
    """The teller for one kind of pieces."""
    return lambda speaker, top: teller(speaker, top, kind)


def which(speaker: Speaker, top: Top, kind: LookKind) -> Clause:
    """The places that show it: "the back one and the left one"."""
    up = top.up(kind)
    at = speaker.chance(0.3)
    places = speaker.list(up, top.down(kind), at)
    if at:
        text = speaker.say(
            "[(It's|there's|I've got|I see|I have|I can feel|there is|we have)] yellow {x}|(it's|) {x}",
            x=places,
        )
    elif speaker.chance(0.25):
        text = joined(speaker.random, [speaker.yes(cell) for cell in speaker.mixed(up)])
    else:
        text = _framed_list(speaker, places, len(up))
    if len(up) == 1 and not speaker.chance(0.4):
        text = speaker.say("(just|only|only) {t}|{t}, (only|alone|by itself|that one only|nothing else)|{t}", t=text)
    elif len(up) == 2 and text == places and speaker.chance(0.3):
        text = speaker.say("(just|only|only) {t}|{t}[,] (only|both)|(just|only) two, {t}", t=text)
    if len(up) == 2 and speaker.slips and speaker.chance(0.15):
        speaker.slips -= 1
        text = speaker.say(
            "{a}, (no|no, sorry), {b}... (ah|no wait|oh|hm), both[, {x}]",
            a=speaker.item(up[0]),
            b=speaker.item(up[1]),
            x=speaker.list(up),
        )
    if speaker.chance(0.25):
        text += speaker.say("(, |. )") + speaker.closer()
    elif speaker.chance(0.08) and top.down(kind):
        text += speaker.say(
            "(, |. )(I thought {np} [too|as well], but (it's|that is|no, that's) [just|only] {c}"
            "|{np} looked like it but it's (only the light|{c}|my finger)"
            "|first I took {np} for one, but (no|it's {c}))",
            np=speaker.np(pick(speaker.random, top.down(kind))), c=pick(speaker.random, COLOURS),
        )  # fmt: skip
    return Clause(text, top.cells(kind))


def _framed_list(speaker: Speaker, places: str, number: int) -> str:
    start, end = speaker.pick(_STARTS), ""
    if number == 1 and start.startswith(("they", "these", "the", "ones")):
        start = "it's"
    if not start:
        plural = number > 1 and speaker.manner != "foreign"
        end = speaker.say(pick(speaker.random, _ENDS), v="are" if plural else "is", have="have" if plural else "has")
    return f"{start} {places} {end}"


def counted(speaker: Speaker, top: Top, kind: LookKind) -> Clause:
    """How many there are, and which."""
    up = top.up(kind)
    places = speaker.list(up, top.down(kind), speaker.chance(0.4))
    text = (
        how_many(speaker, len(up), kind) + speaker.say("(, |. |: |, that's |, so |. (It's|That's|They're) )") + places
    )
    return Clause(text, top.cells(kind))


def how_many(speaker: Speaker, number: int, kind: LookKind) -> str:
    """A count alone."""
    plural = "" if number == 1 or (speaker.manner == "foreign" and speaker.chance(0.5)) else "s"
    noun = speaker.say("{n}{s}|{n}{s}|yellow {n}{s}|{n}{s} yellow|of them|yellow ones", n=kind.noun, s=plural)
    if noun == "yellow ones" and number == 1:
        noun = "yellow one"
    if speaker.slips and speaker.chance(0.5):
        speaker.slips -= 1
        wrong = pick(speaker.random, [i for i in range(5) if i != number])
        return speaker.say(
            "{w}, (no|no wait|sorry|I mean|hang on, no|er, no), {m}[ {noun}]|{w}... no, {m}",
            w=NUMBERS[wrong],
            m=NUMBERS[number],
            noun=noun,
        )
    return speaker.say(
        "[(just|only|exactly|I (see|count|have|feel|find|make it)|there's|there are|it's|I've got|we have|got|um"
        "|precisely)] "
        "{m} [{noun}] [out of [the] four|in total|in all]|{m}|{m} {noun}|{noun}: {m}|how many, {m}|{m} (has"
        "|have) yellow",
        m=speaker.say("{m}|{m}|{m}|{m}|{alt}", m=NUMBERS[number], alt=_alternative(speaker, number)),
        noun=noun,
    )


def _alternative(speaker: Speaker, number: int) -> str:
    return speaker.say(
        {1: "a single one|one single|just the one|more than none and fewer than two",
        2: "a couple|a pair|half|two|2"}[
            number
        ]
    )


def each(speaker: Speaker, top: Top, kind: LookKind) -> Clause:
    """All four, yes or no for each."""
    manner = speaker.manner if speaker.chance(0.7) else "clipped"
    cells = speaker.mixed(kind.cells)
    if speaker.chance(0.4):
        cells.sort(key=lambda cell: not top.shows[cell])
    parts = []
    for cell in cells:
        said = speaker.yes(cell, manner) if top.shows[cell] else speaker.no(cell, manner)
        if speaker.slips and speaker.chance(0.3):
            speaker.slips -= 1
            wrong = speaker.no(cell, manner) if top.shows[cell] else speaker.yes(cell, manner)
            said = speaker.say("{w}, (no|no wait|sorry|scratch that|oh no|hang on|wrong), {r}", w=wrong, r=said)
        parts.append(said)
    if speaker.chance(0.15):
        parts = _by_colour(speaker, top, cells)
    between = pick(speaker.random, (", ", ". ", ". ", "; ", " and ", ", then "))
    return Clause(between.join(parts), top.cells(kind))


def _by_colour(speaker: Speaker, top: Top, cells: Sequence[str]) -> list[str]:
    """The colour at each place, treating the top colour like any other."""
    wording = pick(speaker.random, ("{c} {at}", "{c} {at}", "{s} {c}", "{s}: {c}", "{s} is {c}", "{np}'s {c}"))
    return [
        speaker.say(
            wording,
            c="yellow" if top.shows[cell] else pick(speaker.random, COLOURS),
            at=speaker.at(cell),
            s=speaker.short(cell),
            np=speaker.np(cell),
        )
        for cell in cells
    ]


def walked(speaker: Speaker, top: Top, kind: LookKind) -> Clause:
    """Round the top from one place: "from the back clockwise: yes, no, no, yes"."""
    first, clockwise = speaker.random.randrange(4), speaker.chance(0.75)
    cells = [kind.cells[(first + (i if clockwise else -i)) % 4] for i in range(4)]
    yes, no = pick(
        speaker.random,
        (("yes", "no"), ("yellow", "not"), ("yes", "no"), ("yep", "nope"), ("yellow", "no"), ("has", "hasn't"),
         ("y", "n"), ("check", "x"), ("positive", "negative")),
    )
    text = speaker.say(
        "(from|starting (at|with|from)|I (start|begin) at|start) {s} [and] [going|I go] {way}[: |, ]",
        s=speaker.np(cells[0]), way=speaker.say("clockwise" if clockwise else
        "(anticlockwise|counterclockwise|anti-clockwise)"),
    )  # fmt: skip
    return Clause(text + ": " + ", ".join(yes if top.shows[cell] else no for cell in cells), top.cells(kind))


def all_but(speaker: Speaker, top: Top, kind: LookKind) -> Clause:
    """By naming the exceptions to all or to none."""
    up, down = top.up(kind), top.down(kind)
    if speaker.chance(0.3) or len(down) > 2:
        return Clause(
            speaker.say(
                "(none|no {n}s|nothing|not one|not a one|nowt) [of them] (but|except|apart from|besides|bar|only) {x}"
                "|they're all (wrong|no|missing|not yellow|something else) (except|but|apart from) {x}|(all no"
                "|all negative), (except|but) {x}",
                n=kind.noun, x=speaker.list(up, down),
            ),
            top.cells(kind),
        )  # fmt: skip
    return Clause(
        speaker.say(
            "(all|all of them|everything|every one|every {n}|they're all yellow|all yellow|all four|the lot"
            "|yellow everywhere) "
            "(but|except|except for|apart from|bar|besides|other than|minus|save) {x}|(all|everything) but {x}",
            n=kind.noun, x=speaker.list(down, up),
        ),
        top.cells(kind),
    )  # fmt: skip


def not_these(speaker: Speaker, top: Top, kind: LookKind) -> Clause:
    """By naming those that are not, so that the others are."""
    down = top.down(kind)
    if len(down) == 2 and speaker.chance(0.12):
        a, b = (speaker.np(cell) for cell in speaker.mixed(down))
        return Clause(
            speaker.say(
                "the (two|ones|pair) that (aren't|are not) {a} and (aren't|not|are not) {b}"
                "|two, and {a} (isn't|ain't) one of them and {b} (isn't|ain't) [one of them] either[, do the maths]",
                a=a,
                b=b,
            ),
            top.cells(kind),
        )
    x = speaker.list(down, top.up(kind))
    rest = "the (others|rest|other ones)" if len(down) != 2 else "the (others|other two|rest|other two|other pair)"
    if len(down) == 3:
        rest = "the (other one|last one|other)"
    text = speaker.say(
        "(the only (ones|one|{n}s) (that|which|what) (aren't|isn't|are not|don't have it) [yellow] (is|are) {x}"
        "|(the only|only the|just the) (ones|{n}s) (not yellow|missing|left out|without it|that fail) (are|is|:) {x}"
        "|{x} (is|are) the only (ones|one|{n}s) (that|which) (aren't|isn't|don't|are not)"
        "|all (are|have it), the only (exceptions|ones that aren't) (are|being|:) {x}"
        "|only {x} (isn't|aren't|is not|are not|doesn't|don't)|{x} (isn't|aren't|are not|don't have it"
        "|not), {rest} (are|is|do|have it|yes)"
        "|not {x}, [but] {rest}|the ones that aren't [yellow] are {x}, {rest} (are|is|yes)"
        "|{x} (are wrong|are no good|no|have nothing), {rest} (are good|are fine|yes|have it)|(missing"
        "|what's missing) (is|are)[:] {x}, {rest} there"
        "|the ones without [yellow] are {x} and {rest} (have it|with)|{col}[,] [the] (rest|others) [are"
        "|is] yellow|the (gaps|bad ones"
        "|wrong ones) are {x}, so the yellow (ones are|is) {y})",
        n=kind.noun, x=x, rest=speaker.say(rest), y=speaker.list(top.up(kind)), col=joined(speaker.random,
        _by_colour(speaker, top, down)),
    )  # fmt: skip
    return Clause(text, top.cells(kind))


def others_not(speaker: Speaker, top: Top, kind: LookKind) -> Clause:
    """Those that are, adding in words that the others are not."""
    up, down = top.up(kind), top.down(kind)
    named = speaker.chance(0.5)
    others = (
        "(the others|the rest|other ones|everything else|the remaining ones) (aren't|not|no|isn't|don't"
        "|are something else|have failed)"
    )
    text = speaker.say(
        "{x}[ yes| are yellow| has it|], (and|but|) {rest}|yes (on|for|to) {x}, no (on|for|to) {neg}"
        "|it's {x}, not {neg}|{x} and not {neg}",
        x=speaker.list(up, down),
        neg=speaker.list(down) if named else "the others",
        rest=joined(speaker.random, [speaker.no(cell) for cell in down]) if named else speaker.say(others),
    )
    return Clause(text, top.cells(kind))
