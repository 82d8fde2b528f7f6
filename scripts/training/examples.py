"""Answers with what a reader may say of them: from the generator, and from what people of all kinds said.

A target is a set of classes for each head. A generated answer allows one; what somebody said about a known cube allows
what is true and, where they may have left it out, that nothing is said.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from random import Random
from typing import Any

from coach.cube import FACES
from coach.language.en.answers import claims, looks, numbers, pieces, placements, rows, steps, talk, turns
from coach.language.en.answers.sample import ROLES, Sample
from coach.language.en.reader import contexts
from coach.language.en.reader.heads import (
    CELLS,
    COMMANDS,
    HEAD,
    HIDDEN,
    MOST_STICKERS,
    NOTHING,
    SHOWN,
    STEPS,
    UNSAID,
    UNSEEN,
)  # fmt: skip
from coach.language.en.reader.roles import in_roles, role
from coach.language.meaning import Scene

ROOT = Path(__file__).resolve().parents[2]
LINES = ROOT / "models/answers-en/lines"
WRITINGS = (ROOT / "models/answers-en/writings/train.jsonl",)
EARLIER = ROOT / "models/answers-en/earlier"
_SOME_CHANCE = 0.15
_SQUARES = {"look-top-edges": ("U1", "U3", "U5", "U7"), "look-top-corners": ("U0", "U2", "U6", "U8")}


@dataclass(frozen=True)
class Example:
    """An answer: what was asked, its words, the classes allowed, and for each word the turn that begins with it."""

    context: str
    words: tuple[str, ...]
    allowed: tuple[int, ...]
    turns: tuple[str, ...]
    speaker: str = ""
    mirrors: bool = False


# --- generated answers


def generated(random: Random) -> Example:
    """One answer of the generator, of every kind in its share."""
    kind = random.choices(_KINDS, _SHARES)[0]
    sample, context = kind(random)
    return of_sample(sample, context)


def of_sample(sample: Sample, context: str) -> Example:
    """What a generated answer allows: just what it says."""
    words = tuple(sample.text.split())
    said: dict[str, str] = {cell: SHOWN if up else HIDDEN for cell, up in sample.cells.items() if cell in HEAD}
    said |= {
        name: str(value)
        for name, value in (
            ("shape", sample.shape), ("edges", sample.edges), ("corners", sample.corners),
            ("place", _place(sample.place)), ("layer", sample.layer), ("step", sample.step),
            ("number", sample.number), ("case", sample.case),
        )
        if value is not None
    }  # fmt: skip
    said |= {f"shows-{_FACE_OF_ROLE[colour]}": face for colour, face in sample.shows.items()}
    said |= {f"at-{at}": face for at, face in enumerate(_row(words, sample.stickers))}
    tells = bool(said) or bool(sample.turns)
    said["command"] = sample.command or (UNSAID if tells else NOTHING)
    allowed = [HEAD[name].at(said.get(name, UNSAID)) for name in HEAD]
    turned = [UNSAID] * len(words)
    for word, turn in sample.turn_words:
        turned[word] = turn
    return Example(context, words, tuple(allowed), tuple(turned))


def _row(words: Sequence[str], stickers: Iterable[tuple[int, int]]) -> list[str]:
    """For each sticker the face whose colour it has, or that it cannot be told."""
    faces: list[str] = []
    for word, count in stickers:
        faces += [UNSEEN if word < 0 else _face_of(words[word])] * count
    return faces[:MOST_STICKERS]


def _face_of(word: str) -> str:
    """The face whose colour a word names, in whatever form."""
    bare = word.strip(_MARKS).casefold()
    return next(face for role, face in _FACE_OF_ROLE.items() if bare.startswith(role))


_MARKS = ".,!?;:…\"'()“”"
_FACE_OF_ROLE = {colour: face for face, colour in ROLES.items()}


def _place(place: str | None) -> str | None:
    """A position under the name that the reader has for it."""
    if place is None:
        return None
    return next(name for name in HEAD["place"].classes if sorted(name) == sorted(place))


def _looks(random: Random) -> tuple[Sample, str]:
    sample = looks.looks(random)
    return sample, contexts.context("hold" if random.random() < 0.03 else sample.moment)


def _pieces(random: Random) -> tuple[Sample, str]:
    sample = pieces.pieces(random)
    return sample, contexts.context("piece", sample.piece)


def _rows(random: Random) -> tuple[Sample, str]:
    sample = rows.rows(random)
    return sample, contexts.context(sample.moment)


def _recited(random: Random) -> tuple[Sample, str]:
    return turns.turns(random), contexts.context("recite")


def _numbers(random: Random) -> tuple[Sample, str]:
    return numbers.numbers(random), contexts.context("hands")


def _claims(random: Random) -> tuple[Sample, str]:
    return claims.claims(random), contexts.context("claim")


def _steps(random: Random) -> tuple[Sample, str]:
    return steps.steps(random), contexts.context("return" if random.random() < 0.15 else "step")


def _talk(random: Random) -> tuple[Sample, str]:
    moment = random.choice(talk.MOMENTS)
    sample = talk.talk(random, moment)
    if moment == "continue" and random.random() < 0.4:
        return sample, contexts.context("return")
    if moment in ("do", "continue") and random.random() < 0.1:
        return sample, contexts.context(random.choice(("recite", "hands", "hold")))
    piece = placements.one_of_placements(random).colours if moment == "piece" else ()
    return sample, contexts.context(moment, piece)


def _typed_blindly(random: Random) -> tuple[Sample, str]:
    """Letters that are no words: somebody leans on the keys."""
    words = ["".join(random.choices(_KEYS, k=random.randint(2, 8))) for _ in range(random.choice((1, 1, 1, 2, 3)))]
    moment = random.choice(talk.MOMENTS)
    piece = placements.one_of_placements(random).colours if moment == "piece" else ()
    return Sample(moment, " ".join(words), complete=False), contexts.context(moment, piece)


_KEYS = "asdfghjklqwertzuiopyxcvbnm"
_KINDS = (_looks, _pieces, _rows, _recited, _numbers, _claims, _steps, _talk, _typed_blindly)
_SHARES = (38, 14, 9, 4, 3, 9, 8, 15, 0.4)


# --- what people said


def people(files: Iterable[Path]) -> Iterator[Example]:
    """The lines of people, from files of JSON objects (models/answers-en, and those of the same form)."""
    for path in files:
        for number, line in enumerate(path.read_text("utf-8").splitlines()):
            yield from of_line(json.loads(line), Random(f"{path.name} {number}"), path.stem)


def spoken(writings: Path, folder: Path = LINES) -> Iterator[Example]:
    """What a recogniser wrote down when lines of people were spoken: every writing that had some chance."""
    lines = {path.stem: path.read_text("utf-8").splitlines() for path in folder.glob("*.jsonl")}
    for entry in map(json.loads, writings.read_text("utf-8").splitlines()):
        line = json.loads(lines[entry["speaker"]][entry["line"]])
        for text, share in entry["writings"]:
            if share > _SOME_CHANCE:
                yield from of_line(line | {"said": text}, Random(text))


def of_phrase(line: Mapping[str, Any]) -> Example:
    """A phrase of the recogniser's, which means just what stands beside it."""
    meaning, moment = line["meaning"], line["asked"]
    if moment == "other":
        moment = line["about"] if line["about"] in ("step", "return") else "continue"
    said = {cell: SHOWN if shown else HIDDEN for cell, shown in meaning.get("look", {}).items()}
    said |= {name: str(meaning[name]) for name in ("shape", "edges", "corners", "step") if name in meaning}
    if "place" in meaning:
        said["place"] = str(_place(meaning["place"]))
    said |= {f"shows-{_face_of(colour)}": face for colour, face in meaning.get("shows", {}).items()}
    said |= {f"at-{at}": _face_of(colour) for at, colour in enumerate(meaning.get("colours", ()))}
    said["command"] = meaning.get("command", UNSAID)
    words = line["said"].split()
    context = contexts.context(moment, line.get("piece", ()))
    return _example(context, words, {name: {value} for name, value in said.items()}, "phrases")


