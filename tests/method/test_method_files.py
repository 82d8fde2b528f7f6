"""A teacher's own method file: refused when it is wrong, with words that say where and why."""

from __future__ import annotations

from pathlib import Path

import pytest

from coach.method import MethodError, load
from coach.method.loading import DEFAULT_FILE
from coach.method.report import report

DEFAULT = DEFAULT_FILE.read_text("utf-8")
CORNER = "F U R U' R' F'"
LINE = "F R U R' U' F'"
FACE = "R U R' U R U2 R'"
LIFT = "R U R'"
DOT = 'en.name = "You have a dot."'


def refusal(tmp_path: Path, text: str | bytes) -> str:
    """What the loader says to a file of this content."""
    path = tmp_path / "own.toml"
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    with pytest.raises(MethodError) as raised:
        load(path)
    message = str(raised.value)
    assert message.endswith((".", ".)", "?")), message
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
        (CORNER, "F U R U' R' F", "corner"),
        (FACE, "R U R' U R U2 R", "two-up"),
        (FACE, "R2 U", "two-up"),
    ],
)
def test_a_sequence_that_breaks_the_lower_layers(tmp_path: Path, old: str, new: str, case: str) -> None:
    message = refusal(tmp_path, changed(old, new))
    assert f"In case {case!r} of step " in message
    assert "the two lower layers are no longer done" in message
    assert "a turn that is missing" in message
    assert new in message or "F U R U' R' F" in message
    assert "top colour on top at the edges: " in message


def test_a_sequence_that_never_reaches_the_goal(tmp_path: Path) -> None:
    message = refusal(tmp_path, DEFAULT.replace(LINE, "U"))
    assert "'top-cross'" in message and "'line'" in message
    assert "never lead to the goal" in message
    assert "on top at the edges: back, front;" in message


def test_a_sequence_that_loses_the_cross(tmp_path: Path) -> None:
    message = refusal(tmp_path, DEFAULT.replace(FACE, LINE))
    assert "undo what an earlier step has done" in message
    assert "at the edges: back, left, right, front" in message


def test_too_few_runs_stated(tmp_path: Path) -> None:
    message = refusal(tmp_path, changed("runs = 3", "runs = 2"))
    assert "can take 3 runs" in message and "says runs = 2" in message and "Write runs = 3" in message
    message = refusal(tmp_path, changed("runs = 2", "runs = 1"))
    assert "In case 'dot' of step 'top-cross': it can take 2 runs" in message


def test_a_sequence_where_nothing_is_left_to_do(tmp_path: Path) -> None:
    extra = 'count.edges = 4\nsequence = "flip-by-the-right"\nen.hold = "Any side may face you."'
    message = refusal(tmp_path, changed("count.edges = 4", extra))
    assert "'cross'" in message and "the goal of the step is reached already" in message


def test_no_sequence_where_something_is_left_to_do(tmp_path: Path) -> None:
    message = refusal(tmp_path, changed('sequence = "flip-by-the-right"\n', ""))
    assert "'line'" in message and "has no sequence" in message and "not reached yet" in message


@pytest.mark.parametrize("wide", ["Rw U Rw'", "x R x'", "2Rw", "y"])
def test_turns_that_cannot_be_called(tmp_path: Path, wide: str) -> None:
    message = refusal(tmp_path, changed(LINE, wide))
    assert "In sequence 'flip-by-the-right'" in message
    assert "a wide turn or a turn of the whole cube" in message


@pytest.mark.parametrize("bad", ["F R Q", "F r U", "F R2' U", "3Rw", "F R U right"])
def test_a_sequence_that_cannot_be_read(tmp_path: Path, bad: str) -> None:
    message = refusal(tmp_path, changed(LINE, bad))
    assert "In sequence 'flip-by-the-right'" in message
    assert "cannot be read at character " in message


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        (LIFT, "R U R", ("In case 'edge-in-the-middle' of step 'bottom-cross'", "R U R (sequence 'right-lift')")),
        (LIFT, "R U", ("In case 'edge-in-the-middle' of step 'bottom-cross'", "out of its place")),
        (LIFT, "", ("Step 'bottom-cross'", "does not bring", "its D, F stickers at ")),
        ("F' U' F", "U", ("Step 'bottom-corners'", "does not bring", "its D, F, R stickers at ", "at, colour and on")),
        ("U R U' R' U' F' U F", "R U R' U'", ("In case 'edge-below' of step 'middle-edges'", "out of its place")),
    ],
)
def test_turns_that_do_not_place_a_piece(tmp_path: Path, old: str, new: str, words: tuple[str, ...]) -> None:
    message = refusal(tmp_path, changed(f'turns = "{old}"\ngroups', f'turns = "{new}"\ngroups'))
    for word in words:
        assert word in message


