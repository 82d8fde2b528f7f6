"""What may have happened on a trail of calls, weighed by everything that was said: Bayes' rule over every slip.

A hypothesis is one explanation combined with one pattern that the cube may have had at the beginning. Its weight is
the prior chance of the slip times the chance of everything said. Between hypotheses that lead to the same cube,
nothing has to be decided.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import exp, log
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from coach.belief.evidence import Chances, Observation, Stickers, weigh, weigh_aside
from coach.belief.slips.beginnings import beginnings
from coach.belief.slips.explanations import (
    Shift,
    Slip,
    SlipKind,
    Slips,
    joined,
    leading,
    prefixes,
    single_slips,
    with_told,
)
from coach.belief.slips.pairs import double_slips
from coach.belief.slips.seen import UNREAD, Numbers, alike, contradicts, having_read, on_stickers, overlaid, shift_at
from coach.belief.slips.trail import Trail
from coach.cube import FACES, Turn

Said = Literal["mistake", "this", "lost", ""]
"""What the learner has said about it: that they turned wrongly; that it was the turn called last; that they lost their
place; or nothing."""

_LEAST: Final = 1e-7
"""Drop hypotheses whose weight is below this fraction of the best one's."""
_NOTHING_WRONG: Final[Mapping[Said, float]] = {"mistake": 0.02, "this": 0.001, "lost": 0.3, "": 1.0}
"""The weight of "nothing went wrong", by what the learner says."""
_EARLIER: Final[Mapping[Said, float]] = {"mistake": 0.75, "this": 0.01, "lost": 0.75}
"""Multiply the chance of a slip that the learner noticed by this for each call since. Estimates without a source."""
_EARLIEST: Final[Mapping[Said, float]] = {"mistake": 0.02, "this": 1e-5, "lost": 0.02}

_TOLD: Final = 3000.0
"""Multiply the chance of a slip by this if it is one that the learner may have described, however long ago it was. An
estimate without a source."""
_FEW: Final = 4
"""Weigh wrong answers that fitted only if there are at most this many beginnings; with more, little is unknown."""
_FITTED: Final = 0.15
"""The chance, relative to other wrong answers, of one that is taken for a right one when it is given. An estimate."""
_COUNTS: Final = 1e-2
"""Ignore hypotheses below this fraction of their group's best one when telling what the cube may look like."""
_MAYBE: Final = 1e-3
"""Do not correct the learner if a wrong answer has at least this fraction of the best hypothesis's weight."""
_HARDLY: Final = 1e-4
"""Leave out what is less likely than this when summing up."""
_NEAR_THE_BEST: Final = 3e-3
_SURE, _SURE_OF_A_FALL, _DOUBT = 0.75, 0.95, 0.01
"""Act on a group with at least the share _SURE, or more after a fall, where nobody knows better, if at most _DOUBT is
left for "nothing went wrong"."""
_TOGETHER: Final[tuple[SlipKind, ...]] = ("hold",)
"""A wrong hold that was put right is noticed where it began."""
_HUGE: Final = 1e150
_NEVER: Final = 1e-9
"""Treat anything less probable than this as impossible, up to rounding."""


@dataclass(frozen=True)
class Verdict:
    """The likeliest group: its `share`; whether it means that `nothing` went wrong, and if not, the share of that as
    `doubt`; whether everything may have been turned as called while a wrong answer `misled` the coach; the
    `hypotheses` in it that count, likeliest first; and the share that is `enough` to act on."""

    share: float
    nothing: bool
    doubt: float
    misled: bool
    hypotheses: tuple[int, ...]
    enough: float = _SURE

    @property
    def sure(self) -> bool:
        """Whether it is sure enough to act on. A mistake would be noticed soon, but a learner who has done everything
        right must not be corrected."""
        return self.share >= self.enough and self.doubt <= _DOUBT


