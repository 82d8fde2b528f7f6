"""Generated answers to where a piece is agree with the piece that they are about."""

import re
from collections import Counter
from collections.abc import Callable
from random import Random

import pytest

from coach.cube.geometry import FACES, POSITIONS, clockwise_stickers
from coach.language.en.answers import pieces as module
from coach.language.en.answers.pieces import pieces
from coach.language.en.answers.placements import PLACEMENTS, Placement, one_of_placements
from coach.language.en.answers.sample import ROLES, Sample

TELLERS = module._TELLERS
SEEDS = range(6000)
HOMES = {name for name in POSITIONS if name[0] != "U"}


def test_every_piece_of_the_two_lower_layers_lies_in_every_way() -> None:
    assert {p.home for size in PLACEMENTS.values() for p in size} == HOMES
    for size, places in ((2, 12), (3, 8)):
        ways = {(p.home, p.position, tuple(p.shows.items())) for p in PLACEMENTS[size]}
        homes = sum(len(home) == size for home in HOMES)
        assert len(ways) == len(PLACEMENTS[size]) == homes * places * size
        assert all(set(p.shows.values()) == set(p.position) for p in PLACEMENTS[size])


def test_corners_are_turned_and_never_mirrored() -> None:
    for piece in PLACEMENTS[3]:
        home, now = ([FACES[n // 9] for n in clockwise_stickers(place)] for place in (piece.home, piece.position))
        faces = [piece.shows[ROLES[face]] for face in home]
        assert faces in [now[turn:] + now[:turn] for turn in range(3)]


@pytest.mark.parametrize("teller", TELLERS)
def test_labels_agree_with_the_placement(teller: Callable[[Random, Placement], Sample]) -> None:
    for seed in SEEDS:
        random = Random(seed)
        piece = one_of_placements(random)
        sample = teller(random, piece)
        assert sample.moment == "piece" and sample.text
        assert sample.piece == piece.colours
        assert sample.place in (None, piece.position)
        assert sample.layer in (None, piece.layer)
        assert not (sample.place and sample.layer), "the layer is told only where the place is not"
        assert sample.shows.items() <= piece.shows.items()
        said = sample.text.lower()
        assert all(colour in said for colour in sample.shows) or re.search("o(th|dd)er", said)
        if sample.place or sample.shows:
            assert sample.complete == bool(sample.place and sample.shows)


def test_naming_the_piece_is_not_told_as_facing() -> None:
    named = [pieces(Random(seed)) for seed in range(20000)]
    named = [s for s in named if s.place and not s.shows and any(colour in s.text.lower() for colour in ROLES.values())]
    assert len(named) > 50


def test_every_kind_of_label_occurs() -> None:
    said = [pieces(Random(seed)) for seed in range(20000)]
    assert {s.place for s in said} == {None, *POSITIONS}
    assert {s.layer for s in said} == {None, "U", "M", "D"}
    assert {face for s in said for face in s.shows.values()} == set("UDFBRL")
    assert {len(s.shows) for s in said} == {0, 1, 2, 3}
    assert {s.case for s in said} == {None, "home", "home-right", "home-wrong"}
    assert {s.command for s in said} == {None, "unsure", "repeat", "more-time"}
    complete = Counter(s.complete for s in said)
    assert complete[False] > 3000


def test_hardly_any_answer_is_said_twice() -> None:
    random = Random(1)
    assert len({pieces(random).text for _ in range(20000)}) >= 18000
