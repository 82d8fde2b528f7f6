"""Lessons that are not over are kept without a word of what was said."""

from pathlib import Path

import pytest

from coach.dialogue import Heard, Silence, When
from coach.language import QUESTIONS, Scene
from coach.language.meaning import USUAL_COLOURS
from coach.records.events import read, wordless, written
from coach.records.profile import Profile
from coach.records.unfinished import Beginning, Unfinished
from tests.loaded import load

SAID = (
    "yes", "no it's not", "the front right corner is yellow on top", "red white blue", "stop",
    "I turned the right side twice", "wait, the second row was red green green", "there are twenty four of us",
    "call it more slowly please", "the left one and the back one", "I did it the other way round",
    "in front on the left, white on the right", "um",
)  # fmt: skip


@pytest.mark.parametrize("asked", QUESTIONS)
def test_an_event_comes_back_as_it_was_but_for_its_words(asked: str) -> None:
    language, scene = load(), Scene(dict(USUAL_COLOURS), piece=("white", "red"), size=24)
    for said in SAID:
        heard = Heard.read(said, language.read(said, asked, scene), asked)  # type: ignore[arg-type]
        event = Heard(said, None, 0.5, (heard, heard), heard.aside, When(1.5, 2.0))
        for each in (heard, event):
            kept = written(each)
            assert read(kept) == wordless(each)
            assert said not in kept or len(said.split()) == 1


def test_silence_comes_back() -> None:
    assert read(written(Silence(2.5, When(0.0, 2.5)))) == Silence(2.5, When(0.0, 2.5))


@pytest.mark.parametrize("text", ["", "{}", "3", '{"Path": {}}', '{"Heard": {"later": 1}}', '{"Meaning": {}}', "[1]"])
def test_what_this_version_does_not_know_is_no_event(text: str) -> None:
    with pytest.raises(ValueError):
        read(text)


def test_a_lesson_is_found_by_its_word_alone_until_it_is_over(tmp_path: Path) -> None:
    told: list[str] = []
    path = tmp_path / "unfinished.sqlite"
    began = Beginning("Juno", Profile(confuse=("red", "orange"), pause=4.0), 2e9)
    kept = Unfinished(told.append, path)
    kept.begin("secret word", began)
    kept.add("secret word", Silence(1.0))
    later = Unfinished(told.append, path)
    assert later.find("secret word") == (began, [Silence(1.0)])
    assert later.find("") is None and later.find("another") is None
    assert b"secret word" not in path.read_bytes()
    later.over("secret word")
    assert kept.find("secret word") is None
    assert not told


def test_after_a_day_it_is_gone(tmp_path: Path) -> None:
    path = tmp_path / "unfinished.sqlite"
    Unfinished(print, path).begin("word", Beginning("", Profile(), 1000.0))
    assert Unfinished(print, path).find("word") is None


def test_a_file_that_cannot_be_used_is_told_once_and_nothing_is_kept(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("no folder")
    (tmp_path / "broken.sqlite").write_text("no database" * 1000)
    for path in (tmp_path / "file" / "unfinished.sqlite", tmp_path / "broken.sqlite"):
        told: list[str] = []
        kept = Unfinished(told.append, path)
        kept.begin("word", Beginning("", Profile(), 2e9))
        kept.add("word", Silence())
        assert kept.find("word") is None
        kept.close()
        assert len(told) == 1 and "Lessons go on" in told[0]
