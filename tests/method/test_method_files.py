"""A teacher's own method file: refused when it is wrong, with words that say where and why."""

from __future__ import annotations

from pathlib import Path

import pytest

from coach.method import MethodError, load
from coach.method.loading import DEFAULT_FILE

DEFAULT = DEFAULT_FILE.read_text("utf-8")
CORNER = "F U R U' R' F'"
LINE = "F R U R' U' F'"
FACE = "R U R' U R U2 R'"


def refusal(tmp_path: Path, text: str | bytes) -> str:
    """What the loader says to a file of this content."""
    path = tmp_path / "own.toml"
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    with pytest.raises(MethodError) as raised:
        load(path)
    message = str(raised.value)
    assert message.endswith((".", ".)")), message
    assert "Traceback" not in message
    return message


def changed(old: str, new: str, count: int = 1) -> str:
    """The default method with one thing changed."""
    assert old in DEFAULT
    return DEFAULT.replace(old, new, count)


def without_case(case: str) -> str:
    """The default method with a case left out."""
    before, found, rest = DEFAULT.partition(f'[[step.case]]\nid = "{case}"')
    assert found
    return before + "".join(rest.partition("[[")[1:])


def test_the_default_file_as_it_is_passes(tmp_path: Path) -> None:
    path = tmp_path / "own.toml"
    path.write_text(DEFAULT, "utf-8")
    assert load(path).name == "layer by layer"


def test_a_file_that_goes_no_further_than_the_top_cross_passes(tmp_path: Path) -> None:
    path = tmp_path / "own.toml"
    path.write_text(DEFAULT[: DEFAULT.index('[[step]]\nid = "top-face"')], "utf-8")
    steps = [step.id for step in load(path).steps]
    assert steps == ["bottom-cross", "bottom-corners", "middle-edges", "top-cross"]


# Wrong sequences


@pytest.mark.parametrize(
    ("old", "new", "case"),
    [
        (LINE, "F R U R' U'", "line"),
        (LINE, "F R U", "line"),
        (CORNER, "F U R U' R' F", "dot"),
        (FACE, "R U R' U R U2 R", "none-up"),
        (FACE, "R2 U", "none-up"),
    ],
)
def test_a_sequence_that_breaks_the_lower_layers(tmp_path: Path, old: str, new: str, case: str) -> None:
    message = refusal(tmp_path, changed(old, new))
    assert f"case {case!r}" in message
    assert "breaks the two lower layers" in message
    assert "the state with top edges up: " in message


def test_a_sequence_that_never_reaches_the_goal(tmp_path: Path) -> None:
    message = refusal(tmp_path, DEFAULT.replace(LINE, "U"))
    assert "'top-cross'" in message and "'line'" in message
    assert "never leads to the goal" in message


def test_a_sequence_that_loses_the_cross(tmp_path: Path) -> None:
    message = refusal(tmp_path, DEFAULT.replace(FACE, LINE))
    assert "loses what the step needs" in message
    assert "top edges up: back, left, right, front" in message


def test_too_few_runs_stated(tmp_path: Path) -> None:
    message = refusal(tmp_path, changed("runs = 3", "runs = 2"))
    assert "takes 3 runs" in message and "the file says 2" in message
    message = refusal(tmp_path, changed("runs = 2", "runs = 1"))
    assert "case 'dot' takes 2 runs" in message


def test_a_sequence_where_nothing_is_left_to_do(tmp_path: Path) -> None:
    extra = f'count.edges = 4\nsequence = "{LINE}"\nen.hold = "Any side may face you."'
    message = refusal(tmp_path, changed("count.edges = 4", extra))
    assert "'cross'" in message and "though the goal is reached" in message


def test_no_sequence_where_something_is_left_to_do(tmp_path: Path) -> None:
    message = refusal(tmp_path, changed(f'sequence = "{LINE}"\n', ""))
    assert "'line'" in message and "has no sequence" in message


@pytest.mark.parametrize("wide", ["Rw U Rw'", "x R x'", "2Rw", "y"])
def test_turns_that_cannot_be_called(tmp_path: Path, wide: str) -> None:
    message = refusal(tmp_path, changed(LINE, wide))
    assert "case 'line' of step 'top-cross'" in message
    assert "no wide turns or rotations" in message


@pytest.mark.parametrize("bad", ["F R Q", "F r U", "F R2' U", "3Rw", "F R U right"])
def test_a_sequence_that_cannot_be_read(tmp_path: Path, bad: str) -> None:
    message = refusal(tmp_path, changed(LINE, bad))
    assert "case 'line' of step 'top-cross'" in message
    assert "cannot be read at character " in message


# Wrong cases


@pytest.mark.parametrize("case", ["dot", "corner", "line", "cross", "none-up", "one-up", "two-up", "all-up"])
def test_a_case_left_out(tmp_path: Path, case: str) -> None:
    message = refusal(tmp_path, without_case(case))
    step = "top-face" if "-up" in case else "top-cross"
    assert f"Step {step!r} has no case for the state with" in message


def test_two_cases_that_overlap(tmp_path: Path) -> None:
    message = refusal(tmp_path, changed('hold = ["U3", "U5"]', "hold = []"))
    assert "the cases 'corner' and 'line' overlap" in message
    assert "both fit the state with top edges up: " in message


def test_a_hold_that_only_some_states_have(tmp_path: Path) -> None:
    message = refusal(tmp_path, changed('hold = ["L2"]', 'hold = ["L2", "R2"]'))
    assert "Step 'top-face' has no case for" in message


