"""Slips as permutations, every one of them in every sequence of the method; and what is known of them."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from random import Random

import numpy as np
import pytest
from sympy.combinatorics import Permutation

from coach.belief.evidence import Answered, Look, OneOf, Stickers, chances_of
from coach.belief.slips.explanations import single_slips
from coach.belief.slips.inquiry import best_inquiry
from coach.belief.slips.pairs import double_slips
from coach.belief.slips.repairs import repairs
from coach.belief.slips.suspicion import Suspicion
from coach.belief.slips.trail import Trail
from coach.belief.top import TOP_CORNERS, TOP_EDGES, any_top
from coach.belief.top.belief import pattern_of
from coach.cube import FACE_PLACES, PLACE_NUMBER, POSITIONS, Cube, Turn, inverse, parse, shown, turned
from coach.method import Case, PlacingStep, Step, default_method
from coach.method.last_layer import orientation_states

METHOD = default_method()
TOP = [step for step in METHOD.top_steps if not step.permutes]
PLACING = [step for step in METHOD.steps if isinstance(step, PlacingStep)]
SEQUENCES = [(step.id, case.id, case.sequence) for step in (*METHOD.top_steps, *PLACING) for case in step.cases]
RUN = parse("R U R' U R U2 R'")
U0 = PLACE_NUMBER["U0"]


def done_instead(turns: tuple[Turn, ...], slips: tuple[object, ...]) -> tuple[Turn, ...]:
    return Trail((Cube().faces,)).calling(turns).with_done({slip.at: slip.done for slip in slips}).turns  # type: ignore[attr-defined]


# The mathematics


@pytest.mark.parametrize(("step", "case", "sequence"), SEQUENCES)
def test_every_single_slip_in_every_sequence_leads_where_doing_it_leads(
    step: str, case: str, sequence: tuple[Turn, ...]
) -> None:
    start = Cube().do("F2 U R' D2 L B")
    trail = Trail((start.faces,)).beginning_run().calling(sequence)
    slips = single_slips(trail)
    called = np.frombuffer(Cube().do(sequence).stickers, np.uint8)
    for number, explained in enumerate(slips.slips):
        if slips.last[number] < len(trail.events):  # a hold that was put right again: tested below
            continue
        really = start.do(done_instead(sequence, explained)).faces
        assert "".join(start.faces[place] for place in slips.both[number][called]) == really, explained


def test_the_slips_of_a_quarter_turn_are_all_that_one_can_do_instead_of_it() -> None:
    within_a_run = replace(Trail((Cube().faces,)).calling(parse("R")), coming=parse("U"))
    at_the_call = {slip.done for (slip,) in single_slips(within_a_run).slips if slip.at == 0 and slip.kind != "ahead"}
    faces = {(Turn(face, quarters),) for face in "URFDLB" for quarters in (1, 2, 3)} - {parse("R")}
    held = {done for done in at_the_call if len(done) > 1 and done[-1] == Turn("R") and all(t.whole for t in done[:-1])}
    assert at_the_call == {()} | faces | held
    assert len(held) == 23, "all other ways to hold the cube"


@pytest.mark.parametrize("more", ("U", "U'", "U2"))
@pytest.mark.parametrize(("at", "done"), [(0, "{} R"), (6, "R' {}")])
def test_a_turn_of_the_top_before_or_after_a_run_is_found_by_what_is_read(more: str, at: int, done: str) -> None:
    """Nothing of it is called, and the two lower layers stay as they are."""
    start = Cube()
    trail = Trail((start.faces,)).beginning_run().calling(RUN)
    slip = parse(done.format(more))
    cube = start.do((*RUN[:at], *slip, *RUN[at + 1 :]))
    suspicion = Suspicion.of(trail)
    for face in "FRU":
        suspicion = suspicion.hearing(Stickers(tuple((place, cube.faces[place]) for place in FACE_PLACES[face])))
    likeliest = suspicion.verdict(suspicion.known()).hypotheses[0]
    (found,) = suspicion.slips_of(likeliest)
    assert (found.kind, found.at, found.done) == ("top-turned", at, slip)


def test_a_turn_of_the_top_besides_is_sought_only_where_a_run_begins_or_ends() -> None:
    trail = Trail((Cube().faces,)).beginning_run().calling(RUN).beginning_run().calling(RUN)
    besides = {slips[0].at for slips in single_slips(trail).slips if slips[0].kind == "top-turned"}
    assert besides == {0, 6, 7, 13}


def test_a_shift_is_the_conjugate_that_group_theory_tells() -> None:
    """P a t' P' by SymPy's permutations (sympy.combinatorics), which knows nothing of cubes."""

    def permutation(turns: tuple[Turn, ...]) -> Permutation:
        return Permutation(list(Cube().do(turns).stickers))

    slips = single_slips(Trail((Cube().faces,)).calling(RUN))
    for number in Random(4).sample(range(len(slips.slips)), 60):
        (slip,) = slips.slips[number]
        before, call = permutation(RUN[: slip.at]), permutation(RUN[slip.at : slip.at + 1])
        # SymPy applies the right factor last; our product applies it first.
        expected = ~before * ~call * permutation(slip.done) * before
        assert list(expected) == slips.shift[number].tolist(), slip


