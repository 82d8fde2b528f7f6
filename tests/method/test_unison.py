"""Many cubes in unison: every plan serves every cube of every mix, no plan is longer than it must be, every cube is
turned into its hold, and no slip in a run escapes the check at the end of the step."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from functools import cache
from itertools import chain, combinations, permutations, product

import pytest

from coach.cube import FACE_TURNS, Claim, Cube, Turn, claim_holds
from coach.method import TURNS_ABOUT_UP, Case, Method, Step, default_method, other_hand
from coach.method.last_layer import all_states, lower_layers_whole
from coach.method.sequences import NamedSequence
from coach.method.unison import Unison, unison

METHODS = (default_method(), other_hand(default_method()))
STEPS = [(method, number) for method in METHODS for number in range(4)]
EVERY_STEP = pytest.mark.parametrize(
    ("method", "number"), STEPS, ids=[f"{method.hand} {method.top_steps[number].id}" for method, number in STEPS]
)
BOUNDS = {"top-cross": 2, "top-face": 3, "top-corners": 2, "top-edges": 3}
ARRANGEMENTS = [dict(zip("FRBL", order, strict=True)) for order in permutations("FRBL")]
"""The side colours of a cube that any arrangement of colours may have, by those of a cube in the usual one."""


def of(method: Method, number: int) -> Unison:
    return _of(METHODS.index(method), number)


@cache
def _of(hand: int, number: int) -> Unison:
    return unison(METHODS[hand], METHODS[hand].top_steps[number])


def mixes(step: Step) -> Iterator[tuple[str, ...]]:
    """Every set of cases that a class may have."""
    ids = [case.id for case in step.cases]
    return chain.from_iterable(combinations(ids, size) for size in range(1, len(ids) + 1))


def case_of(step: Step, case_id: str) -> Case:
    return next(case for case in step.cases if case.id == case_id)


def recoloured(pattern: str, colours: dict[str, str]) -> str:
    return "".join(colours.get(letter, letter) for letter in pattern)


def test_there_are_as_many_states_as_are_published() -> None:
    """62,208 last layers: 4! x 4! orders of edges and corners, half of them legal, 2^3 flips and 3^3 twists."""
    sizes = [len(of(METHODS[0], number).states) for number in range(4)]
    assert sizes == [2**3 * 3**3, 3**3, 24 * 24 // 2, 4 * 24 // 2]
    assert sizes[0] * sizes[2] == sum(1 for _ in all_states()) == 62_208


def test_cases_have_the_shares_that_counting_gives() -> None:
    """By hand: an even number of four edges flipped; twists of four corners that add up to none."""
    edges = Counter(sum(flips) for flips in product((0, 1), repeat=4) if sum(flips) % 2 == 0)
    corners = Counter(twists.count(0) for twists in product(range(3), repeat=4) if sum(twists) % 3 == 0)
    cross, face = (Counter(of(METHODS[0], number).cases) for number in (0, 1))
    assert (cross["dot"], cross["corner"] + cross["line"], cross["cross"]) == tuple(27 * edges[n] for n in (4, 2, 0))
    assert cross["corner"] == 2 * cross["line"]
    assert [face[case] for case in ("none-up", "one-up", "two-up", "all-up")] == [corners[n] for n in (0, 1, 2, 4)]


@EVERY_STEP
def test_the_cases_after_a_sequence_are_those_that_cubes_come_to(method: Method, number: int) -> None:
    step, joint = method.top_steps[number], of(method, number)
    for case, sequence in product(step.cases, [each for each in method.sequences if each in _sequences(step)]):
        reached = set()
        for cube in filter(lambda cube: case.fits(cube.faces), joint.states):
            for hold in case.holds(cube.faces):
                reached.add(step.case_of(cube.do(hold).do(sequence.turns).faces).id)
        assert joint.after(case.id, sequence) == reached


def _sequences(step: Step) -> list[NamedSequence]:
    return list({case.named.id: case.named for case in step.cases if case.named}.values())


@EVERY_STEP
def test_a_plan_serves_every_cube_in_whatever_hold_of_its_case_it_is_done(method: Method, number: int) -> None:
    step, joint = method.top_steps[number], of(method, number)
    for mix in mixes(step):
        cubes = {cube for cube in joint.states if step.case_of(cube.faces).id in mix}
        for run in joint.plan(mix):
            after = set()
            for cube in cubes:
                case = step.case_of(cube.faces)
                takes_part = case.id in run.cases
                assert takes_part == (case.named == run.sequence), "who can do the run as their own takes part in it"
                for hold in case.holds(cube.faces) if takes_part else [()]:
                    after.add(cube.do(hold).do(run.sequence.turns if takes_part else ()).upright)
            cubes = after
        assert all(step.done(cube.faces) for cube in cubes)


@EVERY_STEP
def test_no_fewer_runs_would_do_even_if_anybody_might_do_any_sequence(method: Method, number: int) -> None:
    step, joint = method.top_steps[number], of(method, number)
    everybody = [case.id for case in step.cases]
    for mix in mixes(step):
        assert len(joint.plan(mix)) == _fewest(joint, mix, everybody), mix
    assert joint.most == BOUNDS[step.id] == max(len(joint.plan(mix)) for mix in mixes(step))


def _fewest(joint: Unison, mix: tuple[str, ...], everybody: list[str]) -> int:
    """By trying every run of every sequence for every set of cases, whoever's own it is."""
    ahead, length = {joint.of_case(*mix)}, 0
    over = joint.of_case(joint.done)
    takers = [set(some) for size in range(1, len(everybody) + 1) for some in combinations(everybody, size)]
    while not any(states <= over for states in ahead):
        length += 1
        ahead = {
            frozenset(
                after
                for state in states
                for after in (
                    joint.goes(joint.cases[state], sequence.turns)[state] if joint.cases[state] in some else (state,)
                )
            )
            for states in ahead
            for sequence in _sequences(joint.step)
            for some in takers
        }
    return length


