"""When what is seen is not what must be there: find out what happened, put it right, go on from there."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from math import sqrt
from typing import Final, Literal

from coach.belief.evidence import Answered, Facts, Observation, Stickers
from coach.belief.reading.stickers import UNKNOWN, KnownStickers
from coach.belief.slips.explanations import KINDS, RATE, Slip, SlipKind, leading
from coach.belief.slips.inquiry import (
    ClaimQuestion,
    FaceQuestion,
    Inquiry,
    LookQuestion,
    RowQuestion,
    best_inquiry,
    telling_row,
)
from coach.belief.slips.legs import at_home, away, next_leg
from coach.belief.slips.repairs import Repair, repairs
from coach.belief.slips.suspicion import Said, Suspicion, Verdict
from coach.belief.slips.trail import Trail
from coach.belief.whereabouts import home
from coach.cube import PLACE_NUMBER, POSITIONS, Cube, Turn, find_problems, turned, write
from coach.cube.search import EFFORT
from coach.dialogue import acts
from coach.dialogue.meant import meant
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt, Leaving, ReadCubeError
from coach.dialogue.solving.knowledge import LOWER_PIECES, Knowledge
from coach.dialogue.solving.reading import ask_front, confirm
from coach.dialogue.solving.rows import read_face, read_row
from coach.dialogue.solving.running import Run, Slipped
from coach.dialogue.solving.wording import claim_data, look_of, row_words, sticker_question
from coach.dialogue.talk import Talk

_ENOUGH: Final = 3
"""After so many questions it is given up where nothing explains what is seen;"""
_MOST: Final = 5
"""and after so many in any case, where nothing is likelier than all else together."""
_MOST_HERE: Final = 3
"""So often something is looked for without a turn in between: then the thinking goes round in circles."""
_MOST_DENIED: Final = 1
"""So many checks in a row may be denied though all is thought to be as it should; then the learner is right."""
_HOLD_AFTER: Final = 2
"""From so many failures in a row on the learner is asked which side faces them."""
_LIKELY: Final = 0.5
_CERTAIN: Final = 0.9
"""What is less likely than this is told as a guess."""
_A_QUESTION: Final = 0.5
"""Once something has gone wrong a row is confirmed now and then. A slip costs about two turns for each that is
called before it is found, and lies anywhere among those since the last question; this is what a question is worth,
in turns."""
_WORTH_IT: Final = 3
"""No row is confirmed where fewer than so many turns are left,"""
_LOOKED_BACK: Final = 8
"""and it is to tell of so many calls before it."""
_TOLD: Final = 30
"""A slip of which the learner speaks is so many times likelier than others. An estimate, without a source."""
_LONGEST: Final = 80
"""Of a trail with more calls only the last ones are looked at: it takes too long else, and earlier slips have mostly
been found."""
_LEG: Final = 9.0
"""The effort of bringing the bottom cross, or a corner and its edge, home again, about."""
_ROTATION: Final = 1.5
"""Effort of turning the whole cube once, where it has no other."""


Mended = Literal["nothing", "resumed", "moved"]
"""Nothing was wrong; or all is now as if nothing had been; or what is known of the cube is right, but the run
that went wrong is over."""


_Asked = tuple[Suspicion, Callable[[], Talking[Observation]]]
"""What was thought before a question of a search, and the question."""


@dataclass
class Mending:
    """Finds and repairs slips on the shared knowledge. `left` is the effort that the lesson still takes from
    a pattern, as far as it depends on the repair."""

    talk: Talk
    knowledge: Knowledge
    left: Callable[[str], float] = lambda pattern: 0.0
    _needed: list[str] = field(default_factory=list)

    def mend(
        self, run: Run | None, said: Said = "", then: Sequence[Turn] = (), needed: Collection[str] = ()
    ) -> Talking[Mended]:
        """Find out what happened and put it right. Raises ReadCubeError where nothing explains it. Where `run` itself
        puts something right, `then` is what is called after it, and `needed` the pieces that it was to bring home."""
        if len(self.knowledge.trail.turns) > _LONGEST:
            self.knowledge.shorten_trail()
        told = meant(self.talk.telling, self.knowledge.trail.turns) if said in ("mistake", "this") else ()
        if told:
            said = "mistake"  # they tell themselves which turn it was
        yield from self.talk.tell("slip.told" if said == "this" or len(told) == 1 else "slip.search")
        searches = self.talk.record.searches
        searches[self.talk.turns] += 1
        self.talk.record.in_a_row += 1
        self.talk.searching = True
        rest = (*(run.turns[run.done :] if run else ()), *then)
        self.knowledge.trail = replace(self.knowledge.trail, coming=rest)
        try:
            suspicion, verdict = yield from self._find_out(said, told)
        except Leaving as why:
            why.open = True  # nobody knows what was done
            raise
        except Interrupt:  # nothing went wrong after all
            self.knowledge.trail = self.knowledge.trail.without_last_word()
            yield from self.talk.tell("slip.withdrawn")
            return "nothing"
        finally:
            self.talk.searching = False
        # What was read may contradict itself, and a learner who denies it again and again is right.
        denied = verdict.nothing and suspicion.trail.denials > _MOST_DENIED
        if denied or searches[self.talk.turns] > _MOST_HERE or not _possible(suspicion, verdict.hypotheses[:1]):
            raise ReadCubeError("slip.unexplained")
        if verdict.nothing:
            self._believe(suspicion, verdict)
            yield from self.talk.tell("slip.none")
            return "nothing"
        self._needed = self._at_home_after(rest, needed)
        # What was told, not found out, is made sure of at once.
        return (yield from self._repair(suspicion, verdict, rest, check=1 if said == "this" or told else _WORTH_IT))

    # Calling

    def call(self, run: Run) -> Talking[None]:
        """Call the turns of `run`. Where something has gone wrong before, a row of stickers is confirmed now and
        then; raises Slipped where it is not as it should be."""
        while run.done < len(run.turns):
            if not self.talk.record.any:
                yield from run.call_all()
                return
            yield from run.call_all(max(1, self._unchecked - self.knowledge.trail.unconfirmed))
            if run.count - run.called >= _WORTH_IT:
                yield from self._confirm_row(self._unchecked)

    @property
    def _unchecked(self) -> int:
        """How many turns are called without a question: fewer for those who slip more often."""
        rate = (1 + self.talk.slips) / (1 / RATE + self.talk.turns)
        return max(_WORTH_IT, round(sqrt(_A_QUESTION / rate)))

    def _confirm_row(self, calls: int) -> Talking[None]:
        """Have a row confirmed where so many calls have been made since the last time."""
        talk, knowledge = self.talk, self.knowledge
        if knowledge.trail.unconfirmed < calls:
            return
        pattern = "".join(UNKNOWN if face in knowledge.alike else face for face in knowledge.known.pattern)
        row = telling_row(knowledge.trail.last(_LOOKED_BACK), pattern)
        if row is None:
            return
        facts = tuple((place, pattern[place]) for place in row.places)
        colours = ", ".join(knowledge.colour(face) for _, face in facts)
        forms = talk.forms_less("check.row", colours=colours, **row_words(talk, row.face, row.number))
        if not (yield from confirm(talk, knowledge, forms, facts)):
            raise Slipped("")

    # Finding out

    def _find_out(self, said: Said, slips: Sequence[Slip]) -> Talking[tuple[Suspicion, Verdict]]:
        if self.talk.record.in_a_row >= _HOLD_AFTER:
            self.knowledge.hear((yield from self._ask(self._front)))
        suspicion = Suspicion.of(self.knowledge.trail, said, self._habits(), told=slips)
        known = suspicion.known()
        thought_over = False
        answers: list[_Asked] = []
        for asked in range(_MOST + 1):
            if not suspicion.explained and not thought_over:
                thought_over = True
                if other := self._second_thoughts(suspicion.trail):
                    suspicion, known = other, other.known()
            verdict = suspicion.verdict(known)
            if verdict.sure:
                return suspicion, verdict
            if asked == _MOST or (asked >= _ENOUGH and not suspicion.explained):
                break
            inquiry = best_inquiry(suspicion, suspicion.groups(known), self.knowledge.alike)
            if inquiry is None:
                break
            answers.append((suspicion, partial(self._answer, inquiry)))
            suspicion, told = yield from self._hear(answers)
            heard = suspicion.hearing(told)
            expected = isinstance(told, Stickers) and all(known.get(place) == face for place, face in told.facts)
            if suspicion.explained and not heard.explained and not expected:  # asked again before anything is concluded
                yield from self.talk.tell("read.row-again")
                suspicion, told = yield from self._hear(answers)
                heard = suspicion.hearing(told)
            suspicion = heard
        if suspicion.explained and verdict.share > _LIKELY and verdict.doubt < 1 - verdict.share:
            return suspicion, verdict
        raise ReadCubeError("slip.unexplained")

    def _hear(self, answers: list[_Asked]) -> Talking[tuple[Suspicion, Observation]]:
        """What is answered to the last question; who takes an answer back is asked for that one again instead."""
        while True:
            before, ask = answers[-1]
            try:
                return before, (yield from self._ask(ask))
            except Interrupt as correct:
                if len(answers) == 1 or self.talk.phrases.holds("nothing-wrong", correct.heard.text):
                    raise
                yield from self.talk.tell("reply.correct")
                answers.pop()

    def _habits(self) -> Mapping[SlipKind, int]:
        """How often each kind of slip is to be reckoned with: the learner's own so far, and what they say of this."""
        return self.talk.record.kinds + Counter({kind: _TOLD for kind in KINDS if kind in self.talk.hints})

    def _second_thoughts(self, trail: Trail) -> Suspicion | None:
        """What explains what is seen if the slip that was found last was none."""
        suspicion = Suspicion.of(trail.doubted, "", self._habits(), anew=True) if trail.doubted else None
        return suspicion if suspicion and suspicion.explained else None

    def _front(self) -> Talking[Observation]:
        """Which side faces the learner: after a second failure the cube may well be held another way than thought."""
        return Stickers(((PLACE_NUMBER["F4"], (yield from ask_front(self.talk, self.knowledge))),))

    def _ask(self, answer: Callable[[], Talking[Observation]]) -> Talking[Observation]:
        """What `answer` asks for, whatever the learner says first; who takes something back raises Interrupt."""
        while True:
            try:
                return (yield from answer())
            except Interrupt as interrupt:
                whole = interrupt.command == "read" and not self.talk.phrases.holds("anew", interrupt.heard.text)
                if whole or interrupt.command == "layers-broken":
                    raise ReadCubeError("") from None
                if interrupt.command == "correct":
                    raise
                yield from self.talk.tell("slip.search")

    def _answer(self, inquiry: Inquiry) -> Talking[Observation]:
        match inquiry:
            case RowQuestion(face, number):
                letters = yield from read_row(self.talk, self.knowledge, face, number)
                return Stickers(_known(inquiry.places, letters))
            case FaceQuestion(face):
                letters = yield from read_face(self.talk, self.knowledge, face)
                return Stickers(_known(inquiry.places, letters))
            case ClaimQuestion(claim):
                question = sticker_question(self.talk, claim[0], self.knowledge.colours)
                forms = self.talk.forms("claim.again", question=question)
                yes = yield from self.talk.insist("claim", forms, {"claim": claim_data(claim, self.knowledge.colours)})
                return Answered.of(claim, yes)
            case LookQuestion(asks):
                forms = self.talk.forms(f"ask.{asks}")
                return (yield from self.talk.until(asks, forms, lambda heard: look_of(heard.meaning)))

    # Putting it right

    def _repair(
        self, suspicion: Suspicion, verdict: Verdict, rest: Sequence[Turn], check: int
    ) -> Talking[Mended]:
        """Put it right by the cheapest way there is; `check` as in `_run`."""
        self.talk.record.any = True
        slips = suspicion.slips_of(verdict.hypotheses[0])
        trail, called = suspicion.trail, self.knowledge.trail.turns
        done = trail.with_done({slip.at: slip.done for slip in slips})
        actual = Cube(suspicion.final[verdict.hypotheses[0]].tobytes())
        pieces = self._places_of_needed(rest)
        self._believe(suspicion, verdict)
        pattern = _possible(suspicion, verdict.hypotheses[:1])[0]
        options = [*repairs(actual, called, done.turns, rest, pieces), *self._by_legs(pattern)]
        # What is to be at home and is not does not come home by itself.
        options = [option for option in options if option.turns or option.resumes or not self._away(pattern)]
        repair = min(options, key=lambda option: self._effort(option, rest, pattern))
        self.knowledge.trail = done
        if not repair.turns:  # as well a wrong description as a slip: there is nobody to correct
            yield from self.talk.tell("slip.as-it-is")
            return "resumed" if repair.resumes and rest else "moved"  # a run is not left in the middle
        if verdict.misled:  # perhaps nothing was turned wrongly: nobody is corrected
            yield from self.talk.tell("slip.or-misled")
        else:
            yield from self._tell(slips, trail, repair, suspicion.certainty(verdict.hypotheses[0]) < _CERTAIN)
        return (yield from self._carry_out(repair, check, rest))

    def _by_legs(self, pattern: str) -> Iterator[Repair]:
        """The first leg on the way to where all is at home that has to be."""
        reading = KnownStickers(pattern)
        upright = reading.righting
        if leg := next_leg(reading.after(upright), self._needed):
            yield Repair((*upright, *leg), resumes=False)

    def _at_home_after(self, rest: Sequence[Turn], needed: Collection[str]) -> list[str]:
        """The pieces of the lower layers that must be at home in the end: those `needed`, and those so after `rest`."""
        end = self.knowledge.reading.after(rest)
        return [piece for piece in LOWER_PIECES if piece in needed or at_home(end, piece)]

    def _places_of_needed(self, rest: Sequence[Turn]) -> list[str]:
        """Those that are at home after `rest`, by their positions then."""
        end = self.knowledge.reading.after(rest)
        return [_position(home(end, piece)) for piece in self._needed if at_home(end, piece)]

    def _away(self, pattern: str) -> int:
        """How many groups of pieces are not at home in `pattern` that must be."""
        return len(away(KnownStickers(pattern), self._needed))

    def _effort(self, repair: Repair, rest: Sequence[Turn], pattern: str) -> float:
        spent = sum(EFFORT.get(turn, _ROTATION) for turn in repair.turns)
        after = turned(pattern, repair.turns)
        if repair.resumes:
            spent += sum(EFFORT.get(turn, _ROTATION) for turn in rest)
            after = turned(after, rest)
        return spent + _LEG * self._away(after) + self.left(after)

    def _believe(self, suspicion: Suspicion, verdict: Verdict) -> None:
        self.knowledge.believe(set(_possible(suspicion, verdict.hypotheses)))
        self.knowledge.trail = suspicion.trail_of(verdict.hypotheses[0])

    def _tell(self, slips: Sequence[Slip], trail: Trail, repair: Repair, guessed: bool) -> Talking[None]:
        for slip in leading(slips):
            start, called = trail.run_of(slip.at)
            self.talk.record.add(slip, called, slip.at - start)
            self.talk.slips += 1
            yield from self._explain(slip, called, slip.at - start, slip.at < trail.last_run, guessed)
        if not slips:
            yield from self.talk.tell("slip.second-thoughts")
        start = trail.run_of(slips[0].at)[0] if slips else trail.last_run
        explains = trail.with_done({slip.at: slip.done for slip in slips}).run_of(start)[1]
        yield acts.SlipFound(write(explains), write(repair.turns))

    def _explain(self, slip: Slip, called: Sequence[Turn], at: int, earlier: bool, guessed: bool) -> Talking[None]:
        key = f"slip.{slip.kind}"
        if at < len(called) and called[at].whole:
            key = "slip.rotation"
        number = sum(not turn.whole for turn in called[: at + 1])
        part = self.talk.phrases.part
        nth = part("slip.ordinals", max(number - 1, 0))
        which = part("slip.which-earlier" if earlier else "slip.which", nth=nth)
        yield from self.talk.tell(key, int(guessed), which=which)

    def _carry_out(self, repair: Repair, check: int, rest: Sequence[Turn]) -> Talking[Mended]:
        count = sum(not turn.whole for turn in repair.turns)
        if count:
            yield from self.talk.tell("slip.repair", n=count)
        elif repair.turns:
            yield from self.talk.tell("slip.turn-cube")
        if (yield from self._run(repair.turns, check, rest if repair.resumes else None)) == "moved":
            return "moved"
        while not repair.resumes and (leg := next_leg(self.knowledge.reading, self._needed)):
            yield from self.talk.tell("slip.next-leg", n=sum(not turn.whole for turn in leg))
            if (yield from self._run(leg, _WORTH_IT)) == "moved":
                return "moved"
        yield from self.talk.tell("slip.mended")
        return "resumed" if repair.resumes else "moved"

    def _run(self, turns: Sequence[Turn], check: int, rest: Sequence[Turn] | None = None) -> Talking[Mended]:
        """Call `turns`; "moved" where something went wrong again and was put right on another way. `rest` is what is
        left of a run that goes on then. What is reached is confirmed where so many calls (`check`) have not been; the
        check-in of a run that goes on comes soon."""
        run = Run(self.talk, tuple(turns), self._moved)
        self.knowledge.begin_run()
        while True:
            try:
                yield from self.call(run)
                if check == 1 or rest is None:
                    yield from self._confirm_row(check)
                return "resumed"
            except Slipped as slipped:
                needed = self._needed if rest is None else ()
                if (yield from self.mend(run, slipped.said, rest or (), needed)) == "moved":
                    return "moved"
            except Leaving as why:
                yield from self._leave(run, why, resumes=rest is not None)

    def _leave(self, run: Run, why: Leaving, resumes: bool) -> Talking[None]:
        """The learner leaves: what puts the cube right is done to its end, if they can still turn."""
        try:
            yield from run.leave(why, onwards=True)
        finally:
            if not resumes:  # the run that went wrong is over
                why.closed = True
                why.open = why.open or next_leg(self.knowledge.reading, self._needed) is not None

    def _moved(self, turn: Turn) -> None:
        self.knowledge.move((turn,))


def _known(places: Sequence[int], letters: Sequence[str]) -> Facts:
    """The stickers that could be told."""
    return tuple((place, letter) for place, letter in zip(places, letters, strict=True) if letter != UNKNOWN)


def _possible(suspicion: Suspicion, hypotheses: Sequence[int]) -> list[str]:
    """What the cube may look like by these hypotheses; those that are known whole can be cubes."""
    patterns = [pattern for h in hypotheses for pattern in suspicion.patterns(h)]
    return [pattern for pattern in patterns if UNKNOWN in pattern or not find_problems(pattern)]


def _position(places: Sequence[int]) -> str:
    return next(name for name, there in POSITIONS.items() if set(there) == set(places))