@dataclass(frozen=True)
class Suspicion:
    """The hypotheses: `way` is the number of the explanation (-1: nothing went wrong), `origin` the number of the
    beginning, `read` [hypotheses, 54] what has been read since of the stickers there (numbers of FACES, or UNREAD),
    `final` [hypotheses, 54] where each sticker comes from, `misses` how many observations each makes impossible,
    `wrong` the number of the event that is taken for a wrong answer (-1: none). `origins` [beginnings, 54, 6] has
    the beginnings of the trail one by one, used if nothing went wrong, and last the mean of the likely ones, used
    for the slips; `fitting` [beginnings] says which are likely. `anew` is as in `of`. All weights are
    to be multiplied by e to the power of `scale`, which keeps them in range however much is said."""

    trail: Trail
    origins: Chances
    slips: Slips
    way: Numbers
    origin: Numbers
    read: Shift
    weight: Chances
    misses: Numbers
    final: Shift
    wrong: Numbers
    fitting: NDArray[np.bool_]
    said: Said = ""
    anew: bool = False
    scale: float = 0.0

    @classmethod
    def of(
        cls,
        trail: Trail,
        said: Said = "",
        habits: Mapping[SlipKind, int] | None = None,
        anew: bool = False,
        told: Sequence[tuple[Slip, ...]] = (),
    ) -> Suspicion:
        """All explanations with at most one slip, and those by a wrong answer that fitted when it was given; also with
        two slips if one does not explain what was said. `anew` says that the lesson is not where it should be even if
        everything was done as called. `told` are the slips that the learner may have described."""
        origins, fitting = beginnings(trail)
        slips = single_slips(trail, habits)
        slips = with_told(slips, trail, told) if told else slips
        described = np.array([slip in told for slip in slips.slips], bool)
        slips = replace(slips, chances=slips.chances * np.where(described, _TOLD, 1.0))
        count = len(origins) - 1
        doubtful = _doubtful(trail) if count <= _FEW else []
        right = np.full(count * (1 + len(doubtful)), -1)
        way = np.concatenate([right, np.arange(len(slips.slips))])
        origin = np.concatenate([np.tile(np.arange(count), 1 + len(doubtful)), np.full(len(slips.slips), count)])
        wrong = np.concatenate([np.repeat([-1, *doubtful], count), np.full(len(slips.slips), -1)])
        chances = slips.chances * _noticed(slips, trail, said, described) * fitting.mean()
        chances = np.append(chances, _NOTHING_WRONG[said] / count)
        weight = chances[way] * np.where(wrong < 0, 1.0, _FITTED)
        hypotheses = _hypotheses(trail, origins, fitting, slips, way, origin, weight, said, wrong)
        hypotheses = replace(hypotheses, anew=anew)
        return hypotheses if hypotheses.explained else hypotheses.with_pairs()

    @property
    def explained(self) -> bool:
        """Whether a hypothesis that is not much less likely than the best agrees with everything said."""
        return not self.misses[self.weight > _NEAR_THE_BEST * self.weight.max()].all()

    def with_pairs(self) -> Suspicion:
        """The suspicion with explanations of two slips as well, if they agree with what has been said so far."""

        def noticed(slips: Slips) -> Chances | float:
            return _noticed(slips, self.trail, self.said)

        slips = double_slips(self.trail, self.slips, self.origins[-1], noticed)
        if not slips.slips:
            return self
        way = np.arange(len(slips.slips))
        origin = np.full(len(way), len(self.origins) - 1)
        chances = slips.chances * noticed(slips) * self.fitting.mean()
        other = _hypotheses(self.trail, self.origins, self.fitting, slips, way, origin, chances[way], self.said)
        return self._joined(other)

    def hearing(self, observation: Observation) -> Suspicion:
        """The suspicion once `observation` has been said as well."""
        there = self.final[:, list(observation.places)]
        shown = on_stickers(self.origins, self.origin, self.read, there)
        weight, scale = _in_range(self.weight * weigh(observation, shown), self.scale)
        missed = observation.chance(shown) < _NEVER
        read = having_read(self.read, there, observation, ~missed)
        trail, misses = self.trail.hearing(observation), self.misses + missed
        heard = replace(self, trail=trail, read=read, weight=weight, misses=misses, scale=scale)._pruned()
        # Pairs that did not explain what was said before will not explain more.
        return heard if heard.explained or not self.explained else heard.with_pairs()

    def shown(self, places: Sequence[int]) -> Chances:
        """[hypotheses, places, 6] what may be on the stickers there now."""
        return on_stickers(self.origins, self.origin, self.read, self.final[:, list(places)])

    @property
    def share(self) -> Chances:
        """[hypotheses] how likely each is."""
        return np.asarray(self.weight / self.weight.sum())

    # What follows

    def known(self) -> Mapping[int, str]:
        """The stickers that are known if nothing went wrong (place: face of the colour)."""
        right = np.flatnonzero(self.way < 0)
        right = right[self.weight[right] > _COUNTS * self.weight[right].max()]
        patterns = [pattern for hypothesis in right.tolist() for pattern in self.patterns(hypothesis)]
        seen = enumerate(zip(*patterns, strict=True))
        return {place: letters[0] for place, letters in seen if len(set(letters)) == 1 and letters[0] != "."}

    def groups(self, known: Mapping[int, str]) -> Numbers:
        """[hypotheses] the same number for all in which the cube looks alike, judging by the stickers that should be at
        the places `known` now and those read since."""
        nominal = prefixes(self.trail.turns)[-1]
        colours = np.full(54, UNREAD, np.uint8)
        for place, face in known.items():
            colours[nominal[place]] = FACES.index(face)
        read = np.take_along_axis(self.read, self.final.astype(np.intp), axis=1)
        looks = np.where(read != UNREAD, read, colours[self.final])
        _, group = np.unique(looks.view("V54"), return_inverse=True)
        return np.asarray(group.reshape(-1), np.intp)

    def verdict(self, known: Mapping[int, str]) -> Verdict:
        """The likeliest group of hypotheses that agree about the stickers at the places `known`."""
        groups = self.groups(known)
        shares = np.bincount(groups, self.share)
        hypotheses = np.flatnonzero(groups == shares.argmax())
        hypotheses = hypotheses[np.argsort(-self.weight[hypotheses], kind="stable")]
        right = (self.way < 0) & (self.wrong < 0)  # if an answer was wrong, the cube is not as thought either
        nothing = bool(right[hypotheses].any()) and not self.anew
        doubt = 0.0 if nothing or self.anew else float(self.share[right].sum())
        likely = hypotheses[self.weight[hypotheses] > _MAYBE * self.weight[hypotheses[0]]]
        wrongly = (self.way < 0) & (self.wrong >= 0)
        misled = bool(wrongly[likely].any() or self.share[wrongly].sum() > _DOUBT)
        hypotheses = hypotheses[self.weight[hypotheses] > _COUNTS * self.weight[hypotheses[0]]]
        enough = _SURE_OF_A_FALL if self.trail.fallen else _SURE
        return Verdict(float(shares.max()), nothing, doubt, misled, tuple(hypotheses.tolist()), enough)

    def slips_of(self, hypothesis: int) -> tuple[Slip, ...]:
        """The slips of a hypothesis; empty if nothing went wrong."""
        return self.slips.slips[self.way[hypothesis]] if self.way[hypothesis] >= 0 else ()

    def certainty(self, hypothesis: int) -> float:
        """How likely it is that exactly the calls named by the hypothesis were done wrongly, each in that way."""

        def tells(hypothesis: int) -> list[tuple[SlipKind, int]]:
            return [(slip.kind, slip.at) for slip in leading(self.slips_of(hypothesis))]

        share = self.share
        likely = np.flatnonzero(share > _COUNTS * share[hypothesis])
        return float(sum(share[other] for other in likely.tolist() if tells(other) == tells(hypothesis)))

    def by_run(self, besides: bool = True) -> Mapping[int, float]:
        """By the number of each run, how likely it is that something went wrong in it, or that more did than a turn of
        the top `besides`."""
        chances = defaultdict[int, float](float)
        for slips, share in self._likely():
            wrong = [slip for slip in slips if besides or slip.kind != "top-turned"]
            for number in {self.trail.number_of_run(slip.at) for slip in wrong}:
                chances[number] += share
        return chances

    @property
    def misheld(self) -> float:
        """How likely it is that the whole cube was turned otherwise than called."""
        turns = (*self.trail.turns, None)

        def whole(slip: Slip) -> bool:
            called = turns[slip.at]
            return any(turn.whole for turn in (*slip.done, *((called,) if called else ())))

        return sum(share for slips, share in self._likely() if any(map(whole, slips)))

    def _likely(self) -> Iterator[tuple[tuple[Slip, ...], float]]:
        """The explanations that are not hardly likely, and how likely each is."""
        slipped = self.way >= 0
        shares = np.bincount(self.way[slipped], self.share[slipped])
        for way in np.flatnonzero(shares > _HARDLY).tolist():
            yield self.slips.slips[way], float(shares[way])

    def trail_of(self, hypothesis: int) -> Trail:
        """The trail, without the answer that is taken for a wrong one in that hypothesis."""
        wrong = int(self.wrong[hypothesis])
        return self.trail if wrong < 0 else self.trail.without(wrong)

    def patterns(self, hypothesis: int) -> tuple[str, ...]:
        """What the cube may look like now in that hypothesis, including everything read since."""
        marks = self._likely_origins if self.way[hypothesis] >= 0 else (self.trail.origins[self.origin[hypothesis]],)
        read = self.read[hypothesis]
        known = {place: FACES[read[place]] for place in np.flatnonzero(read != UNREAD).tolist()}
        if self.trail.not_up:
            marks = tuple(origin.replace(".", "-") for origin in marks)
        fitting = (overlaid(origin, known) for origin in marks if not contradicts(origin, known))
        return tuple("".join(map(origin.__getitem__, self.final[hypothesis])).replace("-", ".") for origin in fitting)

    @cached_property
    def _likely_origins(self) -> tuple[str, ...]:
        return tuple(self.trail.origins[i] for i in np.flatnonzero(self.fitting))

    def _joined(self, other: Suspicion) -> Suspicion:
        count, scale = len(self.slips.slips), max(self.scale, other.scale)
        weights = [each.weight * exp(each.scale - scale) for each in (self, other)]
        return replace(
            self,
            scale=scale,
            slips=joined([self.slips, other.slips]),
            way=np.concatenate([self.way, np.where(other.way < 0, -1, other.way + count)]),
            origin=np.concatenate([self.origin, other.origin]),
            read=np.concatenate([self.read, other.read]),
            weight=np.concatenate(weights),
            misses=np.concatenate([self.misses, other.misses]),
            final=np.concatenate([self.final, other.final]),
            wrong=np.concatenate([self.wrong, other.wrong]),
        )._pruned()

    def _pruned(self) -> Suspicion:
        keep = _worth_keeping(self.way, self.weight)
        if len(keep) == len(self.way):
            return self
        return replace(
            self,
            way=self.way[keep],
            origin=self.origin[keep],
            read=self.read[keep],
            weight=self.weight[keep],
            misses=self.misses[keep],
            final=self.final[keep],
            wrong=self.wrong[keep],
        )


