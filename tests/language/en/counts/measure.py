"""How well counts are understood: `python -m tests.language.en.counts.measure [FILE...]` shows figures and failures.

`near.jsonl` and `far.jsonl` hold lines of ten imagined speakers each, written before there were any rules; those of
fifteen each in `judge_near.jsonl` and `judge_far.jsonl` are by an independent judge who had not seen the rules. The
failures in near ones have been looked at; the far ones are set aside: nothing is to be fitted to them, and their
failures are shown only where the file is named. Files of `models/answers-en` are read as well.
"""

from __future__ import annotations

import json
import sys
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

from coach.language import Language, Reading, Scene
from tests.loaded import load

NEAR, FAR, JUDGE_NEAR, JUDGE_FAR = (
    Path(__file__).parent / f"{name}.jsonl" for name in ("near", "far", "judge_near", "judge_far")
)
SIZE = 25
"""Of the classes in `models/answers-en`."""


def lines(path: Path) -> Iterator[dict[str, Any]]:
    """The lines about counts, each with the meanings that it may have (None: it is to be asked again)."""
    for text in path.read_text("utf-8").splitlines():
        line = json.loads(text)
        if line.get("moment") == "hands":
            yield line | {"about": "size", "size": SIZE, "accept": [{"number": line["number"]}]}
        elif "accept" in line and "about" in line:
            yield line


def read(language: Language, line: Mapping[str, Any]) -> Reading:
    """How it is read."""
    return language.read(line["said"], "hands", Scene(about=line["about"], size=line.get("size")))


def score(line: Mapping[str, Any], reading: Reading) -> str:
    """"right", "nothing" or "wrong". Somebody unsure may be asked whether it is so."""
    said = reading.meaning
    if line.get("unsure") and said is None and reading.asks:
        said = reading.best
    told = said.to_json() if said else None
    if told in line["accept"]:
        return "right"
    return "nothing" if said is None else "wrong"


def measured(paths: Iterable[Path], show: bool = False) -> Counter[str]:
    """How many lines are right, nothing and wrong."""
    language, counted = load(), Counter[str]()
    for path in paths:
        for line in lines(path):
            reading = read(language, line)
            verdict = score(line, reading)
            counted[verdict] += 1
            if show and verdict != "right":
                best = reading.best.to_json() if reading.best else None
                print(f"{verdict:8} {line['said']!r}: {best} {reading.confidence:.2f}, should be {line['accept']}")
    return counted


if __name__ == "__main__":
    named = [Path(name) for name in sys.argv[1:]]
    for path in named or (NEAR, FAR, JUDGE_NEAR, JUDGE_FAR):
        figures = measured([path], show=bool(named) or path in (NEAR, JUDGE_NEAR))
        print(f"{path.name}: " + ", ".join(f"{count} {verdict}" for verdict, count in sorted(figures.items())))
