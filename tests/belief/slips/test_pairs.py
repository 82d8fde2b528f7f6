"""Two slips on a trail, found by all that was said; second thoughts; and the way home leg by leg."""

from __future__ import annotations

from itertools import product
from random import Random

import numpy as np
import pytest

from coach.belief.evidence import Answered, Look, Observation, OneOf, Stickers, chances_of
from coach.belief.reading.stickers import KnownStickers
from coach.belief.slips.explanations import single_slips
from coach.belief.slips.inquiry import confirming_row, telling_row
from coach.belief.slips.legs import at_home, away, next_leg
from coach.belief.slips.pairs import double_slips
from coach.belief.slips.suspicion import Suspicion
from coach.belief.slips.trail import Trail
from coach.belief.top import TOP_EDGES
from coach.cube import FACE_PLACES, PLACE_NUMBER, POSITIONS, Cube, Turn, parse, turned
from coach.method.last_layer import LOWER as LOWER_PLACES
from coach.simulation import random_cube

TURNS = [Turn(face, quarters) for face in "URFDLB" for quarters in (1, 2, 3)]
LOWER = ("DF", "DR", "DB", "DL", "DFR", "DBR", "DBL", "DFL", "FR", "BR", "BL", "FL")


def scrambled(seed: int) -> Cube:
    return Cube().do(Random(seed).choices(TURNS, k=30))


def face_read(cube: Cube, face: str) -> Stickers:
    return Stickers(tuple((place, cube.faces[place]) for place in FACE_PLACES[face]))


def only_centres(cube: Cube) -> str:
    return "".join(letter if place % 9 == 4 else "." for place, letter in enumerate(cube.faces))


def done(trail: Trail, slips: tuple[object, ...]) -> Trail:
    return trail.with_done({slip.at: slip.done for slip in slips})  # type: ignore[attr-defined]


# All pairs


def said_of(cube: Cube, random: Random) -> list[Observation]:
    """One of each kind, true of the cube."""
    up = {place: cube.faces[PLACE_NUMBER[place]] == "U" for place in TOP_EDGES}
    row = tuple((place, cube.faces[place]) for place in FACE_PLACES["F"][:3])
    piece = tuple((place, cube.faces[place]) for place in POSITIONS["DFR"])
    wrong = tuple((place, random.choice("URFDLB")) for place in FACE_PLACES["R"][:2])
    denied = Answered(wrong, all(cube.faces[place] == face for place, face in wrong))
    elsewhere = tuple((place, "D") for place in FACE_PLACES["U"][:2])
    return [Look(up), Stickers(row), Answered(row, yes=True), denied, OneOf((piece, elsewhere))]


@pytest.mark.parametrize("seed", range(6))
def test_pairs_are_all_those_that_agree_with_what_was_said(seed: int) -> None:
    """Against doing every pair and looking at the cube."""
    random, start, calls = Random(seed), scrambled(seed), parse("R U F'")
    plain = Trail((start.faces,)).beginning_run().calling(calls)
    singles = single_slips(plain)
    lasting = singles.last > len(plain.events)
    ways = [slips for slips, lasts, chance in zip(singles.slips, lasting, singles.chances, strict=True)
            if lasts and chance >= 1.5e-4]  # fmt: skip
    pairs = [a + b for a, b in product(ways, ways) if a[-1].at < b[0].at]
    really = start.do(done(plain, random.choice(pairs)).turns)
    trail = plain
    for said in random.sample(said_of(really, random), 3):
        trail = trail.hearing(said)
    said = [event for event in trail.events if not isinstance(event, Turn)]

    def agrees(slips: tuple[object, ...]) -> bool:
        shown = chances_of([start.do(done(plain, slips).turns).faces], not_up=False)
        return all(float(event.chance(shown[:, list(event.places)])[0]) > 0.5 for event in said)

    expected = {pair for pair in pairs if agrees(pair)}
    found = set(double_slips(trail).slips)
    assert found <= expected
    assert found == expected or len(found) == 3000, "all of them, or as many as are weighed further"


