"""Those to whom something happened in a run: pupils with cubes of their own say what they see, and do what they hear.

Nobody to whom nothing happened ever takes part in a repair; who takes part as foreseen ends as the run should have left
them, whatever lies on top of their cube.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.belief.classroom.counts import Misfit
from coach.belief.classroom.mishaps import Aftermath
from coach.belief.classroom.sights import Sight, Sights
from coach.belief.classroom.trouble import ALL_TURNS, MORE_QUESTIONS, MORE_TURNS, QUESTIONS, TURNS, Ask, Mend, Trouble
from coach.cube import FACE_TURNS, Claim, Cube, claim_holds, parse
from coach.cube.search import AT_HAND, cheapest_moves, effort
from coach.method import TURNS_ABOUT_UP, default_method, other_hand
from coach.method.last_layer import lower_layers_whole
from coach.method.sequences import NamedSequence
from coach.method.unison import Unison, unison

METHODS = (default_method(), other_hand(default_method()))
COLOURS = [dict(zip("FRBL", order, strict=True)) for order in permutations("FRBL")]
RUNS = [
    (hand, number, sequence)
    for hand, method in enumerate(METHODS)
    for number, step in enumerate(method.top_steps)
    for sequence in dict.fromkeys(case.named for case in step.cases if case.named)
]


@cache
def of(hand: int, number: int) -> Unison:
    return unison(METHODS[hand], METHODS[hand].top_steps[number])


@cache
def aftermath(hand: int, number: int, sequence: NamedSequence) -> Aftermath:
    return Aftermath.of_unlike(of(hand, number), sequence.turns)


def lower_whole(cube: Cube) -> bool:
    """Whether both lower layers are done, seen from the colours alone."""
    faces = cube.faces
    return all(len(set(faces[9 * n + 3 : 9 * n + 9])) == 1 for n in range(4)) and len(set(faces[45:])) == 1


@dataclass
class Pupil:
    """Holds a cube of any colours, some side in front."""

    cube: Cube
    colours: dict[str, str]
    whole: bool

    def sees(self, claim: Claim) -> bool:
        pattern = "".join(self.colours.get(letter, letter) for letter in self.cube.faces)
        return claim_holds(pattern, claim)

    def look_for(self, sights: tuple[Sight, ...]) -> None:
        ways = [way for sight in sights for way in sight.ways]
        self.cube = self.cube.do([turn for claim, turn in ways if self.sees(claim)][:1])


def class_after(data: st.DataObject, joint: Unison, after: Aftermath, hurt: list[int]) -> list[Pupil]:
    """Pupils who have done a run: five as it was called, the others with these mishaps."""
    pupils = []
    for done in [after.intact] * 5 + [after.mishaps[number].done for number in hurt]:
        state = data.draw(st.sampled_from(joint.states))
        case = joint.step.case_of(state.faces)
        held = state.do(data.draw(st.sampled_from(case.holds(state.faces))))
        lying = held * done
        front = data.draw(st.sampled_from(TURNS_ABOUT_UP))
        pupils.append(Pupil(lying.do(front), data.draw(st.sampled_from(COLOURS)), lower_whole(lying)))
    return pupils


@settings(max_examples=20, deadline=None)
@given(st.data())
def test_answers_are_as_foreseen_and_nobody_else_is_harmed(data: st.DataObject) -> None:
    run = data.draw(st.sampled_from(RUNS))
    joint, after = of(run[0], run[1]), aftermath(*run)
    hurt = data.draw(st.lists(st.integers(0, 40), min_size=1, max_size=3))
    pupils = class_after(data, joint, after, hurt)
    trouble = Trouble.of(after, len(pupils), len(hurt))
    asked, turned, begun = 0, 0, trouble
    while action := trouble.next:
        if isinstance(action, Ask):
            for pupil in pupils:
                pupil.look_for((action.sight,))
            hands = sum(pupil.sees(action.sight.claim) for pupil in pupils)
            assert trouble.misfit(hands) is None
            trouble, asked = trouble.told(hands), asked + 1
        else:
            assert isinstance(action, Mend) and len(action.turns) <= TURNS
            for pupil in pupils:
                if any(pupil.sees(claim) for sight in action.sights for claim in sight.now):
                    assert not pupil.whole
                    pupil.look_for(action.sights)
                    assert any(pupil.sees(claim) for sight in action.sights for claim in sight.right)
                    pupil.cube = pupil.cube.do(action.turns)
            trouble, turned = trouble.mended(), turned + len(action.turns)
    assert asked == begun.questions - trouble.questions <= QUESTIONS + 2 * MORE_QUESTIONS
    assert turned == begun.turns - trouble.turns <= ALL_TURNS + 2 * MORE_TURNS
    assert all(lower_whole(pupil.cube) for pupil in pupils if pupil.whole)


@pytest.mark.parametrize("run", RUNS, ids=lambda run: f"{run[0]} {run[2].id}")
def test_a_repair_does_what_it_is_for_whatever_lies_on_top(run: tuple[int, int, NamedSequence]) -> None:
    joint, after = of(run[0], run[1]), aftermath(*run)
    step = joint.step
    mine = [cube for cube in joint.states if step.case_of(cube.faces).named == run[2]][::7]
    for number in range(0, 24, 4):
        repair = after.repair(number, TURNS)
        for cube in mine if repair else []:
            assert repair
            held = cube.do(step.case_of(cube.faces).holds(cube.faces)[0])
            ended, called = (held * after.mishaps[number].done).do(repair.turns), held * after.intact
            assert lower_layers_whole(ended.upright)
            assert step.ready(ended.faces)
            if not repair.again:
                assert step.case_of(ended.faces).id == step.case_of(called.faces).id
        if repair:
            assert after.served(number, repair) and not any(turn.whole for turn in repair.turns)


@pytest.mark.parametrize("run", RUNS[:2], ids=lambda run: f"{run[0]} {run[2].id}")
def test_whoever_is_helped_neither_looks_at_the_back_nor_turns_it(run: tuple[int, int, NamedSequence]) -> None:
    after, mishaps = aftermath(*run), range(0, 24, 4)
    repairs = [repair for number in mishaps if (repair := after.repair(number, TURNS))]
    assert repairs and not any(turn.face == "B" for repair in repairs for turn in repair.turns)
    sights = Sights(after, free=True)
    told = [[sights.sight(claim).claim for claim in sights.telling(number) if len(claim) == 1] for number in mishaps]
    places = [[place for claim in claims for place, _ in claim if place[1] != "4"] for claims in told]
    assert not any(place[0] == "B" for each in places for place in each)


@pytest.mark.parametrize("run", RUNS, ids=lambda run: f"{run[0]} {run[2].id}")
def test_every_wrong_turn_of_a_face_that_shows_is_thought_of(run: tuple[int, int, NamedSequence]) -> None:
    after, turns = aftermath(*run), run[2].turns
    thought_of = {mishap.done for mishap in after.mishaps}
    for at, turn in enumerate(turns):
        for instead in [(), *((other,) for other in FACE_TURNS if other != turn)]:
            done = Cube().do((*turns[:at], *instead, *turns[at + 1 :])).upright
            assert (done in thought_of) == (not lower_layers_whole(done))
    assert all(mishap.weight > 0 for mishap in after.mishaps)


@pytest.mark.parametrize("run", RUNS[:2] + RUNS[-1:], ids=lambda run: f"{run[0]} {run[2].id}")
def test_a_claim_can_be_made_true_by_those_of_whom_it_is_said(run: tuple[int, int, NamedSequence]) -> None:
    after = aftermath(*run)
    sights = Sights(after, free=True)
    cubes = [*(mishap.done for mishap in after.mishaps), after.intact]
    for number in range(0, len(sights.claims), 29):
        sight = sights.sight(sights.claims[number])
        for which, front in zip(range(0, len(cubes), 11), TURNS_ABOUT_UP * 20, strict=False):
            pupil = Pupil(cubes[which].do(front), COLOURS[which % 24], True)
            pupil.look_for((sight,))
            assert pupil.sees(sight.claim) == sights.true[number, which]


def test_a_turn_left_out_at_the_end_is_found_and_done() -> None:
    joint, after = of(0, 0), aftermath(0, 0, RUNS[0][2])
    turns = RUNS[0][2].turns
    pupils = [Pupil(Cube().do(turns), COLOURS[0], True) for _ in range(9)]
    pupils.append(Pupil(Cube().do(turns[:-1]).do("y"), COLOURS[5], False))
    trouble = Trouble.of(after, 10, 1)
    while action := trouble.next:
        if isinstance(action, Ask):
            for pupil in pupils:
                pupil.look_for((action.sight,))
            trouble = trouble.told(sum(pupil.sees(action.sight.claim) for pupil in pupils))
        else:
            for pupil in pupils:
                if any(pupil.sees(claim) for sight in action.sights for claim in sight.now):
                    pupil.look_for(action.sights)
                    pupil.cube = pupil.cube.do(action.turns)
            trouble = trouble.mended()
    assert all(lower_whole(pupil.cube) for pupil in pupils)
    assert joint.step.case_of(pupils[-1].cube.faces).id == joint.step.case_of(pupils[0].cube.faces).id


def test_hands_of_more_than_those_in_trouble_cannot_be() -> None:
    trouble = Trouble.of(aftermath(0, 0, RUNS[0][2]), 25, 2)
    assert isinstance(trouble.next, Ask)
    least = 0 if trouble.misfit(0) is None else 23
    assert trouble.misfit(least + 2) is None
    assert trouble.misfit(least + 3) == Misfit(least + 3, 25, least, least + 2)
    with pytest.raises(ValueError, match="cannot have gone up"):
        trouble.told(least + 3)


def test_without_anybody_in_trouble_there_is_nothing_to_do() -> None:
    assert Trouble.of(aftermath(0, 0, RUNS[0][2]), 25, 0).next is None
    assert Trouble.of(aftermath(0, 0, RUNS[0][2]), 25, 1, questions=0, turns=0).next is None


def test_cubes_that_are_all_alike_are_put_right_as_they_are_held() -> None:
    """After a scramble that everybody did, one has left out a turn; everybody holds the same side in front."""
    before, turns = Cube().do("F2 L D' R U"), tuple(parse("R' D L' F2"))
    after = Aftermath.of_alike(before, turns)
    pupils = [before.do(turns)] * 4 + [before.do(turns[:1] + turns[2:])]
    trouble = Trouble.of(after, 5, 1, free=False)
    while action := trouble.next:
        if isinstance(action, Ask):
            assert not action.sight.ways
            trouble = trouble.told(sum(claim_holds(cube.faces, action.sight.claim) for cube in pupils))
        else:
            part = [any(claim_holds(cube.faces, each) for s in action.sights for each in s.now) for cube in pupils]
            pupils = [cube.do(action.turns) if does else cube for cube, does in zip(pupils, part, strict=True)]
            trouble = trouble.mended()
    assert set(pupils) == {before.do(turns)}


@pytest.mark.parametrize("at", [0, 1, 3, 4, 5, 6])
def test_a_turn_left_out_or_done_twice_is_put_right_whatever_turns_of_the_whole_cube_are_among_them(at: int) -> None:
    before, turns = Cube().do("F2 L D' R U"), tuple(parse("R U y R' F U' L2"))
    after = Aftermath.of_alike(before, turns)
    slips = {before.do((*turns[:at], *done, *turns[at + 1 :])).upright for done in ((), (turns[at],) * 2)}
    pupils = [*[before.do(turns).upright] * 3, *slips]
    trouble = Trouble.of(after, len(pupils), len(slips), free=False)
    while action := trouble.next:
        if isinstance(action, Ask):
            trouble = trouble.told(sum(claim_holds(cube.faces, action.sight.claim) for cube in pupils))
        else:
            assert all(turn.face != "B" for turn in action.turns)
            part = [any(claim_holds(cube.faces, each) for s in action.sights for each in s.now) for cube in pupils]
            pupils = [cube.do(action.turns) if does else cube for cube, does in zip(pupils, part, strict=True)]
            trouble = trouble.mended()
    assert {*pupils} == {before.do(turns).upright}


def test_a_slip_in_a_repair_is_among_what_may_have_happened_after_it() -> None:
    before, turns = Cube().do("F2 L D' R U"), tuple(parse("R U y R' F U'"))
    after = Aftermath.of_alike(before, turns)
    wanted = before.do(turns).upright
    for mishap in range(0, 12, 3):
        repair = after.repair(mishap, 20)
        assert repair
        led = after.after_repair(repair.turns)
        assert led.before * led.intact == wanted
        at = next(number for number, turn in enumerate(repair.turns) if not turn.whole)
        slipped = (before * after.mishaps[mishap].done).do((*repair.turns[:at], *repair.turns[at + 1 :])).upright
        assert slipped in {(led.before * each.done).upright for each in led.mishaps}


def test_pieces_of_one_kind_may_take_one_anothers_places() -> None:
    """The cheapest of all ways to deal the goals to them, each searched on its own."""
    start, goal = (46, 48, 50), (37, 39, 41)
    alike = cheapest_moves(start, goal, AT_HAND, 10, (0, 0, 0))
    each = [cheapest_moves(start, dealt, AT_HAND, 10) for dealt in permutations(goal)]
    assert alike is not None
    assert effort(alike) == pytest.approx(min(effort(way) for way in each if way is not None))
    with pytest.raises(ValueError, match="start and a goal"):
        cheapest_moves(start, goal, kinds=(0, 0))
