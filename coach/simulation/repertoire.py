"""All that the coach can say while the last layer is done: each sentence with what it asks or commands.

What it says only where all of the cube has to be read is left out. The rest is made of the coach's own phrases,
worded by the coach's own code, so there is one source. A sentence comes with no more than it tells: a claim holds
only the stickers that are named.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import product
from string import Formatter
from typing import Any, Final

from coach.belief.top import TOP_CORNERS, TOP_EDGES, Belief, Claim
from coach.belief.top.belief import pattern_of
from coach.cube import FACE_TURNS, FACES, ROTATIONS, shown
from coach.dialogue import Say
from coach.dialogue.lesson import ALL_STEPS
from coach.dialogue.saying import Talking
from coach.dialogue.solving import wording
from coach.dialogue.talk import Talk
from coach.language import load
from coach.language.meaning import USUAL_COLOURS, Question
from coach.language.phrases import Phrases
from coach.method import Method
from coach.method.last_layer import orientation_states

AGAIN: Final = "again"
"""In the data of the words that come before something said once more."""
HOLD: Final = "hold"
"""In the data of what tells how the cube is held: the colours on top and in front."""
NOT: Final = "not"
"""In the data of a claim: the stickers that must not be so, as [face, place, colour]."""
SAID: Final = "said"
"""In the data of a question whether the learner has said something: the words."""
BELOW: Final = "below"
"""In the data of a claim: that the two lower layers are whole, too."""

_QUESTIONS: Final[Mapping[str, Mapping[str, Any]]] = {
    "look-top-edges": {"asks": "look-top-edges"},
    "look-top-edges-where": {"asks": "look-top-edges"},
    "look-top-corners": {"asks": "look-top-corners"},
    "look-top-corners-where": {"asks": "look-top-corners"},
    "ready": {"asks": "ready"},
    "lower": {"asks": "other", "about": "lower-layers"},
    "continue": {"asks": "continue"},
    "stop": {"asks": "other", "about": "stop"},
    "front": {"asks": "other", "about": "front"},
    "next": {"asks": "continue"},
    "still-there": {"asks": "continue"},
    "more-time": {"asks": "continue"},
}
"""What the sentences of the section "ask" wait for. The last three are only told, but any word goes on then."""
_WORDED: Final = frozenset((
    "ask", "check", "claim", "seen", "lower", "calls", "rotations", "glossary",
    "steps", "places", "faces", "columns", "problem",
))  # fmt: skip
"""Sections of questions, of what is said of turns, of words; those of all others tell something."""
_FAREWELLS: Final = ("lesson.all_done", "lesson.unsolvable", "lesson.stopped", "lesson.no-further", "lesson.silent")
_ANSWERS: Final[tuple[Question, ...]] = ("claim", "ready", "continue", "turn", "look-top-edges", "look-top-corners")
"""Where the coach listens for what its recogniser is limited to."""
_MOST_TURNS: Final = 20
"""Runs are at most so long."""


class Repertoire:
    """The sentences. `says` holds each by its text."""

    def __init__(self, phrases: Phrases, method: Method, colours: Mapping[str, str] = USUAL_COLOURS) -> None:
        self._phrases, self._method, self._colours = phrases, method, dict(colours)
        self._talk = Talk(phrases, colours=self._colours)
        made = (
            self._told(), self._turns(), self._questions(), self._claims(), self._seen(), self._read(), self._rows(),
            self._guesses(),
        )  # fmt: skip
        self.says: Mapping[str, Say] = {say.text: say for says in made for say in says}

    def _told(self) -> Iterator[Say]:
        for key in self._phrases.all_keys():
            if key.split(".")[0] not in _WORDED:
                texts = (text for text in self._filled(key) if text.endswith("."))  # the rest are words
                yield from (Say(text, "bye" if key in _FAREWELLS else "tell") for text in texts)
        for key, onwards in product(_FAREWELLS, ("return.from", "return.read")):
            yield from (Say(" ".join(both), "bye") for both in product(self._filled(key), self._filled(onwards)))
        for step in self._method.top_steps:
            for case, what in product(step.cases, ("name", "hold")):
                if text := case.say(self._phrases.code, what):
                    yield Say(text.format(**self._talk.gaps), "tell")
        for key, up, front in product(("lesson.hold", "read.hold"), self._colours.values(), self._colours.values()):
            yield Say(self._phrases.say(key, up=up, front=front), "tell", {HOLD: [up, front]})
        yield Say(self._phrases.say("reply.again", text="").strip(), "tell", {AGAIN: True})

    def _turns(self) -> Iterator[Say]:
        for turn, key in product(FACE_TURNS, ("", "turn.last", "turn.back")):
            for say in _says(self._talk.call(turn, 0, 0, key)):
                yield say
                if self._phrases.has("turn.careful"):
                    call = self._phrases.call(turn)
                    careful = self._phrases.part("turn.careful", call=call)
                    yield Say(say.text.lower().replace(call, careful), say.act, say.data)
        for turn in ROTATIONS:
            yield from _says(self._talk.turn_cube((turn,)))

    def _questions(self) -> Iterator[Say]:
        for key, data in _QUESTIONS.items():
            yield from (Say(text, "ask", data) for text in self._filled(f"ask.{key}"))

    def _claims(self) -> Iterator[Say]:
        anything = Belief(frozenset(map(pattern_of, orientation_states())))
        known = (anything, anything.shaped("line"), anything.shaped("cross"))  # the words depend on it
        for belief, claim in product(known, _claims()):
            yield from self._asked(wording.question(self._talk, claim, belief), self._claim(claim))
        for face, place, colour in product(FACES, range(9), self._colours.values()):
            question = wording.sticker_question(self._talk, (f"{face}{place}", "U"), {"U": colour})
            yield from self._asked(question, {"asks": "claim", "claim": [[face, place, colour]]})

        for face in "FRBL":
            colour = self._colours[face]
            yield from self._checks("claim.front", {"asks": "claim", "claim": [["F", 4, colour]]}, colour=colour)

    def _seen(self) -> Iterator[Say]:
        """What must be there after a run: the places that are named, and no others."""
        for pattern in map(pattern_of, orientation_states()):
            belief = Belief(frozenset({pattern}))
            for places, words in ((TOP_EDGES, wording.seen_edges), (TOP_CORNERS, wording.seen_corners)):
                there = shown(pattern, places)
                others = tuple(place for place in places if place not in there)
                data = {**self._claim(_up(there)), NOT: wording.claim_data(_up(others), self._colours)}
                seen = words(self._talk, belief)
                yield from self._checks("claim.check", data, seen=seen)
                below = self._phrases.part("seen.and-below", seen=seen)
                yield from self._checks("claim.check", {**data, BELOW: True}, seen=below)

    def _rows(self) -> Iterator[Say]:
        """Rows that are confirmed once something has gone wrong: of the top, and of the sides where what is below is
        whole; what is in the middle of a repair is left out."""
        mixed = tuple(product(("U", "F", "R", "B", "L"), repeat=3))
        whole = tuple((face,) * 3 for face in FACES)
        for face, number in product("UFRBL", (1, 2, 3)):
            for row in mixed if face == "U" or number == 1 else whole:
                colours = [self._colours[letter] for letter in row]
                places = range(3 * number - 3, 3 * number)
                claim = [[face, place, colour] for place, colour in zip(places, colours, strict=True)]
                data = {"asks": "claim", "claim": claim}
                words = {**wording.row_words(self._talk, face, number), "colours": ", ".join(colours)}
                yield from self._checks("check.row", data, **words)
                if (face, number) == ("F", 1):
                    yield from self._checks("check.row-all", {**data, BELOW: True}, **words)

    def _guesses(self) -> Iterator[Say]:
        """Whether it was this or that which the learner has said."""
        for text in dict.fromkeys(text for asked in _ANSWERS for text in load().phrases(asked)):
            for key in ("reply.did-you-say", "reply.did-you-mean"):
                yield Say(self._phrases.say(key, text=text), "ask", {"asks": "other", SAID: text})

    def _checks(self, key: str, data: Mapping[str, Any], **words: str) -> Iterator[Say]:
        yield from (Say(form, "ask", data) for form in self._phrases.forms(key, **words))

    def _read(self) -> Iterator[Say]:
        example = ", ".join(self._colours[face] for face in "DFR")
        for face in FACES if self._phrases.has("ask.face") else ():
            order = (wording.row_words(self._talk, face, row)["row"] for row in (1, 2, 3))
            named = dict(zip(("first", "second", "third"), order, strict=True))
            for form in self._phrases.forms("ask.face", face=self._word(f"faces.{face}"), **named):
                yield Say(form, "ask", {"asks": "face", "face": face})
        for face, row in product(FACES, (1, 2, 3)):
            for form in self._phrases.forms("ask.row", example=example, **wording.row_words(self._talk, face, row)):
                yield Say(form, "ask", {"asks": "row", "face": face, "row": row})

    def _asked(self, question: str, data: Mapping[str, Any]) -> Iterator[Say]:
        forms = self._phrases.forms("claim.again", question=question)
        yield from (Say(form, "ask", data) for form in forms)

    def _claim(self, claim: Claim) -> dict[str, Any]:
        return {"asks": "claim", "claim": wording.claim_data(claim, self._colours)}

    def _word(self, key: str) -> str:
        return self._phrases.part(key)

    def _which(self) -> Iterator[str]:
        """The names of turns that went wrong."""
        if self._phrases.has("slip.which"):
            for key, nth in product(("slip.which", "slip.which-earlier"), self._phrases.open_forms("slip.ordinals")):
                yield self._phrases.part(key, nth=nth)

    def _filled(self, key: str) -> Iterator[str]:
        """All forms of a sentence with whatever may stand in its gaps; none where that can be anything."""
        steps = tuple(self._word(f"steps.{step}") for step in ALL_STEPS)
        numbers = tuple(map(str, range(1, _MOST_TURNS + 1)))
        which = tuple(self._which())
        named = {name: (words,) for name, words in self._talk.gaps.items()}
        cases = (case for step in self._method.top_steps for case in step.cases)
        holds = (case.say(self._phrases.code, "hold").format(**self._talk.gaps) for case in cases)
        turns = tuple(self._phrases.part("turn.count", int(n != "1"), n=n) for n in numbers)
        gaps = {"which": which, **named, "step": steps, "next": steps, "n": numbers, "turns": turns,
                "statement": tuple(filter(None, holds))}  # fmt: skip
        for form in self._phrases.open_forms(key):
            names = [name for _, name, _, _ in Formatter().parse(form) if name]
            if all(name in gaps for name in names):
                for values in product(*(gaps[name] for name in names)):
                    yield form.format(**dict(zip(names, values, strict=True)))


def _says(talking: Talking[None]) -> Iterator[Say]:
    """What is said in a part of the conversation that listens to nothing."""
    return (act for act in talking if isinstance(act, Say))


def _claims() -> Iterator[Claim]:
    """What the coach may ask about the top."""
    yield from (_up(places) for places in (TOP_EDGES, TOP_CORNERS, ("U3", "U5"), ("U1", "U7")))
    yield from (_up((place,)) for place in (*TOP_EDGES, *TOP_CORNERS))
    yield from (_up((f"{face}{i}",)) for face, i in product("FRBL", range(3)))


def _up(places: tuple[str, ...]) -> Claim:
    """That these places show the top colour."""
    return tuple((place, "U") for place in places)