@pytest.mark.parametrize("seed", range(10))
def test_two_slips_far_apart_on_a_long_trail_are_found_from_three_faces(seed: int) -> None:
    random, start = Random(seed), scrambled(seed)
    trail = Trail((start.faces,)).beginning_run().calling(random.choices(TURNS, k=80))
    singles = single_slips(trail)
    likely = [slips for slips, chance in zip(singles.slips, singles.chances, strict=True) if chance > 1e-3]
    one, other = sorted(random.sample(likely, 2), key=lambda slips: slips[0].at)
    if one[0].at == other[0].at:
        return
    really = start.do(done(trail, one + other).turns)
    for face in "URF":
        trail = trail.hearing(face_read(really, face))
    found = double_slips(trail)
    nominal = np.frombuffer(Cube().do(trail.turns).stickers, np.uint8)
    looks = {"".join(start.faces[place] for place in shift[nominal]) for shift in found.both}
    assert really.faces in looks


@pytest.mark.parametrize(("first", "second"), [(1, 5), (4, 6), (0, 2)])
def test_what_was_read_on_the_way_counts_for_pairs(first: int, second: int) -> None:
    """Nothing but the hold is known at first; a face is read after three turns."""
    start, calls = scrambled(3), parse("R U F' L U2 R' F")
    singles = single_slips(Trail((start.faces,)).calling(calls)).slips
    one, other = (next(s for s in singles if s[0].at == at and s[0].kind == "left-out") for at in (first, second))
    real = done(Trail((start.faces,)).calling(calls), one + other)
    halfway = start.do([turn for number, turn in enumerate(calls[:3]) if number not in (first, second)])
    trail = Trail((only_centres(start),)).calling(calls[:3]).hearing(face_read(halfway, "F")).calling(calls[3:])
    for face in "URF":
        trail = trail.hearing(face_read(start.do(real.turns), face))
    found = double_slips(trail).slips
    assert one + other in found
    without = Trail(trail.origins, events=tuple(e for i, e in enumerate(trail.events) if i != 3))
    assert len(found) < len(double_slips(without).slips)


# What else may have been


def test_a_trail_keeps_what_it_was_thought_to_be_before() -> None:
    trail = Trail((Cube().faces,)).beginning_run().calling(parse("R U R'"))
    mended = trail.with_done({1: ()}).calling(parse("F")).with_done({0: parse("R2")}).hearing(Look(edges=4))
    assert mended.turns == parse("R2 R' F")
    assert mended.doubted
    assert mended.doubted.turns == parse("R R' F")
    assert mended.doubted.events[-1] == Look(edges=4)
    assert mended.with_done({}).doubted == mended.doubted, "that nothing was done otherwise is no second thought"


@pytest.mark.parametrize("calls", [0, 2, 5, 100])
def test_the_end_of_a_trail_leads_to_the_same_cube(calls: int) -> None:
    start = scrambled(1)
    trail = Trail((only_centres(start),))
    for run in ("R U R'", "F2 D", "L U' y"):
        trail = trail.hearing(face_read(start.do(trail.turns), "U")).beginning_run().calling(parse(run))
    recent = trail.recent(calls)
    assert len(recent.turns) == {0: 3, 2: 3, 5: 5, 100: 8}[calls]
    (known,) = {turned(pattern, recent.turns) for pattern in recent.origins}
    really = start.do(trail.turns).faces
    assert all(letter in (".", face) for letter, face in zip(known, really, strict=True))
    assert (known.count(".") < 48) == (calls < 100)


