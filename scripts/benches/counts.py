"""How surely counts of raised hands are heard: numbers as teachers say them, in quiet and among talkers.

scripts/bench listening --counts [--every N] [--group GROUP] [--noise DECIBELS...] [--lines FILE] [FILE...]

Counts are said by synthetic voices that nothing was fitted to (`voices`; --group a: voices to learn from): those made
up here, or the lines of a FILE with the meanings that each may have ("said", "accept", "size"). Single figures are also
heard as recorded people said them, where they are here (../shared/speech). Right is what was said, and of a guess
("about ten") or of talk no number at all; wrong is any other number. In between, the coach asks whether it heard
rightly ("doubted"), or asks again. --lines: what was heard of each, a JSON line.
"""

from __future__ import annotations

import argparse
import json
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from random import Random
from typing import Any

from coach.app.certainty import judge
from coach.app.hearing import Hearing
from coach.app.runtime import Runtime
from coach.dialogue import Heard
from coach.language import Language, Meaning, Scene
from coach.language.en.answers.numbers import spoken
from coach.speech.ears import transcript
from coach.speech.signal import wav
from coach.speech.signal.levels import measure
from coach.speech.signal.wav import Samples
from scripts.bench_listening import SHARED, mixed, recorded
from scripts.benches.answers import lines
from scripts.benches.voices import drawn

AIMS = "The aims: 97 right, 1 wrong of counts as people say them."
MOST, SIZE = 32, 33
_BARE = ("{n}", "{n}.", "{n}", "um, {n}", "{n} hands")
_FRAMES = (
    "I count {n}.", "There are {n}.", "{n} of them.", "It's {n}.", "Just {n}.", "{n} hands up.", "{n} have it.",
    "I see {n} hands.", "That's {n}.", "I make it {n}.", "{n} children.", "Let me see, {n}.", "{n} of them do.",
    "{n} pupils.", "Okay, {n}.", "{n}, I think that's all.",
)  # fmt: skip
_NONE = ("nobody", "none", "no one", "no hands", "zero", "not one", "nobody at all", "none of them", "No hands are up.")
_ALL = ("all", "everybody", "everyone", "all of them", "the whole class", "everybody has it", "all hands are up")
_ALL_BUT = ("all but {n}", "everybody but {n}", "all except {n}", "everyone except {n}", "all of them but {n}")
_CORRECTED = ("{w}, no, {n}", "{w}. No, {n}.", "{w}, sorry, {n}", "{w}, wait, {n}", "{w}, no wait, {n}")
_GUESSED = ("about {n}", "around {n}", "{n} or {m}", "maybe {n}", "roughly {n}", "between {n} and {m}", "{n} or so")
_TALK = (
    "wait a moment", "Hands down, please.", "Sam, put your hand down.", "Could you say that again?", "What is a line?",
    "Quiet at the back, please.", "You too.", "For whom is this?", "Won't you sit down?", "Who ate my apple?",
    "Go to the door.", "Let me count them first.", "They keep moving.", "I have to count again.", "Not you, Tom.",
)  # fmt: skip


VERDICTS = ("right", "wrong", "doubted", "again")
Told = Mapping[str, Any]  # a meaning as `Meaning.to_json` has it


@dataclass(frozen=True)
class Count:
    """What is said, and the meanings that it may have; none if it tells no number."""

    kind: str
    text: str
    accept: Sequence[Told]
    size: int | None = SIZE


def made_up() -> Iterator[Count]:
    """Counts of every kind, always the same ones."""
    random = Random(17)
    numbers = list(range(1, MOST + 1))
    alike = [13, 14, 15, 16, 17, 18, 19, 20, 30, 30, 30, 32, 31]  # most of them sound like another
    for number in (*numbers, *numbers, *alike, *alike):
        yield Count("bare", random.choice(_BARE).replace("{n}", spoken(number)), [{"number": number}])
    for number in (*numbers, *numbers, *alike):
        yield Count("framed", random.choice(_FRAMES).replace("{n}", spoken(number)), [{"number": number}])
    for text in _NONE:
        yield Count("none", text, [{"number": 0}])
    for text in _ALL:
        yield Count("all", text, [{"all_but": 0}, {"number": SIZE}])
    for number in (1, 2, 3, 4, 5, 6) * 3:
        text = random.choice(_ALL_BUT).replace("{n}", spoken(number))
        yield Count("all but", text, [{"all_but": number}, {"number": SIZE - number}])
    for _ in range(30):
        number = random.randint(1, MOST)
        wrong = max(1, number + random.choice((-2, -1, 1, 2)))
        text = random.choice(_CORRECTED).format(w=spoken(wrong), n=spoken(number))
        yield Count("corrected", text, [{"number": number}])
    for _ in range(20):
        number = random.choice((5, 8, 10, 12, 15, 20, 25))
        yield Count("guessed", random.choice(_GUESSED).format(n=spoken(number), m=spoken(number + 1)), [])
    for text in _TALK:
        yield Count("talk", text, [])


