"""When what is seen is not what should be there: find out what happened, put it right, and go on from there."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from math import sqrt
from typing import Final, Literal

from coach.belief.evidence import Facts, Stickers, claim_of
from coach.belief.reading.stickers import UNKNOWN, KnownStickers
from coach.belief.slips.explanations import RATE, Slip, really
from coach.belief.slips.inquiry import RowQuestion, confirming_row, telling_row
from coach.belief.slips.legs import at_home, away, next_leg
from coach.belief.slips.possible import possible
from coach.belief.slips.repairs import Repair, repairs, without_waste
from coach.belief.slips.suspicion import Said, Suspicion, Verdict
from coach.belief.whereabouts import home
from coach.cube import POSITIONS, Cube, Turn, turned
from coach.cube.search import EFFORT
from coach.dialogue.reached import PartOver, Reread
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt, Leaving
from coach.dialogue.solving.explaining import explain
from coach.dialogue.solving.knowledge import LOWER_PIECES, Knowledge
from coach.dialogue.solving.looking import confirm
from coach.dialogue.solving.rows import ask_row, letters_of, row_meant
from coach.dialogue.solving.running import Run
from coach.dialogue.solving.searching import Search, ToldMore
from coach.dialogue.solving.slipped import Slipped
from coach.dialogue.solving.told_slips import described
from coach.dialogue.solving.wording import claiming, row_words
from coach.dialogue.talk import Talk

_MOST_HERE: Final = 3
"""Search at most this often without a turn in between: beyond that the search goes round in circles."""
_MOST_DENIED: Final = 1
"""Believe the learner once more than this many checks in a row are denied although all seems to be as it should."""
_CERTAIN: Final = 0.9
"""Present an explanation that is less likely than this as a guess."""
_A_QUESTION: Final = 0.5
"""The cost of confirming a row, in turns, which sets how often it is done once something has gone wrong. A slip costs
about two turns for each one called before it is found, and may lie anywhere among the turns since the last
question."""
_OWN_WAY: Final = 20
"""Learners on their own are so much likelier to have stopped in the middle, counted as for `habits`."""
_MOST_READ: Final = 2
"""Have a row read so often if the learner does not mean what was heard."""
_WORTH_IT: Final = 3
"""Confirm no row if fewer than this many turns are left."""
_LOOKED_BACK: Final = 8
"""Choose the row that tells most about this many last calls."""
_LONGEST: Final = 80
"""Shorten a trail with more calls than this to the last ones: longer ones take too long, and earlier slips have usually
been found."""
_LEG: Final = 9.0
"""The approximate effort of bringing the bottom cross, or a corner and its edge, home again."""
_ROTATION: Final = 1.5
"""The effort of a turn of the whole cube that has no other."""


Mended = Literal["nothing", "withdrawn", "resumed", "moved"]
"""Nothing was wrong, or the learner says so after all; or everything is now as if nothing had been wrong; or what is
known of the cube is right, but the run that went wrong is over."""


@dataclass
class Mending:
    """Finds and repairs slips on the shared knowledge. `left` tells the effort that the lesson still takes from a
    pattern, as far as it depends on the repair; `mended` is called once a slip in a run has been looked into."""

    talk: Talk
    knowledge: Knowledge
    left: Callable[[str], float] = lambda pattern: 0.0
    mended: Callable[[], None] = lambda: None
    explains: bool = False
    """Whether a slip is explained even where nothing has to be put right."""
    repair: Run | None = None
    """The repair being called now."""
    _needed: list[str] = field(default_factory=list)
    _row: RowQuestion | None = None
    """The row that was confirmed last."""
    _mended_at: int = -1
    """The count of turns when something was put right last."""

    def mend(
        self, run: Run | None, said: Said = "", then: Sequence[Turn] = (), needed: Collection[str] = ()
    ) -> Talking[Mended]:
        """Find out what happened and put it right. The cube is read if nothing explains it. If `run` itself is a
        repair, `then` is what is called after it, and `needed` has the pieces that it was meant to bring home."""
        if len(self.knowledge.trail.turns) > _LONGEST:
            self.knowledge.shorten_trail()
        self._coming(run, then)
        told = described(self.talk, self.knowledge.trail) if said in ("mistake", "this") else ()
        fell = self.knowledge.trail.fallen
        if told:
            said = "mistake"  # they have said which turn it was
        elif fell:
            said = ""  # the trail knows how much that makes likely
        yield from self.talk.tell("slip.told" if said == "this" or len(told) == 1 else "slip.search")
        searches = self.talk.record.searches
        searches[self.talk.turns] += 1
        self.talk.record.in_a_row += 1
        self.talk.searching = True
        try:
            if run and told and self._of_earlier(told):
                # What is told is put right without a look at the cube, so it has to be known how far they are.
                with suppress(Interrupt):  # that something went wrong they have said before
                    yield from run.ask_about_last()
            rest = self._coming(run, then)
            heard = len(self.knowledge.trail.events)
            suspicion, verdict = yield from self._search(said, told)
        except Leaving as why:
            why.open = True  # nobody knows what was done
            raise
        except Interrupt:  # nothing went wrong after all
            self.knowledge.trail = self.knowledge.trail.without_last_word()
            yield from self.talk.tell("slip.withdrawn")
            return "withdrawn"
        finally:
            self.talk.searching = False
        # What was read may be contradictory, and a learner who keeps denying a check is right.
        denied = verdict.nothing and suspicion.trail.denials > _MOST_DENIED
        if denied or searches[self.talk.turns] > _MOST_HERE or not possible(suspicion, verdict.hypotheses[:1]):
            raise PartOver(Reread("slip.unexplained"))
        if verdict.nothing:
            self._believe(suspicion, verdict)
            disputed = suspicion.trail.disputed
            if disputed:
                yield from self.talk.attempts.disputed()
            if fell:
                yield from self.talk.tell("reply.fell")
            else:  # who has denied a check sees something that is not as it should be
                yield from self.talk.tell("slip.none", int(disputed or suspicion.trail.denials > 0))
            return "nothing"
        self._needed = self._at_home_after(rest, needed)
        # An explanation that was told, not found out, is confirmed at once; so is what turned when nobody saw it.
        check = 1 if said == "this" or told or fell else _WORTH_IT
        on_word = bool(told) and len(suspicion.trail.events) == heard
        return (yield from self._repair(suspicion, verdict, rest, check, on_word))

    def _coming(self, run: Run | None, then: Sequence[Turn]) -> Sequence[Turn]:
        """What is still to be called, which the trail is told as well."""
        rest = (*(run.turns[run.done :] if run else ()), *then)
        self.knowledge.trail = replace(self.knowledge.trail, coming=rest)
        return rest

    def _search(self, said: Said, told: Sequence[tuple[Slip, ...]]) -> Talking[tuple[Suspicion, Verdict]]:
        """Find out what happened; begun anew where the learner describes it meanwhile."""
        while True:
            try:
                return (yield from Search(self.talk, self.knowledge).find_out(said, told))
            except ToldMore as more:
                said, told = "mistake", more.slips

    def _of_earlier(self, told: Sequence[Sequence[Slip]]) -> bool:
        """Whether the slips told are of turns before the last, which may not have been done yet. Whoever names the
        side that they missed has done the rest."""
        missed = self.talk.telling.how == "skipped" and self.talk.telling.back is None
        last = len(self.knowledge.trail.turns) - 1
        return not missed and all(slip.at < last for slips in told for slip in slips)

    # Calling

    def see_through(
        self,
        run: Run,
        check: Callable[[Run], Talking[Slipped | None]] | None = None,
        then: Sequence[Turn] = (),
        needed: Collection[str] = (),
    ) -> Talking[bool]:
        """Call `run` to its end and `check` what it reached, putting right what goes wrong; `then` and `needed` are as
        for `mend`. False if putting it right ended the run."""
        again = False
        while True:
            slipped = (yield from run.once_more()) if again else None
            slipped = slipped or (yield from self._through(run, check))
            if not slipped:
                return True
            outcome = yield from self.mend(run, slipped.said, then, needed)
            self.mended()
            if outcome == "moved":
                return False
            again = outcome == "withdrawn"

    def _through(self, run: Run, check: Callable[[Run], Talking[Slipped | None]] | None) -> Talking[Slipped | None]:
        """Call `run` to its end and `check` it. What is said at a question meanwhile is said of the run."""
        while True:
            try:
                slipped = yield from self._call(run)
                return slipped or ((yield from check(run)) if check else None)
            except Interrupt as interrupt:
                if slipped := (yield from run.obey(interrupt)):
                    return slipped

    def _call(self, run: Run) -> Talking[Slipped | None]:
        """Call the turns of `run` until something goes wrong. If something has gone wrong before, a row of stickers is
        confirmed now and then."""
        while run.done < len(run.turns):
            if not self.talk.record.any:
                return (yield from run.call_all())
            slipped = yield from run.call_all(max(1, self._unchecked - self.knowledge.trail.unconfirmed))
            if not slipped and run.count - run.called >= _WORTH_IT:
                slipped = yield from self.confirm_row(self._unchecked)
            if slipped:
                return slipped
        return None

    @property
    def _unchecked(self) -> int:
        """The number of turns to call without a question: fewer for learners who slip more often."""
        rate = (1 + self.talk.slips) / (1 / RATE + self.talk.turns)
        return max(_WORTH_IT, round(sqrt(_A_QUESTION / rate)))

    def confirm_row(self, calls: int, alone: int | None = None) -> Talking[Slipped | None]:
        """Have a row confirmed if at least `calls` calls have been made since the last claim was answered: the one that
        tells most about the last calls, and with `calls` 0 another one than the last time. After an exercise, whose
        last turns, `alone` in number, were not called, it is the one that tells most after everything said so far, and
        the learner reads it out: nobody reads by mistake what should be there."""
        talk, knowledge = self.talk, self.knowledge
        if knowledge.trail.unconfirmed < calls:
            return None
        pattern = knowledge.readable
        but = None if calls else self._row
        if alone is None:
            row = telling_row(knowledge.trail.last(_LOOKED_BACK), pattern, but)
            if row is None and calls <= 1:  # what nobody has seen is made sure of by any row
                row = confirming_row(knowledge.trail, pattern, but, 0)
        else:
            if len(knowledge.trail.turns) > _LONGEST:
                knowledge.shorten_trail()
            row = confirming_row(knowledge.trail, pattern, but, alone)
        self._row = row
        if row is None:
            return None
        facts = tuple((place, pattern[place]) for place in row.places)
        if alone is not None and (as_it_is := (yield from self._read(row, facts))) is not None:
            return None if as_it_is else Slipped("")
        colours = ", ".join(knowledge.colour(face) for _, face in facts)
        forms = talk.forms_less("check.row", colours=colours, **row_words(talk, row.face, row.number))
        return None if (yield from confirm(talk, knowledge, forms, facts)) else Slipped("")

    def doubts(self) -> Mapping[int, float]:
        """By the number of each run, the chance that something went wrong in it, by everything said so far."""
        return Suspicion.of(self.knowledge.trail, habits={"stopped": _OWN_WAY}).by_run()

    def _read(self, row: RowQuestion, facts: Facts) -> Talking[bool | None]:
        """Whether the row that the learner reads out is as in `facts`, which they are not told beforehand; another one
        is confirmed, or read once more. None if that leads to nothing."""
        talk, knowledge = self.talk, self.knowledge
        before: Facts = ()
        put_right: Sequence[str] = ()
        for _ in range(_MOST_READ):
            words = put_right or (yield from ask_row(talk, knowledge, row.face, row.number)).words
            pairs = zip(row.places, letters_of(knowledge, words), strict=True)
            heard = tuple((place, face) for place, face in pairs if face != UNKNOWN)
            if all(face in (dict(heard).get(place, face), UNKNOWN) for place, face in facts):
                knowledge.hear_whether(tuple(fact for fact in facts if fact in heard), True)
                knowledge.hear(Stickers(heard))
                talk.record.check(True)
                return True
            if dict(heard).get(row.places[1]) != dict(facts)[row.places[1]] and row.number == 2:
                return None  # a middle does not move, so another row was read, or it was misheard
            forms = talk.forms("check.row-read", colours=", ".join(words))
            query = claiming(claim_of(heard), knowledge.colours)
            # A no to that is about what was heard, not about the cube.
            said = words if heard == before else (yield from talk.until(query, forms, row_meant(words)))
            if said == words:
                knowledge.hear_whether(heard, True)
                knowledge.hear(Stickers(heard))
                talk.record.check(False)
                return False
            before, put_right = heard, said
            if not said:
                yield from talk.tell("read.row-again")
        return None

    # Putting it right

    def _repair(
        self, suspicion: Suspicion, verdict: Verdict, rest: Sequence[Turn], check: int, on_word: bool
    ) -> Talking[Mended]:
        """Put it right in the cheapest way; `check` is as in `_run`. What is told `on_word` alone is only a guess."""
        self.talk.record.any = True
        slips = suspicion.slips_of(verdict.hypotheses[0])
        trail, called = suspicion.trail, self.knowledge.trail.turns
        done = really(trail, slips)
        actual = Cube(suspicion.final[verdict.hypotheses[0]].tobytes())
        pieces = self._places_of_needed(rest)
        self._believe(suspicion, verdict)
        pattern = possible(suspicion, verdict.hypotheses[:1])[0]
        options = [*repairs(actual, called, done.turns, rest, pieces), *self._by_legs(pattern)]
        # Pieces that must come home do not do so by themselves.
        options = [option for option in options if option.turns or option.resumes or not self._away(pattern)]
        repair = min(options, key=lambda option: self._effort(option, rest, pattern))
        self.knowledge.trail = done
        guessed = on_word or suspicion.certainty(verdict.hypotheses[0]) < _CERTAIN
        if not repair.turns:  # it may have been a wrong description or a slip: nobody is corrected
            if self.explains and not verdict.misled:
                yield from explain(self.talk, slips, trail, repair, guessed, suspicion.by_run(besides=False))
            if on_word and (yield from self.confirm_row(0)):
                return (yield from self.mend(None, "", rest))
            yield from self.talk.tell("slip.as-it-is")
            return "resumed" if repair.resumes and rest else "moved"  # a run is not left in the middle
        if verdict.misled:  # perhaps no turn was wrong: nobody is corrected
            yield from self.talk.tell("slip.or-misled")
        else:
            yield from explain(self.talk, slips, trail, repair, guessed, suspicion.by_run(besides=False))
        return (yield from self._carry_out(repair, check, rest))

    def _by_legs(self, pattern: str) -> Iterator[Repair]:
        """The first leg on the way to having all needed pieces at home."""
        reading = KnownStickers(pattern)
        upright = reading.righting
        if leg := next_leg(reading.after(upright), self._needed):
            yield Repair((*upright, *leg), resumes=False)

    def _at_home_after(self, rest: Sequence[Turn], needed: Collection[str]) -> list[str]:
        """The pieces of the lower layers that must end at home: those `needed`, and those at home after `rest`."""
        end = self.knowledge.reading.after(rest)
        return [piece for piece in LOWER_PIECES if piece in needed or at_home(end, piece)]

    def _places_of_needed(self, rest: Sequence[Turn]) -> list[str]:
        """The needed pieces that are at home after `rest`, by their positions then."""
        end = self.knowledge.reading.after(rest)
        return [_position(home(end, piece)) for piece in self._needed if at_home(end, piece)]

    def _away(self, pattern: str) -> int:
        """The number of groups of needed pieces that are not at home in `pattern`."""
        return len(away(KnownStickers(pattern), self._needed))

    def _effort(self, repair: Repair, rest: Sequence[Turn], pattern: str) -> float:
        spent = sum(EFFORT.get(turn, _ROTATION) for turn in repair.turns)
        after = turned(pattern, repair.turns)
        if repair.resumes:
            spent += sum(EFFORT.get(turn, _ROTATION) for turn in rest)
            after = turned(after, rest)
        return spent + _LEG * self._away(after) + self.left(after)

    def _believe(self, suspicion: Suspicion, verdict: Verdict) -> None:
        self.knowledge.believe(set(possible(suspicion, verdict.hypotheses)))
        self.knowledge.trail = suspicion.trail_of(verdict.hypotheses[0])

    def _carry_out(self, repair: Repair, check: int, rest: Sequence[Turn]) -> Talking[Mended]:
        count = sum(not turn.whole for turn in repair.turns)
        if count:
            afresh = bool(rest) and not (repair.resumes or self.explains)
            yield from self.talk.tell("slip.afresh" if afresh else "slip.repair", n=count)
        elif repair.turns:
            yield from self.talk.tell("slip.turn-cube")
        turns, rest_of_run = repair.turns, rest if repair.resumes else None
        while turns:
            leg: tuple[Turn, ...] = ()
            if not repair.resumes and (leg := self._leg_after(turns)):
                turns, leg = without_waste(turns, leg)
            if not (yield from self._run(turns, check, rest_of_run)):
                return "moved"
            turns, check = leg, _WORTH_IT
            if turns:
                yield from self.talk.tell("slip.next-leg", n=sum(not turn.whole for turn in turns))
        if self.talk.turns != self._mended_at:  # not twice, where a slip in the repair was the last thing put right
            yield from self.talk.tell("slip.mended")
        self._mended_at = self.talk.turns
        return "resumed" if repair.resumes else "moved"

    def _leg_after(self, turns: Sequence[Turn]) -> tuple[Turn, ...]:
        """The next leg that brings needed pieces home once `turns` are done."""
        return next_leg(self.knowledge.reading.after(turns), self._needed) or ()

    def _run(self, turns: Sequence[Turn], check: int, rest: Sequence[Turn] | None = None) -> Talking[bool]:
        """Call `turns`; False if something went wrong again and was put right in another way. `rest` is what is left
        of a run that goes on then. The result is confirmed if at least `check` calls have not been; but if the run goes
        on, only if `check` is 1, since the check-in of the run comes soon."""
        run = Run(self.talk, tuple(turns), self._moved)
        self.knowledge.begin_run()

        def confirmed(_: Run) -> Talking[Slipped | None]:
            return (yield from self.confirm_row(check)) if check == 1 or rest is None else None

        outer, self.repair = self.repair, run
        try:
            return (yield from self.see_through(run, confirmed, rest or (), self._needed if rest is None else ()))
        except Leaving as why:
            try:  # a repair is done to its end, if the learner can still turn
                yield from run.leave(why, onwards=True)
            finally:
                if rest is None:  # the run that went wrong is over
                    why.closed = True
                    why.open = why.open or next_leg(self.knowledge.reading, self._needed) is not None
            raise
        finally:
            self.repair = outer

    def _moved(self, turn: Turn) -> None:
        self.knowledge.move((turn,))


def _position(places: Sequence[int]) -> str:
    return next(name for name, there in POSITIONS.items() if set(there) == set(places))