def test_two_slips_are_the_product_of_both() -> None:
    start = Cube().do("L2 U F")
    slips = double_slips(Trail((start.faces,)).calling(RUN))
    called = np.frombuffer(Cube().do(RUN).stickers, np.uint8)
    for number in Random(5).sample(range(len(slips.slips)), 400):
        really = start.do(done_instead(RUN, slips.slips[number])).faces
        assert "".join(start.faces[place] for place in slips.both[number][called]) == really


# What is kept


def told(case_step: Step, cube: Cube) -> Look:
    places = TOP_EDGES if case_step.look == "look-top-edges" else (*TOP_EDGES, *TOP_CORNERS)
    return Look({place: cube.faces[PLACE_NUMBER[place]] == "U" for place in places})


def check_in(cube: Cube) -> tuple[tuple[int, str], ...]:
    shown = [PLACE_NUMBER[p] for p in (*TOP_EDGES, *TOP_CORNERS) if cube.faces[PLACE_NUMBER[p]] == "U"]
    return tuple((place, "U") for place in shown)


@pytest.mark.parametrize("step", TOP, ids=lambda step: step.id)
def test_whatever_single_slip_it_was_it_is_among_those_that_are_kept(step: Step) -> None:
    """Every slip in every sequence from every state of its case, by the answer to the check-in."""
    seen = 0
    for cube in orientation_states():
        if not step.ready(cube.faces) or not step.case_of(cube.faces).sequence:
            continue
        case: Case = step.case_of(cube.faces)
        hold = case.holds(cube.faces)[0]
        trail = Trail(tuple(any_top().patterns), not_up=True).hearing(told(step, cube))
        trail = trail.calling(hold).beginning_run().calling(case.sequence)
        claim = check_in(cube.do((*hold, *case.sequence)))
        kept = {yes: Suspicion.of(trail.hearing(Answered(claim, yes))) for yes in (True, False)}
        explanations = {
            yes: {suspicion.slips_of(h) for h in range(len(suspicion.way))} for yes, suspicion in kept.items()
        }
        for slips in {slips for slips in single_slips(trail).slips if slips[0].at >= len(hold)}:
            really = cube.do(trail.with_done({slip.at: slip.done for slip in slips}).turns)
            yes = all(really.faces[place] == face for place, face in claim)
            assert slips in explanations[yes], (cube.faces, slips)
            seen += 1
    assert seen > 8_000