def test_a_step_that_needs_what_none_before_it_brings(tmp_path: Path) -> None:
    before, face = DEFAULT.split('[[step]]\nid = "top-face"')
    head, _, cross = before.partition("[[step]]")
    message = refusal(tmp_path, f'{head}[[step]]\nid = "top-face"{face}\n[[step]]{cross}')
    assert "Step 'top-face' needs more than is done before it" in message
    message = refusal(tmp_path, f'{head}[[step]]\nid = "top-face"{face}')
    assert "Step 'top-face' needs more than is done before it" in message


def test_a_step_that_the_coach_does_not_know(tmp_path: Path) -> None:
    message = refusal(tmp_path, changed('id = "top-cross"', 'id = "hat"'))
    assert "'hat'" in message and "top-cross, top-face" in message


# Wrong words


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('hold = ["L2"]', 'hold = ["L9"]', ("'L9'", "no sticker place such as U1", "case 'none-up'")),
        ('hold = ["L2"]', 'hold = "L2"', ("hold", "'L2'", "case 'none-up'")),
        ('hold = ["L2"]', "hold = [1]", ("hold", "case 'none-up'")),
        ('hold = ["L2"]', "hold = [[1]]", ("hold", "case 'none-up'")),
        ('hold = ["L2"]', "hold = 3", ("hold", "case 'none-up'")),
        ('goal = ["U1"', 'goal = ["up"', ("'up'", "step 'top-cross'")),
        ("runs = 2", "runs = 0", ("runs", "step 'top-cross'")),
        ("runs = 2", 'runs = "two"', ("runs", "step 'top-cross'")),
        ("runs = 2", "runs = true", ("runs", "step 'top-cross'")),
        ("runs = 2\n", "", ("runs", "step 'top-cross'")),
        ("runs = 2", "runs = 2\ncolour = 1", ("'colour'", "means nothing here", "step 'top-cross'")),
        ('look = "look-top-edges"', 'look = "stare"', ("'stare'", "look-top-edges", "step 'top-cross'")),
        ('look = "look-top-edges"\n', "", ("look", "missing")),
        ('id = "top-cross"\n', "", ("id", "missing")),
        ('id = "dot"\n', "", ("id", "missing", "'top-cross'")),
        ("count.edges = 0", "count.faces = 0", ("count", "case 'dot'")),
        ("count.edges = 0", 'count.edges = "0"', ("count", "case 'dot'")),
        ("count.edges = 0", "count = 0", ("count", "case 'dot'")),
        ('sequence = "F U R', 'turns = "F U R', ("'turns'", "case 'dot'")),
        ('sequence = "F U R', 'en.hold = 3\nsequence = "F U R', ("TOML",)),
        ("[[step.case]]", "[step.case]", ("TOML",)),
    ],
)
def test_keys_and_values_that_mean_nothing(
    tmp_path: Path, old: str, new: str, words: tuple[str, ...]
) -> None:
    message = refusal(tmp_path, changed(old, new))
    for word in words:
        assert word in message


@pytest.mark.parametrize(
    "text", ["", "name = 'empty'", "step = 3", "step = [1, 2]", "[step]\nid = 'x'", "[[stepp]]\nid = 'x'"]
)
def test_no_steps(tmp_path: Path, text: str) -> None:
    assert "[[step]]" in refusal(tmp_path, text)


@pytest.mark.parametrize(
    ("old", "new", "word"),
    [
        ('en.name = "A dot."', "en.name = 3", "en.name"),
        ('en.name = "A dot."', 'en.name = " "', "en.name"),
        ('en.name = "A dot."\n', "", "en.name"),
        ('en.hold = "Any side may face you."\n', "", "en.hold"),
        ('en.hold = "Any side', 'en.hold = "{any} side', "en.hold"),
        ('en.hold = "Any side', 'en.hold = "{any side', "en.hold"),
        ('en.hold = "Any side', 'en.hold = "{} side', "en.hold"),
    ],
)
def test_words_that_could_not_be_said_in_a_lesson(tmp_path: Path, old: str, new: str, word: str) -> None:
    message = refusal(tmp_path, changed(old, new))
    assert "case 'dot' of step 'top-cross'" in message and word in message


def test_two_steps_or_cases_of_one_name(tmp_path: Path) -> None:
    assert "'dot'" in refusal(tmp_path, changed('id = "line"', 'id = "dot"'))
    assert "'top-cross'" in refusal(tmp_path, changed('id = "top-face"', 'id = "top-cross"'))


# Files that are none


@pytest.mark.parametrize("text", ["[[step", "id = ", "name = 'a\nb'", "\x00"])
def test_a_file_that_is_not_toml(tmp_path: Path, text: str) -> None:
    message = refusal(tmp_path, text)
    assert "is not TOML" in message and "own.toml" in message


def test_a_file_that_is_not_text(tmp_path: Path) -> None:
    message = refusal(tmp_path, b"\xff\xfe\x00name")
    assert "own.toml" in message and "UTF-8" in message


def test_a_missing_file(tmp_path: Path) -> None:
    with pytest.raises(MethodError, match=r"none\.toml cannot be opened: No such file"):
        load(tmp_path / "none.toml")


def test_a_directory(tmp_path: Path) -> None:
    with pytest.raises(MethodError, match="cannot be opened: Is a directory"):
        load(tmp_path)


def test_a_path_that_no_file_can_have() -> None:
    with pytest.raises(MethodError, match="cannot be opened"):
        load(Path("a\x00b"))


def test_a_file_without_end() -> None:
    endless = Path("/dev/zero")
    if not endless.exists():
        pytest.skip("no /dev/zero on this system")
    with pytest.raises(MethodError, match="too long"):
        load(endless)
