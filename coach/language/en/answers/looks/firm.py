"""What is shown, told with words that elsewhere deny: "nothing but these", "not only this one", "without a gap"."""

from __future__ import annotations

from typing import Final

from coach.language.en.answers.looks.lists import Speaker
from coach.language.en.answers.looks.top import ACROSS, EDGE_LOOK, Clause, LookKind, Top

_FORM: Final = (
    "(comprising|consisting of|made up of|formed by|composed of|including|containing|involving|being|namely"
    "|that is to say"
    "|to wit|which is|occupying)"
)
_ALONE: Final = (
    "(nothing but|none but|no other than|none other than|nothing except|nothing besides|only|exclusively|solely|just"
    "|merely|purely|simply|no more than|no others than|nothing more than|none save) {x}"
    "|(apart from|except for|save for|besides|other than|aside from|beyond) {x}[,] (none|nothing|no others"
    "|there's nothing"
    "|not one|there are none|no yellow)|(nothing|none|no yellow|no {n}) (apart from|except for|besides|beyond"
    "|other than) {x}"
    "|{x}[,] (and|) (nothing else|no others|no other {n}|no more|nothing more|none of the others|nothing further"
    "|nobody else"
    "|no one else)|{x}[,] (excluding|without|leaving out|not including|to the exclusion of|as opposed to"
    "|and not|rather than|not counting|unlike) the (others|rest|other ones|remaining ones|remainder)"
    "|{x}[,] (nothing more[,] nothing less|no more[,] no less|not more and not less|no more and no fewer)"
    "|{x} without any other|(absent|missing|lacking|none) everywhere (but|except|save) {at}|{x}[,] (absent|none"
    "|nothing)"
    " elsewhere|present {at}, absent elsewhere|nowhere but {at}|nowhere else than {at}|there is none except {x}"
    "|{x}, (whereas|while) (the remaining {n}s|the rest|the others) do not|{x} alone|it's not all of them, (just"
    "|only) {x}"
)
_WHOLE_SENTENCES: Final = (
    "not ", "there", "it", "nowhere", "apart", "except", "besides", "other", "save", "aside", "beyond", "nothing ap",
    "nothing ex",
    "nothing be", "nothing ot", "no yellow",
)  # fmt: skip
_TWO: Final = (
    "not (only|just|merely) {a}[,] but [also] {b} [too|as well]|not (only|just) {a}[,] (also {b}|{b} [as well|too])"
    "|{a}, but not only [that one][,|:] {b} (too|as well|also)|not one but two[,|:] {a} and {b}"
    "|not one[,] but both [of] {a} and {b}|no fewer than two, {a} and {b}|{a} and no less {b}|{a}, not to forget {b}"
    "|{a}, not forgetting {b}|{a}, and don't forget {b}|not three, not one, two: {a} and {b}"
    "|neither more nor less than {a}"
    " and {b}|{a} is [yellow], (and {b} is no different|and {b} no less)"
)
_GAPLESS: Final = (
    "without (a gap|gaps|interruption|a break|any gap|any interruption|breaks|a hole|anything missing)"
    "|(not|never) (interrupted|broken|bent)|with no (gap|gaps|break|hole|interruption|bend) [in it|in between]"
    "|uninterrupted"
    "|unbroken|no (gap|gaps|breaks|holes|bends|kinks)|with nothing missing|nothing missing|not a gap in it"
    "|no bend in it"
)
_WHOLE: Final = (
    "without (a gap|gaps|any gaps|exception|anything missing)|with (nothing|none|no arm|no part) missing"
    "|nothing missing"
    "|no (gap|gaps|holes)|not one (missing|absent)|none (missing|left out)|no exceptions"
)
_LINE: Final = (
    "a (line|stripe|bar|line), {how}[,] [running|going|extending|stretching|reaching|leading] from {a} to {b}"
    "|a (line|stripe|bar|straight line) (running|going|extending|stretching|reaching|leading|that runs"
    "|which extends|spanning)"
    " {how} from {a} to {b}|a line from {a} to {b}, {how}|from {a} to {b} {how}|from {a} (straight"
    "|right) (through|across)"
    " to {b}, {how}"
)


def firm(speaker: Speaker, top: Top, kind: LookKind) -> Clause:
    """The places that show it, stressing that it is only these, or not this one alone."""
    up = top.up(kind)
    if len(up) in (0, 4):
        return Clause(_all_or_none(speaker, kind, bool(up)), top.cells(kind))
    a, b = (speaker.np(cell) for cell in (speaker.mixed(up) * 2)[:2])
    if len(up) == 2 and speaker.chance(0.3):
        return Clause(speaker.say(_TWO, a=a, b=b), top.cells(kind))
    if kind is EDGE_LOOK and speaker.chance(0.45):
        return Clause(_shape(speaker, top, a, b), top.cells(kind))
    x = speaker.list(up)
    start = speaker.say("|||it's |it is |I see |I have |there is yellow on |yellow: ")
    text = speaker.say(_ALONE, x=x, at=speaker.list(up, at=True), n=kind.noun)
    return Clause(text if text.startswith(_WHOLE_SENTENCES) else start + text, top.cells(kind))


def _shape(speaker: Speaker, top: Top, a: str, b: str) -> str:
    first, second = top.up(EDGE_LOOK)
    if ACROSS[first] == second:
        return speaker.say(_LINE, a=a, b=b, how=speaker.say(_GAPLESS))
    rest = "the (other two|others|rest)"
    return speaker.say(
        "(a corner|an L|an angle|a right angle)[,] {form} {x}[, (excluding|not|without|leaving out|but not) {rest}]"
        "|(no|not a) line[,] (but|) a corner[,] {form} {x}|(nothing but|none other than) a corner, {x}"
        "|a corner[,] (without|not|not with|minus|excluding|open towards) {d}, [but] with {x}",
        form=speaker.say(_FORM), x=f"{a} and {b}", rest=speaker.say(rest), d=speaker.list(top.down(EDGE_LOOK)),
    )  # fmt: skip


def _all_or_none(speaker: Speaker, kind: LookKind, everything: bool) -> str:
    if not everything:
        return speaker.say(
            "not (one|a single one|even one) [of the {n}s], [nothing|really nothing]|no {n}s, (without exception"
            "|none at all)"
            "|none [of the {n}s], without (exception|any exception)|(not|never) a trace of yellow on the {n}s"
            "|all (four|{n}s) without yellow|without exception they (are not|aren't) yellow|not only one or two are"
            " wrong, all [four] are|nothing but other colours|none, not (here|this one), not (there|that one)",
            n=kind.noun,
        )
    whole = "a (cross|plus|full cross)" if kind is EDGE_LOOK else "all four [corners]"
    return speaker.say(
        "({w}|all [four]|every (one|{n})|they're all yellow)[,] {how}|not (one|a single one) (is missing|missing"
        "|left out)"
        "|without exception[,] (all [four]|they're all yellow)|not only (two|one|three)[,] (but|) all [four]"
        "|nothing but yellow|no {n} (without|lacks|lacking) [it|yellow]|none is without [it|yellow]"
        "|nothing's missing",
        w=speaker.say(whole), how=speaker.say(_WHOLE), n=kind.noun,
    )  # fmt: skip
