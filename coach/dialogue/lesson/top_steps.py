"""The top cross and the top face: look, settle the case, hold, run and check, until the step is done."""

from __future__ import annotations

from collections import Counter
from typing import Final

from coach.belief.evidence import Answered, Facts, claim_of, facts_of
from coach.belief.reading.stickers import KnownStickers
from coach.belief.slips.suspicion import Said
from coach.belief.top import TOP_CORNERS, TOP_EDGES, Belief, Settled, best_claim, prediction, settle
from coach.belief.whereabouts import stickers_at_home
from coach.cube import Turn
from coach.dialogue.acts import Heard, Query, Tell
from coach.dialogue.lesson.part import LessonPart
from coach.dialogue.lesson.planning import effort_left, hold_left
from coach.dialogue.reached import Anew, Back, FromTheBottom, PartOver, Reached, Reread
from coach.dialogue.replies import answered, yes_or_no
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Cause, Interrupt
from coach.dialogue.solving import wording
from coach.dialogue.solving.knowledge import LOWER_PIECES, Knowledge
from coach.dialogue.solving.led import ALONE, LedRun
from coach.dialogue.solving.looking import ask_front, confirm
from coach.dialogue.solving.mending import Mended, Mending
from coach.dialogue.solving.running import Run
from coach.dialogue.solving.slipped import said_of
from coach.dialogue.talk import Talk
from coach.language.commands import Trait, has
from coach.language.meaning import Meaning, Question
from coach.method import TURNS_ABOUT_UP, Case, Step

_PLACES: Final = {"look-top-edges": TOP_EDGES, "look-top-corners": TOP_CORNERS}
_MOST_LOOKS: Final = 2
_MOST_QUESTIONS: Final = 3
"""Ask at most this many questions before the first turn; later ones are asked as needed."""
_READY_SECONDS: Final = 6.0
_FROM_ANYWHERE: Final = 9.0
"""The approximate effort of the first step on top."""


