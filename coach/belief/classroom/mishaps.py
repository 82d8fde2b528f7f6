"""What a pupil may have done instead of the run that a class has just done, and the turns that put it right.

Everything is told in the hold in which the run began, as if that were upright. Of a class in which every cube is
another, only the two lower layers are known: a mishap shows by where their stickers are now, and a repair must bring
about what the run would have, whatever lies on top. Of a class whose cubes are all alike everything is known.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import chain
from typing import Final

from coach.belief.slips.explanations import Slip, prefixes, really, single_slips
from coach.belief.slips.trail import Trail
from coach.cube import FACE_PLACES, FACES, POSITIONS, Cube, Turn, all_shown, inverse, join
from coach.cube.search import AT_HAND, EFFORT, cheapest_moves
from coach.method import TURNS_ABOUT_UP
from coach.method.last_layer import LOWER, TOP_CORNERS, TOP_EDGES
from coach.method.model import TOP_CORNERS as TOP_CORNERS_UP
from coach.method.model import TOP_EDGES as TOP_EDGES_UP
from coach.method.model import Condition
from coach.method.placing import TOP_TURNS
from coach.method.unison import Unison

UNKNOWN: Final = "."
"""The mark of a sticker of the top layer whose colour is not known; it is never that of the bottom."""
_ANY: Final = "".join(face * 9 for face in FACES)
_STILL: Final = {turn: cost for turn, cost in EFFORT.items() if not turn.whole and turn.face != "B"}
"""The turns of a repair: nobody has to turn the whole cube in the middle of it."""
_NOTICED: Final = 10.0
"""A slip that somebody has noticed is so many times likelier than any other in one turn."""
_ROUND: Final = Turn("U", 2, 3)
_LOWER_PIECES: Final = tuple(position for position in POSITIONS if "U" not in position)


@dataclass(frozen=True)
class Mishap:
    """One way to have gone wrong: what was done, upright; `again`, the turns that undo it from the first wrong one on
    and do that part again (None if the whole cube was turned); and a weight, the chance in proportion to others."""

    done: Cube
    again: tuple[Turn, ...] | None
    weight: float


@dataclass(frozen=True, eq=False)
class Aim:
    """What a repair must bring about: each piece of `counts`, told by one of its stickers, is where one of `goals` has
    it; pieces of the same number may change places. `again`: the step has to be gone through again after that."""

    counts: tuple[tuple[int, int], ...]
    goals: tuple[tuple[int, ...], ...]
    again: bool = False

    @classmethod
    def of(cls, counts: Iterable[tuple[int, int]], ends: Iterable[Cube], again: bool = False) -> Aim:
        """The aim of what counts being as after any of `ends`."""
        aim = cls(tuple(counts), (), again)
        goals = {tuple(aim.sorted(where)): where for where in map(aim.where, ends)}
        return cls(aim.counts, tuple(goals.values()), again)

    def where(self, done: Cube) -> tuple[int, ...]:
        """The places of the pieces that count."""
        now = done.inverse.stickers
        return tuple(now[sticker] for _, sticker in self.counts)

    def sorted(self, where: Iterable[int]) -> list[tuple[int, int]]:
        """The same for whichever of the pieces of a number."""
        return sorted(zip((kind for kind, _ in self.counts), where, strict=True))

    def met(self, done: Cube) -> bool:
        """Whether what was done brings it about."""
        where = self.sorted(self.where(done))
        return any(where == self.sorted(goal) for goal in self.goals)

    def ways(self, done: Cube) -> Iterator[tuple[Turn, ...]]:
        """Few turns that bring it about after what was done, for each goal that is not too far."""
        start, kinds = self.where(done), tuple(kind for kind, _ in self.counts)
        for goal in self.goals:
            near = cheapest_moves(start, goal, _STILL, 8, kinds)
            way = near if near is not None else cheapest_moves(start, goal, AT_HAND, 10, kinds)
            if way is not None:
                yield way


@dataclass(frozen=True)
class Repair:
    """Turns that put a mishap right. `again`: only as far as the step needs, which is then gone through again."""

    turns: tuple[Turn, ...]
    again: bool


@dataclass(frozen=True, eq=False)
class Aftermath:
    """A run of `turns` by a class, each on the cube `before`, of which the stickers with their homes at the places
    `known` are known, and the `aims` of a repair, the best first. All have done the turns `begun` rightly before."""

    turns: tuple[Turn, ...]
    before: Cube
    known: frozenset[int]
    aims: tuple[Aim, ...]
    begun: tuple[Turn, ...] = ()
    stopped: tuple[int, ...] = ()
    """After so many of `turns` somebody noticed that they had gone wrong, and has rested since."""

    @classmethod
    def of_unlike(cls, unison: Unison, turns: tuple[Turn, ...], begun: tuple[Turn, ...] = ()) -> Aftermath:
        """After a run of a step by a class in which every cube is another, all with their lower layers done. The run
        consists of `begun`, after which it was found out who had gone wrong, and `turns`."""
        intact = Cube().do((*begun, *turns)).upright
        ends = [intact.do(top) for top in TOP_TURNS]
        step, begins, ended = unison.step, unison.of_case(*unison.cases), unison.of_case(unison.done)
        as_done = Aim.of(_counting(unison, ended, (step.needs, step.goal), intact), ends)
        as_begun = Aim.of(_counting(unison, begins, (step.needs,), intact), ends, again=True)
        return cls(turns, Cube(), frozenset(LOWER), (as_done, as_begun), begun)

    @classmethod
    def of_part(cls, turns: tuple[Turn, ...], begun: tuple[Turn, ...] = ()) -> Aftermath:
        """After the first turns of a run, where every cube is another and all had their lower layers done before: those
        `begun` have been checked already."""
        aim = Aim.of(_every_piece(), [Cube().do((*begun, *turns)).upright])
        return cls(turns, Cube(), frozenset(LOWER), (aim,), begun)

    @classmethod
    def of_alike(cls, before: Cube, turns: tuple[Turn, ...]) -> Aftermath:
        """After turns that a class did on one and the same cube, which was as `before` in their hold. All is told in
        that hold, whatever turns of the whole cube were among them."""
        turns = _in_one_hold(turns)
        aim = Aim.of(_every_piece(), [Cube().do(turns).upright])
        return cls(turns, before, frozenset(range(54)), (aim,))

    def after_repair(self, turns: tuple[Turn, ...]) -> Aftermath:
        """After a repair that brings cubes that are all alike to be as the run should have left them."""
        return self.of_alike((self.before * self.intact).do(inverse(turns)), turns)

    @cached_property
    def intact(self) -> Cube:
        """What the run does, upright."""
        return Cube().do((*self.begun, *self.turns)).upright

    def pattern(self, done: Cube) -> str:
        """What is known of the stickers once `done` was done to the cube."""
        cube = self.before * done
        return "".join(
            face if home in self.known else UNKNOWN for home, face in zip(cube.stickers, cube.faces, strict=True)
        )

    @cached_property
    def mishaps(self) -> tuple[Mishap, ...]:
        """All that may have gone wrong with one slip so that it shows, the likeliest first."""
        weights: defaultdict[Cube, float] = defaultdict(float)
        again: dict[Cube, tuple[Turn, ...] | None] = {}
        for done, way, weight in (*self._slips(len(self.turns)), *chain(*map(self._noticed, self.stopped))):
            weights[done] += weight
            again.setdefault(done, way)
        intact = self.pattern(self.intact)
        shown = (Mishap(done, again[done], weight) for done, weight in weights.items() if self.pattern(done) != intact)
        return tuple(sorted(shown, key=lambda mishap: -mishap.weight))

    def _slips(self, number: int, last: bool = False) -> Iterator[tuple[Cube, tuple[Turn, ...] | None, float]]:
        """What is done by one slip in so many of the turns, or in the `last` of them only, with the way to do all of
        the turns again from there, and the weight."""
        trail = Trail((_ANY,)).beginning_run().calling(self.turns[:number])
        slips = single_slips(trail)
        ended = slips.both[:, prefixes(trail.turns)[-1]]
        for each, stickers, chance in zip(slips.slips, ended, slips.chances.tolist(), strict=True):
            if not last or all(slip.at == number - 1 for slip in each):
                way = _again(trail, each)
                rest = None if way is None else join((*way, *self.turns[number:]))
                yield Cube().do(self.begun) * Cube(stickers.tobytes()).upright, rest, chance

    def _noticed(self, number: int) -> Iterator[tuple[Cube, tuple[Turn, ...] | None, float]]:
        """What is done by a slip in the last of so many turns that was noticed, so that it is likelier than others."""
        return ((done, way, _NOTICED * weight) for done, way, weight in self._slips(number, last=True))

    def repair(self, mishap: int, longest: int) -> Repair | None:
        """The fewest turns found that put a mishap right, by its number, none of the whole cube: as the run would have
        left it, if that takes no more than `longest`, or else so that the step can begin again; None if that is too
        far, too."""
        if mishap not in self._repairs:
            self._repairs[mishap] = tuple(self._ways(self.mishaps[mishap]))
        return next((repair for repair in self._repairs[mishap] if len(repair.turns) <= longest), None)

    def _ways(self, mishap: Mishap) -> Iterator[Repair]:
        """The shortest way found for each aim, without the back, which no class can see, if the run is without it."""
        for aim in self.aims:
            ways = [*aim.ways(mishap.done), *([] if mishap.again is None or aim.again else [mishap.again])]
            ways = [way for way in ways if not _has_back(way) or _has_back(self.turns)]
            if ways:
                yield Repair(min(ways, key=len), aim.again)

    @cached_property
    def _repairs(self) -> dict[int, tuple[Repair, ...]]:
        """Those found already."""
        return {}

    def served(self, mishap: int, repair: Repair) -> bool:
        """Whether a repair does for a mishap, by its number, what it is for."""
        after = self.mishaps[mishap].done.do(repair.turns)
        return any(aim.met(after) for aim in self.aims if repair.again or not aim.again)


def _has_back(turns: tuple[Turn, ...]) -> bool:
    return any(turn.face == "B" for turn in turns)


def _again(trail: Trail, slips: tuple[Slip, ...]) -> tuple[Turn, ...] | None:
    """The turns that undo a slip from the first wrong turn on, and then do what was called."""
    called, done = trail.turns, really(trail, slips).turns
    same = 0
    while same < min(len(called), len(done)) and called[same] == done[same]:
        same += 1
    way = join((*inverse(done[same:]), *called[same:]))
    if any(turn.whole for turn in way):
        return None
    return min((_turned_round(way, rotation) for rotation in TURNS_ABOUT_UP), key=len)


def _turned_round(way: Sequence[Turn], rotation: tuple[Turn, ...]) -> tuple[Turn, ...]:
    """The same with the whole cube turned first, and back at the end; no turn of the back is called."""
    done = [*rotation]
    for turn in (each.seen_after(rotation) for each in way):
        done += [_ROUND, Turn("F", turn.quarters), _ROUND] if turn.face == "B" else [turn]
    return join((*done, *inverse(rotation)))


def _in_one_hold(turns: Iterable[Turn]) -> tuple[Turn, ...]:
    """The same turns of the faces, with their names before the whole cube is turned."""
    rotations: list[Turn] = []
    done: list[Turn] = []
    for turn in turns:
        if turn.whole:
            rotations.append(turn)
        else:
            done.append(turn.seen_after(inverse(rotations)))
    return tuple(done)


def _every_piece() -> Iterator[tuple[int, int]]:
    return ((number, places[0]) for number, places in enumerate(POSITIONS.values()))


def _counting(
    unison: Unison, states: Iterable[int], conditions: Iterable[Condition], intact: Cube
) -> Iterator[tuple[int, int]]:
    """The pieces that count where a step stands at one of `states` and `conditions` are met: those of the lower layers,
    and those of the top layer that have their order, or the top colour up. To go by is the sticker that comes up."""
    for kind, piece in enumerate(_LOWER_PIECES):
        yield kind, POSITIONS[piece][0]
    patterns = [unison.states[number].faces for number in states]
    ordered = {place[1] for condition in conditions for group in condition.same for place in group}
    up = {intact.stickers[place] for place in FACE_PLACES["U"]}
    kind = len(_LOWER_PIECES)
    for pieces, spots, tops in ((TOP_EDGES, "1", TOP_EDGES_UP), (TOP_CORNERS, "02", TOP_CORNERS_UP)):
        placed = not ordered.isdisjoint(spots)
        if placed or all(all_shown(pattern, tops) for pattern in patterns):
            for number, piece in enumerate(pieces):
                yield kind + number * placed, next(home for home in POSITIONS[piece] if home in up)
        kind += len(pieces)
