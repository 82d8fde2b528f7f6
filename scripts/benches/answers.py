"""How well answers of people nobody tuned to are read: right, wrong, asked again, by kind; typed and by voice.

scripts/bench answers [--apart calibration|unseen] [--bare] [--voice] [FILE...]

Without a FILE of lines (as in models/answers-en), those of the speakers kept apart. `--bare`: without marks and
capitals, as a recogniser writes. `--voice`: the same lines as synthetic voices said them, from the recogniser's stored
writings (scripts/make_writings makes them), all and those of voices made from recordings.
"""

from __future__ import annotations

import argparse
import json
import math
import time
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from coach.cube import FACES
from coach.language import Meaning, Scene, load
from coach.language.commands import Trait, has

DATA = Path(__file__).resolve().parents[2] / "models/answers-en"
OF_PEOPLE = ("piper", "flite", "festival")  # voices made from recordings, the others are formant voices

_CELLS = {"look-top-edges": ("U1", "U3", "U5", "U7"), "look-top-corners": ("U0", "U2", "U6", "U8")}
_ASKED_OF_MOMENT = {"look": "look-top-edges", "step": "other", "do": "do", "hands": "hands"}


def lines(paths: Iterable[Path]) -> Iterator[dict[str, Any]]:
    """The lines of files of answers."""
    for path in paths:
        for line in path.read_text("utf-8").splitlines():
            yield json.loads(line)


def scene_of(line: Mapping[str, Any]) -> Scene:
    """The scene in which a line was said."""
    about = "step" if line.get("moment") == "step" else ""
    piece = tuple(line.get("piece", ()))
    if "colours" in line:
        return Scene(dict(zip(FACES, line["colours"], strict=True)), piece=piece, about=about)
    return Scene(piece=piece, about=about)


def question_of(line: Mapping[str, Any]) -> str:
    """What the line answers."""
    if "moment" not in line:
        return str(line["asked"])
    moment = str(line["moment"])
    if moment == "look":
        return "look-top-corners" if "corner" in line.get("coach", "") else "look-top-edges"
    return _ASKED_OF_MOMENT.get(moment, moment)


def kind_of(line: Mapping[str, Any]) -> str:
    """The kind of answer that it is counted as."""
    if "accept" in line or "moment" in line:
        return f"talk-{line.get('moment') or line['asked']}"
    return str(line["asked"])


def judged(line: Mapping[str, Any], meaning: Meaning | None) -> str:
    """"right", "wrong" or "again" for what the coach would act on."""
    if "accept" in line or "moment" in line:
        return _judged_talk(line, meaning)
    if meaning is None:
        return "again"
    return _judged_told(line, meaning)


def _judged_told(line: Mapping[str, Any], meaning: Meaning) -> str:
    true = line["true"]
    if line["asked"] in _CELLS:
        if any(true[cell] != shown for cell, shown in meaning.look.items()) or _miscounted(line, meaning):
            return "wrong"
        return "right" if set(_CELLS[line["asked"]]) <= set(meaning.look) else "again"
    if line["asked"] == "piece":
        place = "".join(true.values())
        if any(true.get(word) != face for word, face in meaning.shows.items()):
            return "wrong"
        if meaning.place and sorted(meaning.place) != sorted(place):
            return "wrong"
        return "right" if meaning.place and meaning.shows else "again"
    if not meaning.colours:
        return "again"
    return "right" if list(meaning.colours) == list(true) else "wrong"


def _miscounted(line: Mapping[str, Any], meaning: Meaning) -> bool:
    true = line["true"]
    edges, corners = (sum(true[cell] for cell in cells) for cells in _CELLS.values())
    shape = {0: "dot", 4: "cross"}.get(edges, "line" if true["U1"] == true["U7"] else "corner")
    wrong = meaning.edges not in (None, edges) or meaning.corners not in (None, corners)
    return wrong or meaning.shape not in (None, shape)


def _judged_talk(line: Mapping[str, Any], meaning: Meaning | None) -> str:
    if "number" in line:
        number = meaning.number if meaning else None
        if meaning and meaning.case:
            return "right" if _share(meaning.case) == line["number"] else "wrong"
        return "again" if number is None else "right" if number == line["number"] else "wrong"
    accept = {"bottom-cross" if each == "start" else each for each in line["accept"] or [None]}
    said = None if meaning is None else meaning.step or meaning.command
    if meaning is not None and said is None and meaning.look:
        said = "look"
    if said in accept:
        return "right"
    if said is None:
        return "again"
    never = line.get("never")
    harmful = said == "look" or has(meaning.command, Trait.MISSED | Trait.WRONG | Trait.PLAIN | Trait.DONE)
    return "wrong" if meaning.step or (harmful if never is None else said in never) else "other"


