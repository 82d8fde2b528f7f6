"""All that the coach can say while the last layer is done: each sentence with what it asks or commands.

Sentences used only to read the whole cube are left out. The rest is built from the coach's own phrases by the coach's
own code, so there is a single source. A sentence comes with no more than it tells: a claim holds only the stickers that
are named.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import product
from string import Formatter
from typing import Final

from coach.belief.top import TOP_CORNERS, TOP_EDGES, Belief, Claim
from coach.belief.top.belief import pattern_of
from coach.cube import FACE_TURNS, FACES, ROTATIONS, shown
from coach.dialogue import Ask, Bye, Claimed, Query, Say, Tell
from coach.dialogue.by_heart import introduce
from coach.dialogue.lesson import ALL_STEPS
from coach.dialogue.saying import Talking
from coach.dialogue.solving import wording
from coach.dialogue.talk import Talk
from coach.language import load
from coach.language.meaning import USUAL_COLOURS, Question
from coach.language.phrases import Phrases
from coach.method import Method
from coach.method.last_layer import orientation_states


@dataclass(frozen=True)
class Line:
    """A sentence of the coach, and what it tells the listener besides what it asks or commands."""

    say: Say
    again: bool = False
    """Whether it only announces a repetition."""
    held: tuple[str, str] | None = None
    """The colours that it says to hold on top and in front."""
    never: tuple[Claimed, ...] = ()
    """The stickers that must not be so if it is true."""
    below: bool = False
    """Whether it also claims that the two lower layers are whole."""
    said: str = ""
    """The words that it asks the learner to confirm having said."""

    @property
    def query(self) -> Query | None:
        """What it asks, if anything."""
        return self.say.query if isinstance(self.say, Ask) else None


_QUESTIONS: Final[Mapping[str, Query]] = {
    "look-top-edges": Query("look-top-edges"),
    "look-top-edges-where": Query("look-top-edges"),
    "look-top-corners": Query("look-top-corners"),
    "look-top-corners-where": Query("look-top-corners"),
    "ready": Query("ready"),
    "lower": Query("other", about="lower-layers"),
    "continue": Query("continue"),
    "stop": Query("other", about="stop"),
    "front": Query("other", about="front"),
    "next": Query("continue"),
    "still-there": Query("continue"),
    "more-time": Query("continue"),
}
"""What the sentences of the section "ask" wait for. The last three ask nothing, but any word continues after them."""
_WORDED: Final = frozenset((
    "ask", "check", "claim", "seen", "lower", "calls", "rotations", "glossary",
    "steps", "places", "faces", "columns", "sheet", "problem",
))  # fmt: skip
"""Sections of questions, of turns, and of single words; the sentences of all others tell something."""
_FAREWELLS: Final = ("lesson.all_done", "lesson.unsolvable", "lesson.stopped", "lesson.no-further", "lesson.silent")
_ANSWERS: Final[tuple[Question, ...]] = ("claim", "ready", "continue", "turn", "look-top-edges", "look-top-corners")
"""The moments in which the coach listens for its recogniser's phrases."""
_MOST_TURNS: Final = 20
"""The maximum length of a run."""


