"""How far learners have come: as data, in the coach's sentences, on the terminal, as a picture, and forgotten."""

from __future__ import annotations

import csv
import re
import subprocess
import sys
from collections.abc import Sequence
from contextlib import closing
from datetime import datetime
from pathlib import Path
from xml.etree import ElementTree

import pytest

from coach.cli import main
from coach.learning.exercise import Exercise, Item
from coach.learning.progress import Progress, progress, spoken
from coach.learning.schedule import Fsrs
from coach.learning.times import Attempt
from coach.method import default_method
from coach.records import picture, report
from coach.records.naming import Names
from coach.records.profile import Profile, learner_path, save
from coach.records.store import Store, default_path
from tests.learning.made import DAY, LINE, SAY_LINE, later, tried
from tests.loaded import load

KNOWN = [tried(0), tried(3), tried(7)]
FACE = Item("top-face", "none-up", "do", "layer by layer")
NAMES = Names(default_method())
SOME = [*KNOWN, tried(7, 4, item=SAY_LINE), tried(7, 3, "failed", item=FACE), tried(7, 4, "unclear", item=FACE)]
UNCLEAR = [tried(1, 4, "unclear")]
EVERYBODY = {"Ada": SOME, "Ben": KNOWN, "Zoë": UNCLEAR, "$x$": KNOWN, **{f"P{n}": SOME for n in range(4)}}


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))


@pytest.fixture
def everybody() -> None:
    with closing(Store()) as store:
        for name, exercises in EVERYBODY.items():
            for exercise in exercises:
                store.add(name, exercise)


def on(day: int, exercises: Sequence[Exercise] = SOME) -> Progress:
    return progress("Ada", exercises, later(day), Fsrs(), {})


# As data and in sentences


def test_progress_is_worked_out_from_the_results() -> None:
    now = on(8)
    assert (now.exercises, now.days, now.known, now.due) == (6, [later(0), later(3), later(7)], 1, 2)
    by_item = {each.item: each for each in now.items}
    line = by_item[LINE]
    assert (line.help, line.days_alone, line.known) == (1, 3, True)
    assert (by_item[SAY_LINE].help, by_item[SAY_LINE].days_alone) == (3, 0)
    assert now.items[-1] == line, "what is due comes first"
    assert now.next_day == later(8)
    assert on(7).next_day == later(8)


def says(now: Progress) -> str:
    return " ".join(load().sentences.say(said.key, said.form, **said.values) for said in spoken(now))


ONE_OF_3 = "You know 1 of the 3 things that you've practised by heart."
ALL = "You know all that you've practised by heart."
NONE = "We haven't practised anything by heart yet. We can begin whenever you like."


@pytest.mark.parametrize(
    ("now", "said"),
    [
        (on(8), f"{ONE_OF_3} 2 things are due today."),
        (on(7), f"{ONE_OF_3} Nothing is due today, but something is tomorrow."),
        (on(8, KNOWN), f"{ALL} Nothing is due today. The next is due in 29 days."),
        (on(9, KNOWN[:1]), "There is nothing yet that you know quite by heart. One thing is due today."),
        (on(9, []), NONE),
        (on(9, UNCLEAR), "We've practised, but nothing of it has counted yet. We can begin whenever you like."),
    ],
)
def test_how_am_i_doing_gets_two_answers(now: Progress, said: str) -> None:
    assert says(now) == said


def test_who_asks_in_a_lesson_is_told_where_to_begin_and_whether_anything_is_kept() -> None:
    sentences = load().sentences

    def told(now: Progress, kept: bool) -> str:
        return " ".join(sentences.say(each.key, each.form, **each.values) for each in spoken(now, "lesson", kept))

    assert told(on(9, []), True) == "We haven't practised anything by heart yet. In a practice session we can begin."
    assert told(on(8), True) == f"{ONE_OF_3} 2 things are due today."
    assert "no nickname" in told(on(9, []), False) and "practised" not in told(on(9, []), False)


# On the terminal


