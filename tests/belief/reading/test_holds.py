"""A cube held another way than thought while it is read."""

from __future__ import annotations

from random import Random

import pytest

from coach.belief.reading.holds import ReadRow, held_otherwise, held_right, odd_middles
from coach.belief.reading.rows import next_row
from coach.belief.reading.stickers import KnownStickers, ways
from coach.cube import PLACE_NAMES, PLACE_NUMBER, ROTATIONS, Cube, Turn
from coach.simulation import scrambled


def after(turn: Turn, row: ReadRow) -> ReadRow:
    told = {PLACE_NAMES[turn.permutation.index(PLACE_NUMBER[place])]: letter for place, letter in row.told.items()}
    return ReadRow(row.before.after((turn,)), told, row.turned)


def read(cube: Cube, wrongly: Turn, since: int, most: int = 14) -> tuple[list[ReadRow], KnownStickers, Cube]:
    """Rows as they are asked for, until they do not fit; the whole cube is turned `wrongly` as well before row number
    `since`. With them, what is known in the hold that is thought, and the cube in its real one."""
    known, rows = KnownStickers.of(cube), list[ReadRow]()
    while ways(known) and len(rows) < most and (row := next_row(known)):
        for turn in row.rotation:
            cube, known, rows = cube.do((turn,)), known.after((turn,)), [after(turn, told) for told in rows]
        if len(rows) == since:
            cube = cube.do((wrongly,))
        told = {place: cube.faces[PLACE_NUMBER[place]] for place in row.places}
        rows.append(ReadRow(known, told, bool(row.rotation) or len(rows) == since))
        known = known.seeing({place: letter for place, letter in told.items() if place[1] != "4"})
        if odd_middles(told, known):
            break
    return rows, known, cube


@pytest.mark.parametrize("wrongly", ROTATIONS, ids=str)
def test_of_all_other_holds_one_fits_the_rows_and_none_of_them_is_lost(wrongly: Turn) -> None:
    rows, known, cube = read(scrambled(Random(str(wrongly))), wrongly, since=6)
    assert not ways(known) or odd_middles(rows[-1].told, known)
    found = held_otherwise(rows)
    real = [held for held in found if held.since == 6 and held.reading.centres == cube.centres]
    assert len(real) == 1 and ways(real[0].reading)
    assert all(letter in (".", face) for letter, face in zip(real[0].reading.pattern, cube.faces, strict=True))
    assert len(real[0].reading.read) >= len(known.read) - 3


def row_read(known: KnownStickers, cube: Cube, face: str, number: int, turned: bool = False) -> ReadRow:
    places = [f"{face}{3 * number - 3 + column}" for column in range(3)]
    return ReadRow(known, {place: cube.faces[PLACE_NUMBER[place]] for place in places}, turned)


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("otherwise", [True, False])
def test_what_is_likelier_a_wrong_hold_or_misread_stickers_shows_from_a_few_rows(seed: int, otherwise: bool) -> None:
    cube, turn, rows = scrambled(Random(seed)), ROTATIONS[seed], list[ReadRow]()
    known = KnownStickers.of(cube)
    for face, number in (("F", 1), ("F", 3), ("U", 1), ("R", 1), ("R", 3)):
        rows.append(row_read(known, cube, face, number))
        known = known.seeing(rows[-1].told)
    cube = cube.do((turn,)) if otherwise else cube
    for face, number in (("U", 3), ("L", 1), ("L", 3), ("B", 1)):
        rows.append(row_read(known, cube, face, number, turned=len(rows) == 5))
        if not otherwise and face == "U":
            letter = next(letter for letter in "URFDLB" if not ways(known.seeing({"U6": letter})))
            rows[-1] = ReadRow(known, {**rows[-1].told, "U6": letter}, False)
        known = known.seeing(rows[-1].told)
    assert not ways(known)
    assert (sum(held.weight for held in held_otherwise(rows)) > held_right(known)) == otherwise


def test_a_middle_that_cannot_be_told_is_not_odd() -> None:
    reading = KnownStickers.of(Cube())
    assert odd_middles({"F3": "U", "F4": "R", "F5": "U"}, reading) == ["F4"]
    assert not odd_middles({"F3": "U", "F4": ".", "F5": "U"}, reading)
    assert not odd_middles({"F3": "U", "F4": "F", "F5": "U"}, reading)
