"""What synthetic voices said and the second pass wrote down: files to learn from and to be measured with."""

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest

ANSWERS = Path(__file__).resolve().parents[3] / "models" / "answers-en"
FILES = ("train", "bench")


@cache
def rows(name: str) -> list[dict[str, Any]]:
    return [json.loads(line) for line in (ANSWERS / "writings" / f"{name}.jsonl").read_text("utf-8").splitlines()]


def known() -> set[str]:
    return {line.split()[0] for line in (ANSWERS / "speakers.txt").read_text("utf-8").splitlines()}


@pytest.mark.parametrize("name", FILES)
@pytest.mark.parametrize("look", ["first", "writings"])
def test_the_shares_of_a_sounds_writings_are_at_most_the_whole(name: str, look: str) -> None:
    for row in rows(name):
        assert sum(share for _, share in row[look]) <= 1.001, (row["speaker"], row["line"])
        assert all(share >= 0 for _, share in row[look])
        assert all(text.strip() for text, _ in row[look]), (row["speaker"], row["line"])


@pytest.mark.parametrize("name", FILES)
def test_what_was_written_at_once_is_among_all_that_was_written(name: str) -> None:
    for row in rows(name):
        assert {text for text, _ in row["first"]} <= {text for text, _ in row["writings"]}


@pytest.mark.parametrize("name", FILES)
def test_nearly_everything_that_was_said_is_written_somehow(name: str) -> None:
    assert sum(bool(row["writings"]) for row in rows(name)) >= 0.9 * len(rows(name)) > 500


@pytest.mark.parametrize("name", FILES)
def test_every_line_is_there_once_and_its_speaker_known(name: str) -> None:
    places = [(row["speaker"], row["line"]) for row in rows(name)]
    assert len(places) == len(set(places))
    assert {speaker for speaker, _ in places} <= known()


def test_the_lines_learnt_from_are_in_the_files_of_their_speakers() -> None:
    for speaker in {row["speaker"] for row in rows("train")}:
        count = len((ANSWERS / "lines" / f"{speaker}.jsonl").read_text("utf-8").splitlines())
        assert all(0 <= row["line"] < count for row in rows("train") if row["speaker"] == speaker)


@pytest.mark.parametrize("field", ["speaker", "voice"])
def test_nobody_is_learnt_from_who_is_measured_with(field: str) -> None:
    assert not {row[field] for row in rows("train")} & {row[field] for row in rows("bench")}
