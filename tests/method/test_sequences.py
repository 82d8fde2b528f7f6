"""Sequences as things to learn: their groups make them up, and what their words say of them is so."""

from __future__ import annotations

from pathlib import Path

import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from coach.cube import CORNERS, EDGES, Cube, write
from coach.method import default_method, last_turn
from tests.method.geometry import effect
from tests.method.refusing import refusal

METHOD = default_method()
SEQUENCES = {sequence.id: sequence for sequence in METHOD.sequences}


def test_there_are_thirteen_sequences_each_with_a_name_of_its_own() -> None:
    names = [sequence.say("en", "name") for sequence in METHOD.sequences]
    assert len(names) == len(set(names)) == 13
    assert all(sequence.say("en", "why") for sequence in METHOD.sequences)
    assert len({sequence.turns for sequence in METHOD.sequences}) == 13


@pytest.mark.parametrize("name", SEQUENCES)
def test_groups_of_two_to_four_turns_with_names_make_up_the_sequence(name: str) -> None:
    sequence = SEQUENCES[name]
    assert " ".join(write(group.turns) for group in sequence.groups) == write(sequence.turns)
    assert all(2 <= len(group.turns) <= 4 for group in sequence.groups) or len(sequence.turns) == 1
    names = [group.say("en", "name") for group in sequence.groups]
    assert all(names) and len(set(names)) == len(names)


def test_turns_that_are_the_same_in_two_groups_have_the_same_name() -> None:
    names: dict[object, set[str]] = {}
    for sequence in METHOD.sequences:
        for group in sequence.groups:
            names.setdefault(group.turns, set()).add(group.say("en", "name"))
    assert all(len(found) == 1 for found in names.values()), names


@pytest.mark.parametrize("name", SEQUENCES)
def test_the_order_is_that_of_the_permutation_in_sympy(name: str) -> None:
    """SymPy's permutation groups (sympy.combinatorics), over turns built anew from space; by one's own count besides,
    so that a sequence that is a half turn or a swap has the order that anybody can see."""
    moves: Permutation = effect(write(SEQUENCES[name].turns))
    assert SEQUENCES[name].order == moves.order() == PermutationGroup([moves]).order()


def test_orders_that_anybody_can_count() -> None:
    orders = {name: sequence.order for name, sequence in SEQUENCES.items()}
    known = {"half-turn": 2, "corner-swap": 2, "ring-to-the-right": 3, "right-lift": 4}
    assert known.items() <= orders.items()
    assert Cube().do(SEQUENCES["three-twist"].turns * 6).solved


# What the words say


def moved(name: str) -> dict[str, set[str]]:
    """Of the last layer: the edges and corners that are elsewhere after the sequence, and those turned on the spot."""
    after = Cube().do(SEQUENCES[name].turns)
    away = {piece for piece, (where, _) in after.pieces.items() if where != piece}
    return {"edges": away & {*EDGES}, "corners": away & {*CORNERS}}


def test_the_corner_swap_changes_two_corners_on_the_right_and_two_edges() -> None:
    found = moved("corner-swap")
    assert found["corners"] == {"UFR", "UBR"}
    assert len(found["edges"]) == 2


@pytest.mark.parametrize("name", ["ring-to-the-right", "ring-to-the-left"])
def test_a_ring_moves_three_edges_and_nothing_else(name: str) -> None:
    found = moved(name)
    assert len(found["edges"]) == 3 and not found["corners"] and "UB" not in found["edges"]
    after = Cube().do(SEQUENCES[name].turns)
    assert after.pieces["UF"][0] == ("UR" if name.endswith("right") else "UL")


def test_the_rings_are_each_other_backwards() -> None:
    right, left = SEQUENCES["ring-to-the-right"], SEQUENCES["ring-to-the-left"]
    assert Cube().do(right.turns).do(left.turns) == Cube()


@pytest.mark.parametrize("name", ["flip-by-the-top", "flip-by-the-right"])
def test_a_flip_turns_two_edges_over(name: str) -> None:
    after = Cube().do(SEQUENCES[name].turns)
    turned_over = [edge for edge in EDGES if "U" in edge and after.faces[EDGES[edge][0]] != "U"]
    assert len(turned_over) == 2


def test_the_twist_turns_three_corners() -> None:
    after = Cube().do(SEQUENCES["three-twist"].turns)
    assert sum(after.faces[CORNERS[corner][0]] != "U" for corner in CORNERS if "U" in corner) == 3


@pytest.mark.parametrize(("turned", "back"), [("", ""), ("U", "U'"), ("U'", "U"), ("U2", "U2")])
@pytest.mark.parametrize("side", "FRBL")
def test_the_last_turn_is_told_by_any_side(turned: str, back: str, side: str) -> None:
    assert write(last_turn(Cube().do(turned).faces, side)) == back
    held = Cube().do("y").do(turned)
    assert held.do(last_turn(held.faces, side)).solved


# Files that are wrong


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('{ turns = "R\' U\' F\'"', '{ turns = "R\' U F\'"', ("differ at turn 5", "F R U R' U F'", "F R U R' U' F'")),
        ('  { turns = "R\' U\' F\'", en.name = "out with right, top, front" },\n', "", ("There are 3 and 6 turns",)),
        (
            '  { turns = "F R U", en.name = "in with front, right, top" },\n  { turns = "R\' U\' F\'", ',
            '  { turns = "F R U R\' U\' F\'", ', ("group number 1", "two to four turns"),
        ),
        (
            '{ turns = "F R U", en.name = "in with front, right, top" },\n  { turns = "R\'',
            '{ turns = "F", en.name = "in" },\n  { turns = "R U", en.name = "and" },\n  { turns = "R\'',
            ("group number 1", "cannot be a group"),
        ),
    ],
)
def test_groups_that_are_not_the_sequence(tmp_path: Path, old: str, new: str, words: tuple[str, ...]) -> None:
    message = refusal(tmp_path, old, new)
    assert "sequence 'flip-by-the-right'" in message
    for word in words:
        assert word in message


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('sequence = "three-twist"', 'sequence = "tree-twist"', ("case 'none-up'", "Did you mean three-twist?")),
        ('sequence = "three-twist"', "sequence = \"R U R'\"", ("case 'none-up'", "[[sequence]]")),
        ('id = "three-twist"\n', "", ("id is missing", "sequence number 10")),
        ('id = "three-twist"\n', 'id = "corner-swap"\n', ("two sequences", "corner-swap")),
        ('en.name = "the three-corner twist"\n', "", ("en.name is missing", "three-twist")),
        ('en.name = "the three-corner twist"\n', 'en.nam = "x"\n', ("en.name", "three-twist")),
        ('"F R U", en.name = "in with front, right, top" }', '"F R U" }', ("groups number 1", "en.name")),
        ('{ turns = "F R U", ', '{ turns = "F R x", ', ("groups number 1", "whole cube")),
        ('{ turns = "F R U", ', '{ turn = "F R U", ', ("groups number 1", "turn")),
        ("groups = [{ turns = \"R U R'\"", "group = [{ turns = \"R U R'\"", ("groups must be a list such as",)),
        ('[{ turns = "F2", en.name = "twice round" }]', '["F2"]', ("groups must be a list such as",)),
        ("[[sequence]]", "[sequence]", ("TOML",)),
    ],
)
def test_sequences_that_cannot_be_read(tmp_path: Path, old: str, new: str, words: tuple[str, ...]) -> None:
    message = refusal(tmp_path, old, new)
    for word in words:
        assert word in message