@pytest.mark.parametrize(("step", "case", "sequence"), SEQUENCES)
def test_on_a_known_cube_too_whatever_single_slip_it_was_is_kept(
    step: str, case: str, sequence: tuple[Turn, ...]
) -> None:
    """In every sequence of the method, those of the lower steps and of the last two as well."""
    start = Cube().do(inverse(sequence))
    trail = Trail((start.faces,)).beginning_run().calling(sequence)
    claim = tuple((place, Cube().faces[place]) for place in (*FACE_PLACES["F"], *FACE_PLACES["R"]))
    kept = {}
    for yes in (True, False):
        suspicion = Suspicion.of(trail.hearing(Answered(claim, yes)))
        kept[yes] = {suspicion.slips_of(h) for h in range(len(suspicion.way))}
    for slips in set(single_slips(trail).slips):
        really = start.do(trail.with_done({slip.at: slip.done for slip in slips}).turns)
        yes = all(really.faces[place] == face for place, face in claim)
        assert slips in kept[yes], slips


def test_a_wrong_hold_of_a_run_is_kept_whether_or_not_it_was_put_right() -> None:
    trail = Trail((Cube().faces,)).beginning_run().calling(RUN)
    slips = single_slips(trail)
    wrong = Cube().do("y").do(RUN)
    states = {
        "".join(Cube().faces[p] for p in slips.both[i][np.frombuffer(Cube().do(RUN).stickers, np.uint8)])
        for i in range(len(slips.slips))
    }
    assert wrong.faces in states
    assert wrong.do("y'").faces in states


def test_what_is_taken_to_have_been_done_leads_to_what_the_cube_is_taken_to_look_like() -> None:
    """Also where a wrong hold was put right later: else the hold would be thought to be another from then on."""
    trail = Trail((Cube().faces,)).beginning_run().calling(RUN).beginning_run().calling(parse("R U R'"))
    slips, end = single_slips(trail), np.frombuffer(Cube().do(trail.turns).stickers, np.uint8)
    for slip, both in zip(slips.slips, slips.both, strict=True):
        done = Cube().do(trail.with_done({each.at: each.done for each in slip}).turns)
        assert done.faces == "".join(Cube().faces[place] for place in both[end]), slip


# What is asked, and what follows


def answer(inquiry: object, cube: Cube) -> Stickers | Answered | Look:
    places = inquiry.places  # type: ignore[attr-defined]
    if hasattr(inquiry, "asks"):
        return Look({f"U{place}": cube.faces[place] == "U" for place in places})
    if hasattr(inquiry, "claim"):
        return Answered.of(inquiry.claim, all(cube.faces[PLACE_NUMBER[p]] == face for p, face in inquiry.claim))
    return Stickers(tuple((place, cube.faces[place]) for place in places))


def known_cube(number: int) -> Cube:
    return Cube().do(Random(number).choices([Turn(f, q) for f in "URFDLB" for q in (1, 2, 3)], k=30))


def found_out(number: int) -> bool:
    """Whether a slip on a known cube is found with at most five questions."""
    random, start = Random(number), known_cube(number)
    trail = Trail((start.faces,)).beginning_run().calling(RUN)
    slips = single_slips(trail)
    likely = [slip for slip, chance in zip(slips.slips, slips.chances, strict=True) if chance > 1e-3]
    really = start.do(trail.with_done({slip.at: slip.done for slip in random.choice(likely)}).turns)
    suspicion = Suspicion.of(trail, "mistake")
    known = suspicion.known()
    for _ in range(5):
        inquiry = best_inquiry(suspicion, suspicion.groups(known))
        if suspicion.verdict(known).sure or inquiry is None:
            break
        suspicion = suspicion.hearing(answer(inquiry, really))
    verdict = suspicion.verdict(known)
    return verdict.sure and really.faces in suspicion.patterns(verdict.hypotheses[0])


def test_of_a_known_cube_few_questions_tell_what_was_done() -> None:
    assert sum(map(found_out, range(60))) >= 57


@pytest.mark.parametrize("number", range(20))
def test_nothing_is_wrong_though_one_answer_was_misheard(number: int) -> None:
    """The check-in is denied by mishearing; what is read after it is as it should be."""
    start = known_cube(number)
    should = start.do(RUN)
    trail = Trail((start.faces,)).beginning_run().calling(RUN)
    check = tuple((place, should.faces[place]) for place in FACE_PLACES["U"][::8])
    suspicion = Suspicion.of(trail.hearing(Answered(check, yes=False)))
    for _ in range(5):
        inquiry = best_inquiry(suspicion, suspicion.groups(suspicion.known()))
        if suspicion.verdict(suspicion.known()).sure or inquiry is None:
            break
        suspicion = suspicion.hearing(answer(inquiry, should))
    assert suspicion.verdict(suspicion.known()).nothing