def of_line(line: Mapping[str, Any], random: Random, source: str = "") -> Iterator[Example]:
    """What a line of somebody allows; nothing where it cannot be told."""
    if "meaning" in line:
        yield of_phrase(line)
        return
    speaker = str(line.get("speaker", f"{source}-{line.get('group', '')}"))
    scene = Scene(colours=dict(zip(FACES, line["colours"], strict=True))) if "colours" in line else Scene()
    words = in_roles(line["said"], scene)
    asked = line.get("asked", "talk")
    if "moment" in line or "accept" in line:
        yield from _beside(line, words, speaker, random)
    elif asked in _SQUARES:
        yield _example(contexts.context(asked), words, _of_look(line, asked), speaker, mirrors=True)
    elif asked == "piece" and "piece" in line:
        piece = tuple(role(word, scene) for word in line["piece"])
        shows = {role(word, scene): face for word, face in line["true"].items()}
        yield _example(contexts.context("piece", piece), words, _of_piece(line, shows), speaker, mirrors=True)
    elif asked == "row" and isinstance(line["true"], list):
        row = [_FACE_OF_ROLE[role(word, scene)] for word in line["true"]]
        beside = set() if line.get("complete", True) else {UNSAID, UNSEEN}
        yield _example("row", words, {f"at-{at}": {face} | beside for at, face in enumerate(row)}, speaker)