def test_an_answer_that_fitted_may_have_been_wrong() -> None:
    """A top piece was misheard; faces read after a run tell so, and nobody is corrected."""
    start, calls = random_cube("top-face", Random(5)), parse("R U R' U R U2 R'")
    known = "".join(face if place in LOWER_PLACES else "." for place, face in enumerate(start.faces))
    wrong = Stickers(tuple(zip(POSITIONS["UFR"], (start.faces[place] for place in POSITIONS["UBL"]), strict=True)))
    assert any(start.faces[place] != face for place, face in wrong.facts)
    trail = Trail((known,)).hearing(wrong).beginning_run().calling(calls)
    for face in "UFRL":
        trail = trail.hearing(face_read(start.do(calls), face))
    suspicion = Suspicion.of(trail)
    verdict = suspicion.verdict(suspicion.known())
    assert verdict.sure
    assert verdict.nothing
    (aside,) = (row for row in np.flatnonzero(suspicion.wrong >= 0).tolist() if not suspicion.misses[row])
    assert wrong not in suspicion.trail_of(aside).events
    (pattern,) = suspicion.patterns(aside)
    assert pattern.count(".") < known.count(".")
    assert all(letter in (".", face) for letter, face in zip(pattern, start.do(calls).faces, strict=True))


# Legs and checks


@pytest.mark.parametrize("seed", range(4))
def test_leg_by_leg_all_come_home_and_none_leaves(seed: int) -> None:
    reading = KnownStickers(scrambled(seed).faces)
    left = len(away(reading, LOWER))
    while leg := next_leg(reading, LOWER):
        home = [piece for group in _groups(reading) for piece in group]
        reading = reading.after(leg)
        assert all(at_home(reading, piece) for piece in home)
        assert len(away(reading, LOWER)) < left
        left = len(away(reading, LOWER))
    assert all(at_home(reading, piece) for piece in LOWER)


def _groups(reading: KnownStickers) -> list[tuple[str, ...]]:
    """The cross, and corners with their edges, of which all is at home."""
    groups = [LOWER[:4], *(zip(LOWER[4:8], LOWER[8:], strict=True))]
    return [group for group in groups if group not in away(reading, LOWER)]


def test_where_it_is_not_known_how_pieces_lie_there_is_no_leg() -> None:
    assert next_leg(KnownStickers(only_centres(Cube())), ("DF",)) is None


@pytest.mark.parametrize("seed", range(8))
def test_no_row_tells_more_of_the_last_calls_than_the_one_that_is_confirmed(seed: int) -> None:
    start, calls = scrambled(seed), tuple(Random(seed).choices(TURNS, k=8))
    trail, should = Trail((start.faces,)).calling(calls), start.do(calls).faces
    slips = single_slips(trail)
    looks = [start.do(done(trail, explained).turns).faces for explained in slips.slips]

    def worth(places: tuple[int, ...]) -> float:
        seen = [any(look[place] != should[place] for place in places) for look in looks]
        return float(slips.chances @ np.array(seen, float))

    row = telling_row(trail, should)
    assert row is not None
    rows = [tuple(range(start, start + 3)) for face in "FURL" for start in _rows(face)]
    assert worth(row.places) == pytest.approx(max(map(worth, rows)))


def _rows(face: str) -> range:
    return FACE_PLACES[face][::3]


def test_who_did_nothing_on_their_own_is_found_out() -> None:
    # The top is yellow before and after, so no row of it would tell.
    swap = parse("R U R' U' R' F R2 U' R' U' R U R' F'")
    trail, should = Trail((Cube().faces,)).calling(swap), Cube().do(swap).faces
    row = confirming_row(trail, should, None, alone=len(swap))
    assert row is not None
    assert any(Cube().faces[place] != should[place] for place in row.places)


def test_a_second_row_tells_what_the_first_did_not() -> None:
    swap = parse("R U R' U' R' F R2 U' R' U' R U R' F'")
    trail, should = Trail((Cube().faces,)).calling(swap), Cube().do(swap).faces
    first = confirming_row(trail, should, None, alone=0)
    assert first is not None
    answered = Answered(tuple((place, should[place]) for place in first.places), True)
    second = confirming_row(trail.hearing(answered), should, None, alone=0)
    assert second is not None
    looks = [Cube().do(done(trail, slips).turns).faces for slips in single_slips(trail).slips]
    left = [look for look in looks if look != should and _same(look, should, first.places)]
    assert left
    assert not [look for look in left if _same(look, should, second.places)]


def _same(look: str, other: str, places: tuple[int, ...]) -> bool:
    return all(look[place] == other[place] for place in places)