def test_what_was_read_after_the_slip_is_known_of_the_cube() -> None:
    start = known_cube(1)
    unread = "".join(face if place % 9 == 4 else "." for place, face in enumerate(start.faces))
    really = start.do("R U'")
    trail = Trail((unread,)).beginning_run().calling(parse("R U"))
    facts = tuple((place, really.faces[place]) for place in FACE_PLACES["U"])
    suspicion = Suspicion.of(trail.hearing(Stickers(facts)))
    for h in range(len(suspicion.way)):
        for pattern in suspicion.patterns(h):
            alike = all(pattern[place] == really.faces[place] for place in FACE_PLACES["U"])
            assert alike != bool(suspicion.misses[h])


# Ways back


@pytest.mark.parametrize("number", range(30))
def test_every_repair_leads_where_it_should(number: int) -> None:
    random = Random(number)
    start = Cube()
    slips = single_slips(Trail((start.faces,)).calling(RUN)).slips
    done = done_instead(RUN, random.choice(slips))
    actual, now = start.do(done), start.do(RUN)
    rest = parse("y U R U' R'")
    lower = [p for p in POSITIONS if "U" not in p and len(p) > 1]
    found = list(repairs(actual, RUN, done, rest, lower))
    assert any(repair.resumes for repair in found)
    for repair in found:
        after = actual.do(repair.turns)
        if repair.resumes:
            assert after == now
        else:
            assert after.centres == now.do(rest).centres, "held as the lesson goes on"
    last = found[-1]
    end, after = now.do(rest), actual.do(last.turns)
    if len(found) > 2 and last.turns:
        home = [end.stickers[POSITIONS[piece][0]] == after.stickers[POSITIONS[piece][0]] for piece in lower]
        assert all(home)


# The trail, and evidence


def test_a_trail_with_what_was_really_done_leads_to_the_real_cube() -> None:
    trail = Trail((Cube().faces,)).calling(parse("y")).beginning_run().calling(RUN).hearing(Look(edges=4))
    other = trail.with_done({3: parse("L U"), len(trail.turns): parse("z")})
    assert other.turns == (*trail.turns[:3], *parse("L U"), *trail.turns[4:], *parse("z"))
    assert other.run_of(3)[0] == 1
    assert [type(event) for event in other.events if not isinstance(event, Turn)] == [Look]


def test_the_last_word_can_be_taken_back() -> None:
    trail = Trail((Cube().faces,)).hearing(Look(edges=2)).beginning_run().calling(RUN).hearing(Look(edges=0))
    assert trail.without_last_word() == Trail((Cube().faces,)).hearing(Look(edges=2)).beginning_run().calling(RUN)
    assert trail.without_last_word().without_last_word().run_of(0) == (0, RUN)


@pytest.mark.parametrize(("first", "second"), [*product((True, False), repeat=2)])
def test_an_answer_is_as_probable_as_the_cube_makes_it(first: bool, second: bool) -> None:
    shown = chances_of([Cube().faces], not_up=False)
    facts = ((U0, "U" if first else "R"), (PLACE_NUMBER["R0"], "R" if second else "U"))
    claim = Answered(facts, yes=True)
    assert claim.chance(shown[:, list(claim.places)]) == pytest.approx(float(first and second))
    denied = Answered(facts, yes=False)
    assert denied.chance(shown[:, list(denied.places)]) == pytest.approx(float(not (first and second)))


def test_an_unknown_sticker_may_have_any_colour_but_not_the_tops_where_that_is_known() -> None:
    unknown = "".join("." if place == U0 else face for place, face in enumerate(Cube().faces))
    read = Stickers(((U0, "U"),))
    assert read.chance(chances_of([unknown], not_up=False)[:, [U0]]) == pytest.approx(1 / 6)
    assert read.chance(chances_of([unknown], not_up=True)[:, [U0]]) == pytest.approx(0.0)


