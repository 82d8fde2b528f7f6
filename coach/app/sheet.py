"""A method as a page to take away: HTML that prints large on A4 and Letter and works well with a screen reader.

Pure: the content comes from the method and the language's sentences, in the learner's own words for the faces. The page
is also well-formed XML, with headings without gaps, lists marked up as lists, and nothing conveyed by colour.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from html import escape
from typing import Any, Final

from coach.cube import Turn
from coach.language.phrases import Phrases
from coach.language.teachings import words
from coach.method import Case, Method, NamedSequence, PlacingCase, cases_of
from coach.method.method import AnyStep
from coach.method.sequences import Spoken

STYLE: Final = """
html { font-size: 150%; }
body { color: #000000; background-color: #ffffff; font-family: sans-serif; line-height: 1.5; margin: 1rem; }
main { max-width: 36rem; margin: 0 auto; overflow-wrap: break-word; }
h1, h2, h3 { line-height: 1.25; break-after: avoid; }
h1 { font-size: 1.6rem; }
h2 { font-size: 1.35rem; border-top: 0.15rem solid #000000; padding-top: 0.5rem; margin-top: 2rem; }
h3 { font-size: 1.1rem; }
li { margin-bottom: 0.4rem; break-inside: avoid; }
p { margin: 0.4rem 0; }
@page { margin: 18mm; }
@media print { html { font-size: 18pt; } body { margin: 0; } main { max-width: none; } }
"""
"""Black on white, sizes relative to the reader's own, and no paper size, so that any paper will do."""

_PAGE: Final = """<!DOCTYPE html>
<html lang="{code}">
<head>
<meta charset="utf-8"/>
<meta name="viewport" content="width=device-width, initial-scale=1"/>
{title}
<style>{style}</style>
</head>
<body>
<main>
{body}
</main>
</body>
</html>
"""


_FACES: Final = "UDFBRL"
"""The order in which the marks are told."""


@dataclass(frozen=True)
class ForWhom:
    """Who the page is for: their words for the faces as they hold the cube, the style of calls, a nickname, and whether
    they go by touch."""

    words: Mapping[str, str]
    style: str = "plain"
    learner: str = ""
    touch: bool = False


def sheet(method: Method, phrases: Phrases, whom: ForWhom, first: str | None = None) -> str:
    """The page, from the step `first` on if one is given."""
    ids = [step.id for step in method.steps]
    return _Sheet(method, method.steps[ids.index(first) if first else 0 :], phrases, whom).page()


class _Sheet:
    def __init__(self, method: Method, steps: Sequence[AnyStep], phrases: Phrases, whom: ForWhom) -> None:
        self.method, self.steps, self.phrases, self.whom = method, steps, phrases.by_touch(whom.touch), whom
        self.gaps = phrases.gaps(whom.words["U"], whom.words["D"])

    def page(self) -> str:
        title = self.phrases.say("sheet.title", name=self.method.name)
        body = "\n".join((_tag("h1", title), *self._beginning(), *self._calls(), *self._steps()))
        return _PAGE.format(code=escape(self.phrases.code), title=_tag("title", title), style=STYLE, body=body)

    def _beginning(self) -> Iterator[str]:
        if self.whom.learner:
            yield _tag("p", self.phrases.say("sheet.learner", learner=self.whom.learner))
        if self.method.hand == "left":
            yield _tag("p", self.phrases.say("sheet.left"))
        if self.steps[0] != self.method.steps[0]:
            yield _tag("p", self.phrases.say("sheet.from", step=self.phrases.part(f"steps.{self.steps[0].id}")))
        words = self.whom.words
        yield _tag("p", self.phrases.say("lesson.hold", up=words["U"], front=words["F"]))
        if self.whom.touch:
            yield _tag("h2", self.phrases.say("sheet.marks"))
            yield _tag("p", self.phrases.say("sheet.middles"))
            yield _list("ul", [
                _tag("li", self.phrases.say("sheet.mark", face=self.phrases.part(f"faces.{face}"), word=words[face]))
                for face in _FACES
            ])  # fmt: skip

    def _calls(self) -> Iterator[str]:
        """How turns are called; in any style but the plain one, also what each call on the page means."""
        yield _tag("h2", self.phrases.say("sheet.calls"))
        yield _tag("p", self.phrases.say("sheet.quarter"))
        if self.whom.style != "plain":
            key = "sheet.letters" if self.whom.style == "letters" else "sheet.call"
            turns = sorted({turn for step in self.steps for case in cases_of(step) for turn in case.sequence}, key=str)
            yield _list("ul", [
                _tag("li", self.phrases.say(
                    key, call=self._call(turn), written=str(turn), means=self.phrases.call(turn),
                )) for turn in turns
            ])  # fmt: skip

    def _steps(self) -> Iterator[str]:
        for step in self.steps:
            yield _tag("h2", self.phrases.say(f"steps.{step.id}"))
            for what in ("next", "look", "align", "done"):
                if text := self._own(step, what):
                    values: dict[str, Any] = {what: text}
                    yield _tag("p", self.phrases.say(f"sheet.{what}", **values))
            yield _tag("h3", self.phrases.say("sheet.cases"))
            yield _list("ul", [self._case(case) for case in cases_of(step)])
            whys: dict[NamedSequence, list[str]] = {}
            for case in cases_of(step):
                if case.named:
                    whys.setdefault(case.named, []).append(self._own(case, "why"))
            for sequence, why in whys.items():
                yield from self._sequence(sequence, why)

    def _case(self, case: Case | PlacingCase) -> str:
        told = [self._own(case, "name")]
        if hold := self._own(case, "hold"):
            told.append(self.phrases.say("sheet.hold", hold=hold))
        if case.named:
            told.append(self.phrases.say("sheet.do", sequence=self._own(case.named, "name")))
        else:
            told.append(self.phrases.say("sheet.nothing"))
        return _tag("li", " ".join(told))

    def _sequence(self, sequence: NamedSequence, why: list[str]) -> Iterator[str]:
        """Its name, why it works, and its turns in numbered groups."""
        yield _tag("h3", _capital(self._own(sequence, "name")))
        for reason in dict.fromkeys(why):
            yield _tag("p", reason)
        groups, number = [], 1
        for group in sequence.groups:
            calls = [_tag("li", _capital(self._call(turn))) for turn in group.turns]
            head = _tag("p", f"{_capital(self._own(group, 'name'))}:")
            groups.append(f"<li>{head}\n{_list('ol', calls, number)}</li>")
            number += len(calls)
        yield _list("ul", groups)
        yield _tag("p", self.phrases.say("sheet.order", n=sequence.order))

    def _own(self, spoken: Spoken, what: str) -> str:
        """The method's text with the learner's words in its gaps."""
        return words(spoken, what, self.phrases, self.gaps)

    def _call(self, turn: Turn) -> str:
        return self.phrases.call(turn, self.whom.style)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _tag(name: str, text: str) -> str:
    return f"<{name}>{escape(text, quote=False)}</{name}>"


def _list(name: str, items: list[str], start: int = 1) -> str:
    first = f' start="{start}"' if start > 1 else ""
    return f"<{name}{first}>\n" + "\n".join(items) + f"\n</{name}>"