class Repertoire:
    """The sentences. `lines` maps each text to its Line."""

    def __init__(self, phrases: Phrases, method: Method, colours: Mapping[str, str] = USUAL_COLOURS) -> None:
        self._phrases, self._method, self._colours = phrases, method, dict(colours)
        self._talk = Talk(phrases, colours=self._colours)
        made = (
            self._told(), self._turns(), self._questions(), self._claims(), self._seen(), self._read(), self._rows(),
            self._guesses(),
        )  # fmt: skip
        self.lines: Mapping[str, Line] = {line.say.text: line for lines in made for line in lines}

    def _told(self) -> Iterator[Line]:
        for key in self._phrases.all_keys():
            if key.split(".")[0] not in _WORDED:
                texts = (text for text in self._filled(key) if text.endswith("."))  # the others are words
                yield from (Line(Bye(text) if key in _FAREWELLS else Tell(text)) for text in texts)
        for key, onwards in product(_FAREWELLS, ("return.from", "return.read")):
            yield from (Line(Bye(" ".join(both))) for both in product(self._filled(key), self._filled(onwards)))
        for step in self._method.top_steps:
            for case, what in product(step.cases, ("name", "hold")):
                if text := case.say(self._phrases.code, what):
                    yield Line(Tell(text.format(**self._talk.gaps)))
        yield from self._introductions()
        for key, up, front in product(("lesson.hold", "read.hold"), self._colours.values(), self._colours.values()):
            yield Line(Tell(self._phrases.say(key, up=up, front=front)), held=(up, front))
        yield Line(Tell(self._phrases.say("reply.again", text="").strip()), again=True)

    def _introductions(self) -> Iterator[Line]:
        """The sequences on top, as they are introduced."""
        for step in self._method.top_steps:
            for case in step.cases:
                if case.named:
                    why = case.say(self._phrases.code, "why").format(**self._talk.gaps)
                    yield from map(Line, _says(introduce(self._talk, case.named, why)))

    def _turns(self) -> Iterator[Line]:
        for turn, key in product(FACE_TURNS, ("", "turn.last", "turn.back")):
            for say in _says(self._talk.call(turn, 0, key=key)):
                yield Line(say)
                if self._phrases.has("turn.careful"):
                    call = self._phrases.call(turn)
                    careful = self._phrases.part("turn.careful", call=call)
                    yield Line(replace(say, text=say.text.lower().replace(call, careful)))
        for turn in ROTATIONS:
            yield from map(Line, _says(self._talk.turn_cube((turn,))))

    def _questions(self) -> Iterator[Line]:
        for key, query in _QUESTIONS.items():
            yield from (Line(Ask(text, query)) for text in self._filled(f"ask.{key}"))

    def _claims(self) -> Iterator[Line]:
        anything = Belief(frozenset(map(pattern_of, orientation_states())))
        known = (anything, anything.shaped("line"), anything.shaped("cross"))  # the wording depends on it
        for belief, claim in product(known, _claims()):
            yield from self._asked(wording.question(self._talk, claim, belief), self._claim(claim))
        for face, place, colour in product(FACES, range(9), self._colours.values()):
            question = wording.sticker_question(self._talk, (f"{face}{place}", "U"), {"U": colour})
            yield from self._asked(question, Query("claim", claim=(Claimed(face, place, colour),)))

        for face in "FRBL":
            colour = self._colours[face]
            front = Query("claim", claim=(Claimed("F", 4, colour),))
            yield from map(Line, self._forms("claim.front", front, colour=colour))

    def _seen(self) -> Iterator[Line]:
        """What must be there after a run: exactly the places that are named."""
        for pattern in map(pattern_of, orientation_states()):
            belief = Belief(frozenset({pattern}))
            for places, words in ((TOP_EDGES, wording.seen_edges), (TOP_CORNERS, wording.seen_corners)):
                there = shown(pattern, places)
                others = tuple(place for place in places if place not in there)
                query, never = self._claim(_up(there)), wording.claimed(_up(others), self._colours)
                seen = words(self._talk, belief)
                for ask in self._forms("claim.check", query, seen=seen):
                    yield Line(ask, never=never)
                for ask in self._forms("claim.check", query, seen=self._phrases.part("seen.and-below", seen=seen)):
                    yield Line(ask, never=never, below=True)

    def _rows(self) -> Iterator[Line]:
        """Rows that are confirmed once something has gone wrong: of the top, and of the sides if what is below is
        whole; states in the middle of a repair are left out."""
        mixed = tuple(product(("U", "F", "R", "B", "L"), repeat=3))
        whole = tuple((face,) * 3 for face in FACES)
        for face, number in product("UFRBL", (1, 2, 3)):
            for row in mixed if face == "U" or number == 1 else whole:
                colours = [self._colours[letter] for letter in row]
                places = range(3 * number - 3, 3 * number)
                claim = (Claimed(face, place, colour) for place, colour in zip(places, colours, strict=True))
                query = Query("claim", claim=tuple(claim))
                words = {**wording.row_words(self._talk, face, number), "colours": ", ".join(colours)}
                yield from map(Line, self._forms("check.row", query, **words))
                if (face, number) == ("F", 1):
                    for ask in self._forms("check.row-all", query, **words):
                        yield Line(ask, below=True)

    def _guesses(self) -> Iterator[Line]:
        """Questions whether the learner has said this or that."""
        for text in dict.fromkeys(text for asked in _ANSWERS for text in load().phrases(asked)):
            for key in ("reply.did-you-say", "reply.did-you-mean"):
                yield Line(Ask(self._phrases.say(key, text=text), Query("other")), said=text)

    def _forms(self, key: str, query: Query, **words: str) -> Iterator[Ask]:
        yield from (Ask(form, query) for form in self._phrases.forms(key, **words))

    def _read(self) -> Iterator[Line]:
        example = ", ".join(self._colours[face] for face in "DFR")
        for face in FACES if self._phrases.has("ask.face") else ():
            order = (wording.row_words(self._talk, face, row)["row"] for row in (1, 2, 3))
            named = dict(zip(("first", "second", "third"), order, strict=True))
            query = Query("face", face=face)
            yield from map(Line, self._forms("ask.face", query, face=self._word(f"faces.{face}"), **named))
        for face, row in product(FACES, (1, 2, 3)):
            query, row_words = Query("row", face=face, row=row), wording.row_words(self._talk, face, row)
            yield from map(Line, self._forms("ask.row", query, example=example, **row_words))

    def _asked(self, question: str, query: Query) -> Iterator[Line]:
        yield from map(Line, self._forms("claim.again", query, question=question))

    def _claim(self, claim: Claim) -> Query:
        return wording.claiming(claim, self._colours)

    def _word(self, key: str) -> str:
        return self._phrases.part(key)

    def _which(self) -> Iterator[str]:
        """The names of turns that went wrong."""
        if self._phrases.has("slip.which"):
            yield from (self._phrases.part("slip.which", nth=nth) for nth in self._phrases.open_forms("slip.ordinals"))
            yield self._phrases.part("slip.which-earlier")

    def _names(self) -> tuple[str, ...]:
        """The names of the sequences on top."""
        cases = (case for step in self._method.top_steps for case in step.cases if case.named)
        return tuple(dict.fromkeys(case.named.say(self._phrases.code, "name") for case in cases if case.named))

    def _filled(self, key: str) -> Iterator[str]:
        """All forms of a sentence with every possible filler of its gaps; none if a gap can hold anything."""
        steps = tuple(self._word(f"steps.{step}") for step in ALL_STEPS)
        numbers = tuple(map(str, range(1, _MOST_TURNS + 1)))
        which = tuple(self._which())
        named = {name: (words,) for name, words in self._talk.gaps.items()}
        cases = (case for step in self._method.top_steps for case in step.cases)
        holds = (case.say(self._phrases.code, "hold").format(**self._talk.gaps) for case in cases)
        turns = tuple(self._phrases.part("turn.count", int(n != "1"), n=n) for n in numbers)
        gaps = {"which": which, **named, "step": steps, "next": steps, "n": numbers, "turns": turns,
                "statement": tuple(filter(None, holds)), "sequence": self._names()}  # fmt: skip
        for form in self._phrases.open_forms(key):
            names = [name for _, name, _, _ in Formatter().parse(form) if name]
            if all(name in gaps for name in names):
                for values in product(*(gaps[name] for name in names)):
                    yield form.format(**dict(zip(names, values, strict=True)))


def _says(talking: Talking[None]) -> Iterator[Say]:
    """What is said in a part of the conversation that never listens."""
    return (act for act in talking if isinstance(act, Say))


def _claims() -> Iterator[Claim]:
    """What the coach may ask about the top."""
    yield from (_up(places) for places in (TOP_EDGES, TOP_CORNERS, ("U3", "U5"), ("U1", "U7")))
    yield from (_up((place,)) for place in (*TOP_EDGES, *TOP_CORNERS))
    yield from (_up((f"{face}{i}",)) for face, i in product("FRBL", range(3)))


def _up(places: tuple[str, ...]) -> Claim:
    """The claim that these places show the top colour."""
    return tuple((place, "U") for place in places)
