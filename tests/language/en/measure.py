"""How well answers are understood: `python -m tests.language.en.measure FILE` prints figures and failures."""

from __future__ import annotations

import json
import sys
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from coach.language import Meaning, Question, Scene
from tests.loaded import load

EDGES, CORNERS = ("U1", "U3", "U5", "U7"), ("U0", "U2", "U6", "U8")
SHAPES = {0: "dot", 4: "cross"}


def true_shape(true: dict[str, bool]) -> str:
    """The shape of the top edges."""
    up = [cell for cell in EDGES if true[cell]]
    if len(up) != 2:
        return SHAPES.get(len(up), "")
    return "line" if up in (["U1", "U7"], ["U3", "U5"]) else "corner"


def contradicts(meaning: Meaning, true: dict[str, bool]) -> bool:
    """Something in the meaning of a look is not so, as far as the truth is known."""
    edges, corners = (all(cell in true for cell in cells) for cells in (EDGES, CORNERS))
    return (
        any(true.get(cell, shown) != shown for cell, shown in meaning.look.items())
        or (edges and meaning.shape not in (None, true_shape(true)))
        or (edges and meaning.edges not in (None, sum(true[cell] for cell in EDGES)))
        or (corners and meaning.corners not in (None, sum(true[cell] for cell in CORNERS)))
    )


def score_look(answer: dict[str, Any], meaning: Meaning | None) -> str:
    """"right", "incomplete" or "wrong"."""
    meaning = meaning or Meaning()
    cells = EDGES if answer["asked"] == "look-top-edges" else CORNERS
    full = all(cell in meaning.look for cell in cells)
    if contradicts(meaning, answer["true"]):
        return "wrong"
    if answer["complete"]:
        return "right" if full else "incomplete"
    if full:
        return "wrong"
    return "right" if meaning else "incomplete"


def score_piece(answer: dict[str, Any], meaning: Meaning | None) -> str:
    """As `score_look`, for a piece: its position and at least one colour, which settles how it lies.

    An answer that is not complete is right as long as no position is made of it.
    """
    meaning = meaning or Meaning()
    true = answer["true"]
    place = answer.get("place") or "".join(sorted(true.values(), key="UDFBRL".index))
    if any(true.get(colour, face) != face for colour, face in meaning.shows.items()):
        return "wrong"
    if not answer["complete"]:
        return "wrong" if meaning.place else "right"
    if meaning.place not in (None, place):
        return "wrong"
    return "right" if meaning.place and set(meaning.shows) & set(true) else "incomplete"


def score(answer: dict[str, Any], meaning: Meaning | None) -> str:
    """"right", "incomplete" or "wrong"."""
    if "situation" in answer:
        command = meaning.command if meaning else None
        if not answer["accept"]:
            return "right" if meaning is None else "wrong"
        if command in answer["accept"]:
            return "right"
        return "incomplete" if meaning is None else "wrong"
    return score_piece(answer, meaning) if answer["asked"] == "piece" else score_look(answer, meaning)


def read(path: Path) -> list[dict[str, Any]]:
    """The answers in a file."""
    return [json.loads(line) for line in path.read_text("utf-8").splitlines() if line.strip()]


def measure(
    answers: Iterable[dict[str, Any]], know_piece: bool
) -> Iterator[tuple[str, dict[str, Any], Meaning | None]]:
    """The score of each answer, with or without the understander knowing which piece was asked for."""
    language = load()
    for answer in answers:
        scene = Scene(piece=tuple(answer.get("piece", ()))) if know_piece else Scene()
        meaning = language.understand(answer["said"], answer["asked"], scene)
        yield score(answer, meaning), answer, meaning


MOMENTS: dict[str, tuple[Question, str]] = {
    "claim": ("claim", ""),
    "turn": ("turn", ""),
    "ready": ("ready", ""),
    "step": ("other", "step"),
    "look": ("look-top-edges", ""),
}
"""What is asked, and about what, at the moments that lines beside answers were written for."""


def readings(meaning: Meaning | None, moment: str) -> set[str | None]:
    """What a meaning stands for in a list of readings: a command, a step, "answer" for anything else, None."""
    if meaning is None:
        return {None}
    if meaning.command is None and meaning.step:
        return {meaning.step, "start"} if meaning.step == "bottom-cross" else {meaning.step}
    if moment == "step" and meaning.command == "unsure":
        return {"read"}  # the cube is read where the step is not known
    return {meaning.command or "answer"}


def measure_talk(lines: Iterable[dict[str, Any]]) -> Iterator[tuple[str, dict[str, Any], Meaning | None]]:
    """Each line with "accepted", "harmful" or "missed"."""
    language = load()
    for line in lines:
        asked, about = MOMENTS[line["moment"]]
        meaning = language.understand(line["said"], asked, Scene(about=about))
        found = readings(meaning, line["moment"])
        result = "accepted" if found & set(line["accept"]) else "harmful" if found & set(line["never"]) else "missed"
        yield result, line, meaning


def talk(path: Path) -> None:
    """Print the figures by moment, and what was not accepted."""
    totals: Counter[tuple[str, str]] = Counter()
    for result, line, meaning in measure_talk(read(path)):
        totals[line["moment"], result] += 1
        if result != "accepted":
            print(f"{result:9} {line['moment']:6} {line['said']} | {line['accept']} | {meaning and meaning.to_json()}")
    print(path)
    for moment in MOMENTS:
        number = sum(count for (of, _), count in totals.items() if of == moment)
        if number:
            results = ("accepted", "harmful", "missed")
            print(f"  {moment:6} {number:4}", *(f"{totals[moment, of] / number:6.1%} {of}" for of in results))


def main() -> None:
    for name in sys.argv[1:]:
        if "moment" in read(Path(name))[0]:
            talk(Path(name))
            continue
        for know_piece in (False, True):
            totals: Counter[tuple[str, str]] = Counter()
            for result, answer, meaning in measure(read(Path(name)), know_piece):
                totals[answer["asked"] if "true" in answer else "situation", result] += 1
                if result != "right" and (not know_piece or answer["asked"] == "piece"):
                    truth = answer.get("situation") or (
                        answer["true"] if answer["asked"] == "piece" else [c for c, v in answer["true"].items() if v]
                    )
                    print(f"{result:10} {answer['asked']:16} {answer.get('complete', answer.get('accept'))}")
                    print(f"    {answer['said']}\n    {truth}\n    {meaning.to_json() if meaning else None}")
            print(f"{name} (piece {'known' if know_piece else 'unknown'})")
            for kind in sorted({kind for kind, _ in totals}):
                counts = {r: totals[kind, r] for r in ("right", "incomplete", "wrong")}
                print(f"  {kind:18} {counts}  {counts['right'] / sum(counts.values()):.1%}")


if __name__ == "__main__":
    main()
