"""The reader's parts: roles, what follows jointly, heads, and that training data never contradicts its truth."""

from __future__ import annotations

import itertools
import json
import sys
from pathlib import Path
from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.language import USUAL_COLOURS, Scene
from coach.language.en.answers.sample import Sample
from coach.language.en.reader import lists
from coach.language.en.reader.deduction import Space, weighed
from coach.language.en.reader.heads import CLASSES, HEAD, HEADS, HIDDEN, SHOWN, UNSAID
from coach.language.en.reader.network import Read
from coach.language.en.reader.places import placements
from coach.language.en.reader.roles import in_roles
from coach.language.en.reader.tops import CORNERS, EDGES, top

ROOT = Path(__file__).parents[3]
sys.path.insert(0, str(ROOT / "scripts"))
from training import examples, noise  # noqa: E402

MARKS = ("fur", "cork", "ridges", "silk", "velvet", "glass", "sand", "felt", "wool", "tin")


def test_every_class_of_every_head_has_a_place_of_its_own() -> None:
    places = [head.at(value) for head in HEADS for value in head.classes]
    assert sorted(places) == list(range(CLASSES))


@settings(max_examples=60, deadline=None)
@given(st.permutations(MARKS))
def test_any_six_words_read_as_roles(words: list[str]) -> None:
    scene = Scene(dict(zip("FBRLUD", words[:6], strict=True)))
    said = "the {U} one, then {F}; {D}! and {L}-{R}"
    usual = in_roles(said.format(**USUAL_COLOURS), Scene())
    assert in_roles(said.format(**scene.colours), scene) == usual


def test_a_usual_colour_that_the_learner_has_not_is_another_one() -> None:
    scene = Scene(dict(zip("FBRLUD", MARKS, strict=False)))
    assert in_roles("yellow on the left", scene)[0] not in USUAL_COLOURS.values()


def test_statements_together_leave_what_each_of_them_leaves() -> None:
    random = np.random.default_rng(4)
    statements = [random.random((options, 5)) < 0.6 for options in (2, 3, 2)]
    logs = [np.log(random.dirichlet(np.ones(len(each)))).astype(np.float32) for each in statements]
    space = Space(statements)
    chances = space.chances(logs)
    assert chances.sum() == pytest.approx(1.0)
    for choice in itertools.product(range(2), range(3), range(2)):
        left = np.logical_and.reduce([each[at] for each, at in zip(statements, choice, strict=True)])
        assert any((left == group).all() for group in space.left)


def test_chances_that_are_weighed_add_up_to_one_with_what_contradicts_itself() -> None:
    left = np.array([[True, False], [False, True], [False, False]])
    chances, contradicted = weighed(np.array([0.5, 0.2, 0.3]), left, np.array([1.0, 0.5]))
    assert chances.sum() + contradicted == pytest.approx(1.0)
    assert chances[0] > chances[1] and chances[2] == 0


@pytest.mark.parametrize(("asked", "pieces", "worlds", "legal"), [
    ("look-top-edges", EDGES, 16, 8), ("look-top-corners", CORNERS, 81, 27),
])  # fmt: skip
def test_the_tops_are_all_there_and_those_of_a_whole_cube_weigh_more(
    asked: str, pieces: dict[str, tuple[str, ...]], worlds: int, legal: int
) -> None:
    """Edges flip in pairs and twists add up to whole turns: 2^3 and 3^3 ways (the cube's mathematics)."""
    known = top(asked)
    assert known.space.worlds == worlds == (len(next(iter(pieces.values()))) + 1) ** 4
    assert int((known.likely == 1).sum()) == legal


@pytest.mark.parametrize(("piece", "ways"), [(("white", "green"), 24), (("white", "green", "orange"), 24)])
def test_a_piece_can_lie_in_twenty_four_ways(piece: tuple[str, ...], ways: int) -> None:
    """Twelve places by two flips, eight by three twists (the cube's mathematics)."""
    known = placements(piece)
    assert known is not None and known.space.worlds == ways


def test_colours_of_no_piece_are_no_piece() -> None:
    assert placements(("white", "yellow")) is None


