"""Ways back from where the cube is to where the lesson should be."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from coach.cube import POSITIONS, Cube, Turn, inverse, join
from coach.cube.search import AT_HAND, ROTATIONS_TO, cheapest_between, cheapest_moves


@dataclass(frozen=True)
class Repair:
    """Turns to call. With `resumes`, they make the cube what it should be now, and the run goes on; otherwise they
    make it, as far as it matters, what it should be after the run."""

    turns: tuple[Turn, ...]
    resumes: bool


def repairs(
    actual: Cube, called: Sequence[Turn], done: Sequence[Turn], rest: Sequence[Turn], pieces: Sequence[str]
) -> Iterator[Repair]:
    """The possible repairs, one of the least effort of each kind; the last resort is to leave the cube as it is.

    `called` are the turns that should have been done since some beginning, `done` those that really were; they
    have led to the cube `actual` instead of Cube().do(called). `rest` is what is still to be called of the
    run, and `pieces` are those that must be at home after it, by their positions in the hold it ends in.
    """
    now = Cube().do(called)
    end = now.do(rest)
    # The hold first: turns are easier to follow in the usual one, and cheaper.
    hold = _rotation(actual, now)
    held = actual.do(hold)
    straight = cheapest_between(held, now)
    if straight is not None:
        yield Repair((*hold, *_ending(held, straight, now)), resumes=True)
    else:
        yield Repair(_ending(actual, _back_and_again(called, done), now), resumes=True)
    yield Repair(_rotation(actual, end), resumes=False)
    if rest and (over := cheapest_between(held, end)) is not None:
        yield Repair((*hold, *_ending(held, over, end)), resumes=False)
    if pieces and (home := _bringing(held, end, pieces)) is not None:
        yield Repair((*hold, *_ending(held, home, end)), resumes=False)


def without_waste(first: tuple[Turn, ...], then: tuple[Turn, ...]) -> tuple[tuple[Turn, ...], tuple[Turn, ...]]:
    """The same two, one after the other, without turns of one face that end the first and begin the second; what is
    left of them is done in the second, and what is left of all, if that is one, in the first."""
    while first and then and join((first[-1], then[0])) != (first[-1], then[0]):
        first, then = first[:-1], (*join((first[-1], then[0])), *then[1:])
    return (first, then) if first else (then, ())


def _bringing(actual: Cube, end: Cube, pieces: Sequence[str]) -> tuple[Turn, ...] | None:
    """The cheapest turns that bring `pieces` to where they are in `end`."""
    target = (end.upright * Cube(actual.hold)).inverse.stickers
    now = actual.inverse.stickers
    stickers = [end.stickers[POSITIONS[piece][0]] for piece in pieces]
    start, goal = tuple(now[s] for s in stickers), tuple(target[s] for s in stickers)
    found = cheapest_moves(start, goal)
    return cheapest_moves(start, goal, AT_HAND, 10) if found is None else found


def _back_and_again(called: Sequence[Turn], done: Sequence[Turn]) -> tuple[Turn, ...]:
    """Undo everything from the first wrong turn on, and do it again."""
    same = next((i for i, (one, other) in enumerate(zip(called, done, strict=False)) if one != other), len(called))
    return join((*inverse(done[same:]), *called[same:]))


def _ending(start: Cube, turns: tuple[Turn, ...], goal: Cube) -> tuple[Turn, ...]:
    """`turns`, followed by turning the whole cube into the hold of `goal`."""
    return (*turns, *_rotation(start.do(turns), goal))


def _rotation(cube: Cube, goal: Cube) -> tuple[Turn, ...]:
    """The turns of the whole cube that bring it into the hold of `goal`."""
    return ROTATIONS_TO[(Cube(cube.hold).inverse * Cube(goal.hold)).stickers]
