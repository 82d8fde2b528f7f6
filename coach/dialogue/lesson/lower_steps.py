"""The lower steps: the bottom cross by the shortest way, corners and middle edges one by one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from typing import Final, NoReturn

from coach.belief.evidence import Answered, Facts, OneOf, Stickers, claim_of
from coach.belief.slips.suspicion import Said
from coach.belief.whereabouts import (
    candidates,
    home,
    only_centres,
    stickers_at_home,
    telling_sticker,
    whereabouts,
    with_piece,
)
from coach.cube import PLACE_NAMES, Turn
from coach.dialogue.acts import Heard, Query, Tell
from coach.dialogue.lesson.part import LessonPart
from coach.dialogue.lesson.planning import next_piece, shortest_plan
from coach.dialogue.lesson.told import ToldPieces, which_piece
from coach.dialogue.reached import Anew, FromTheBottom, PartOver, Reached, Reread
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt
from coach.dialogue.solving import wording
from coach.dialogue.solving.knowledge import LOWER_PIECES, Knowledge
from coach.dialogue.solving.led import ALONE, LedRun
from coach.dialogue.solving.looking import ask_sticker, confirm
from coach.dialogue.solving.mending import Mending
from coach.dialogue.solving.running import Run
from coach.dialogue.solving.slipped import said_of
from coach.dialogue.talk import Talk
from coach.language.commands import Trait, has
from coach.language.meaning import Meaning
from coach.method import Move, PlacingStep, PlannedStep
from coach.method.placing import Placement

_MOST_ASKED: Final = 2


class LowerStep(LessonPart):
    """One of the lower steps."""

    def __init__(self, talk: Talk, step: PlacingStep | PlannedStep, knowledge: Knowledge) -> None:
        super().__init__(talk, knowledge, Mending(talk, knowledge))
        self.step = step
        self._placed_before = LOWER_PIECES[: min(map(LOWER_PIECES.index, step.pieces))]
        self._all = (*self._placed_before, *step.pieces)
        self._turned = self._alone = False
        self._placed: str | None = None
        """The piece that was placed last, until the learner is asked whether it is in."""
        self._told = ToldPieces(knowledge, step.pieces)
        self._asked: str | None = None
        """The piece being asked for, or asked for last; None while turns are called."""

    def go(self) -> Talking[Reached]:
        """Carry out the step; afterwards its pieces are no longer spoken of."""
        try:
            return (yield from super().go())
        finally:
            self.talk.others = ()

    @property
    def left(self) -> tuple[str, int] | None:
        """The pieces that have yet to be found for the plan, or placed."""
        reading, pieces = self.knowledge.reading, self.step.pieces
        if isinstance(self.step, PlannedStep):
            what, count = "to-find", sum(whereabouts(reading, piece) is None for piece in pieces)
        else:
            what, count = "to-place", sum(whereabouts(reading, piece) != home(reading, piece) for piece in pieces)
        return (what, count) if count else None

    def _attempt(self) -> Talking[None]:
        self.talk.others = ()
        if not isinstance(self.step, PlannedStep):
            yield from self._place(self.step)
        elif self.talk.attempts.learned.fades and self.talk.manner == "teach":  # to be learned
            yield from self._place(self.step.rule)
        else:
            yield from self._plan(self.step)
        yield from self._check()

    def _anew(self) -> None:
        self._placed = None
        self._told.clear()

    def _obey(self, interrupt: Interrupt) -> Talking[None]:
        meaning = interrupt.heard.meaning
        if interrupt.command == "correct" and meaning and meaning.piece:
            yield from self._hear_of(meaning)
        elif interrupt.command in ("correct", "edges-again"):
            yield from self.talk.tell("reply.correct")
            yield from self.talk.say_hold()
            every = interrupt.command == "edges-again" and isinstance(self.step, PlannedStep)
            for piece in self._told.pieces if every else self._told.pieces[:1]:
                self._told.take_back(piece)
        elif interrupt.command == "read" or not self.knowledge.trail.turned:
            raise PartOver(Reread(""))
        elif has(interrupt.command, Trait.WRONG):
            yield from self.talk.say_hold()
            yield from self._mend(said_of(interrupt.command))
        else:
            yield from self.talk.tell("reply.not-now")

    # The two kinds of step

    def _plan(self, step: PlannedStep) -> Talking[None]:
        if all(whereabouts(self.knowledge.reading, piece) is None for piece in step.pieces):
            yield from self.talk.tell("lower.four")
        for piece in step.pieces:
            yield from self._find(piece)
        turns = shortest_plan(self.knowledge.reading, step)
        if turns is None:
            raise PartOver(Reread("read.why-pieces"))  # they cannot lie as described
        if turns:
            yield from self.talk.tell("lower.planned", n=len(turns))
            self.talk.why = self.talk.words("lower.why")
            yield from self._run(turns)

    def _place(self, step: PlacingStep) -> Talking[None]:
        while piece := self._next(step):
            placement = yield from self._find(piece)
            if placement == home(self.knowledge.reading, piece):
                yield from self.talk.tell("lower.at-home")
                continue
            kept = {*self._placed_before, *self.step.pieces}  # other pieces at home by chance may move
            there = {piece, *self._at_home()} & kept
            searches = self.talk.record.searches.total()
            for move in step.moves(placement, home(self.knowledge.reading, piece)):
                yield from self._move(piece, move)
            if not there <= {*self._at_home()}:
                if self.talk.record.searches.total() > searches:  # it was found to lie elsewhere meanwhile
                    raise PartOver(Anew())
                # The moves keep placed pieces, so two were thought to be in one place.
                raise PartOver(Reread("read.why-pieces"))
            self._placed = piece
            if self.talk.record.any or self._alone:
                yield from self._check_piece(piece)

    def _next(self, step: PlacingStep) -> str | None:
        self._stay_placed()
        return next_piece(self.knowledge.reading, step)

    def _check_piece(self, piece: str) -> Talking[None]:
        """Have a piece confirmed once it has been placed, with everything that a slip may have broken."""
        name = self.piece_name(piece)
        yield from self._confirm(self.talk.forms_less("claim.placed-all", piece=name), self._at_home())

    def _at_home(self) -> list[str]:
        reading = self.knowledge.reading
        return [lower for lower in LOWER_PIECES if whereabouts(reading, lower) == home(reading, lower)]

    def _move(self, piece: str, move: Move) -> Talking[None]:
        talk, case, name = self.talk, move.case, self.piece_name(piece)
        say = partial(case.say, talk.phrases.code)
        named, hold, why = (say(what).format(**talk.gaps, piece=name) for what in ("name", "hold", "why"))
        help, before = talk.attempts.hoped.help(self.step.id, case.id), move.rotation + move.top
        if help > ALONE:
            yield from self._line_up(move, name)
            before = ()
        yield from talk.say(Tell(named if help else talk.words("lower.own", piece=name)))
        talk.why = why
        if help > ALONE:
            yield from self._announce(case.named, case.id, help, why)
        elif help:
            yield from talk.tell_also("hold.alone", statement=hold)
        self._begin_to_turn()
        run = LedRun(talk, case.named, self._rotated, self.step.id, case.id, help, before)
        if not (yield from self._lead(run)):
            self._moved_on()
        if before:
            yield from talk.tell_hold()
        self._alone = run.alone
        if run.own_way:
            yield from self._look_anew()

    def _line_up(self, move: Move, name: str) -> Talking[None]:
        """Bring the piece to where its sequence begins; that is no part of the sequence."""
        yield from self.talk.rotate(move.rotation, self._rotated, move.case.id)
        if move.top:
            spot = wording.at_sides(self.talk, move.case.at)
            yield from self.talk.tell_less("lower.line-up", piece=name, spot=spot)
            self.talk.why = self.talk.words("lower.line-up", 1, piece=name, spot=spot)
            yield from self._run(move.top, move.case.id)

    def _look_anew(self) -> Talking[NoReturn]:
        """The learner has put something right in a way of their own, so that only what was placed is known."""
        yield from self._confirm(self.talk.forms("claim.placed-own"), there := self._at_home())
        self.knowledge.know_only(there)
        raise PartOver(Anew())

    def _rotated(self, turn: Turn) -> None:
        self.knowledge.move((turn,))
        self._told.carry(turn)

    def _run(self, turns: Sequence[Turn], case: str = "") -> Talking[None]:
        self._begin_to_turn()
        if not (yield from self._call(Run(self.talk, tuple(turns), self._rotated, case))):
            self._moved_on()

    def _begin_to_turn(self) -> None:
        self._turned, self._asked = True, None
        self.talk.others = tuple(map(self._told.words, self._told.pieces))

    def _mend(self, said: Said = "") -> Talking[None]:
        """Find out what went wrong, and put it right."""
        if (yield from self._mending.mend(None, said)) not in ("nothing", "withdrawn"):
            self._moved_on()

    def _moved_on(self) -> NoReturn:
        """Go on from what is known now."""
        self._stay_placed()
        raise PartOver(Anew())

    def _stay_placed(self) -> None:
        """Begin from the bottom if something that earlier steps placed is no longer there."""
        reading = self.knowledge.reading
        if any(whereabouts(reading, piece) != home(reading, piece) for piece in self._placed_before):
            raise PartOver(FromTheBottom())

    # Where is a piece?

    def piece_name(self, piece: str) -> str:
        """For example "white and green edge"."""
        return wording.piece_name(self.talk, tuple(map(self.knowledge.colour, piece)))

    def _find(self, piece: str, said: Meaning | None = None) -> Talking[Placement]:
        """Where the piece lies; asked only if it cannot be worked out. `said` is what has already been told of it."""
        known = whereabouts(self.knowledge.reading, piece)
        if known:
            return known
        before = self.knowledge.reading
        possible = candidates(self.knowledge.reading, piece, None, {})
        asked, follows = 0, len(possible) == 1
        if said and (left := self._fitting(piece, said, possible)):
            possible, asked = left, 1
        if said and len(possible) > 1:
            yield from self.talk.tell("lower.back", piece=self.piece_name(piece))
        while len(possible) > 1:
            # While the piece may lie anywhere, the colour of a single sticker tells little.
            if not asked or (asked < _MOST_ASKED and len(possible) > 3):
                possible = yield from self._ask_piece(piece, possible, asked)
                asked += 1
            else:
                possible = yield from self._ask_sticker(piece, possible)
        if not possible:
            raise PartOver(Reread("read.why-pieces"))
        self.knowledge.reading = with_piece(self.knowledge.reading, piece, possible[0])
        if asked:  # repeat what was understood, so that it can be corrected
            colour, lies = self.knowledge.colour(piece[0]), wording.lies(self.talk, possible[0])
            yield from self.talk.aside("lower.heard", 0, piece=self.piece_name(piece), colour=colour, **lies)
            self.knowledge.hold_known = True
        # A deduction is no new evidence, and it is wrong if something went wrong before.
        heard = None if follows else Stickers(tuple(zip(possible[0], piece, strict=True)))
        if heard:
            self.knowledge.hear(heard)
        if asked:
            self._told.add(piece, before, heard)
        return possible[0]

    def _ask_piece(self, piece: str, possible: tuple[Placement, ...], asked: int) -> Talking[tuple[Placement, ...]]:
        """Ask where the piece is. The question also says that the previous piece is in, which the learner may deny."""
        colours = self._told.words(piece)
        query = Query("piece", piece=tuple(colours))
        placed = stickers_at_home(self.knowledge.reading, self._at_home()) if self._placed else ()
        found: list[tuple[Placement, ...]] = []
        said: list[Meaning] = []
        denied: list[Heard] = []

        def take(heard: Heard) -> bool | None:
            if not heard.meaning:
                return None
            if placed and heard.meaning.command in ("yes", "no"):
                denied.append(heard)
                return heard.meaning.command == "yes"
            left = self._fitting(piece, heard.meaning, possible)
            if left is None:
                return None
            found.append(left)
            said.append(heard.meaning)
            return True

        key = "ask.piece" if not asked else "ask.piece-where"
        layers = self.talk.phrases.part("layers.of-corner" if len(piece) == 3 else "layers.of-edge")
        spot = self.talk.phrases.part("places.U8" if len(piece) == 3 else "places.U7")
        forms = self.talk.forms(key, piece=self.piece_name(piece), colour=colours[0], spot=spot, layers=layers)
        if self._placed:
            told = self.talk.words_less("lower.placed", piece=self.piece_name(self._placed), question=forms[0])
            forms = (told, *forms[1:])
            claimed = wording.claimed(claim_of(placed), self.knowledge.colours)
            query = replace(query, about="placed", claim=claimed)
        self._placed = None
        for face in self.knowledge.alike & set(piece):
            side = self.knowledge.reading.side(face)
            yield from self.talk.aside("lower.alike", side=self.talk.phrases.part(f"faces.{side}"))
        self._asked, self.talk.piece = piece, colours
        self.talk.others = tuple(map(self._told.words, self._told.others(piece)))
        try:
            taken = yield from self.talk.ask(query, forms, take)
        finally:
            self.talk.piece = ()
        if taken is False:
            yield from self._denied(placed, denied[-1])
        if taken and not found:  # yes, it is in: ask again where the next one lies
            self.knowledge.hear(Answered(placed, yes=True))
            yield from self.talk.attempts.confirmed(but_now=True)
            return (yield from self._ask_piece(piece, possible, asked))
        if taken and found[-1]:
            return found[-1]
        if taken:
            yield from self.talk.tell("odd.taken")
            yield from self._wonder(piece, said[-1])
        return possible

    def _hear_of(self, said: Meaning) -> Talking[None]:
        """Act on words about a piece other than the one asked for: what was told about it before was wrong."""
        piece = yield from self._meant(said.piece)
        if piece is None:
            return
        if said.place and self._told.turned_since(piece):
            yield from self._wonder(piece, said)
        self._told.take_back(piece)
        yield from self._find(piece, said)

    def _meant(self, named: Sequence[str]) -> Talking[str | None]:
        """The piece named by these colours; the learner is asked if they fit several pieces or none."""
        options = self._told.named(named, self._asked)
        if len(options) < 2:
            return options[0] if options and set(named) <= set(self._told.words(options[0])) else None
        names = {self._told.words(piece): self.piece_name(piece) for piece in options}
        meant = yield from which_piece(self.talk, names)
        return next((piece for piece in options if self._told.words(piece) == meant), None)

    def _denied(self, facts: Facts, heard: Heard) -> Talking[None]:
        """What should be there is not: find out what happened, and go on from there."""
        self.knowledge.hear_whether(facts, False, heard.aside.sticker)
        yield from self._mend()
        raise PartOver(Anew())

    def _wonder(self, piece: str, said: Meaning) -> Talking[None]:
        """The piece is said to lie where others are, so something may have gone wrong before."""
        anywhere = only_centres(self.knowledge.reading)
        options = candidates(anywhere, piece, said.place, self._shows(said))
        if not (self.knowledge.trail.turned and options):
            return
        self.knowledge.hear(OneOf(tuple(tuple(zip(option, piece, strict=True)) for option in options)))
        yield from self._mend()
        raise PartOver(Anew())

    def _shows(self, said: Meaning) -> dict[str, str]:
        return {face: on for colour, on in said.shows.items() if (face := self.knowledge.face_of(colour))}

    def _fitting(self, piece: str, meaning: Meaning, possible: tuple[Placement, ...]) -> tuple[Placement, ...] | None:
        """Those of `possible` that the answer leaves; None if it says nothing about the piece."""
        if not (meaning.place or meaning.shows):
            return None
        said = set(candidates(self.knowledge.reading, piece, meaning.place, self._shows(meaning)))
        return tuple(placement for placement in possible if placement in said)

    def _ask_sticker(self, piece: str, possible: tuple[Placement, ...]) -> Talking[tuple[Placement, ...]]:
        """Ask a yes/no question about the sticker that best splits what is left."""
        place, face = telling_sticker(piece, possible, self.knowledge.alike)
        yes = yield from ask_sticker(self.talk, self.knowledge, PLACE_NAMES[place], face)
        return tuple(p for p in possible if ((place, face) in zip(p, piece, strict=True)) == yes)

    # The check at the end

    def _check(self) -> Talking[None]:
        """Have the result confirmed where that is easy to see."""
        key = f"check.{self.step.id}"
        last = self.step.pieces[-1] == LOWER_PIECES[-1]
        if not (self._turned or last) or self.knowledge.confirmed or not self.talk.phrases.has(key):
            return
        self._turned = False
        yield from self._confirm(self.talk.forms(key), self._all)

    def _confirm(self, forms: Sequence[str], pieces: Sequence[str]) -> Talking[None]:
        """Have it confirmed that `pieces` are at home; find out what happened if they are not."""
        facts = stickers_at_home(self.knowledge.reading, pieces)
        self._placed = None
        while not (yield from confirm(self.talk, self.knowledge, forms, facts)):
            if not self.knowledge.trail.turned:
                raise PartOver(Reread("read.why-not-so"))
            yield from self._mend()
            if not self.knowledge.shows(facts):
                raise PartOver(Anew())
            # Nothing was wrong and the pieces should be at home, so ask again.
        yield from self.talk.attempts.confirmed(but_now=pieces != self._all)
        self.knowledge.confirmed = True
        self.knowledge.shorten_trail()
