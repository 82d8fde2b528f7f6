"""The bench of counts judges what comes of an answer, not its words."""

from __future__ import annotations

import json
from pathlib import Path

from coach.dialogue import Heard
from coach.language import Meaning, Scene
from scripts.benches.counts import Count, made_up, verdict, written
from tests.loaded import load

SEVEN = Count("bare", "seven", [{"number": 7}])
GUESS = Count("guessed", "about ten", [])


def test_a_number_is_right_or_wrong_and_a_doubt_is_neither() -> None:
    assert verdict(SEVEN, Heard("", Meaning(number=7))) == "right"
    assert verdict(SEVEN, Heard("", Meaning(number=11))) == "wrong"
    assert verdict(SEVEN, Heard("", Meaning(command="wait"))) == "again"
    assert verdict(SEVEN, Heard("", None, 0.5, (Heard("", Meaning(number=7)),))) == "doubted"
    assert verdict(SEVEN, Heard("", None, 0.5, (Heard("", Meaning(number=11)),))) == "again"


def test_of_a_guess_no_number_is_right() -> None:
    assert verdict(GUESS, Heard("", Meaning(command="unsure"))) == "right"
    assert verdict(GUESS, Heard("", Meaning(number=10))) == "wrong"


def test_lines_of_a_file_count_by_the_numbers_that_they_may_mean(tmp_path: Path) -> None:
    file = tmp_path / "lines.jsonl"
    rows = [{"said": "nine", "accept": [{"number": 9}], "size": 20}, {"said": "hm", "accept": [None]}, {"said": "left"}]
    file.write_text("\n".join(map(json.dumps, rows)), "utf-8")
    assert [(count.text, count.accept, count.size) for count in written(file)] == [
        ("nine", [{"number": 9}], 20), ("hm", [], None),
    ]  # fmt: skip


def test_what_is_made_up_is_understood_where_it_is_typed() -> None:
    language = load()
    wrong = []
    for count in made_up():
        meant = language.understand(count.text, "hands", Scene(about="line", size=count.size))
        if verdict(count, Heard(count.text, meant)) == "wrong":
            wrong.append(count.text)
    assert not wrong
