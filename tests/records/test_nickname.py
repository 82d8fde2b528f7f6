"""Nicknames that may be one and the same."""

from __future__ import annotations

from pathlib import Path

import pytest

from coach.records.keeping import Records
from coach.records.nickname import similar
from tests.learning.made import SAY_LINE, tried


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("tomas ", ["Tomás"]), ("Zoe", ["Zoë"]), ("mary-lou", ["Mary Lou"]), ("Ben", []), ("TOMÁS", [])],
)
def test_a_name_typed_otherwise_is_noticed(typed: str, meant: list[str]) -> None:
    assert similar(typed, ["Tomás", "Zoë", "Mary Lou", "Ibrahim"]) == meant


def test_only_a_new_learner_is_asked_about(tmp_path: Path) -> None:
    told: list[str] = []
    for name in ("Zoë", "Zoë", "Zoe"):
        records = Records(name, told.append, tmp_path / "records.sqlite")
        records.add(tried(0, item=SAY_LINE))
        records.close()
    assert told == ["Zoe is new here. Did you mean Zoë? Then end this, and use that name."]