@EVERY_STEP
def test_nobody_who_is_done_has_anything_to_do(method: Method, number: int) -> None:
    joint = of(method, number)
    assert joint.plan([joint.done]) == () == joint.plan([])
    assert all(joint.done not in run.cases for mix in mixes(joint.step) for run in joint.plan(mix))


@EVERY_STEP
def test_every_cube_is_turned_into_its_hold_whatever_side_is_in_front_and_whatever_its_colours(
    method: Method, number: int
) -> None:
    step, joint = method.top_steps[number], of(method, number)
    arrangements = ARRANGEMENTS if step.permutes else ARRANGEMENTS[:1]
    for run in joint.plan(case.id for case in step.cases):
        ways = [way for each in joint.into_hold(run.cases).values() for way in each]
        for cube, front in product(joint.states, TURNS_ABOUT_UP):
            pattern = cube.do(front).faces
            case = step.case_of(pattern)
            if case.id in run.cases:
                for colours in arrangements:
                    seen = recoloured(pattern, colours)
                    turn = next((rotation for claim, rotation in ways if claim_holds(seen, claim)), None)
                    assert ((turn,) if turn else ()) in case.holds(pattern)


@EVERY_STEP
def test_who_holds_for_any_hold_turns_nothing(method: Method, number: int) -> None:
    step, joint = method.top_steps[number], of(method, number)
    for run in joint.plan(case.id for case in step.cases):
        for case_id, ways in joint.into_hold(run.cases).items():
            anyhow = not case_of(step, case_id).hold.shows + case_of(step, case_id).hold.same
            assert bool(ways) != anyhow
            assert all(rotation.whole and rotation.face == "U" for _, rotation in ways)


def test_a_pattern_of_the_top_face_is_told_by_all_four_corners_when_all_cases_take_part() -> None:
    joint = of(METHODS[0], 1)
    together = joint.into_hold(("none-up", "one-up", "two-up"))
    claims = [claim for ways in together.values() for claim, _ in ways]
    right = {cube for cube in joint.states if () in joint.step.case_of(cube.faces).holds(cube.faces)}
    assert len(claims) == 27 - len(right) and all(len(claim) == 4 for claim in claims)
    alone = joint.into_hold(("one-up",))["one-up"]
    assert sorted(claim for claim, _ in alone) == [((place, "U"),) for place in ("U0", "U2", "U8")]


