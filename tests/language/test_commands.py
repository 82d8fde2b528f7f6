"""The table of commands: complete, and what a lesson, the ears and the reader rely on in it."""

from __future__ import annotations

from typing import get_args

import pytest

from coach.language.commands import COMMANDS, Trait, has
from coach.language.en.reader.heads import COMMANDS as READ
from coach.language.meaning import Command


def named(traits: Trait) -> set[str]:
    return {command for command in COMMANDS if has(command, traits)}


def test_every_command_stands_in_the_table_once() -> None:
    assert list(COMMANDS) == list(get_args(Command))
    assert len({*COMMANDS}) == len(COMMANDS)


def test_the_reader_knows_all_of_them_and_no_others() -> None:
    assert sorted(READ) == sorted(COMMANDS)


@pytest.mark.parametrize(
    ("narrow", "wide"),
    [
        (Trait.INTERRUPTS, Trait.ANYTIME), (Trait.WRONG, Trait.INTERRUPTS), (Trait.MISSED, Trait.GRAVE),
        (Trait.WAITS, Trait.ANYTIME), (Trait.ASKS_BACK, Trait.ANYTIME), (Trait.ONWARD, Trait.RESUMES),
    ],
)  # fmt: skip
def test_one_trait_comes_with_another(narrow: Trait, wide: Trait) -> None:
    assert named(narrow) < named(wide)


@pytest.mark.parametrize(
    ("one", "other"),
    [(Trait.YES, Trait.NO), (Trait.ANYTIME, Trait.YES | Trait.NO), (Trait.WAITS, Trait.RESUMES),
     (Trait.PLAIN, Trait.DONE)],
)  # fmt: skip
def test_no_command_is_both(one: Trait, other: Trait) -> None:
    assert named(one) and named(other)
    assert not named(one) & named(other)


def test_no_command_has_no_trait() -> None:
    assert not has(None, ~Trait(0))