def test_a_line_for_each_item_reads_well_without_seeing_the_columns() -> None:
    lines = report.of_learner(on(8), NAMES)
    assert lines[0] == "Ada, 10 November 2026: 1 of 3 known by heart, 2 due today."
    assert lines[1] == "6 exercises on 3 days, the last on 9 November 2026."
    assert {re.sub(r" +", " ", line) for line in lines[3:6]} == {
        "top cross, line, do the flip by the right side, next with help 1, known, due on 9 December 2026",
        "top cross, say the flip by the right side, next with help 3, alone on 0 days, due today",
        "top face, none up, do the three-corner twist, next with help 4, alone on 0 days, due today",
    }
    assert all(line.isascii() and line.isprintable() and "|" not in line for line in lines)


def test_a_sequence_has_its_own_name_and_where_it_serves_is_told_once() -> None:
    say_dot = Item("top-cross", "dot", "recite", "layer by layer")
    lift = Item("middle-edges", "edge-below", "do", "layer by layer")
    old = Item("top-cross", "gone", "do", "layer by layer")
    lines = report.of_learner(on(8, [tried(0, item=item) for item in (say_dot, lift, old, LINE)]), NAMES)
    text = "\n".join(lines)
    assert "top cross, say the flip by the top," in text and "dot," not in text
    assert "top cross, gone, do it," in text, "a case that the method has no more"
    assert lines.count("The flip by the top serves in 2 cases: top cross, dot and corner.") == 1
    assert lines.count("The join on the right serves in 2 cases: middle edges, from front and edge below.") == 1
    assert "flip by the right side serves" not in text


def test_the_cases_of_several_steps_are_told_step_by_step() -> None:
    lift = Item("bottom-corners", "faces-right", "recite", "layer by layer")
    assert [*NAMES.serving([lift])] == [
        "The right-hand lift serves in 3 cases: bottom corners, faces right and corner below; bottom cross, "
        "edge in the middle."
    ]


def test_a_left_hander_reads_the_names_that_the_coach_says(capsys: pytest.CaptureFixture[str]) -> None:
    with closing(Store()) as store:
        store.add("Ada", tried(0))
    save(Profile(hand="left"), learner_path("Ada"))
    assert main(["progress", "--learner", "Ada"]) == 0
    assert "do the flip by the left side" in capsys.readouterr().out


def test_when_an_item_is_due_is_said_in_words() -> None:
    words = [report.due(on(day).items[0], later(day)) for day in (7, 8, 9)]
    assert words == ["due tomorrow", "due today", "due since 10 November 2026"]


def test_methods_are_named_where_there_are_several() -> None:
    other = Item("top-cross", "line", "do", "my own")
    lines = report.of_learner(on(8, [*KNOWN, tried(0, item=other)]), NAMES)
    assert any("do it, method my own," in line for line in lines)
    assert not any("method" in line for line in report.of_learner(on(8), NAMES))


@pytest.mark.usefixtures("everybody")
def test_a_teacher_gets_a_line_for_each_of_eight_learners(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["progress"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert [line.split(",")[0] for line in lines] == ["$x$", "Ada", "Ben", "P0", "P1", "P2", "P3", "Zoë"]
    assert re.search(r"^Ada, +1 of 3 known by heart, \d due today, +6 exercises on 3 days, +the last on ", lines[1])


@pytest.mark.usefixtures("everybody")
def test_one_learner_is_shown_in_detail_and_an_unknown_one_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["progress", "--learner", " ADA "]) == 0
    assert capsys.readouterr().out.startswith("Ada, ")
    assert main(["progress", "--learner", "Adda"]) == 1
    told = "There are no records of Adda. There are of: $x$, Ada, Ben, P0, P1, P2, P3, Zoë.\n"
    assert capsys.readouterr().err == told
    for nobody in ("", "''"):
        assert main(["progress", "--learner", nobody]) == 1
        assert "1 to 40 letters" in capsys.readouterr().err


def test_without_any_records_nobody_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["progress", "--learner", "Ada"]) == 1
    assert capsys.readouterr().err == "There are no records of Ada. Nobody has practised yet.\n"


def test_looking_begins_no_records(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["progress"]) == 0
    assert capsys.readouterr().out == "Nobody has practised yet: there are no records.\n"
    assert not default_path().parent.exists()