def _hypotheses(
    trail: Trail,
    origins: Chances,
    fitting: NDArray[np.bool_],
    slips: Slips,
    way: Numbers,
    origin: Numbers,
    weight: Chances,
    said: Said,
    wrong: Numbers | None = None,
) -> Suspicion:
    """The hypotheses weighed by everything said on the trail, dropping unlikely ones on the way. `wrong` has for each
    hypothesis the number of the event that tells nothing, -1 for none."""
    wrong = np.full(len(way), -1) if wrong is None else wrong
    before = prefixes(trail.turns)
    misses = np.zeros(len(way), np.intp)
    read = np.full((len(way), 54), UNREAD, np.uint8)
    calls, scale = 0, 0.0
    for number, event in enumerate(trail.events):
        if isinstance(event, Turn):
            calls += 1
            continue
        places = before[calls][list(event.places)]
        hypotheses, like = alike(way, slips, number)
        there = shift_at(slips, way[hypotheses], number, places)
        shown = on_stickers(origins, origin[hypotheses], read[hypotheses], there)
        aside = wrong == number
        weight, scale = _in_range(weight * np.where(aside, weigh_aside(event), weigh(event, shown)[like]), scale)
        missed = (event.chance(shown) < _NEVER)[like] & ~aside
        misses = misses + missed
        read = having_read(read, there[like], event, ~missed & ~aside)
        keep = _worth_keeping(way, weight)
        if len(keep) < len(way):
            way, origin, read, weight, misses = way[keep], origin[keep], read[keep], weight[keep], misses[keep]
            wrong = wrong[keep]
    final = shift_at(slips, way, len(trail.events), before[-1])
    return Suspicion(trail, origins, slips, way, origin, read, weight, misses, final, wrong, fitting, said, scale=scale)