def test_a_side_of_alike_stickers_is_told_by_each_of_the_four_colours() -> None:
    ways = of(METHODS[0], 2).into_hold(("no-pair", "one-pair"))
    assert not ways["no-pair"]
    turned = Counter(str(rotation) for _, rotation in ways["one-pair"])
    assert turned == {"y": 4, "y'": 4, "y2": 4}
    assert ((("F0", "R"), ("F2", "R")), Turn("U", 1, 3)) in ways["one-pair"]


@pytest.mark.parametrize("method", METHODS, ids=lambda method: method.hand)
def test_after_the_last_turns_everybody_is_solved(method: Method) -> None:
    joint = of(method, 3)
    for colours, off, front in product(ARRANGEMENTS, ("", "U", "U2", "U'"), TURNS_ABOUT_UP):
        cube = Cube().do(off).do(front)
        took_part = []
        for run in joint.last_turns:
            if any(claim_holds(recoloured(cube.faces, colours), claim) for claim in run.seen):
                cube = cube.turn(run.turn)
                took_part.append(run.turn)
        assert cube.solved and len(took_part) == bool(off)
    assert all(not of(method, number).last_turns for number in range(3))


def _free_of_the_front(claim: Claim) -> bool:
    turned = (Cube().do(rotation) for rotation in TURNS_ABOUT_UP)
    places = {place for place, _ in claim}
    return places.isdisjoint({f"{side}{n}" for side in "FRBL" for n in range(9)}) and all(
        claim_holds(cube.faces, claim) for cube in turned
    )


@EVERY_STEP
def test_the_check_is_passed_exactly_by_who_is_done(method: Method, number: int) -> None:
    joint = of(method, number)
    for cube, front in product(joint.states, TURNS_ABOUT_UP):
        assert _passes(joint, cube.do(front)) == joint.step.done(cube.faces)
    assert all(isinstance(about, str) or _free_of_the_front(about) for about in joint.milestone)


def _passes(joint: Unison, cube: Cube) -> bool:
    pattern = cube.faces
    return all(
        case_of(joint.step, about).fits(pattern) if isinstance(about, str) else claim_holds(pattern, about)
        for about in joint.milestone
    )


def _wrongly(turns: tuple[Turn, ...]) -> Iterator[tuple[Turn, ...]]:
    """The turns with one of them left out, done otherwise or of another face."""
    for at, turn in enumerate(turns):
        for done in ((), *((other,) for other in FACE_TURNS if other != turn)):
            yield (*turns[:at], *done, *turns[at + 1 :])


@EVERY_STEP
def test_every_slip_in_a_run_is_found_at_the_end_of_the_step_or_does_no_harm(method: Method, number: int) -> None:
    """Whoever passes has both lower layers done and the step, too. Later runs of the step change nothing below."""
    step, joint = method.top_steps[number], of(method, number)
    one_front = [cube for cube in joint.states if not step.permutes or cube.faces[1] == "F"]
    slips = 0
    for cube in one_front:
        case = step.case_of(cube.faces)
        for hold, turns in product(case.holds(cube.faces), _wrongly(case.sequence)):
            after = cube.do(hold).do(turns)
            slips += 1
            if _passes(joint, after):
                assert lower_layers_whole(after.upright) and step.done(after.faces)
    assert slips > 1000


@EVERY_STEP
def test_after_every_run_the_bottom_alone_finds_every_slip_that_reached_the_lower_layers(
    method: Method, number: int
) -> None:
    step, joint = method.top_steps[number], of(method, number)
    bottom = tuple((f"D{place}", "D") for place in range(9))
    for sequence in _sequences(step):
        for turns in _wrongly(sequence.turns):
            after = Cube().do(turns)
            assert claim_holds(after.faces, bottom) == lower_layers_whole(after)
    assert set(bottom) <= set(joint.milestone[-1])


def test_turns_that_undo_what_the_step_needs_are_refused() -> None:
    cross, edges = of(METHODS[0], 0), of(METHODS[0], 3)
    with pytest.raises(ValueError, match="lower layers"):
        cross.goes("dot", (Turn("R"),))
    with pytest.raises(ValueError, match="what the step 'top-edges' needs"):
        edges.goes("no-side", METHODS[0].top_steps[0].cases[0].sequence)