def test_records_that_cannot_be_used_are_told(capsys: pytest.CaptureFixture[str]) -> None:
    default_path().parent.mkdir(parents=True)
    default_path().write_text("no records" * 100, "utf-8")
    assert main(["progress"]) == 1
    assert "the file is broken" in capsys.readouterr().err


# As files


@pytest.mark.usefixtures("everybody")
def test_all_exercises_are_written_as_comma_separated_values(tmp_path: Path) -> None:
    file = tmp_path / "all.csv"
    assert main(["progress", "--csv", str(file)]) == 0
    rows = list(csv.DictReader(file.open(encoding="utf-8", newline="")))
    assert len(rows) == sum(map(len, EVERYBODY.values()))
    assert rows[-1] == {
        "learner": "Zoë", "day": "2026-11-03", "time": "17:00:00", "origin": "practice", "method": "layer by layer",
        "step": "top-cross", "case": "line", "kind": "do", "help": "4", "result": "unclear",
    }  # fmt: skip
    assert main(["progress", "--learner", "ben", "--csv", str(file)]) == 0
    assert {row["learner"] for row in csv.DictReader(file.open(encoding="utf-8", newline=""))} == {"Ben"}


def test_the_lanes_of_a_learner_show_help_at_the_end_of_each_day() -> None:
    done = [tried(0, 4), tried(0, 3), tried(2, 2, "failed"), tried(5, 3), tried(5, 2, "helped")]
    (lane,) = picture.of_learner(on(6, done), done, NAMES)
    assert lane.values == [(later(0), 2), (later(2), 3), (later(5), 2)]
    assert (lane.name, lane.due) == ("top cross, line, do the flip by the right side", on(6, done).items[0].due)
    assert lane.stands.startswith("help 2, alone on 0 days, due ")


def test_the_lanes_of_a_class_show_how_much_was_done_alone() -> None:
    ada, zoe = picture.of_class([(on(8), SOME), (progress("Zoë", [], DAY, Fsrs(), {}), [])])
    assert (ada.name, ada.most, ada.values) == ("Ada", 3, [(later(0), 1), (later(3), 1), (later(7), 1)])
    assert ada.stands == "1 of 3 alone, 1 known, 2 due today"
    assert (zoe.values, zoe.due) == ([], None)


@pytest.mark.usefixtures("everybody")
def test_an_svg_tells_all_of_it_in_words(tmp_path: Path) -> None:
    file = tmp_path / "class.svg"
    assert main(["progress", "--picture", str(file)]) == 0
    root = ElementTree.parse(file).getroot()
    space = "{http://www.w3.org/2000/svg}"
    description = root.findtext(f"{space}desc") or ""
    assert root.findtext(f"{space}title") == "How many things each learner has done alone"
    assert [line.split(":")[0] for line in description.splitlines()] == sorted(EVERYBODY, key=str.casefold)
    drawn = {"".join(text.itertext()).strip() for text in root.iter(f"{space}text")}
    assert {*EVERYBODY, "0 of 0 alone, 0 known, 0 due today"} <= drawn, "words stay words"


@pytest.mark.usefixtures("everybody")
def test_a_png_is_black_on_white_with_its_words_beside(tmp_path: Path) -> None:
    image = pytest.importorskip("PIL.Image")
    file = tmp_path / "ada.PNG"
    assert main(["progress", "--learner", "Ada", "--picture", str(file)]) == 0
    drawn = image.open(file)
    assert "top cross, line, do the flip by the right side: help 1, known, due " in drawn.text["Description"]
    red, green, blue = drawn.convert("RGB").split()
    assert red.tobytes() == green.tobytes() == blue.tobytes()
    assert red.getextrema() == (0, 255)


def test_what_draws_is_loaded_for_pictures_alone() -> None:
    loaded = "import sys, coach.cli; print(*sys.modules)"
    modules = subprocess.run([sys.executable, "-c", loaded], capture_output=True, text=True, check=True).stdout.split()
    assert "coach.records.picture" in modules
    assert "matplotlib" not in modules


