"""Generated answers to the two looks: true of the top they were made from, told as their words tell it, and many."""

import re
from collections import Counter
from functools import cache
from random import Random

import pytest

from coach.language.en.answers.looks import look_and_top, looks
from coach.language.en.answers.looks.firm import firm
from coach.language.en.answers.looks.lists import Speaker
from coach.language.en.answers.looks.plain import plain, plain_speaker
from coach.language.en.answers.looks.top import (
    CORNER_LOOK,
    CORNERS,
    EDGE_LOOK,
    EDGES,
    STICKER,
    Clause,
    Top,
    concluded,
    some_top,
)
from coach.language.en.answers.phrasing import tidy
from coach.language.en.answers.sample import Sample


@cache
def _made() -> tuple[tuple[Top, Sample], ...]:
    random = Random(7)
    return tuple(look_and_top(random) for _ in range(20_000))


def _asked(sample: Sample) -> tuple[str, ...]:
    return EDGES if sample.moment == "look-top-edges" else CORNERS


def test_what_is_told_is_true_of_the_top() -> None:
    for top, sample in _made():
        assert all(top.shows[cell] == shows for cell, shows in sample.cells.items()), sample
        assert sample.shape in (None, top.shape), sample
        assert sample.edges in (None, len(top.up(EDGE_LOOK))), sample
        assert sample.corners in (None, len(top.up(CORNER_LOOK))), sample


def test_most_tops_are_legal_and_some_have_one_piece_flipped_or_twisted() -> None:
    """Edges flip in pairs and twists add up to whole turns on any cube (its mathematics); after a slip one is out."""
    legal = [len(top.up(EDGE_LOOK)) in (0, 2, 4) and sum(top.shows.values()) == 8 for top, _ in _made()]
    assert 0.85 <= sum(legal) / len(legal) <= 0.98


def test_complete_is_what_the_labels_say() -> None:
    for _, sample in _made():
        assert sample.complete == all(cell in sample.cells for cell in _asked(sample)), sample


def test_a_shape_and_counts_stand_only_where_places_are_open() -> None:
    for _, sample in _made():
        if all(cell in sample.cells for cell in EDGES):
            assert sample.shape is None and sample.edges is None
        if all(cell in sample.cells for cell in CORNERS):
            assert sample.corners is None


def test_every_answer_says_something() -> None:
    for _, sample in _made():
        assert sample.text == tidy(sample.text) and sample.text
        assert sample.cells or sample.shape or sample.edges or sample.corners, sample


def test_answers_are_many_and_differ() -> None:
    texts = [sample.text for _, sample in _made()]
    assert len(set(texts)) >= 0.75 * len(texts)  # the plainest answers are given again and again


def test_each_label_is_frequent() -> None:
    labels: Counter[object] = Counter()
    for _, sample in _made():
        labels[sample.moment] += 1
        labels["complete" if sample.complete else "incomplete"] += 1
        labels["shape", sample.shape] += 1
        labels["edges", sample.edges] += 1
        labels["corners", sample.corners] += 1
        labels.update((sample.moment, cell, shows) for cell, shows in sample.cells.items())
    assert labels["look-top-edges"] > 9_000 and labels["look-top-corners"] > 9_000
    assert labels["incomplete"] >= 4_500 and labels["complete"] >= 10_000
    for shape in ("line", "corner"):
        assert labels["shape", shape] >= 300
    assert labels["edges", 2] >= 300
    for count in (1, 2):
        assert labels["corners", count] >= 300
    for moment, cells in (("look-top-edges", EDGES), ("look-top-corners", CORNERS)):
        for cell in cells:
            assert labels[moment, cell, True] > 1_500 and labels[moment, cell, False] > 1_500
        others = CORNERS if cells is EDGES else EDGES
        assert all(labels[moment, cell, shows] > 50 for cell in others for shows in (True, False))
    for sticker in STICKER.values():
        assert sum(labels[moment, sticker, True] for moment in ("look-top-edges", "look-top-corners")) > 20


def test_the_same_seed_says_the_same() -> None:
    assert [looks(Random(seed)) for seed in range(50)] == [looks(Random(seed)) for seed in range(50)]


def test_plain_and_firm_answers_settle_all_four() -> None:
    random = Random(11)
    for _ in range(3000):
        top, kind = some_top(random), random.choice((EDGE_LOOK, CORNER_LOOK))
        for told in (plain(plain_speaker(random), top, kind), firm(Speaker(random), top, kind)):
            assert told.text.strip() and told.cells == top.cells(kind), told


def test_the_same_words_tell_the_same() -> None:
    told: dict[tuple[str, str], set[object]] = {}
    for _, sample in _made():
        words = " ".join(re.sub(r"[^\w' ]", " ", sample.text.lower()).split())
        said = (tuple(sorted(sample.cells.items())), sample.shape, sample.edges, sample.corners)
        told.setdefault((sample.moment, words), set()).add(said)
    assert sum(len(meanings) > 1 for meanings in told.values()) <= 4


def test_a_corner_with_one_arm_told_rules_out_the_arm_across() -> None:
    sample = concluded(EDGE_LOOK, Clause("a corner, one arm at the back", {"U1": True}, shape="corner"))
    assert sample.cells == {"U1": True, "U7": False}
    assert sample.shape == "corner" and not sample.complete


def test_two_with_both_places_settles_the_others() -> None:
    sample = concluded(EDGE_LOOK, Clause("two, left and back", {"U3": True, "U1": True}, edges=2))
    assert sample.cells == {"U1": True, "U3": True, "U5": False, "U7": False}
    assert sample.complete and sample.edges is None


def test_the_laws_of_the_cube_add_nothing() -> None:
    sample = concluded(EDGE_LOOK, Clause("left yes, back no, front no", {"U3": True, "U1": False, "U7": False}))
    assert "U5" not in sample.cells and not sample.complete


def test_yellow_on_the_side_of_a_corner_is_not_on_top() -> None:
    sample = concluded(CORNER_LOOK, Clause("the front left has it on its left", {"L2": True}))
    assert sample.cells == {"L2": True, "F0": False, "U6": False}


def test_what_contradicts_itself_is_refused() -> None:
    with pytest.raises(ValueError):
        concluded(EDGE_LOOK, Clause("a dot, the left", {"U3": True}, shape="dot"))