class TopStep(LessonPart):
    """One of the steps on top."""

    _step_back = 35.0
    """The approximate effort of repeating an earlier step on top, with its questions; and nobody likes to go back."""

    def __init__(self, talk: Talk, step: Step, knowledge: Knowledge) -> None:
        super().__init__(talk, knowledge, Mending(talk, knowledge, self._left, self._keep_what_is_known))
        self.step = step
        knowledge.open_top(step.permutes)
        self.look: Question = "look-top-edges" if step.look == "look-top-edges" else "look-top-corners"
        self.places = _PLACES.get(step.look, TOP_CORNERS)
        self._before_answer = self.belief
        """What was known before the last answer, kept up to date with every turn since."""
        self._fresh_turn()
        self._said = Meaning()
        self._answered = False

    @property
    def belief(self) -> Belief:
        """The patterns that the top may still have."""
        return self.knowledge.top

    @belief.setter
    def belief(self, belief: Belief) -> None:
        self.knowledge.top = belief

    def _fresh_turn(self) -> None:
        self.looks = 0
        self.held = False

    def go(self) -> Talking[Reached]:
        """Carry out the step, if the top is ready for it."""
        if not self.belief.seeing(dict.fromkeys(self.step.needs.shows, True)):
            return Back()
        self.belief = self._before_answer = self.belief.meeting(self.step.needs)
        return (yield from super().go())

    def _attempt(self) -> Talking[None]:
        while (settled := (yield from self._settle())).case.sequence:
            yield from self._do(settled)
        yield from self._done(settled.case)

    def _done(self, case: Case) -> Talking[None]:
        if not self.talk.turns:
            yield from self._tell_case(case, "name")

    def _look_again(self) -> Talking[None]:
        """Forget the top and look again."""
        yield from self.talk.tell("reply.look-again")
        self.knowledge.forget_top()
        raise PartOver(Anew())

    def _anew(self) -> Reached | None:
        self._keep_what_is_known()
        self._fresh_turn()
        return None if all(map(self.step.ready, self.belief.patterns)) else Back()

    def _keep_what_is_known(self) -> None:
        """Make earlier answers final, so that they can no longer be taken back."""
        self._before_answer = self.belief

    # When something went wrong

    def _mend(self, run: Run | None, said: Said = "", denied: Facts = ()) -> Talking[None]:
        """Find out what went wrong and put it right. The step starts anew if that ends the run. But if nothing was
        wrong and what was `denied` should be true all the same, the caller asks again."""
        outcome = yield from self._mending.mend(run, said)
        if denied and outcome == "nothing" and not self.knowledge.shows(denied):
            outcome = yield from self._another_case(run)
        self._keep_what_is_known()
        if denied and outcome in ("nothing", "withdrawn") and self.knowledge.shows(denied):
            return
        if outcome == "moved" or not run or run.done == len(run.turns):
            raise PartOver(Anew())

    def _another_case(self, run: Run | None) -> Talking[Mended]:
        """The case may have been another one than was told, if the lower layers are whole: otherwise it was a slip."""
        forms = self.talk.forms("check.middle-edges")[1:]
        whole = yield from confirm(self.talk, self.knowledge, forms, self._lower_layers())
        return "nothing" if whole else (yield from self._mending.mend(run))

    def _left(self, pattern: str) -> float:
        """The effort that the step still takes from a pattern; more if an earlier step has to be repeated, which is
        usually so while pieces of the lower layers are not at home."""
        there = stickers_at_home(KnownStickers(pattern), LOWER_PIECES)
        whole = all(pattern[place] == face for place, face in there)
        if not (whole and self.step.ready(pattern)):
            first = not (self.step.needs.shows or self.step.permutes)
            return _FROM_ANYWHERE if first else self._step_back
        return effort_left(self.step, pattern)

    def _obey(self, interrupt: Interrupt) -> Talking[None]:
        """Act on what was said outside a run and changes where the lesson is."""
        if interrupt.command == "edges-again" and not self.step.permutes:
            yield from self._look_again()
        elif interrupt.command in ("correct", "edges-again"):
            yield from self.talk.tell("reply.correct")
            yield from self.talk.say_hold()
            if self.step.needs.shows and not (self._answered or self.step.permutes):  # it is about the step before
                self.knowledge.forget_top()
                raise PartOver(Back())
            self._take_back(interrupt.heard.meaning)
        elif interrupt.command == "read":
            raise PartOver(Reread(""))
        elif has(interrupt.command, Trait.WRONG):
            yield from self.talk.say_hold()
            yield from self._wonder(interrupt.command)
        else:
            yield from self.talk.tell("reply.not-now")

    def _take_back(self, instead: Meaning | None) -> None:
        self.belief = self._before_answer
        self.knowledge.trail = self.knowledge.trail.without_last_word()
        self._fresh_turn()
        self._take(instead)

    def _wonder(self, command: Cause) -> Talking[None]:
        """Look into it when the learner says that something is wrong while nothing is being turned."""
        if command == "layers-broken":
            self.knowledge.hear(Answered(self._lower_layers(), yes=False))
        if self.knowledge.trail.turned:
            yield from self._mend(None, said_of(command))
        elif command == "layers-broken":
            raise PartOver(Reread(""))
        else:
            yield from self._look_again()

    def _lower_layers(self) -> Facts:
        """The stickers of the lower layers when they are done."""
        return stickers_at_home(self.knowledge.reading, LOWER_PIECES)

    # Finding out the case

    def _settle(self) -> Talking[Settled]:
        while True:
            if not self.belief:
                yield from self._contradiction()
            cases = self.step.cases  # the lower layers can be whole only in these cases
            self.belief = Belief(frozenset(p for p in self.belief.patterns if any(case.fits(p) for case in cases)))
            if not self.belief or self.knowledge.lower_broken:
                raise PartOver(FromTheBottom())
            settled = settle(self.step, self.belief)
            if settled:
                return settled
            yield from self._ask_more()

    def _ask_more(self) -> Talking[None]:
        """Ask what tells most: a look while many views of the top are possible, then yes/no questions."""
        if len(self.belief.views(self.places)) > 2 and self.looks < _MOST_LOOKS:
            yield from self._look()
        else:
            yield from self._claim()

    def _look(self, anew: bool = False) -> Talking[None]:
        key = f"ask.{self.look}-where" if self.looks and not anew else f"ask.{self.look}"
        self.looks += 1
        self._before_answer = self.belief
        forms = self.talk.forms(key)[anew:]
        taken = yield from self.talk.ask(Query(self.look), forms, lambda heard: self._take(heard.meaning))
        if taken is None:
            self.looks = _MOST_LOOKS  # go on with yes/no questions

    def _take(self, meaning: Meaning | None) -> bool | None:
        """Narrow the belief by what was said; None if it tells nothing about the top."""
        if meaning and meaning.command == "done-top":
            meaning = Meaning(look=dict.fromkeys((*TOP_EDGES, *TOP_CORNERS), True))
        if meaning is None or not wording.look_of(meaning):
            return None
        meaning = wording.as_told(meaning)
        self._said, self._answered = meaning, True
        self.belief = wording.narrowed(self._before_answer, meaning)
        self._hear(meaning)
        if not self.belief and self.step.needs.shows and not self.knowledge.trail.turned:
            wider = wording.narrowed(self.knowledge.any_top(), meaning)
            if wider and not all(map(self.step.ready, wider.patterns)):
                self.belief = wider
                raise PartOver(Back())
        return True

    def _hear(self, meaning: Meaning | None) -> bool:
        """Remember what was said about the top, if anything."""
        if look := wording.look_of(meaning):
            self.knowledge.hear(look)
        return look is not None

    def _claim(self) -> Talking[None]:
        if self.talk.questions_before_first_turn == _MOST_QUESTIONS - 1:
            yield from self._turn_to_likeliest()
        claim = best_claim(self.step, self.belief)
        question = wording.question(self.talk, claim, self.belief)
        forms = self.talk.forms("claim.again", question=question)
        query = wording.claiming(claim, self.knowledge.colours)
        self._before_answer = self.belief

        def take(heard: Heard) -> tuple[Belief, Heard] | None:
            """What the answer leaves; a description in it outweighs the yes or no it comes with."""
            told = wording.narrowed(self.belief, heard.meaning) if heard.meaning else self.belief
            answer = yes_or_no(heard)
            if answer is not None:
                told = told.answering(claim, answer) or told or self.belief.answering(claim, answer)
            return (told, heard) if told and told != self.belief else None

        self.belief, heard = yield from self.talk.until(query, forms, take)
        answer = yes_or_no(heard)
        if not self._hear(heard.meaning) and answer is not None:
            self.knowledge.hear(Answered.of(claim, answer))
        if answer is False and self.knowledge.trail.turned and "broken" in heard.aside.hints:
            yield from self._mend(None, "mistake")
        self.held = self.held and self.belief.sure(claim)

    def _turn_to_likeliest(self) -> Talking[None]:
        """Turn the cube first, so that a yes to the last question also means that it is held right."""
        held = Counter(turns for p in self.belief.patterns for turns in {*self.step.case_of(p).holds(p)})
        turns = max(TURNS_ABOUT_UP, key=held.__getitem__)
        yield from self._rotate(turns)
        self.held = True

    # Impossible reports

    def _contradiction(self) -> Talking[None]:
        if self.knowledge.trail.turned:
            yield from self._mend(None)
        if wording.number_of(self._said, self._said.edges, TOP_EDGES) in (1, 3):
            yield from self.talk.tell("odd.edges")
        elif wording.number_of(self._said, self._said.corners, TOP_CORNERS) == 3:
            yield from self.talk.tell("odd.corners")
        else:
            yield from self.talk.tell("odd.other")
        self.belief = self.knowledge.any_top().meeting(self.step.needs)
        if self.looks < _MOST_LOOKS:
            yield from self._look(anew=True)
            if self.belief:
                return
        yield from self._one_by_one()

    def _one_by_one(self) -> Talking[None]:
        yield from self.talk.tell("odd.one-by-one")
        look = {}
        for place in self.places:
            claim = ((place, "U"),)
            question = wording.question(self.talk, claim, self.knowledge.any_top())
            query = wording.claiming(claim, self.knowledge.colours)
            forms = self.talk.forms("claim.again", question=question)
            look[place] = yield from self.talk.insist(query, forms)
        self.belief = self.knowledge.any_top().meeting(self.step.needs).seeing(look)
        if not self.belief:
            yield from self._layers()

    def _layers(self) -> Talking[None]:
        """Have the cube read: the lower layers are broken, something was said wrongly, or it is wrongly assembled."""
        forms = self.talk.forms("ask.lower")
        lower = yield from self.talk.insist(Query("other", about="lower-layers"), forms)
        raise PartOver(Reread("odd.impossible" if lower else "read.why-below"))

    # Holding and running

    def _hold(self, settled: Settled) -> Talking[None]:
        case, talk = settled.case, self.talk
        yield from self._tell_case(case, "name")
        if self.held:  # the last answer said that the cube is held right
            return
        if settled.turns:
            yield from self._rotate(settled.turns, case.id)
        statement = self._case_words(case, "hold")
        yield from talk.tell("hold.then" if settled.turns else "hold.keep", statement=statement)
        if talk.asks_ready and talk.questions_before_first_turn < _MOST_QUESTIONS:
            ready = yield from talk.insist(Query("ready"), talk.forms("ask.ready"))
            talk.needs_longer = False
        else:
            ready = yield from self._soon()
        if not ready:
            yield from talk.wait("reply.waiting")

    def _soon(self) -> Talking[bool]:
        """Leave a moment to take the hold; the result is whether the run may begin."""
        yield from self.talk.tell_less("hold.soon")
        event = yield from self.talk.moment(_READY_SECONDS)
        return not isinstance(event, Heard) or yes_or_no(event) is not False

    def _rotate(self, turns: tuple[Turn, ...], case: str = "") -> Talking[None]:
        self._moved(*turns)
        yield from self.talk.turn_cube(turns, case)

    def _case_words(self, case: Case, what: str) -> str:
        return case.say(self.talk.phrases.code, what).format(**self.talk.gaps)

    def _tell_case(self, case: Case, what: str) -> Talking[None]:
        yield from self.talk.say(Tell(self._case_words(case, what)))

    def _do(self, settled: Settled) -> Talking[None]:
        case, named = settled.case, settled.case.named
        assert named
        help = self.talk.attempts.hoped.help(self.step.id, case.id)
        why = self._case_words(case, "why") or named.say(self.talk.phrases.code, "why")
        self.talk.why = why
        if help > ALONE:
            yield from self._hold(settled)
            yield from self._announce(named, case.id, help, why)
        else:
            yield from self._leave_hold(settled, help)
        before = () if help > ALONE or self.held else settled.turns
        run = LedRun(self.talk, named, self._moved, self.step.id, case.id, help, before)
        if not (yield from self._lead(run, self._check_in)):
            raise PartOver(Anew())
        if run.own_way:  # the top may be anything that this step meets
            self.knowledge.forget_top(self.step.permutes)
            self.belief = self.belief.meeting(self.step.needs)
            raise PartOver(Anew())

    def _leave_hold(self, settled: Settled, help: int) -> Talking[None]:
        """Leave it to the learner to turn the cube into the hold for a case."""
        several = any(len(settled.case.holds(pattern)) > 1 for pattern in self.belief.patterns)
        if several and settled.turns and not (self.held or self.knowledge.hold_known):
            self._face((yield from ask_front(self.talk, self.knowledge)))
        if help:
            yield from self._tell_case(settled.case, "name")
        if self.held:
            return
        if key := hold_left(help, several, kept=not settled.turns):
            front = self.knowledge.colour(self.knowledge.reading.after(settled.turns).centre("F"))
            hold = self._case_words(settled.case, "hold")
            tell = self.talk.tell_also if help else self.talk.tell
            yield from tell(key, statement=hold, front=front)

    def _face(self, front: str) -> None:
        """Take the side of `front` to face the learner; what was known before is known of this hold."""
        if front != self.knowledge.reading.centre("F"):
            self.knowledge.hold(front)
            self._keep_what_is_known()
        self.knowledge.hold_known = True

    def _moved(self, *turns: Turn) -> None:
        self.knowledge.move(turns)
        self._before_answer = self._before_answer.after(turns)

    def _check_in(self, run: Run) -> Talking[None]:
        """If it is certain what must be there now, say it and have it confirmed: the run is not over until then."""
        self._fresh_turn()
        claim = prediction(self.belief, self.places)
        if not claim:
            return
        seen = (wording.seen_edges if self.places == TOP_EDGES else wording.seen_corners)(self.talk, self.belief)
        if self.talk.record.any or run.alone:  # a slip is likely, and would break the layers below
            seen = self.talk.phrases.part("seen.and-below", seen=seen)
            claim += claim_of(self._lower_layers())
        forms = self.talk.forms("claim.check", seen=seen)
        query = wording.claiming(claim, self.knowledge.colours)
        facts = facts_of(claim)
        while True:
            yes, heard = yield from self.talk.until(query, forms, answered)
            self.knowledge.hear_whether(facts, yes, heard.aside.sticker)
            self._hear(heard.meaning)
            self.talk.record.check(yes)
            if yes:
                yield from self.talk.attempts.confirmed(but_now=True)
                return
            yield from self._mend(run, denied=facts)