def test_a_piece_lies_in_one_of_several_ways() -> None:
    at_home = tuple(zip(POSITIONS["DF"], "DF", strict=True))
    flipped = tuple(zip(POSITIONS["DF"], "FD", strict=True))
    shown = chances_of([Cube().faces, turned(Cube().faces, parse("F2"))], not_up=False)
    either = OneOf((at_home, flipped))
    assert either.chance(shown[:, list(either.places)]).tolist() == pytest.approx([1.0, 0.0])


def test_a_look_may_tell_of_the_sides_as_well() -> None:
    look = Look({"U0": True, "F0": False, "L2": False})
    assert look.chance(chances_of([Cube().faces], not_up=True)[:, list(look.places)]) == pytest.approx(1.0)
    seen = Look({"F0": True})
    assert seen.chance(chances_of([Cube().faces], not_up=True)[:, list(seen.places)]) == pytest.approx(0.0)


def test_a_look_by_shape_and_number() -> None:
    patterns = sorted(map(pattern_of, orientation_states()))
    seen = chances_of(patterns, not_up=True)[:, FACE_PLACES["U"]]
    edges = np.array([len(shown(p, TOP_EDGES)) for p in patterns])
    assert (Look(edges=2).chance(seen) == (edges == 2)).all()
    assert (Look(shape="cross").chance(seen) == (edges == 4)).all()


def test_checks_denied_since_the_last_one_was_passed_are_counted() -> None:
    check = tuple((place, "U") for place in range(4))
    no, yes, row = Answered(check, yes=False), Answered(check, yes=True), Answered(check[:3], yes=True)
    trail = Trail((Cube().faces,)).hearing(no).hearing(yes)
    assert trail.denials == 0
    trail = trail.hearing(no).calling(parse("R U")).hearing(row)
    assert trail.denials == 1, "a row is no check"
    assert trail.hearing(no).denials == 2


def test_a_run_of_which_nothing_was_done_from_some_call_on_is_one_explanation() -> None:
    """It ends with the run, and with what is said: then the learner has seen the cube."""
    trail = Trail((Cube().faces,)).beginning_run().calling(parse("R U F y")).beginning_run().calling(parse("L D"))
    trail = trail.hearing(Stickers(((U0, "U"),))).calling(parse("R F"))
    broken = [slips for slips in single_slips(trail).slips if slips[0].kind == "stopped"]
    assert {tuple(slip.at for slip in slips) for slips in broken} == {(0, 1, 2), (1, 2), (4, 5), (6, 7)}
    assert not any(slip.done for slips in broken for slip in slips)


def test_who_is_ahead_has_done_the_next_turns_as_well() -> None:
    start, called, coming = Cube().do("R2 D F L' U B R"), parse("R U F"), parse("L D R F2")
    trail = replace(Trail((start.faces,)).beginning_run().calling(called), coming=coming)
    slips = single_slips(trail)
    ahead = [number for number, (slip, *_) in enumerate(slips.slips) if slip.kind == "ahead"]
    nominal = np.frombuffer(Cube().do(called).stickers, np.uint8)
    looks = ["".join(start.faces[place] for place in slips.both[number][nominal]) for number in ahead]
    assert looks == [start.do((*called, *coming[:more])).faces for more in (1, 2, 3)]
    assert not trail.calling(coming[:1]).coming


def test_a_denied_row_is_disputed_until_something_is_read() -> None:
    row = tuple((place, "U") for place in range(3))
    denied = Trail((Cube().faces,)).calling(parse("R U")).hearing(Answered(row, yes=False))
    assert denied.disputed
    assert denied.hearing(Answered(row[:1], yes=True)).disputed, "a single sticker is no row"
    assert not denied.hearing(Answered(row, yes=True)).disputed
    assert not denied.hearing(Stickers(row)).disputed
