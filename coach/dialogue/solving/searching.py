"""The search for what went wrong: the most telling questions are asked until one explanation is likely enough."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Final, NamedTuple

from coach.belief.evidence import Answered, Facts, Observation, Stickers, follows, ruled_out
from coach.belief.reading.stickers import UNKNOWN
from coach.belief.slips.explanations import KINDS, Slip, SlipKind
from coach.belief.slips.inquiry import (
    ClaimQuestion,
    FaceQuestion,
    Inquiry,
    LookQuestion,
    RowQuestion,
    again,
    best_inquiry,
    confirming_row,
)
from coach.belief.slips.possible import verdict_of
from coach.belief.slips.suspicion import Said, Suspicion, Verdict
from coach.belief.slips.trail import Trail
from coach.cube import FACES, PLACE_NUMBER
from coach.dialogue.acts import Heard, Query
from coach.dialogue.reached import PartOver, Reread
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt
from coach.dialogue.solving.knowledge import Knowledge
from coach.dialogue.solving.looking import ask_front
from coach.dialogue.solving.rows import read_face, read_row
from coach.dialogue.solving.told_rows import in_words, put_right_on_side
from coach.dialogue.solving.told_slips import described
from coach.dialogue.solving.wording import claiming, look_of, row_words, sticker_question
from coach.dialogue.talk import Talk
from coach.language.aside import RowPutRight

_ENOUGH: Final = 3
"""End the search after this many questions if nothing explains what is seen."""
_MOST: Final = {False: 5, True: 8}
"""Ask at most this many questions, or this many after a fall, when more may have happened; give up after them unless
one explanation outweighs all others together."""
_HOLD_AFTER: Final = 2
"""Ask which side faces the learner from this many failures in a row on."""
_DOUBT: Final = 0.25
"""... if it is another one than thought with at least this chance, or nothing explains what is seen."""
_FRONT: Final = PLACE_NUMBER["F4"]
_MIDDLE_OF_FRONT: Final = RowQuestion("F", 2)
"""What is asked once more about the front, if it does not fit."""
_LIKELY: Final = 0.5
_SURE_UNSEEN: Final = 0.95
"""Put nothing right, unless it is at least so likely, before anything has been asked. An estimate without a source."""
_TOLD: Final = 30
"""Count a kind of slip that the learner mentions as if it had happened this often. An estimate without a source."""


class _Asked(NamedTuple):
    """What was believed `before` a question of a search, the question, and what was `told`."""

    before: Suspicion
    inquiry: Inquiry
    told: Observation | None = None


class ToldMore(Exception):
    """In the search the learner has described what they did, as `slips`: it begins anew with that."""

    def __init__(self, slips: Sequence[tuple[Slip, ...]]) -> None:
        super().__init__(slips)
        self.slips = slips


@dataclass
class Search:
    """Finds out what happened, on the shared knowledge."""

    talk: Talk
    knowledge: Knowledge
    _front_told: bool = False
    """Whether the learner has told which side faces them, because something did not fit."""

    def find_out(self, said: Said, slips: Sequence[tuple[Slip, ...]]) -> Talking[tuple[Suspicion, Verdict]]:
        """What is likeliest given everything said; `slips` are those the learner has described already. The cube is
        read if nothing explains it. Raises Interrupt if the learner takes back that something went wrong."""
        suspicion = Suspicion.of(self.knowledge.trail, said, self._habits(), told=slips)
        if self.talk.record.in_a_row >= _HOLD_AFTER and self._hold_in_doubt(suspicion):
            suspicion = suspicion.hearing((yield from self._ask(self._front)))
        known = suspicion.known()
        thought_over = False
        answers: list[_Asked] = []
        most = _MOST[self.knowledge.trail.fallen]
        for asked in range(most + 1):
            if not suspicion.explained and not thought_over:
                thought_over = True
                if other := self._second_thoughts(suspicion.trail):
                    suspicion, known = other, other.known()
            suspicion, verdict = verdict_of(suspicion, known)
            denied = verdict.nothing and _denied(suspicion.trail, known)
            hasty = not (asked or slips) and _hasty(suspicion, verdict)
            if verdict.sure and not (denied or hasty):
                return suspicion, verdict
            if asked == most or (asked >= _ENOUGH and not suspicion.explained):
                break
            inquiry = best_inquiry(suspicion, suspicion.groups(known), self.knowledge.alike)
            if inquiry is None and (denied or hasty):  # perhaps only one row was read wrongly
                inquiry = confirming_row(suspicion.trail, self.knowledge.readable, None, 0)
            if inquiry is None:
                break
            answers.append(_Asked(suspicion, inquiry))
            suspicion, told = yield from self._hear(answers)
            heard = suspicion.hearing(told)
            if suspicion.explained and not heard.explained and not follows(told, known):
                yield from self.talk.tell("read.row-again")  # before anything is concluded
                answers[-1] = _Asked(suspicion, again(answers[-1].inquiry))
                suspicion, told = yield from self._hear(answers, told)
                heard = suspicion.hearing(told)
            suspicion = heard
        likely = verdict.share > _LIKELY and verdict.doubt < 1 - verdict.share
        if suspicion.explained and likely and not denied:
            return suspicion, verdict
        raise PartOver(Reread("slip.unexplained"))

    def _hear(
        self, answers: list[_Asked], refused: Observation | None = None
    ) -> Talking[tuple[Suspicion, Observation]]:
        """The answer to the last question. A learner who takes back an answer is asked that question again instead,
        unless they put it right. If an answer was `refused`, it is the one that they put right."""
        while True:
            before, inquiry, _ = answers[-1]
            try:
                told = yield from self._ask(partial(self._answer, inquiry))
                answers[-1] = _Asked(before, inquiry, told)
                return before, told
            except Interrupt as correct:
                if correct.command == "held":
                    told = yield from self._other_front(correct.heard)
                    answers[-1] = _Asked(before, _MIDDLE_OF_FRONT, told)
                    return before, told
                if correct.row and refused and (put := (yield from self._righted(inquiry, refused, correct.row))):
                    answers[-1] = _Asked(before, inquiry, put)
                    return before, put
                if correct.heard.says("nothing-wrong") or (len(answers) == 1 and not correct.row):
                    raise
                if len(answers) == 1:
                    continue
                if correct.row and (yield from self._put_right(answers, correct.row)):
                    continue
                yield from self.talk.tell("reply.correct")
                answers.pop()

    def _put_right(self, answers: list[_Asked], said: RowPutRight) -> Talking[bool]:
        """Put right what was told before the last question, if that was a row or a side; False if it was not, or if it
        is not told what is right. What was exchanged may have been turns, unless it was a row from right to left."""
        before, inquiry, told = answers[-2]
        if said.exchanged not in (None, (0, -1)) or not said.sure or not told:
            return False
        put = yield from self._righted(inquiry, told, said)
        if put:
            answers[-2] = _Asked(before, inquiry, put)
            answers[-1] = _Asked(before.hearing(put), answers[-1].inquiry)
        return put is not None

    def _righted(self, inquiry: Inquiry, told: Observation, said: RowPutRight) -> Talking[Stickers | None]:
        """What was `told` as it is put right, which is said; None if it is no row or side, or stays as it was."""
        if not isinstance(inquiry, RowQuestion | FaceQuestion) or not isinstance(told, Stickers):
            return None
        facts = dict(told.facts)
        letters = [facts.get(place, UNKNOWN) for place in inquiry.places]
        first = inquiry.number if isinstance(inquiry, RowQuestion) else 1
        right = put_right_on_side(self.knowledge, letters, said, (inquiry.face, first))
        changed = [at for at in range(0, len(letters), 3) if right[at : at + 3] != letters[at : at + 3]]
        for at in changed:
            colours = in_words(self.talk, self.knowledge, right[at : at + 3])
            words = row_words(self.talk, inquiry.face, first + at // 3)
            yield from self.talk.tell("read.put-right", 0, colours=colours, **words)
        return Stickers(_known(inquiry.places, right)) if changed else None

    def _habits(self) -> Mapping[SlipKind, int]:
        """The weight of each kind of slip: the learner's own slips so far, and what they say about this one."""
        return self.talk.record.kinds + Counter({kind: _TOLD for kind in KINDS if kind in self.talk.hints})

    def _second_thoughts(self, trail: Trail) -> Suspicion | None:
        """What explains what is seen if the slip found last was not a slip."""
        suspicion = Suspicion.of(trail.doubted, "", self._habits(), anew=True) if trail.doubted else None
        return suspicion if suspicion and suspicion.explained else None

    def _hold_in_doubt(self, suspicion: Suspicion) -> bool:
        """Whether another side may well face the learner than the one that is thought to."""
        shown = suspicion.share @ suspicion.shown((_FRONT,))[:, 0]
        thought = FACES.index(self.knowledge.reading.centre("F"))
        return not suspicion.explained or shown[thought] < 1 - _DOUBT

    def _front(self) -> Talking[Observation]:
        """Ask which side faces the learner: after two failures the cube may well be held differently than thought."""
        return Stickers(((_FRONT, (yield from ask_front(self.talk, self.knowledge))),))

    def _other_front(self, heard: Heard) -> Talking[Observation]:
        """Which side faces the learner, who has named it or says that nothing fits; if that is known and still nothing
        does, the cube is read."""
        if self._front_told:
            raise PartOver(Reread("slip.unexplained"))
        self._front_told = True
        face = self.knowledge.face_of(heard.aside.front or "")
        if face in [self.knowledge.reading.centre(side) for side in "FRLB"] and face not in self.knowledge.alike:
            return Stickers(((_FRONT, str(face)),))
        return (yield from self._ask(self._front))

    def _ask(self, answer: Callable[[], Talking[Observation]]) -> Talking[Observation]:
        """What `answer` asks for, whatever the learner says first. Raises Interrupt if they take something back."""
        while True:
            try:
                return (yield from answer())
            except Interrupt as interrupt:
                whole = interrupt.command == "read" and not interrupt.heard.says("anew")
                if whole or interrupt.command == "layers-broken":
                    raise PartOver(Reread("")) from None
                if interrupt.command in ("correct", "held"):
                    raise
                if interrupt.command == "mistake" and (told := described(self.talk, self.knowledge.trail)):
                    raise ToldMore(told) from None
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
                yes = yield from self.talk.insist(claiming(claim, self.knowledge.colours), forms)
                return Answered.of(claim, yes)
            case LookQuestion(asks):
                forms = self.talk.forms(f"ask.{asks}")
                return (yield from self.talk.until(Query(asks), forms, lambda heard: look_of(heard.meaning)))


def _hasty(suspicion: Suspicion, verdict: Verdict) -> bool:
    """Whether something would be put right though nobody has looked: for a remark that tells nothing of the turn, or
    for a no that may come from several slips."""
    if verdict.nothing or suspicion.trail.read or suspicion.said == "this":
        return False
    return bool(suspicion.said) or verdict.share < _SURE_UNSEEN


def _denied(trail: Trail, known: Mapping[int, str]) -> bool:
    """Whether what was read since the last call speaks against a cube with the stickers `known`: more of it than for
    it, or as much. Then nothing else that was said makes it so: a learner who looks at the stickers is right."""
    against = sum(ruled_out(each, known) for each in trail.read)
    return against > 0 and against >= sum(follows(each, known) for each in trail.read)


def _known(places: Sequence[int], letters: Sequence[str]) -> Facts:
    """The stickers that could be told."""
    return tuple((place, letter) for place, letter in zip(places, letters, strict=True) if letter != UNKNOWN)
