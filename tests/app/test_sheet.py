"""The page to take away: parsed by the standard library, and held against WCAG 2.2 (W3C) where that can be computed.

The numbers of success criteria are those of WCAG 2.2: 1.3.1, 1.3.2, 1.4.1, 1.4.6, 1.4.10,
1.4.12, 2.4.2, 2.4.6, 3.1.1.
"""

from __future__ import annotations

import re
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest

from coach.app.sheet import STYLE, ForWhom, sheet
from coach.cli import main
from coach.cube import write
from coach.language.phrases import STYLES
from coach.method import cases_of, default_method
from coach.method.loading import DEFAULT_FILE
from coach.records.profile import Profile, learner_path, save
from tests.loaded import load

METHOD, PHRASES = default_method(), load().sentences
COLOURS = {"F": "green", "B": "blue", "R": "orange", "L": "red", "U": "yellow", "D": "white"}
MARKS = {"F": "fur", "B": "glass", "R": "cloth", "L": "cork", "U": "dots", "D": "smooth"}
YELLOW = ForWhom(COLOURS)
PAGE = sheet(METHOD, PHRASES, YELLOW)


class Page(HTMLParser):
    """The elements of a page with their text, by an HTML parser; unclosed and wrongly closed ones are noted."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.open: list[tuple[str, int]] = []
        self.found: list[tuple[str, dict[str, str | None], list[str]]] = []
        self.faults: list[str] = []
        self.declared = ""
        self.feed(text)
        self.close()
        self.faults += [f"{name} is left open" for name, _ in self.open]

    def handle_decl(self, decl: str) -> None:
        self.declared = decl

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs), []))
        self.open.append((tag, len(self.found) - 1))

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs), []))

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop()[0] != tag:
            self.faults.append(f"{tag} is closed where it is not open")

    def handle_data(self, data: str) -> None:
        for _, number in self.open:
            self.found[number][2].append(data)

    def texts(self, *tags: str) -> list[str]:
        return [" ".join("".join(text).split()) for tag, _, text in self.found if tag in tags]


def visible(page: str) -> str:
    """What is there to be read, without the head."""
    return " ".join(Page(page).texts("main"))


ALL = {
    f"{style} {'touch' if touch else 'sight'} {hand}": sheet(
        default_method(hand), PHRASES, ForWhom(MARKS if touch else COLOURS, style, touch=touch),
    )
    for style in STYLES for touch in (False, True) for hand in ("right", "left")
}  # fmt: skip


@pytest.mark.parametrize("name", ALL)
def test_it_is_whole_html_and_well_formed_xml(name: str) -> None:
    page = Page(ALL[name])
    assert page.declared == "DOCTYPE html" and page.faults == []
    assert ElementTree.fromstring(ALL[name].partition("\n")[2]).tag == "html"
    assert not re.search(r"\{\w+\}", visible(ALL[name])), "a gap is left open"
    assert "  " not in visible(ALL[name])


@pytest.mark.parametrize("name", ALL)
def test_headings_go_down_one_level_at_a_time_and_none_is_empty(name: str) -> None:
    """1.3.1, 2.4.6, and for the title 2.4.2."""
    page = Page(ALL[name])
    levels = [int(tag[1]) for tag, _, _ in page.found if re.fullmatch(r"h\d", tag)]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(below <= above + 1 for above, below in pairwise(levels))
    assert all(page.texts("h1", "h2", "h3"))
    assert page.texts("title") == page.texts("h1")


def test_the_language_is_declared_and_everything_stands_in_one_main_part() -> None:
    """3.1.1."""
    page = Page(PAGE)
    assert [attrs for tag, attrs, _ in page.found if tag == "html"] == [{"lang": "en"}]
    assert [tag for tag, _, _ in page.found].count("main") == 1
    assert {"charset": "utf-8"} in [attrs for tag, attrs, _ in page.found if tag == "meta"]


def test_lists_hold_items_and_items_are_in_lists() -> None:
    root = ElementTree.fromstring(PAGE.partition("\n")[2])
    lists = [node for node in root.iter() if node.tag in ("ul", "ol")]
    assert lists and all({child.tag for child in node} == {"li"} for node in lists)
    assert sum(len(node) for node in lists) == len(list(root.iter("li")))


def test_nothing_needs_a_picture_a_short_form_a_script_or_the_network() -> None:
    page = Page(PAGE)
    assert {tag for tag, _, _ in page.found} == {
        "html", "head", "meta", "title", "style", "body", "main", "h1", "h2", "h3", "p", "ul", "ol", "li",
    }  # fmt: skip
    assert not re.search(r"https?:|url\(|@import|src=|href=", PAGE)


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_contrast_is_the_highest_there_is_and_nothing_is_told_by_colour() -> None:
    """1.4.6 asks for 7 to 1; 1.4.1: there is one colour of text."""
    text, ground = (re.search(rf"(?<![-\w]){name}: (#\w{{6}})", STYLE) for name in ("color", "background-color"))
    assert text and ground
    light, dark = sorted((luminance(text[1]), luminance(ground[1])), reverse=True)
    assert (light + 0.05) / (dark + 0.05) == pytest.approx(21)
    assert set(re.findall(r"#\w{6}", STYLE)) == {text[1], ground[1]}
    assert not re.search(r"style=|class=|<font|<span", PAGE)


def test_print_is_large_and_fits_any_paper() -> None:
    """18 points is what WCAG calls large; lines are one and a half apart (1.4.12); no width is set that would not fit
    (1.4.10), nor a size of the paper."""
    assert "font-size: 18pt" in STYLE and "line-height: 1.5" in STYLE
    sizes = re.findall(r"font-size: ([\d.]+)rem", STYLE)
    assert sizes and all(float(size) >= 1 for size in sizes)
    assert "@page" in STYLE and "size:" not in STYLE.partition("@page")[2].partition("}")[0]
    assert not re.search(r"width: [\d.]+(px|pt|mm)", STYLE)


# What is on it


@pytest.mark.parametrize("style", STYLES)
def test_every_sequence_stands_there_with_its_turns_in_order(style: str) -> None:
    root = ElementTree.fromstring(sheet(METHOD, PHRASES, ForWhom(COLOURS, style)).partition("\n")[2])
    blocks: dict[str, list[str]] = {}
    for node in root.iter():
        if node.tag in ("h2", "h3"):
            calls = blocks.setdefault(str(node.text), [])
            calls.clear()
        elif node.tag == "ol":
            assert int(node.get("start", "1")) == len(calls) + 1
            calls += [str(item.text).lower() for item in node]
    for sequence in METHOD.sequences:
        name = sequence.say("en", "name")
        assert blocks[name[:1].upper() + name[1:]] == [PHRASES.call(turn, style).lower() for turn in sequence.turns]


def test_every_step_and_case_stands_there() -> None:
    page = Page(PAGE)
    headings = page.texts("h2")
    assert headings == ["How the turns are called", *(PHRASES.say(f"steps.{step.id}") for step in METHOD.steps)]
    items = page.texts("li")
    for step in METHOD.steps:
        for case in cases_of(step):
            name = case.say("en", "name").format(**PHRASES.gaps("yellow", "white"), piece="#").partition("#")[0]
            assert any(item.startswith(name) for item in items), case.id


def test_letters_are_explained_each_in_the_style_in_writing_and_in_plain_words() -> None:
    items = Page(sheet(METHOD, PHRASES, ForWhom(COLOURS, "letters"))).texts("li")
    for turn in {turn for sequence in METHOD.sequences for turn in sequence.turns}:
        call, plain = PHRASES.call(turn, "letters"), PHRASES.call(turn)
        assert f"{call}, written {write([turn])}: {plain}." in items


def test_the_learners_words_are_used_throughout_and_cannot_break_the_page() -> None:
    words = MARKS | {"U": "bumps & <b>", "D": "ridges"}
    page = sheet(METHOD, PHRASES, ForWhom(words, learner="Ada <i>", touch=True))
    assert Page(page).faults == []
    text = visible(page)
    assert "bumps & <b>" in text and "ridges" in text and "fur" in text and "For Ada <i>." in text
    assert not re.search(r"\b(yellow|white|green|blue|orange|red|colours?|look|see)\b", text)


def test_the_page_for_the_left_hand_turns_the_left_side_only() -> None:
    text = visible(sheet(default_method("left"), PHRASES, YELLOW))
    assert "left hand" in text
    assert "The left layer goes up" in text and "The right layer" not in text


def test_who_goes_by_touch_first_finds_a_list_of_which_mark_is_where() -> None:
    """A list that says what it is: 1.3.1 and 2.4.6; before anything that needs it: 1.3.2."""
    page = Page(sheet(METHOD, PHRASES, ForWhom(MARKS, touch=True)))
    assert page.texts("h2")[:2] == ["Which mark is where", "How the turns are called"]
    assert page.texts("li")[:6] == [
        "Top: dots.", "Bottom: smooth.", "Front: fur.", "Back: glass.", "Right side: cloth.", "Left side: cork.",
    ]  # fmt: skip
    assert [tag for tag, _, _ in page.found if tag in ("h1", "h2", "ul", "ol")][:3] == ["h1", "h2", "ul"]
    assert "Which mark is where" not in Page(PAGE).texts("h2")


@pytest.mark.parametrize("step", [step.id for step in METHOD.steps])
@pytest.mark.parametrize("style", STYLES)
def test_the_page_may_begin_with_any_step(step: str, style: str) -> None:
    page = Page(sheet(METHOD, PHRASES, ForWhom(COLOURS, style), step))
    number = [each.id for each in METHOD.steps].index(step)
    left = METHOD.steps[number:]
    assert page.faults == []
    assert page.texts("h2")[1:] == [PHRASES.say(f"steps.{each.id}") for each in left]
    needed = {turn for each in left for case in cases_of(each) for turn in case.sequence}
    explained = [item for item in page.texts("li") if item.endswith(f": {PHRASES.call(next(iter(needed)))}.")]
    assert len(explained) == (style != "plain"), "calls that the page needs are explained, once"
    assert any("It begins with the" in text for text in page.texts("p")) == bool(number)


# The command


def test_the_page_is_written_in_the_words_and_the_style_of_the_learner(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    words = dict(zip("FBRLUD", ("fur", "glass", "cloth", "cork", "bumps", "ridges"), strict=True))
    save(Profile(style="letters").named(words), learner_path("Ada"))
    file = tmp_path / "page.html"
    assert main(["method", "--sheet", str(file), "--learner", "Ada", "--hand", "left"]) == 0
    assert str(file) in capsys.readouterr().out
    text = visible(file.read_text("utf-8"))
    assert "Hold the cube with bumps on top and fur facing you." in text
    assert "For Ada." in text and "L prime" in text
    assert main(["method", "--sheet", str(file), "--learner", "Ada", "--style", "clock"]) == 0
    assert "Right anticlockwise" in visible(file.read_text("utf-8"))


def test_the_page_for_some_steps_is_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "page.html"
    assert main(["method", "--sheet", str(file), "--from", "top-cross"]) == 0
    text = visible(file.read_text("utf-8"))
    assert "It begins with the top cross." in text and "Middle edges" not in text and "Top edges" in text


def test_a_step_that_the_method_has_not_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    few, file = tmp_path / "few.toml", tmp_path / "page.html"
    few.write_text(DEFAULT_FILE.read_text("utf-8").partition('[[step]]\nid = "top-corners"')[0], "utf-8")
    assert main(["method", str(few), "--sheet", str(file), "--from", "top-edges"]) == 1
    assert "This method has no step top-edges." in capsys.readouterr().err
    assert not file.exists()


@pytest.mark.parametrize("where", ["/nowhere/page.html", "."])
def test_a_page_that_cannot_be_written(where: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["method", "--sheet", where]) == 1
    assert "cannot be written to" in capsys.readouterr().err


def test_a_learner_whose_name_cannot_be(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    assert main(["method", "--sheet", str(tmp_path / "page.html"), "--learner", " "]) == 1
    assert "A learner's name" in capsys.readouterr().err


def test_the_method_of_the_left_hand_is_shown_and_proven(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["method", "--hand", "left"]) == 0
    shown = capsys.readouterr().out
    assert "mirrored for the left hand" in shown and "Proven" in shown
    assert "all 190080 ways they can lie together end with them home" in shown
