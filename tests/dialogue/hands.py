"""A learner's hands for tests of the conversation's core: a real cube, and answers as meanings, not words.

It does what it is told by the acts alone and sees only its own cube; it shares nothing with the package's
simulated learner, with what the coach knows, or with the understanding of words.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from coach.cube import PLACE_NAMES, PLACE_NUMBER, Cube, Turn, position_of
from coach.dialogue import Act, Adjust, Ask, CallTurn, End, Event, Heard, Listen, Rotate, Say, Silence
from coach.dialogue.lesson import Lesson, Settings
from coach.dialogue.pace import LONGEST
from coach.language.meaning import Command, Meaning
from coach.method import default_method
from tests.dialogue.hearing import utter
from tests.loaded import load

COLOURS = {"U": "yellow", "R": "orange", "F": "green", "D": "white", "L": "red", "B": "blue"}
EDGES = ("U1", "U3", "U5", "U7")
CORNERS = ("U0", "U2", "U6", "U8")
LINES = ({"U1", "U7"}, {"U3", "U5"})


def new_lesson(step: str | None = "top-cross", settings: Settings | None = None) -> Lesson:
    """A lesson by the default method."""
    return Lesson(default_method(), load().sentences, step, settings)


def command(name: Command) -> Heard:
    """A command or a short answer."""
    return utter(name, Meaning(command=name))


@dataclass
class Hands:
    """Holds `cube`, carries out the acts, remembers all of them, and answers truthfully."""

    cube: Cube
    acts: list[Act] = field(default_factory=list)

    def take(self, acts: Iterable[Act]) -> None:
        """Do what the coach says."""
        for act in acts:
            self.acts.append(act)
            if isinstance(act, CallTurn):
                self.cube = self.cube.do((act.turn,))
            elif isinstance(act, Rotate):
                self.cube = self.cube.do((act.rotation,))

    @property
    def says(self) -> list[Say]:
        return [act for act in self.acts if isinstance(act, Say)]

    @property
    def texts(self) -> list[str]:
        return [say.text for say in self.says]

    @property
    def calls(self) -> list[Turn]:
        return [say.turn for say in self.says if isinstance(say, CallTurn)]

    @property
    def turns(self) -> list[str]:
        return [str(turn) for turn in self.calls]

    @property
    def louder(self) -> int:
        return sum(act.volume for act in self.acts if isinstance(act, Adjust))

    @property
    def end(self) -> End | None:
        last = self.acts[-1]
        return last if isinstance(last, End) else None

    @property
    def listen(self) -> Listen:
        last = self.acts[-1]
        assert isinstance(last, Listen), last
        return last

    @property
    def asked(self) -> list[Ask]:
        """All questions."""
        return [act for act in self.acts if isinstance(act, Ask)]

    @property
    def question(self) -> Ask:
        """The last question."""
        return self.asked[-1]

    def questions_before_turn(self) -> list[Ask]:
        """The questions up to the first called turn."""
        says = self.says
        first = next((i for i, say in enumerate(says) if isinstance(say, CallTurn)), len(says))
        return [say for say in says[:first] if isinstance(say, Ask)]

    # What is seen

    def colour(self, place: str) -> str:
        return COLOURS[self.cube.faces[PLACE_NUMBER[place]]]

    def shows(self, place: str) -> bool:
        """Whether the colour of the top shows at `place`."""
        return self.colour(place) == self.colour("U4")

    def claim_holds(self) -> bool:
        """Whether what the last question claims is so."""
        return all(self.colour(f"{face}{place}") == colour for face, place, colour in self.question.query.claim)

    def look(self, places: tuple[str, ...]) -> Heard:
        """All of `places`, in full."""
        return utter("look", Meaning(look={place: self.shows(place) for place in places}))

    def answer(self) -> Event:
        """The full truth to what is asked; silence in the pause after a call, "next" where the coach waits."""
        asked = self.listen.asked
        if asked == "turn":
            return Silence(self.listen.seconds) if self.listen.seconds <= LONGEST else command("next")
        if asked == "look-top-edges":
            return self.look(EDGES)
        if asked == "look-top-corners":
            return self.look(CORNERS)
        if asked == "claim":
            return command("yes" if self.claim_holds() else "no")
        if asked == "piece":
            return self._piece()
        if asked in ("row", "face"):
            face, number = self.question.query.face, self.question.query.row
            row = range(3 * number - 3, 3 * number) if number else range(9)
            return utter(asked, Meaning(colours=tuple(self.colour(f"{face}{i}") for i in row)))
        if self.question.query.about == "front":
            return utter("front", Meaning(colours=(self.colour("F4"),)))
        return command("unsure" if self.question.query.about == "step" else "yes")

    def _piece(self) -> Heard:
        names = {colour: face for face, colour in COLOURS.items()}
        home = position_of("".join(names[colour] for colour in self.question.query.piece))
        where, places = self.cube.pieces[home]
        shows = {COLOURS[face]: PLACE_NAMES[place][0] for face, place in zip(home, places, strict=True)}
        return utter("piece", Meaning(place=where, shows=shows))

    def vague(self) -> Event:
        """The truth to what is asked, but looks as a shape or a number without the places."""
        asked = self.listen.asked
        if asked == "look-top-edges":
            up = {place for place in EDGES if self.shows(place)}
            shape = {0: "dot", 4: "cross"}.get(len(up)) or ("line" if up in LINES else "corner")
            return utter(shape, Meaning(shape=shape))
        if asked == "look-top-corners":
            count = sum(map(self.shows, CORNERS))
            return utter(str(count), Meaning(corners=count))
        return self.answer()


Answer = Callable[[Hands], Event]


def play(lesson: Lesson, hands: Hands, answer: Answer = Hands.answer, most: int = 600, truthful: bool = True) -> Hands:
    """The whole lesson. Where the answers are `truthful`, what the coach knows must be so at all times."""
    hands.take(lesson.start())
    for _ in range(most):
        if hands.end:
            return hands
        if truthful:
            check(lesson, hands)
        hands.take(lesson.handle(answer(hands)))
    raise AssertionError(f"no end within {most} answers: {hands.texts[-12:]}")


def check(lesson: Lesson, hands: Hands) -> None:
    """Every sticker that the coach takes to be known is so, and the top is one of those it thinks possible."""
    faces, top = hands.cube.faces, lesson.knowledge.top.patterns
    known = lesson.knowledge.reading.pattern
    assert all(letter in (".", face) for letter, face in zip(known, faces, strict=True)), hands.texts[-8:]
    assert not top or any(
        all(letter == face or (letter == "." and face != "U") for letter, face in zip(pattern, faces, strict=True))
        for pattern in top
    ), hands.texts[-8:]


def solved(lesson: Lesson, hands: Hands, truthful: bool = True) -> bool:
    """Go on from where the lesson is, truthfully: whether it ends with the cube solved. Unless the cube has been turned
    in a way that the coach has yet to find out, what it knows is checked at every step."""
    for _ in range(400):
        if hands.end:
            return hands.end.outcome == "done" and hands.cube.solved
        if truthful:
            check(lesson, hands)
        hands.take(lesson.handle(hands.answer()))
    return False
