"""Turns in writing: the World Cube Association Regulations, Article 12."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.cube import AmbiguousError, BadSyntaxError, NotationError, NotOnThisCubeError, Turn, parse, write
from tests.cube.random_cubes import any_turns


# Article 12a: face turns F F' F2 ..., outer slice turns Fw Fw' Fw2 ..., rotations x x' x2 ...
@pytest.mark.parametrize(
    ("text", "turn"),
    [
        ("F", Turn("F", 1)), ("B'", Turn("B", 3)), ("R2", Turn("R", 2)), ("L", Turn("L", 1)),
        ("U'", Turn("U", 3)), ("D2", Turn("D", 2)), ("Fw", Turn("F", 1, 2)), ("Bw'", Turn("B", 3, 2)),
        ("Rw2", Turn("R", 2, 2)), ("2Uw", Turn("U", 1, 2)), ("2Lw'", Turn("L", 3, 2)),
        ("x", Turn("R", 1, 3)), ("y'", Turn("U", 3, 3)), ("z2", Turn("F", 2, 3)),
    ],
)  # fmt: skip
def test_each_kind_of_turn(text, turn):
    assert parse(text) == (turn,)


@given(any_turns)
def test_what_is_written_is_read_back(turns):
    assert parse(write(turns)) == tuple(turns)


@given(any_turns)
def test_spaces_may_be_left_out_or_doubled(turns):
    assert parse(write(turns).replace(" ", "\t \n")) == tuple(turns)
    plain = [turn for turn in turns if turn.quarters != 2]
    assert parse(write(plain).replace(" ", "")) == tuple(plain)


@pytest.mark.parametrize("mark", "'’‘′`´")
def test_any_apostrophe_will_do(mark):
    assert write(parse(f"R{mark} Uw{mark}")) == "R' Uw'"


def test_nothing_is_no_turns():
    assert parse("") == parse("  \n") == ()


@pytest.mark.parametrize(
    ("text", "error", "at"),
    [
        ("R U Q", BadSyntaxError, 4),
        ("R U (R' U')", BadSyntaxError, 4),
        ("R 2", BadSyntaxError, 2),
        ("R U3", BadSyntaxError, 3),
        ("R-", BadSyntaxError, 1),
        ("F 2R", BadSyntaxError, 2),
        ("U xw", BadSyntaxError, 2),
        ("U 2y", BadSyntaxError, 2),
        ("X", BadSyntaxError, 0),
        ("R 3Rw", NotOnThisCubeError, 2),
        ("4Fw2", NotOnThisCubeError, 0),
        ("U 1Uw", NotOnThisCubeError, 2),
        ("R r", AmbiguousError, 2),
        ("f'", AmbiguousError, 0),
        ("R2'", AmbiguousError, 1),
        ("U R'2", AmbiguousError, 3),
        ("R22Uw", AmbiguousError, 1),
        ("R'2Uw", AmbiguousError, 1),
    ],
)
def test_three_errors_each_with_its_place(text, error, at):
    with pytest.raises(NotationError) as caught:
        parse(text)
    assert type(caught.value) is error
    assert (caught.value.at, caught.value.text) == (at, text)
    assert f"character {at + 1}" in str(caught.value)


@given(st.text(max_size=40) | st.text("RUFLDBMrwxyz23' ’0", max_size=12))
def test_any_text_is_turns_or_a_notation_error_inside_it(text):
    try:
        turns = parse(text)
    except NotationError as error:
        assert 0 <= error.at < len(text)
    else:
        assert parse(write(turns)) == turns


def test_the_message_for_a_very_long_text_is_short():
    for text in ("R " * 5000 + "Q", "9" * 10_000 + "Rw", "R" + "2" * 10_000):
        with pytest.raises(NotationError) as caught:
            parse(text)
        assert len(str(caught.value)) < 250