@pytest.mark.parametrize("case", [
    "edge-up", "edge-front", "edge-in-the-middle", "edge-at-the-bottom", "faces-right", "faces-front", "faces-up",
    "corner-below", "from-front", "from-right", "edge-below",
])  # fmt: skip
def test_a_case_left_out_where_pieces_are_placed(tmp_path: Path, case: str) -> None:
    message = refusal(tmp_path, without_case(case))
    assert "has no case for the piece" in message and "Add a case" in message


# Wrong cases


@pytest.mark.parametrize("case", ["dot", "corner", "line", "cross", "none-up", "one-up", "two-up", "all-up"])
def test_a_case_left_out(tmp_path: Path, case: str) -> None:
    message = refusal(tmp_path, without_case(case))
    step = "top-face" if "-up" in case else "top-cross"
    assert f"Step {step!r} has no case for this: top colour on top at" in message
    assert "Add a case" in message


def test_two_cases_that_overlap(tmp_path: Path) -> None:
    message = refusal(tmp_path, changed('hold = ["U3", "U5"]', "hold = []"))
    assert "In step 'top-cross' the cases 'corner' and 'line' both fit this: top colour on top at" in message
    assert "only one of them fits" in message


def test_a_hold_that_only_some_states_have(tmp_path: Path) -> None:
    message = refusal(tmp_path, changed('hold = ["L2"]', 'hold = ["L2", "R2"]'))
    assert "Step 'top-face' has no case for" in message


def test_a_step_that_needs_what_none_before_it_brings(tmp_path: Path) -> None:
    head, *steps = DEFAULT.split("[[step]]\n")
    cross, face = steps[3:5]
    for order in ((face, cross), (face,)):
        message = refusal(tmp_path, "[[step]]\n".join((head, *order)))
        assert "Step 'top-face' needs more than the steps before it bring about" in message
        assert "Check the order of the steps" in message


@pytest.mark.parametrize("order", [(0, 2), (1, 0), (0, 1, 3), (0, 3), (1, 3), (3, 2), (0, 3, 1, 2)])
def test_steps_of_the_lower_layers_that_do_not_build_on_each_other(tmp_path: Path, order: tuple[int, ...]) -> None:
    head, *steps = DEFAULT.split("[[step]]\n")
    message = refusal(tmp_path, "[[step]]\n".join((head, *(steps[number] for number in order))))
    assert "must come before the steps of the top" in message or "None may be left out" in message


@pytest.mark.parametrize("order", [(0,), (0, 1), (1,), (2,), (1, 2), (2, 3), (3,), (0, 1, 2, 3)])
def test_a_method_may_begin_and_end_with_any_step(tmp_path: Path, order: tuple[int, ...]) -> None:
    head, *steps = DEFAULT.split("[[step]]\n")
    path = tmp_path / "own.toml"
    path.write_text("[[step]]\n".join((head, *(steps[number] for number in order))), "utf-8")
    assert len(load(path).steps) == len(order)


def test_a_step_that_the_coach_does_not_know(tmp_path: Path) -> None:
    message = refusal(tmp_path, changed('id = "top-cross"', 'id = "hat"'))
    assert "'hat'" in message and "top-cross, top-face" in message


