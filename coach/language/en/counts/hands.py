"""Answers to how many hands are up, by rules: what is counted, what is taken back, what is only roughly so."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from coach.language.en.counts import attendance, names, shares
from coach.language.en.counts.masks import KEPT, masked, ways
from coach.language.en.counts.numerals import ASKED, figured

_ALL: Final = re.compile(
    rf"\b(?:(?:absolutely|literally|yes|and|of) )*(?:{ways('all')})\b"
    r"(?: of (?:us|them|you|it|(?:the|my|our|these|those) (?:class|kids|children|pupils|students|group|people|lot)))?"
)
_GROUP: Final = r"(?:rows?|tables?|sides?|corners?|teams?|windows?|doors?|front|back|left|right|half)"
_PART: Final = re.compile(
    rf"\bALL (?:(?:who|that) )?(?:are |is )?(?:at|in|on|by|from|near) (?:the |this |that |my )?(?:\w+ )?{_GROUP}\b"
    rf"|\b(?:all (?:of )?)?(?:the |my |our |this |that )?(?:whole|entire|complete|full) (?:\w+ )?{_GROUP}\b"
    r"|\bALL (?:\w+ )?(?:did|do|does|has|have|is|are|can|could|will|would) not\b(?! (?:but|except))"
)
_SOME_OF: Final = re.compile(
    r"\ball (?:of )?(?:the|my|our|these|those) (?:\w+ )?(?:girls|boys|lads|lassies|ladies|men|women|ones|big|little"
    r"|first|second)\b"
)
_BUT: Final = re.compile(
    rf"\bALL (?:(?:\w+ )?(?:(?:of )?(?:us|them|you|the \w+|my \w+) )?(?:\w+ (?:it|that|1) )?(?:[,|] )?{ways('but')}"
    rf"|(?:[a-z]+ ){{0,6}}(?:[,|] )?{ways('except')}) (?P<who>[^|]+)"
)
_BUT_FOR: Final = re.compile(rf"\b{ways('except')} (?P<who>[^|]+?) (?:[,|] )?ALL\b")
_SHORT: Final = re.compile(
    r"\b(?P<who>\d+) (?:(?:hands?|people|pupils) )?(?:(?:short|shy|off) (?:of )?"
    r"|(?:less|fewer|under|down) (?:than|on) )ALL\b"
)
_WITHOUT: Final = re.compile(
    r"\b(?:without|minus|less|save|bar) (?P<who>\d+)(?: of them)? (?:[,|] )?(?:it is )?ALL\b"
)
_LACK: Final = (
    r"(?:(?P<only>only|just) (?P<few>\d+)|(?P<these>\d+)) (?:of (?:them|us) )?(?:\w+ )?"
    r"(?:(?:have|has|do|does|are|is|did) not(?: (?:have|got|it|one|yet|done|up|there|any|a \w+|the \w+|1|raise\w*"
    r"|put\w*)\b|(?= [|,]|$))"
    r"|without(?= (?:it|1|a)\b| [|,]|$)|(?:is|are) (?:missing|left|without|still)|missing|not(?= [|,]|$| yet))\b[^|]*"
)
_ABOUT: Final = re.compile(rf"\b(?:{ways('about')}) (?:the |a )?(\d+)\b(?: , \d+\b)?")
_OR_SO: Final = re.compile(rf"\b\d+ (?:(?:hands|people|of (?:us|them)|kids|persons) )?(?:, )?(?:{ways('so')})\b")
_BETWEEN: Final = re.compile(
    r"\bbetween \d+ and \d+\b|\b\d+ (?:hands )?(?:, )?(?:or|to|till|maybe|perhaps|or maybe|at a push|possibly) \d+\b"
)
_WITH_ME: Final = re.compile(
    r"\b(?P<n>\d+) (?:[a-z]+ ){0,4}?(?:, )?(?:plus|and) (?:me|myself|i|the teacher)\b(?= [|,]|$)"
    r"|\b(?:me|myself|i|mine) (?:and|plus) (?:the )?(?P<m>\d+)(?: (?:others?|more|kids|pupils|of them|hands|girls"
    r"|boys)\b|$)"
)
_OUT_OF: Final = re.compile(
    r"\b(?P<n>\d+) (?:hands )?(?:out of|of|from)(?: the| our| my| all)? \d+\b|\bout of (?:the )?\d+ (?:,"
    r" )?(?P<m>\d+)\b"
)
_REST: Final = re.compile(
    r"\b(?:all|every(?:body| ?1|one)|whoever|those|the ones) (?:(?:who|that) )?(?:is|are) (?:still )?left\b"
    r"|\b(?:all (?:of )?)?the (?:rest|others?|remaining (?:ones?|kids|pupils)|remainder|ones left)\b(?: of (?:them"
    r"|us|the class))?"
)
_OTHERWISE: Final = re.compile(
    r"REST (?:you |y )?(?:ALL )?(?:have not|has not|do not|does not|are|is|have|has|do|still|keep|y all|sit|need|got"
    r"|did|will)\b"
)
_LEAVES: Final = re.compile(
    r"\b(?:remains?|left|missing|still|lacks?|without|needs?)\b[^|\d]*?(\d+)\b[^|\d]*REST (?:have|do|did|got"
    r"|are)\b(?! not)[^|,]*"
)
_ALONE: Final = re.compile(
    r"\b(?:only|just) (?:me|myself|i)\b(?! and| plus| ,|\w)|\b(?:i am|me|all) (?:alone|on my own|by myself)\b"
)
_EVENT: Final = re.compile(rf"\b(?:\d+|ALL|BUT\d+|VAGUE|ROUGH|REST|{shares.MARK})\b")
_BACK: Final = re.compile(rf"\b(?:{ways('back')})\b")
_DOUBT: Final = re.compile(rf"\b(?:{ways('doubt')})\b")
_OR: Final = re.compile(r"\b(?:or|maybe|perhaps|even) $")
_ASKED: Final = re.compile(rf"[a-z ]*{ASKED}")
_TAKEN: Final = re.compile(
    r"\b(?:no|wait|hang on|hold on"
    r"|(?:scratch|scrap|cancel|ignore|forget|disregard) (?:that|it)|never mind"
    r"|where was i|i (?:have )?(?:lost (?:count|track)|counted wrong(?:ly)?|miscounted)"
    r"|start(?:ing)? (?:again|over)|let me (?:count|check|see)(?: it| them| that| again)*"
    r"|i (?:will|must|have to|need to) (?:re )?count(?: them| it| again)*)$"
)
_ADDED: Final = re.compile(
    rf"\b(\d+) (?:\w+ )??(?:{ways('places')})\b[^|\d]*?(?:,|and|plus|[|]) (?:then |another |also )?(\d+) (?:\w+"
    rf" )??(?:{ways('places')})\b"
)
_PLUS: Final = re.compile(
    r"\b(\d+) (?:[a-z]+ ){0,3}?(?:plus (?:the |another )?|and (?:then )?(?:another|a further) |and then )(\d+)\b"
)
_AND: Final = re.compile(r"(?<![\d,] )\b(\d+) and (\d+)\b(?= [|,]|$)")
_MINUS: Final = re.compile(r"\b(\d+) (?:minus|less|take away) (\d+)\b")
_SIDE: Final = (
    r"(?:on |at )?(?:my |the |your )?(?:left|right|front|back|middle|boys|girls|here|there)"
    r"(?: (?:side|row|table|half))?"
)
_SIDES: Final = re.compile(rf"\b{_SIDE} (\d+) (?:, )?(?:and )?{_SIDE} (\d+)\b")
_LEAD: Final = re.compile(
    r"(?:\b(?!not|never|of)[a-z]+ )*\b(?:say|report|confirm|announce|declare|(?:go|going|stick|sticking) (?:with|for)"
    r"|settle (?:on|for)|(?:write|put|note) (?:it )?down|a note of|take it as) (?=\d|ALL|BUT)"
    r"|\b(?!early\b|only\b)[a-z]{3,}ly\b"
)
"""What leads up to a number, or colours how it is said; doubt is looked for before."""
_KIND: Final = re.compile(
    r"(?<=\ba )[a-z]+ (?=\d)|(?<=\ban )[a-z]+ (?=\d)|(?<=\d )[a-z]+ (?=(?:ones|hands?)\b)"
    r"|(?<=\d )(?:at|by|near|behind|beside|next to|in|on|from) (?:the|my|your|our) [a-z]+(?: [a-z]+)?"
)
"""Words for the kind of number or hands, or for where they are, that do not change how many."""
_TELLS: Final = rf"[a-z]+ (?:{ways('tells')})\b"
_TOLD_BY: Final = re.compile(
    rf"\baccording to (?:my |the )?[a-z]+\b|\b{_TELLS}|\b(?:says?|said) (?:my |the )?[a-z]+\b"
)
_TOLD_BY_TWO: Final = re.compile(
    rf"\b(?!it|that|which)(?P<who>[a-z]+) (?:{ways('tells')}) (?P<n>\d+)\b[^|\d]*?"
    rf"\b(?!(?P=who)\b|it|that|which)[a-z]+ (?:{ways('tells')}) (?!(?P=n)\b)\d+\b"
    rf"|\bsome (?:{ways('tells')}) \d+\b[^|\d]*?\b(?:some|others?) (?:(?:{ways('tells')}) )?\d+\b"
    r"|\b(?P<m>\d+) (?:says?|said) (?P<whose>[a-z]+)\b[^|\d]*?"
    r"\b(?!(?P=m)\b)\d+ (?:says?|said) (?!(?P=whose)\b)[a-z]+\b"
)
_SAID_OF: Final = re.compile(
    r"(?:\d+ (?:(?!is|are|has|have)[a-z]+ )?(?:of (?:them|us) )?(?:is|are|has|have)"
    r"|\b(?:ALL|0)(?: (?:is|are|has|have|was|were))?)"
    r"(?: (?:all|both|just|still|already|only|now))* ([a-z]+)"
)
_OF_CUBES: Final = re.compile(rf"{ways('cube')}|theirs|his|hers|lines|crosses|put|other|[a-z]+ly")


@dataclass(frozen=True)
class Count:
    """So many hands, or all but so many, or a `share` of the class; none of these: nothing exact. `rest`: those who
    have not been counted yet. `sure`: said without doubt. `whole`: nothing else is said that might change it; `bare`:
    nothing else in its clause."""

    number: int | None = None
    all_but: int | None = None
    rest: bool = False
    share: Fraction | None = None
    sure: bool = True
    whole: bool = True
    bare: bool = True

    @property
    def exact(self) -> bool:
        """Whether it is a number at all."""
        return self.rest or any(told is not None for told in (self.number, self.all_but, self.share))


def counted(text: str) -> Count | None:
    """What is counted in `text`; None if no number of people is said."""
    if (listed := names.listed(text)) is not None:
        number, denied = listed
        return Count(all_but=number) if denied else Count(number)
    said = _added(_marked(attendance.without(masked(shares.marked(figured(text))))))
    events = list(_EVENT.finditer(said))
    if not events:
        return None
    if _TAKEN.search(said.removesuffix(ASKED).rstrip(" |,")) and not _EVENT.search(said[events[-1].end() :]):
        return Count(bare=False)
    return _final(said, events) or Count(whole=False, bare=False)


def _marked(said: str) -> str:
    """The words with marks for what is counted without a number, or not exactly."""
    said = re.sub(rf"\b(?:{ways('none')}) (?:{ways('but')}) (?P<who>[^|,]+)", _only, said)
    said = re.sub(
        rf"\b(?:{ways('none')}) (?:(?:is|are) )?(?:missing|absent|away|left out|down|without|lacking)\b", "ALL", said
    )
    said = re.sub(rf"\b(?:{ways('none')})\b(?: of (?:us|them|(?:the|my) \w+))?", "0", said)
    said = _TOLD_BY_TWO.sub("VAGUE", said)
    said = _REST.sub("REST", said)
    said = _SOME_OF.sub("VAGUE", said)
    said = re.sub(rf"\b(?:{ways('nearly')}) (?:{ways('all')})\b", "VAGUE", said)
    said = _ALL.sub("ALL", said)
    said = re.sub(r"\bALL(?: the| of the| of)? (\d+)\b", r"\1", said)
    for way in (_SHORT, _WITHOUT, _BUT_FOR, _BUT):
        said = way.sub(_left_out, said)
    said = re.sub(r"\bALL else\b", "REST", _PART.sub("VAGUE", said))
    said = re.sub(rf"\b{_LACK}", _lacking, said)
    said = _LEAVES.sub(lambda found: f"BUT{found[1]}", said)
    said = _ALONE.sub("1", said)
    said = re.sub(r"\bboth\b(?: of (?:us|them))?", "2", said)
    said = _OUT_OF.sub(lambda found: found["n"] or found["m"], said)
    said = _BETWEEN.sub("ROUGH", said)
    said = _ABOUT.sub("ROUGH", said)
    said = _OR_SO.sub("ROUGH", said)
    said = re.sub(rf"\b(?:{ways('vague')})\b", "VAGUE", said)
    said = re.sub(r"\bVAGUE(?: [a-z]+){0,2}(?: ,)? (?:and|plus) \d+\b", "ROUGH", said)
    return _OTHERWISE.sub(" ", said) if re.search(r"\d", _OTHERWISE.sub(" ", said)) else said


def _only(found: re.Match[str]) -> str:
    number = names.people(found["who"])
    return "VAGUE" if number is None else str(number)


def _left_out(found: re.Match[str]) -> str:
    number = names.people(found["who"])
    return "VAGUE" if number is None else f"BUT{number}"


def _lacking(found: re.Match[str]) -> str:
    told = found["few"] or found["these"]
    before = found.string[: found.start()]
    return " " if re.search(r"\d", before) and not found["only"] else f"BUT{told}"


def _added(said: str) -> str:
    """The words with sums in place of what is added up."""
    said = _WITH_ME.sub(lambda found: str(int(found["n"] or found["m"]) + 1), said)
    said = _MINUS.sub(lambda found: str(max(0, int(found[1]) - int(found[2]))), said)
    for sums in (_PLUS, _ADDED, _SIDES, _AND):
        while found := sums.search(said):
            total = int(found[1]) + int(found[2])
            said = f"{said[: found.start()]}{total} at{said[found.end() :]}"
    return said


def _final(said: str, events: Sequence[re.Match[str]]) -> Count | None:
    """The count that stands in the end; None if several may be meant."""
    begin = max((back.end() for back in _BACK.finditer(said) if back.end() <= events[-1].start()), default=0)
    last = [event for event in events if event.start() >= begin]
    exact = [event for event in last if event[0].isdigit()] or [e for e in last if e[0].startswith("BUT")]
    vague = last[-1][0] == "VAGUE" and (not exact or _OR.search(said[: last[-1].start()]))
    if vague or last[-1][0] == "ROUGH":
        return Count(bare=not _others(said))
    chosen = _one_number(exact) if exact else [event for event in last if event[0] not in ("VAGUE", "ROUGH")][-1]
    if chosen is None:
        return None
    start = max(begin if events[0].start() < begin else 0, said.rfind("|", 0, chosen.start()) + 1)
    asked = _ASKED.match(said[chosen.end() :])
    sure = not asked and not _DOUBT.search(said[start:]) and not _is_remark(said[start:])
    clause = re.split(r"[|,]", said[: chosen.start()])[-1] + re.split(r"[|,]", said[chosen.start() :])[0]
    return _count(chosen[0], sure, not _others(said[start:]), not _others(clause))


def _is_remark(said: str) -> bool:
    """Whether so many are said to be or do something else than what was asked."""
    told = [found[1] for found in _SAID_OF.finditer(said)]
    return any(word not in KEPT and not _OF_CUBES.fullmatch(word) for word in told)


def _others(said: str) -> set[str]:
    """The words that may change what a count means."""
    for harmless in (_LEAD, _KIND, _TOLD_BY, _BACK, _DOUBT):
        said = harmless.sub(" ", said)
    return set(re.findall(r"[a-z]+", said)) - KEPT - {ASKED}


def _one_number(exact: Sequence[re.Match[str]]) -> re.Match[str] | None:
    """The event with the number that is meant: the same throughout, the last one counted aloud, or the sum."""
    if not exact[0][0].isdigit():
        return exact[-1]
    told = [int(event[0]) for event in exact]
    if len(set(told)) == 1:
        return exact[-1]
    run = 1
    while run < len(told) and told[run] in (told[run - 1] + 1, told[run - 1]):
        run += 1
    if run == len(told):
        return exact[-1]
    after = set(told[run:])
    if run > 1 and len(after) == 1 and told[run] > told[run - 1]:
        return exact[-1]
    return exact[-1] if sum(told[:-1]) == told[-1] else None


def _count(event: str, sure: bool, whole: bool, bare: bool) -> Count:
    number = int(event) if event.isdigit() else None
    all_but = 0 if event == "ALL" else int(event[3:]) if event.startswith("BUT") else None
    return Count(number, all_but, event == "REST", shares.share(event), sure, whole, bare)
