"""The records on disk: what is kept, by several processes and killed ones, and what is said where that cannot be."""

from __future__ import annotations

import os
import random
import shutil
import sqlite3
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from contextlib import closing
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from coach.learning.exercise import Exercise
from coach.learning.times import PENALTIES, Attempt
from coach.records import store as store_module
from coach.records.keeping import Records
from coach.records.schema import MIGRATIONS, migrate
from coach.records.store import RecordsError, Store, default_path
from tests.learning.made import SAY_LINE, tried
from tests.records.writer import exercise

ROOT = Path(__file__).resolve().parents[2]
WRITER = (sys.executable, "-m", "tests.records.writer")
TIMED = [
    Attempt(datetime(2026, 11, 29, 17, 0, second), 4132 + second, penalty, "R U' F2")
    for second, penalty in enumerate(PENALTIES)
]
DONE = [tried(0, 4), replace(tried(3, 0, "failed", SAY_LINE), origin="lesson"), tried(1, 2, "unclear")]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "data" / "records.sqlite"


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of one megabyte of its own."""
    folder = tmp_path / "disk"
    folder.mkdir()
    if not shutil.which("mount") or subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=1m", "none", folder], capture_output=True, check=False
    ).returncode:  # fmt: skip
        pytest.skip("no disk can be mounted here")
    yield folder
    subprocess.run(["umount", folder], check=True)


def kept(path: Path, name: str = "Ada") -> list[Exercise]:
    with closing(Store(path)) as store:
        return store.exercises(name)


def keep(path: Path, exercises: Sequence[Exercise], name: str = "Ada") -> None:
    with closing(Store(path)) as store:
        for each in exercises:
            store.add(name, each)


def fill(folder: Path) -> None:
    """Leave no room on its disk."""
    with (folder / "filler").open("wb", buffering=0) as file:
        try:
            while True:
                file.write(bytes(4096))
        except OSError:
            return


# What is kept


def test_exercises_are_read_as_they_were_kept_and_in_the_order_in_which_they_were_done(path: Path) -> None:
    keep(path, DONE)
    assert kept(path) == DONE


def test_a_learner_is_known_however_the_name_is_typed_and_shown_as_it_was_first(path: Path) -> None:
    keep(path, DONE[:1], " Zoë  Ann")
    keep(path, DONE[1:2], "ZOE\u0308 ann")
    keep(path, DONE[2:], "ben")
    with closing(Store(path)) as store:
        assert store.learners() == ["ben", "Zoë Ann"]
        assert store.exercises("zoë ann") == DONE[:2]
        assert store.exercises("Cleo") == []


def test_a_name_that_cannot_be_is_refused(path: Path) -> None:
    with closing(Store(path)) as store, pytest.raises(ValueError, match="1 to 40 letters"):
        store.add(" ", DONE[0])


def test_the_usual_place_is_the_users_own_data_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    with closing(Store()):
        assert default_path() == tmp_path / "turncaller" / "records.sqlite"
        assert default_path().stat().st_mode & 0o077 == 0, "it is nobody else's"


# Timed solves


def test_timed_solves_are_read_as_they_were_kept_and_may_be_judged_otherwise(path: Path) -> None:
    with closing(Store(path)) as store:
        for attempt in TIMED:
            store.add_attempt("Ada", attempt)
        store.judge_attempt("ada", TIMED[1].with_penalty("DNF"))
        store.judge_attempt("Ben", TIMED[0].with_penalty("DNF"))
        assert store.attempts("Ada") == [TIMED[0], TIMED[1].with_penalty("DNF"), TIMED[2]]
        assert store.attempts("Ben") == []


def test_a_learner_who_is_forgotten_leaves_no_timed_solve(path: Path) -> None:
    with closing(Store(path)) as store:
        for name in ("Ada", "Ben"):
            store.add_attempt(name, TIMED[0])
        assert store.forget("Ada")
        assert store.attempts("Ada") == [] and store.attempts("Ben") == TIMED[:1]
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("SELECT count(*) FROM attempt").fetchone() == (1,)


def test_without_records_timed_solves_are_still_known_for_the_session(path: Path) -> None:
    path.parent.mkdir()
    path.write_bytes(b"no records at all" * 100)
    told: list[str] = []
    with closing(Records("Ada", told.append, path)) as records:
        records.add_attempt(TIMED[0])
        records.judge_last("+2")
        assert records.attempts == [TIMED[0].with_penalty("+2")]
    assert len(told) == 1 and "We go on without records" in told[0]


def test_records_keep_timed_solves_for_the_next_time(path: Path) -> None:
    with closing(Records("Ada", print, path)) as records:
        records.add_attempt(TIMED[0])
        records.add_attempt(TIMED[1])
        records.judge_last("")
    with closing(Records("Ada", print, path)) as records:
        assert records.attempts == [TIMED[0], TIMED[1].with_penalty("")]


# Versions


def test_a_file_of_an_older_version_is_brought_up_to_date_and_loses_nothing(path: Path) -> None:
    keep(path, DONE)
    newer = (*MIGRATIONS, ("ALTER TABLE exercise ADD COLUMN seconds REAL", "CREATE TABLE solve (id INTEGER)"))
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        migrate(connection, newer)
        assert connection.execute("SELECT count(*), max(seconds) FROM exercise").fetchone() == (len(DONE), None)
        assert connection.execute("PRAGMA user_version").fetchone() == (len(newer),)


def test_a_file_from_before_timed_solves_takes_them_and_keeps_its_exercises(path: Path) -> None:
    path.parent.mkdir()
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        migrate(connection, MIGRATIONS[:1])
        connection.execute("INSERT INTO learner (name, shown) VALUES ('ada', 'Ada')")
        connection.execute(
            "INSERT INTO exercise VALUES (1, 1, '2026-11-29 17:00:00', 'lesson', 'm', 'do', 's', 'c', 4, 'unaided')"
        )
    with closing(Store(path)) as store:
        store.add_attempt("ada", TIMED[0])
        assert len(store.exercises("Ada")) == 1 and store.attempts("Ada") == TIMED[:1]


def test_a_step_that_fails_leaves_the_file_as_it_was(path: Path) -> None:
    keep(path, DONE)
    wrong = (*MIGRATIONS, ("CREATE TABLE solve (id INTEGER)", "ALTER TABLE nothing ADD COLUMN seconds REAL"))
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        with pytest.raises(sqlite3.OperationalError):
            migrate(connection, wrong)
        assert connection.execute("SELECT count(*) FROM sqlite_master WHERE name = 'solve'").fetchone() == (0,)
    assert kept(path) == DONE


def test_a_newer_version_is_told_and_not_touched(path: Path) -> None:
    keep(path, DONE)
    with closing(sqlite3.connect(path)) as connection:
        connection.execute(f"PRAGMA user_version = {len(MIGRATIONS) + 1}")
    before = path.read_bytes()
    assert "newer version of Turncaller. Bring this one up to date" in trouble(path)
    assert path.read_bytes() == before


# Several processes, and killed ones


def test_two_processes_that_write_at_once_lose_nothing(path: Path) -> None:
    both = [subprocess.Popen([*WRITER, path, "Ada", "100"], cwd=ROOT, stdout=subprocess.DEVNULL) for _ in range(2)]
    assert [writer.wait(120) for writer in both] == [0, 0]
    found = kept(path)
    assert sorted(found, key=lambda each: each.when) == [exercise(n) for n in range(100) for _ in range(2)]


def test_killed_at_any_moment_it_loses_at_most_the_exercise_in_hand(tmp_path: Path) -> None:
    """Half of the killed have written to one file, which outlives them all; half were killed with a new one."""
    chance, counts = random.Random(29), set()
    files = [tmp_path / (f"{n}.sqlite" if n % 2 else "common.sqlite") for n in range(50)]
    surely = [written_until_killed(path, f"learner {n}", chance) for n, path in enumerate(files)]
    for n, (path, count) in enumerate(zip(files, surely, strict=True)):
        found = kept(path, f"learner {n}")
        assert len(found) in (count, count + 1), n
        assert found == [exercise(n) for n in range(len(found))]
        counts.add(len(found))
    assert len(counts) > 10, "the moments differ"


def written_until_killed(path: Path, name: str, chance: random.Random) -> int:
    """How many exercises a process had surely kept when it was killed; about one in five has not begun to write."""
    with subprocess.Popen([*WRITER, path, name, "100000"], cwd=ROOT, stdout=subprocess.PIPE, text=True) as writer:
        assert writer.stdout
        heard = [writer.stdout.readline() for _ in range(chance.choice((0, 1, 3, 10, 20)))]
        time.sleep(chance.uniform(0, 0.01 if heard else 0.2))
        writer.kill()
        return len(heard + writer.stdout.readlines())


# Forgetting


def test_nothing_of_a_forgotten_learner_stays_in_any_file(path: Path) -> None:
    marked = replace(DONE[0], item=replace(DONE[0].item, method="a method of one's own"))
    keep(path, [marked] * 200, "Marmaduke")
    keep(path, DONE, "Ben")
    with closing(Store(path)) as store:
        store.add("Marmaduke", marked)
        assert any(b"Marmaduke" in file.read_bytes() for file in path.parent.iterdir())
        assert store.forget("MARMADUKE")
        for file in path.parent.iterdir():
            for trace in (b"armaduke", b"a method of one's own"):
                assert trace not in file.read_bytes().lower(), file
        assert not store.forget("Marmaduke")
        assert store.exercises("Marmaduke") == []
        assert store.exercises("Ben") == DONE


def test_while_somebody_else_reads_it_is_told_that_traces_stay(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(store_module, "_PATIENCE", 0.05)
    keep(path, DONE)
    with closing(Store(path)) as store, closing(sqlite3.connect(path, isolation_level=None)) as other:
        store.add("Ben", DONE[0])
        other.execute("BEGIN")
        other.execute("SELECT * FROM exercise").fetchone()
        with pytest.raises(RecordsError, match=r"traces stay .* End it and do this again"):
            store.forget("Ada")
        assert store.exercises("Ada") == []
        other.execute("ROLLBACK")
        store.forget("Ada")
        assert all(b"Ada" not in file.read_bytes() for file in path.parent.iterdir())


# Trouble


def trouble(path: Path) -> str:
    """What is told once, while the lesson goes on without records."""
    told: list[str] = []
    records = Records("Ada", told.append, path)
    records.add(DONE[0])
    assert records.exercises[-1:] == DONE[:1], "this lesson still knows"
    assert not records.kept
    records.close()
    (sentence,) = told
    assert str(path) in sentence
    assert sentence.endswith("We go on without records.")
    return sentence


def test_without_trouble_nothing_is_told(path: Path) -> None:
    told: list[str] = []
    for each in DONE:
        records = Records("Ada", told.append, path)
        records.add(each)
        assert records.kept
        records.close()
    assert records.exercises == kept(path) == DONE
    assert not told


def test_without_a_name_nothing_is_kept(path: Path) -> None:
    records = Records(None, pytest.fail, path)
    records.add(DONE[0])
    records.close()
    assert not records.kept
    assert not path.exists()


@pytest.mark.parametrize("content", [b"no records at all, but a lot of plain text" * 40, b"SQLite format 3"])
def test_what_is_no_file_of_records_is_told(path: Path, content: bytes) -> None:
    path.parent.mkdir()
    path.write_bytes(content)
    assert "the file is broken. Move it away or put a copy back" in trouble(path)
    assert path.read_bytes() == content


@pytest.mark.parametrize("where", [0, 1, 2, 3])
def test_a_file_with_a_page_spoilt_is_told(path: Path, where: int) -> None:
    keep(path, DONE)
    pages = path.read_bytes()
    spoilt = b"\xa5" * 4096
    path.write_bytes(pages[: where * 4096] + spoilt + pages[(where + 1) * 4096 :])
    assert "the file is broken" in trouble(path)


def test_what_is_broken_elsewhere_in_the_file_is_told_at_once_and_not_in_mid_lesson(path: Path) -> None:
    keep(path, DONE)
    keep(path, [exercise(n) for n in range(400)], "Ben")
    pages = path.read_bytes()
    assert len(pages) > 8 * 4096
    path.write_bytes(pages[: 6 * 4096] + b"\xa5" * 4096 + pages[7 * 4096 :])
    assert "the file is broken" in trouble(path)


def test_a_file_cut_short_is_told(path: Path) -> None:
    keep(path, DONE)
    path.write_bytes(path.read_bytes()[:-4096])
    assert "the file is broken" in trouble(path)


def test_a_place_that_cannot_be_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    assert "cannot be read and written there" in trouble(tmp_path / "file" / "records.sqlite")
    (tmp_path / "folder").mkdir()
    assert "cannot be read and written there" in trouble(tmp_path / "folder")


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_without_leave_to_write_is_told(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    assert "See that the folder is yours" in trouble(tmp_path / "records.sqlite")
    tmp_path.chmod(0o700)


def test_a_disk_that_may_only_be_read_is_told(small_disk: Path) -> None:
    path = small_disk / "records.sqlite"
    keep(path, DONE)
    subprocess.run(["mount", "-o", "remount,ro", small_disk], check=True)
    assert "cannot be read and written there" in trouble(path)
    assert "cannot be read and written there" in trouble(small_disk / "other" / "records.sqlite")


def test_a_full_disk_is_told_once_and_what_was_kept_is_kept(small_disk: Path) -> None:
    path = small_disk / "records.sqlite"
    told: list[str] = []
    records = Records("Ada", told.append, path)
    records.add(DONE[0])
    fill(small_disk)
    for n in range(200):
        records.add(exercise(n))
    assert not records.kept
    assert len(records.exercises) == 201
    records.close()
    assert len(told) == 1
    assert "the disk is full. Make room on it" in told[0]
    (small_disk / "filler").unlink()
    assert kept(path)[:1] == DONE[:1]


def test_a_disk_full_from_the_start_is_told(small_disk: Path) -> None:
    fill(small_disk)
    assert "full" in trouble(small_disk / "records.sqlite") or "No space left" in trouble(small_disk / "records.sqlite")


def test_no_room_within_the_file_is_told_and_leaves_whole_exercises(path: Path) -> None:
    told: list[str] = []
    records = Records("Ada", told.append, path)
    assert records._store
    (pages,) = records._store._connection.execute("PRAGMA page_count").fetchone()
    records._store._connection.execute(f"PRAGMA max_page_count = {pages + 1}")
    for n in range(1000):
        records.add(exercise(n))
    (sentence,) = told
    assert "the disk is full. Make room on it" in sentence
    found = kept(path)
    assert 0 < len(found) < 1000
    assert found == [exercise(n) for n in range(len(found))]


def test_another_program_that_holds_them_is_told_and_not_waited_for_for_ever(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(store_module, "_PATIENCE", 0.05)
    keep(path, DONE)
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        assert "another program holds them. End it" in trouble(path)
    assert kept(path) == DONE