@pytest.mark.parametrize(
    ("said", "claimed", "so"),
    [
        ("green green blue", ("green", "green", "blue"), True),
        ("two greens and a blue", ("green", "green", "blue"), True),
        ("it's green", ("green", "green", "green"), True),
        ("green blue green", ("green", "green", "blue"), False),
        ("not green", ("green", "green", "green"), None),
        ("just so", ("green", "green", "green"), None),
    ],
)
def test_colours_are_compared_with_those_of_a_claim(said: str, claimed: tuple[str, ...], so: bool | None) -> None:
    assert lists.agrees(said.split(), claimed) is so


def _read(**told: dict[str, float]) -> Read:
    """An answer of which these heads tell something, and all others surely nothing."""
    classes = np.full(CLASSES, -30.0, np.float32)
    for head in HEADS:
        for value, chance in told.get(head.name.replace("-", "_"), {UNSAID: 1.0}).items():
            classes[head.at(value)] = np.log(chance)
    return Read(classes, np.zeros((1, 1), np.float32))


def test_belief_chooses_between_readings_of_a_place_and_explains_no_slip_away() -> None:
    piece, seen = placements(("white", "green")), {"F5": "red", "R3": "blue"}  # another piece is at the front right
    assert piece is not None
    doubtful = _read(place={"FR": 0.6, "FL": 0.4}, shows_D={"F": 1.0})
    surely = _read(place={"FR": 0.98, "FL": 0.02}, shows_D={"F": 1.0})
    for read, known, at in ((doubtful, {}, "FR"), (doubtful, seen, "FL"), (surely, seen, "FR")):
        meaning, chance = piece.read(read, ["white"], Scene(seen=known))[0]
        assert meaning is not None and meaning.place == at and chance > 0.55


def test_belief_about_the_top_adds_nothing_that_was_not_said() -> None:
    said = _read(U1={SHOWN: 1.0})
    look = top("look-top-edges")
    (plain, _), *_ = look.read(said, {})
    (believed, _), *_ = look.read(said, {"U1": True, "U7": True, "U3": False, "U5": False})
    assert plain is not None and believed == plain
    doubtful = _read(U1={SHOWN: 0.5, HIDDEN: 0.5}, U3={HIDDEN: 1.0}, U5={HIDDEN: 1.0}, U7={UNSAID: 1.0})
    (chosen, chance), *_ = look.read(doubtful, {"U1": True})
    assert chosen is not None and chosen.look["U1"] and chance > 0.8


# --- what is learned from


def test_what_a_mirror_does_twice_it_undoes() -> None:
    for path in sorted(examples.LINES.glob("*.jsonl"))[:4]:
        for example in examples.people([path]):
            image = noise.mirrored(example)
            if image and (back := noise.mirrored(image)):
                assert set(back.allowed) == set(example.allowed)
                assert [word.lower() for word in back.words] == [word.lower() for word in example.words]


def test_what_somebody_said_of_a_known_cube_may_say_only_what_is_true() -> None:
    for path in sorted(examples.LINES.glob("*.jsonl"))[:6]:
        for line in map(json.loads, path.read_text("utf-8").splitlines()):
            if line.get("asked", "").startswith("look"):
                (example,) = examples.of_line(line, Random(1))
                for cell, shown in line["true"].items():
                    if cell in HEAD:
                        assert HEAD[cell].at(HIDDEN if shown else SHOWN) not in example.allowed
                        assert line["complete"] is False or any(
                            HEAD[cell].at(value) in example.allowed for value in (SHOWN, HIDDEN, UNSAID)
                        )


def test_noise_keeps_the_turns_at_their_words() -> None:
    turns = ((0, "R"), (2, "U'"), (5, "F2"))
    sample = Sample("recite", "R then U prime then F two", turns=("R", "U'", "F2"), turn_words=turns)
    example = examples.of_sample(sample, "recite")
    for seed in range(50):
        heard = noise.heard(Random(seed), example)
        assert [turn for turn in heard.turns if turn] == ["R", "U'", "F2"]
        assert len(heard.turns) == len(heard.words)