def written(path: Path) -> Iterator[Count]:
    """The lines of a file."""
    for line in lines([path]):
        if "accept" in line and "said" in line:
            accept = [each for each in line["accept"] if each and ("number" in each or "all_but" in each)]
            yield Count(path.stem, line["said"], accept, line.get("size"))


def verdict(count: Count, heard: Heard) -> str:
    """What comes of it: one of VERDICTS."""
    told = _told(heard.meaning)
    if told is not None:
        return "right" if told in count.accept else "wrong"
    if not count.accept:
        return "right"
    return "doubted" if any(_told(guess.meaning) in count.accept for guess in heard.guesses) else "again"


def _told(meaning: object) -> Told | None:
    """The number that is told, if one is."""
    told = meaning.to_json() if isinstance(meaning, Meaning) else {}
    return told if "number" in told or "all_but" in told else None


class Bench:
    """Hears counts under each condition, and writes down what was heard if there is a file for it."""

    def __init__(self, hearing: Hearing, language: Language, out: Path | None) -> None:
        self._hearing, self._language, self._out = hearing, language, out
        self._babble = wav.read(SHARED / "speech" / "noise" / "babble.wav")

    def hear(self, count: Count, clean: Samples, decibels: float | None, who: str) -> str:
        """The verdict on one count, so many dB above the talkers."""
        sound = clean if decibels is None else mixed(clean, self._babble, decibels, count.text)
        scene = Scene(about="line", size=count.size)
        result = self._hearing.sound(sound, self._language.phrases("hands", scene), "hands", scene)
        heard = judge(
            result, measure(sound), lambda text: self._language.understand(text, "hands", scene), "hands"
        )
        came = verdict(count, heard)
        if self._out:
            writings = [(each.text, round(each.confidence, 3)) for each in transcript.texts(result)]
            row = {"kind": count.kind, "voice": who, "noise": decibels, "text": count.text, "verdict": came,
                   "heard": heard.meaning.to_json() if isinstance(heard.meaning, Meaning) else None,
                   "sure": round(result.confidence, 3), "writings": writings}  # fmt: skip
            with self._out.open("a", encoding="utf-8") as file:
                print(json.dumps(row, ensure_ascii=False), file=file)
        return came


def counts(arguments: Sequence[str]) -> None:
    """The tables."""
    parser = argparse.ArgumentParser("scripts/bench listening --counts", description=__doc__,
                                     formatter_class=argparse.RawDescriptionHelpFormatter)  # fmt: skip
    parser.add_argument("files", nargs="*", type=Path, metavar="FILE")
    parser.add_argument("--every", type=int, default=1, help="only every Nth count")
    parser.add_argument("--group", default="b", choices=("a", "b"))
    parser.add_argument("--noise", type=float, nargs="*", default=[20.0, 10.0], metavar="DECIBELS")
    parser.add_argument("--lines", type=Path)
    options = parser.parse_args(arguments)
    print(AIMS, flush=True)
    with Runtime() as runtime, runtime.seat() as seat:
        bench = Bench(Hearing(seat.recognition(None), seat.language), seat.language, options.lines)
        said = list(_said(options))
        for decibels in (None, *options.noise):
            tally: defaultdict[str, Counter[str]] = defaultdict(Counter)
            for count, sound, who in said:
                came = bench.hear(count, sound, decibels, who)
                for kind in (count.kind, *(["all counts"] if count.accept and who != _PEOPLE else [])):
                    tally[kind][came] += 1
            name = "quiet" if decibels is None else f"six talkers {decibels:.0f} dB"
            print("", name, *_table(tally), sep="\n", flush=True)


_PEOPLE = "recorded people"


def _said(options: argparse.Namespace) -> Iterator[tuple[Count, Samples, str]]:
    """Counts with their sound, and who said them."""
    every = [each for path in options.files for each in written(path)] if options.files else list(made_up())
    for count in every[:: options.every]:
        speaker = drawn(options.group, Random(f"{options.group} {count.text}"))
        yield count, speaker.say(count.text), speaker.voice
    figures = {spoken(number): number for number in range(10)}
    recordings = recorded(SHARED / "speech", options.every, None)[0] if not options.files else []
    for path, said, sound in recordings:
        if path.startswith("words/") and said in figures:
            yield Count("recorded", said, [{"number": figures[said]}]), sound, _PEOPLE


def _table(tally: Mapping[str, Counter[str]]) -> Iterator[str]:
    yield f"{'in %':<12}" + "".join(f"{name:>9}" for name in VERDICTS)
    for kind, came in tally.items():
        shares = "".join(f"{100 * came[name] / came.total():9.1f}" for name in VERDICTS)
        yield f"{kind:<12}{shares}   of {came.total()}"