def _share(case: str) -> int | None:
    return {"all": 25, "half": 12}.get(case) if "but" not in case else 25 - int(case[-1])


def interval(share: float, count: int) -> tuple[float, float]:
    """The 95% interval of a share (Wilson 1927)."""
    z = 1.96
    middle = (share + z * z / (2 * count)) / (1 + z * z / count)
    half = z * math.sqrt(share * (1 - share) / count + z * z / (4 * count * count)) / (1 + z * z / count)
    return middle - half, middle + half


def table(counted: Mapping[str, list[str]]) -> Iterator[str]:
    """A line for each kind with its share of each verdict in percent."""
    for kind, verdicts in sorted(counted.items()):
        n = len(verdicts)
        shares = {verdict: 100 * verdicts.count(verdict) / n for verdict in ("right", "wrong", "other", "again")}
        low, high = interval(shares["right"] / 100, n)
        told = "  ".join(f"{verdict} {share:5.1f}" for verdict, share in shares.items())
        yield f"{kind:20} {n:5}  {told}  right {100 * low:.0f}-{100 * high:.0f}"


def counted(results: Iterable[tuple[Mapping[str, Any], str]]) -> dict[str, list[str]]:
    """Verdicts by kind; of descriptions only complete ones count as right or asked again."""
    found: defaultdict[str, list[str]] = defaultdict(list)
    for line, verdict in results:
        kind = kind_of(line)
        if not line.get("complete", True):
            found[f"{kind} open"].append("wrong" if verdict == "wrong" else "right")
            continue
        found[kind].append(verdict)
        found["ALL talk" if kind.startswith("talk") else "ALL told"].append(verdict)
    return dict(found)


def answers(arguments: Sequence[str]) -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser("scripts/bench answers", description=__doc__,
                                     formatter_class=argparse.RawDescriptionHelpFormatter)  # fmt: skip
    parser.add_argument("files", nargs="*", type=Path)
    parser.add_argument("--apart", choices=("calibration", "unseen"))
    parser.add_argument("--bare", action="store_true")
    parser.add_argument("--voice", action="store_true")
    options = parser.parse_args(arguments)
    folders = (options.apart,) if options.apart else ("calibration", "unseen")
    for name in folders if not options.files else ("files",):
        files = options.files or sorted((DATA / name).glob("*.jsonl"))
        print(f"{name}: in %")
        for title, results in _spoken(files) if options.voice else _typed(files, options.bare):
            print(f"  {title}", *table(counted(results)), sep="\n    ")


Results = list[tuple[Mapping[str, Any], str]]


def _typed(files: Sequence[Path], bare: bool) -> Iterator[tuple[str, Results]]:
    language = load()
    results: Results = []
    times: list[float] = []
    for line in lines(files):
        said = line["said"]
        if bare:
            said = " ".join("".join(c if c.isalnum() or c in "' " else " " for c in said).lower().split())
        begin = time.perf_counter()
        meaning = language.understand(said, question_of(line), scene_of(line))  # type: ignore[arg-type]
        times.append(1000 * (time.perf_counter() - begin))
        results.append((line, judged(line, meaning)))
    times.sort()
    yield f"typed; median {times[len(times) // 2]:.1f} ms, 95% {times[len(times) * 95 // 100]:.1f} ms", results


def _spoken(files: Sequence[Path]) -> Iterator[tuple[str, Results]]:
    language = load()
    said = {path.stem: list(lines([path])) for path in files}
    of_all: Results = []
    of_people: Results = []
    for entry in lines([DATA / "writings/bench.jsonl"]):
        if entry["speaker"] in said:
            line = said[entry["speaker"]][entry["line"]]
            writings = [(text, share) for text, share in entry["writings"]]
            reading = language.settle(writings, question_of(line), scene_of(line))  # type: ignore[arg-type]
            of_all.append((line, judged(line, reading.meaning)))
            if entry["voice"].startswith(OF_PEOPLE):
                of_people.append(of_all[-1])
    yield "all voices, half of them formant voices, half with noise", of_all
    yield "voices made from recordings", of_people