def _example(
    context: str, words: Sequence[str], may: Mapping[str, set[str]], speaker: str, mirrors: bool = False
) -> Example:
    """An example in which a head that `may` leaves out says nothing."""
    allowed = [HEAD[name].at(each) for name in HEAD for each in may.get(name, {UNSAID})]
    return Example(context, tuple(words), tuple(sorted(allowed)), (UNSAID,) * len(words), speaker, mirrors)


def _of_look(line: Mapping[str, Any], asked: str) -> dict[str, set[str]]:
    true, complete = line["true"], line.get("complete", True)
    may = {cell: _may_tell(true.get(cell)) for cell in CELLS}
    if complete:
        may |= {cell: {SHOWN if true[cell] else HIDDEN} for cell in _SQUARES[asked]}
    counts = {}
    for name, square in zip(("edges", "corners"), _SQUARES.values(), strict=True):
        known = all(cell in true for cell in square)
        counts[name] = sum(true[cell] for cell in square) if known else -1
        may[name] = {UNSAID, str(counts[name])} if known else set(HEAD[name].classes)
    may["shape"] = {UNSAID, _shape(true, counts["edges"])} if counts["edges"] >= 0 else set(HEAD["shape"].classes)
    whole = counts["edges"] == counts["corners"] == 4
    return may | {"command": {UNSAID, "correct", *(("done-top",) if whole else ())}}


def _may_tell(shown: bool | None) -> set[str]:
    return {UNSAID, SHOWN, HIDDEN} if shown is None else {UNSAID, SHOWN if shown else HIDDEN}


def _shape(true: Mapping[str, bool], edges: int) -> str:
    return {0: "dot", 4: "cross"}.get(edges, "line" if true["U1"] == true["U7"] else "corner")


def _of_piece(line: Mapping[str, Any], shows: Mapping[str, str]) -> dict[str, set[str]]:
    place = _place("".join(shows.values()))
    layer = next((face for face in shows.values() if face in "UD"), "M")
    home = all(_FACE_OF_ROLE[colour] == face for colour, face in shows.items())
    at_home = sorted(map(_FACE_OF_ROLE.__getitem__, shows)) == sorted(shows.values())
    may: dict[str, set[str]] = {f"shows-{_FACE_OF_ROLE[colour]}": {UNSAID, face} for colour, face in shows.items()}
    may |= {"place": {str(place)}, "layer": {UNSAID, layer}}
    if not line.get("complete", True) or at_home:
        may["place"] = {UNSAID, str(place)}
    if at_home:
        may["case"] = {UNSAID, "home", "home-right" if home else "home-wrong"}
    return may


def _beside(line: Mapping[str, Any], words: Sequence[str], speaker: str, random: Random) -> Iterator[Example]:
    """What is said beside answers, or a number."""
    moment = str(line.get("moment") or line["asked"])
    if moment == "look":
        about_corners = "corner" in line["coach"] if "coach" in line else random.random() < 0.5
        moment = "look-top-corners" if about_corners else "look-top-edges"
    piece = tuple(line["piece"]) if moment == "piece" and "piece" in line else ()
    context = contexts.context(moment, piece)
    if "number" in line:
        yield _example(context, words, {"number": {str(line["number"])}, "command": {UNSAID}}, speaker)
        return
    accept = {"bottom-cross" if each == "start" else each for each in line["accept"] or [None]}
    steps_said = accept & set(STEPS)
    commands = {NOTHING if each is None else each for each in accept if each is None or each in COMMANDS}
    may: dict[str, set[str]] = {"command": commands | ({UNSAID} if steps_said else set())}
    if steps_said:
        may["step"] = steps_said | ({UNSAID} if commands else set())
    if moment in ("claim", "turn", *_SQUARES):
        may |= _open_heads()
    yield _example(context, words, may, speaker)


def _open_heads() -> dict[str, set[str]]:
    """Beside a yes or no people may tell what they see, which such a line does not tell."""
    names = (*CELLS, "shape", "edges", "corners")
    return {name: set(HEAD[name].classes) for name in names}