def _in_range(weight: Chances, scale: float) -> tuple[Chances, float]:
    """The same weights and scale, with the greatest weight 1 if it was about to leave the range of a float."""
    most = float(weight.max(initial=0.0))
    if not most or 1 / _HUGE < most < _HUGE:
        return weight, scale
    return weight / most, scale + log(most)


def _worth_keeping(way: Numbers, weight: Chances) -> Numbers:
    """The hypotheses that are not too unlikely; "nothing went wrong" always stays."""
    right = np.where(way < 0, weight, 0)
    return np.flatnonzero((weight > _LEAST * weight.max()) | ((way < 0) & (right == right.max())))



def _doubtful(trail: Trail) -> list[int]:
    """The numbers of the events that told where a piece lies: if such an answer was wrong, this shows only later, when
    something contradicts it."""
    return [number for number, event in enumerate(trail.events) if isinstance(event, Stickers) and _piece(event)]


def _piece(stickers: Stickers) -> bool:
    return len({place // 9 for place in stickers.places}) == len(stickers.places) > 1




def _noticed(slips: Slips, trail: Trail, said: Said, described: NDArray[np.bool_] | None = None) -> Chances | float:
    """[explanations] how much likelier a slip that was noticed is for being among the last calls, which for those that
    were `described` makes no difference."""
    if not said:
        return 1.0
    calls = len(trail.turns)
    back = np.array([calls - min(leading(slip, _TOGETHER)[-1].at + 1, calls) for slip in slips.slips], float)
    back = back if described is None else np.where(described, 0.0, back)
    earlier = _EARLIER[said]
    return np.asarray(np.maximum(earlier**back, _EARLIEST[said]) * (1 / (1 - earlier)))