# Wrong words


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('hold = ["L2"]', 'hold = ["L9"]', ("'L9'", "no sticker place such as U1", "case 'none-up'")),
        ('hold = ["L2"]', 'hold = "L2"', ("hold", "square brackets", "'L2'", "case 'none-up'")),
        ('hold = ["L2"]', "hold = [1]", ("hold", "case 'none-up'")),
        ('hold = ["L2"]', "hold = [[1]]", ("hold", "case 'none-up'")),
        ('hold = ["L2"]', "hold = 3", ("hold", "case 'none-up'")),
        ('goal = ["U1"', 'goal = ["up"', ("'up'", "step 'top-cross'")),
        ("runs = 2", "runs = 0", ("runs", "step 'top-cross'")),
        ("runs = 2", 'runs = "two"', ("runs", "whole number", "without quotation marks", "step 'top-cross'")),
        ("runs = 2", "runs = true", ("runs", "step 'top-cross'")),
        ("runs = 2\n", "", ("runs", "missing", "step 'top-cross'")),
        ("runs = 2", "runs = 2\ncolour = 1", ("'colour'", "not known here", "step 'top-cross'")),
        ('look = "look-top-edges"', 'look = "stare"', ("'stare'", "look-top-edges", "step 'top-cross'")),
        ('look = "look-top-edges"\n', "", ("look", "missing")),
        ('id = "top-cross"\n', "", ("id", "missing", "step number 4")),
        ('id = "dot"\n', "", ("id", "missing", "case number 1", "'top-cross'")),
        ("count.edges = 0", "count.faces = 0", ("count", "case 'dot'")),
        ("count.edges = 0", 'count.edges = "0"', ("count", "case 'dot'")),
        ("count.edges = 0", "count = 0", ("count", "case 'dot'")),
        ('sequence = "flip-by-the-top', 'turns = "flip', ("'turns'", "case 'dot'")),
        ('sequence = "flip-by-the-top', 'sequnce = "flip', ("Did you mean sequence?", "case 'dot'")),
        ("\nalign = true", '\nalign = "yes"', ("align", "true or false", "'yes'", "step 'top-edges'")),
        ('kind = "look"', 'kind = "place"', ("kind", "'place'", "must be look", "'top-cross'")),
        ('hold_same = [["L0", "L2"]]', 'hold_same = ["L0", "L2"]', ("list of lists", "case 'one-pair'")),
        ("most = 8", "most = 7", ("most is 7", "8 turns", "step 'bottom-cross'")),
        ('"DF", "DR", "DB"', '"DF", "DR", "DR"', ("pieces", "once", "step 'bottom-cross'")),
        ('"DF", "DR", "DB"', '"DF", "DR", "UB"', ("pieces", "'UB'", "step 'bottom-cross'")),
        ('slot = "DFR"', 'slot = "DFL"', ("slot is 'DFL'", "DFR", "step 'bottom-corners'")),
        ('at = "UFR"', 'at = "DFR"', ("at is 'DFR'", "UFR", "case 'faces-right'")),
        ('name = "layer by layer"', 'nam = "x"', ("'nam'", "Did you mean name?", "the file")),
        ('sequence = "flip-by-the-top', 'en.hold = 3\nsequence = "flip-by-the-top', ("TOML",)),
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
        (DOT, "en.name = 3", "en.name must be a sentence in quotation marks; it is 3"),
        (DOT, 'en.name = " "', "en.name must be a sentence"),
        (DOT + "\n", "", "en.name is missing"),
        (DOT, f'{DOT}\nen.seen = "a dot"', "en.seen is not known here"),
        (DOT, f'{DOT}\nen.nam = "a dot"', "Did you mean en.name?"),
        ('en.hold = "Any side may face you."\n', "", "en.hold is missing"),
        ('en.hold = "Any side', 'en.hold = "{up}{colour} side', "{up_sticker}"),
        ('en.hold = "Any side', 'en.hold = "{up } side', "only these can stand: {up}, {down}"),
        ('en.hold = "Any side', 'en.hold = "{up!r} side', "en.hold"),
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
    assert "cannot be read as TOML" in message and "own.toml" in message


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


# Where a method ends


def test_a_method_says_whether_it_solves_the_cube(tmp_path: Path) -> None:
    head, *steps = DEFAULT.split("[[step]]\n")
    path = tmp_path / "own.toml"
    for end in range(1, len(steps) + 1):
        path.write_text("[[step]]\n".join((head, *steps[:end])), "utf-8")
        method = load(path)
        assert method.solves == (end == len(steps))
        last = report(method).splitlines()[-1]
        name = method.steps[-1].id.replace("-", " ")
        told = "the cube solved." if method.solves else f"the {name}: the cube is not solved by it."
        assert last == f"This method ends with {told}"


def test_a_last_step_that_leaves_the_top_turned_does_not_solve_the_cube(tmp_path: Path) -> None:
    path = tmp_path / "own.toml"
    path.write_text(changed("\nalign = true\n", "\n"), "utf-8")
    assert not load(path).solves


def test_a_goal_that_asks_too_little_to_be_turned_into_place(tmp_path: Path) -> None:
    text = changed('goal_same = [["F0", "F2"]', 'align = true\ngoal_same = [["F0", "F2"]')
    message = refusal(tmp_path, text)
    assert "Step 'top-corners' has align = true" in message and "no turn of the top solves" in message
    assert "in the colours of front: " in message