@pytest.mark.usefixtures("everybody")
@pytest.mark.parametrize("option", [("--csv", "all.csv"), ("--picture", "all.png"), ("--picture", "all.svg")])
def test_a_file_that_cannot_be_written_is_told(
    option: tuple[str, str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["progress", option[0], str(tmp_path / "nowhere" / option[1])]) == 1
    assert capsys.readouterr().err.endswith(f"{option[1]} cannot be written: No such file or directory.\n")


def test_other_pictures_are_refused(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["progress", "--picture", "progress.pdf"])
    assert "a picture is a .png or a .svg" in capsys.readouterr().err


# Forgetting


@pytest.mark.usefixtures("everybody")
def test_forgetting_removes_exercises_and_choices_and_names_what_it_cannot_reach(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    save(Profile(), learner_path("Ben"))
    save(Profile(), learner_path("Ada"))
    assert main(["progress", "--forget", " BEN"]) == 0
    out = capsys.readouterr().out
    for named in (str(default_path()), str(learner_path("Ben")), "--log", "CSV", "backups"):
        assert named in out
    assert learner_path("Ada").exists()
    for file in filter(Path.is_file, tmp_path.rglob("*")):
        assert "ben" not in file.name and b"ben" not in file.read_bytes().lower()
    assert main(["progress", "--forget", "Ben"]) == 1
    told = capsys.readouterr().err
    assert told.startswith("Nothing is kept of Ben. There are records of: ")
    assert "Zoë" in told, "who typed a name otherwise is told the names"


def test_choices_are_forgotten_also_where_the_records_are_broken(capsys: pytest.CaptureFixture[str]) -> None:
    save(Profile(), learner_path("Ben"))
    default_path().parent.mkdir(parents=True)
    default_path().write_text("no records" * 100, "utf-8")
    assert main(["progress", "--forget", "Ben"]) == 1
    assert not learner_path("Ben").exists()
    told = capsys.readouterr()
    assert "the file is broken" in told.err
    assert "Ben may still be in them" in told.err
    assert str(learner_path("Ben")) in told.out


def test_forgetting_nobody_begins_no_records(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["progress", "--forget", "Ben"]) == 1
    assert not default_path().exists()


# Timed solves


def timed(*times: int, name: str = "Ada") -> None:
    with closing(Store()) as store:
        for number, time in enumerate(times):
            store.add_attempt(name, Attempt(datetime(2026, 11, 29, 9, number), time, "" if time else "DNF", "R U"))


def test_progress_tells_the_best_time_the_averages_and_how_many_there_are(capsys: pytest.CaptureFixture[str]) -> None:
    timed(1000, 1100, 1200, 1300, 1400, 1500, 0)
    assert main(["progress", "--learner", "ada"]) == 0
    said = capsys.readouterr().out
    assert "7 timed solves, the best 10.00." in said
    assert "The average of the last five: 14.00; the best average of five in a row: 12.00." in said
    assert "The mean of the last three: DNF." in said
    assert main(["progress"]) == 0
    assert "7 timed solves, the best 10.00" in capsys.readouterr().out


def test_a_few_timed_solves_have_no_average_yet(capsys: pytest.CaptureFixture[str]) -> None:
    timed(6230)
    assert main(["progress", "--learner", "ada"]) == 0
    said = capsys.readouterr().out
    assert "1 timed solve, the best 1:02.30." in said and "average" not in said and "mean" not in said


def test_timed_solves_are_written_into_a_file_beside_the_exercises(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    timed(4132, 0)
    assert main(["progress", "--csv", str(tmp_path / "all.csv")]) == 0
    beside = tmp_path / "all-times.csv"
    assert str(beside) in capsys.readouterr().out
    with beside.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert rows[0] == {
        "learner": "Ada", "day": "2026-11-29", "time": "09:00:00", "seconds": "41.32", "penalty": "",
        "result": "41.32", "scramble": "R U",
    }  # fmt: skip
    assert rows[1]["result"] == "DNF"


def test_a_learner_with_timed_solves_alone_is_forgotten_too(capsys: pytest.CaptureFixture[str]) -> None:
    timed(4132)
    assert main(["progress", "--forget", "Ada"]) == 0
    assert "timed solves" in capsys.readouterr().out
    assert main(["progress", "--learner", "Ada"]) == 1
