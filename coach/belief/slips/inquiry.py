"""Which question tells most about what went wrong, per second of talk."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from itertools import takewhile
from typing import Final, Literal, TypeAlias

import numpy as np

from coach.belief.evidence import Answered, Chances, Facts, Look
from coach.belief.slips.explanations import Shift, prefixes, single_slips
from coach.belief.slips.seen import Numbers
from coach.belief.slips.suspicion import Suspicion
from coach.belief.slips.trail import Trail
from coach.belief.top.belief import TOP_CORNERS, TOP_EDGES
from coach.cube import FACE_PLACES, FACES, PLACE_NAMES, PLACE_NUMBER, Claim, Turn

LookAsks: TypeAlias = Literal["look-top-edges", "look-top-corners"]

_SECONDS: Final = {"row": 6.5, "face": 8.0, "look-top-edges": 6.5, "look-top-corners": 6.5, "claim": 4.5}
"""The seconds that a question and its answer take at the usual rate of speech. An estimate without a source."""
_PATIENCE: Final = 12.0
"""The additional cost of each question, in the same seconds. Without it there are half as many questions
again, and they take no less time."""
_HIDDEN: Final = {"F": 1.0, "U": 1.0, "R": 1.0, "L": 1.25}
"""Multiply the time by this, which is more if the hands have to turn the cube. Back and bottom are never asked for."""
_LOOKS: Final[Mapping[LookAsks, tuple[str, ...]]] = {"look-top-edges": TOP_EDGES, "look-top-corners": TOP_CORNERS}
_LEAST: Final = 1e-4
_MOST_LIKELY: Final = 1500
_TELLING: Final = 0.4
"""Do not ask for a row that would reveal less than this share of the slips."""
_CERTAIN: Final = 0.9
_OPEN: Final = 7
"""Stands in for the number of a face if the sticker is not known well enough."""
_UP: Final = FACES.index("U")


@dataclass(frozen=True)
class RowQuestion:
    """Read row `number` (1 to 3) of a face."""

    face: str
    number: int

    @property
    def places(self) -> tuple[int, ...]:
        """The numbers of its three places."""
        return tuple(FACE_PLACES[self.face][3 * self.number - 3 : 3 * self.number])


@dataclass(frozen=True)
class FaceQuestion:
    """Read all nine stickers of a face, row by row."""

    face: str

    @property
    def places(self) -> tuple[int, ...]:
        """The numbers of its nine places."""
        return tuple(FACE_PLACES[self.face])


@dataclass(frozen=True)
class LookQuestion:
    """Which of the edges, or corners, on top show the top colour?"""

    asks: LookAsks

    @property
    def places(self) -> tuple[int, ...]:
        """The numbers of its four places."""
        return tuple(PLACE_NUMBER[place] for place in _LOOKS[self.asks])


@dataclass(frozen=True)
class ClaimQuestion:
    """Are the stickers as claimed?"""

    claim: Claim

    @property
    def places(self) -> tuple[int, ...]:
        """The numbers of its places."""
        return tuple(PLACE_NUMBER[place] for place, _ in self.claim)

    @property
    def facts(self) -> Facts:
        """The stickers, with the numbers of their places."""
        return Answered.of(self.claim, yes=True).facts


Inquiry: TypeAlias = RowQuestion | FaceQuestion | LookQuestion | ClaimQuestion


def best_inquiry(suspicion: Suspicion, groups: Numbers, alike: Collection[str] = ()) -> Inquiry | None:
    """The question whose answer is expected to tell most, in bits per second, about which of `groups` (a number for
    each hypothesis) is true; None if no question tells anything. The learner cannot tell apart the colours of the
    faces `alike`."""
    share = suspicion.share
    likely = np.argsort(-share)[:_MOST_LIKELY]
    likely = likely[share[likely] > _LEAST * share.max()]
    share, groups = share[likely] / share[likely].sum(), np.unique(groups[likely], return_inverse=True)[1]
    shown = suspicion.shown(range(54))[likely]
    letters = np.where(shown.max(axis=2) > _CERTAIN, shown.argmax(axis=2), _OPEN)
    one = [FACES.index(face) for face in sorted(alike)]
    letters[np.isin(letters, one)] = one[0] if one else _OPEN
    best, most = None, 1e-3
    told = _Told.since_last_turn(suspicion.trail)
    for inquiry, answers in _inquiries(letters, share, one):
        if told.answers(inquiry):
            continue
        kind, face = _kind_and_face(inquiry)
        worth = _information(answers, groups, share) / (_SECONDS[kind] * _HIDDEN[face] + _PATIENCE)
        if worth > most:
            best, most = inquiry, worth
    return best


def telling_row(trail: Trail, pattern: str, but: RowQuestion | None = None) -> RowQuestion | None:
    """The row that would most likely look different if one of the calls of `trail` had been done wrongly, out of those
    known in `pattern`, the cube as it should be now, leaving out one row. None if no row tells much."""
    slips = single_slips(trail)
    row, worth = _most_telling(trail, pattern, but, slips.both[:, prefixes(trail.turns)[-1]], slips.chances)
    return row if worth >= _TELLING * slips.chances.sum() else None


def confirming_row(trail: Trail, pattern: str, but: RowQuestion | None, alone: int) -> RowQuestion | None:
    """The row that would most likely look different if something had gone wrong, after everything that was said: each
    row tells what those before have not. The last turns, `alone` in number, were not called, so it is just as likely
    that the learner did only some of them, or none. None if no row is known."""
    suspicion = Suspicion.of(trail)
    slipped = suspicion.way >= 0
    so_far = prefixes(trail.turns)
    stopped = so_far[len(so_far) - 1 - min(alone, len(so_far) - 1) : -1]
    chances = suspicion.weight[slipped]
    likely = np.full(len(stopped), chances.sum() / max(len(stopped), 1))
    ends, weights = np.concatenate([suspicion.final[slipped], stopped]), np.concatenate([chances, likely])
    return _most_telling(trail, pattern, but, ends, weights)[0]


def _most_telling(
    trail: Trail, pattern: str, but: RowQuestion | None, ends: Shift, chances: Chances
) -> tuple[RowQuestion | None, float]:
    """The row that looks different at most of the `ends` [ends, 54], and how many those are, weighed by `chances`."""
    now = prefixes(trail.turns)[-1]
    letters = np.zeros(54, np.uint8)
    letters[now] = np.frombuffer(pattern.encode("ascii"), np.uint8)
    seen = letters[ends] != letters[now]
    rows = [RowQuestion(face, number) for face in _HIDDEN for number in (1, 2, 3)]
    rows = [row for row in rows if row != but and all(pattern[place] != "." for place in row.places)]
    worth = [float(chances @ seen[:, row.places].any(axis=1)) for row in rows]
    return (rows[int(np.argmax(worth))], max(worth)) if rows else (None, -1.0)


def again(inquiry: Inquiry) -> Inquiry:
    """The question that confirms the answer to another one. After a yes or no it asks for the row: nobody is asked the
    same yes/no question twice in a row."""
    if not isinstance(inquiry, ClaimQuestion):
        return inquiry
    place, _ = inquiry.claim[0]
    return RowQuestion(place[0], int(place[1]) // 3 + 1)


@dataclass(frozen=True)
class _Told:
    """The places whose colours have been described, those looked at for one colour only, and the claims that were
    answered with yes or no."""

    described: frozenset[int]
    looked_at: frozenset[int]
    claims: frozenset[Facts]

    @classmethod
    def since_last_turn(cls, trail: Trail) -> _Told:
        """What has been told in the present hold."""
        since = [*takewhile(lambda event: not isinstance(event, Turn), reversed(trail.events))]
        described = [event for event in since if not isinstance(event, Turn | Answered)]
        return cls(
            frozenset(place for event in described if not isinstance(event, Look) for place in event.places),
            frozenset(place for event in described for place in event.places),
            frozenset(event.facts for event in since if isinstance(event, Answered)),
        )

    def answers(self, inquiry: Inquiry) -> bool:
        """Whether the learner has already told what is asked."""
        claimed = isinstance(inquiry, ClaimQuestion) and inquiry.facts in self.claims
        seen = self.looked_at if isinstance(inquiry, LookQuestion) else self.described
        return claimed or seen.issuperset(inquiry.places)


def _inquiries(letters: Numbers, share: Chances, alike: Collection[int]) -> Iterator[tuple[Inquiry, Numbers]]:
    """The questions, with the answer to each in every hypothesis as a number. `letters` [hypotheses, 54] has numbers of
    FACES, or _OPEN; there are no questions about single stickers of the faces `alike`."""
    for face in _HIDDEN:
        for number in (1, 2, 3):
            row = RowQuestion(face, number)
            yield row, letters[:, row.places] @ 8 ** np.arange(3)
        whole = FaceQuestion(face)
        yield whole, letters[:, whole.places] @ 8 ** np.arange(9)
    for asks in _LOOKS:
        look = LookQuestion(asks)
        there = letters[:, look.places]
        yield look, (np.where(there == _OPEN, 2, there == _UP) @ 3 ** np.arange(4))
    likeliest = letters[share.argmax()]
    for face in _HIDDEN:
        for place in FaceQuestion(face).places:
            if place % 9 != 4 and likeliest[place] != _OPEN and likeliest[place] not in alike:
                claim = ((PLACE_NAMES[place], FACES[likeliest[place]]),)
                there = letters[:, place]
                yield ClaimQuestion(claim), np.where(there == _OPEN, 2, there == likeliest[place])


def _kind_and_face(inquiry: Inquiry) -> tuple[str, str]:
    match inquiry:
        case RowQuestion(face, _):
            return "row", face
        case FaceQuestion(face):
            return "face", face
        case LookQuestion(asks):
            return asks, "U"
        case ClaimQuestion(claim):
            return "claim", claim[0][0][0]


def _information(answers: Numbers, groups: Numbers, share: Chances) -> float:
    """What the answer tells about the group, in bits."""
    _, answer = np.unique(answers, return_inverse=True)
    _, both = np.unique(groups * (int(answer.max()) + 1) + answer, return_inverse=True)
    return _entropy(_sums(groups, share)) + _entropy(_sums(answer, share)) - _entropy(_sums(both, share))


def _sums(number: Numbers, share: Chances) -> Chances:
    """The total share of each number."""
    return np.asarray(np.bincount(number, share), np.float64)


def _entropy(share: Chances) -> float:
    positive = share[share > 0]
    return float(-(positive * np.log2(positive)).sum())
