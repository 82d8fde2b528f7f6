#!/usr/bin/env python3
"""How well people are heard, as tables: recorded words in quiet and in noise, and descriptions in one's own words.

scripts/bench_listening.py [FOLDER] [--engine NAME] [--every N] [--half HALF] [--raised FACTOR...]
                           [--words | --descriptions]
scripts/bench_listening.py --turns [...]    turns said from memory (scripts/benches/turns.py; --help tells more)
scripts/bench_listening.py --counts [...]   counts of raised hands (scripts/benches/counts.py; --help tells more)

FOLDER holds MANIFEST.tsv and recordings (default: ../shared/speech). Noise is added so that the recording
is so many dB louder than it, both taken as a whole. The answers beside it in ../shared/examples are spoken
by the synthesisers that are installed (espeak-ng, flite), in voices that nothing was tuned on.
NAME: one recogniser alone (default: all that are here). N: only every Nth recording and answer.
FACTOR: instead of in noise, also raised by it, pitch and formants together as children's voices are (sox does it).
HALF: 0 or 1, the recordings of half of the speakers, so that what is chosen on one half is told of the other.
In full it takes about an hour of one core; --every 10 tells much in five minutes.

The confidence of both looks was fitted to recordings of this folder, so on them the tables flatter by
about half a point (coach/speech/ears/second_pass.py tells what speakers left out of the fit give).
"""

import argparse
import csv
import math
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
import zlib
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

import numpy as np  # noqa: E402

from coach.app.hearing import Hearing  # noqa: E402
from coach.app.runtime import Runtime  # noqa: E402
from coach.language import load  # noqa: E402
from coach.speech.signal import wav  # noqa: E402
from coach.speech.signal.wav import RATE, Samples  # noqa: E402
from scripts.benches.answers import judged as judged_by_meaning  # noqa: E402
from scripts.benches.answers import lines, scene_of  # noqa: E402

SHARED = Path(os.environ.get("TURNCALLER_SHARED", ROOT.parent / "shared"))
TEN = ("yes", "no", "stop", "go", "left", "right", "up", "down", "on", "off")
MOMENT = 12
NOISES = (("kitchen", "kitchen", 20), ("kitchen", "kitchen", 10),
          ("six talkers", "babble", 20), ("six talkers", "babble", 10))  # fmt: skip
Change = Callable[[str, Samples], Samples]  # of the sound of a path
ESPEAK = ("en-gb-x-rp+m7", "en-us-nyc+f4", "en-029+m1", "en-gb-x-gbclan+f1", "en-us+m6")
FLITE = ("awb", "kal16")

AIMS = """The aims: at most twelve phrases 96/2 (without the second pass 88/4), all words together 94; of other words,
sentences and noise at most 5% taken, of quiet nothing; kitchen at 10 dB and six talkers at 20 dB at most 10
points fewer right, six talkers at 10 dB 65; wrong at most 4 throughout; descriptions 85/3."""


def mixed(sound: Samples, noise: Samples, decibels: float, seed: str) -> Samples:
    """The sound with a piece of the noise, always the same piece for the same seed."""
    at = zlib.crc32(seed.encode()) % max(len(noise) - len(sound), 1)
    signal, other = wav.to_float(sound), wav.to_float(noise[at : at + len(sound)])
    power = np.mean(signal**2) / max(float(np.mean(other**2)), 1e-12)
    return wav.to_int16(signal + other * np.sqrt(power / 10 ** (decibels / 10)))


def raised(sound: Samples, factor: float) -> Samples:
    """The same said as fast by a higher voice: as if the speaker were so much smaller."""
    if factor == 1:
        return sound
    with tempfile.TemporaryDirectory() as folder:
        before, after = Path(folder, "before.wav"), Path(folder, "after.wav")
        wav.write(before, sound)
        change = ["speed", str(factor), "tempo", str(1 / factor)]
        subprocess.run(["sox", "-G", "-R", before, after, *change], check=True, capture_output=True)
        return wav.read(after)


def drawn(words: Sequence[str], said: str, seed: str) -> tuple[str, ...]:
    """Up to twelve phrases drawn from the words, what was said among them."""
    draw = random.Random(seed)
    phrases = draw.sample(list(words), draw.choice((2, 4, 6, 8, 10, MOMENT)))
    if said in words and said not in phrases:
        phrases[0] = said
    return tuple(phrases)


class Tally:
    """What came of the trials of one kind."""

    def __init__(self) -> None:
        self.results: dict[str, Counter[str]] = defaultdict(Counter)
        self.times: list[float] = []

    def add(self, kind: str, result: str) -> None:
        self.results[kind][result] += 1

    def rates(self, kind: str) -> str:
        """Right and wrong in percent."""
        counts = self.results[kind]
        return "/".join(f"{100 * counts[key] / max(counts.total(), 1):.1f}" for key in ("right", "wrong"))

    def likely(self, kind: str) -> str:
        """Between which percentages the share of the right ones lies (Wilson, 95%)."""
        count, right, z = max(self.results[kind].total(), 1), self.results[kind]["right"], 1.96
        middle, share = (right + z * z / 2) / (count + z * z), right / count
        width = z * math.sqrt(share * (1 - share) / count + (z / count) ** 2 / 4) / (1 + z * z / count)
        return f"{100 * (middle - width):.0f}..{100 * (middle + width):.0f}"

    def spent(self) -> str:
        if not self.times:
            return ""
        return f"{1000 * np.median(self.times):.0f} ms, 95%: {1000 * np.percentile(self.times, 95):.0f}"


def judged(text: str, said: str) -> str:
    return "right" if text == said else "wrong" if text else "none"


def recorded(folder: Path, every: int, half: int | None) -> tuple[list[tuple[str, str, Samples]], dict[str, Samples]]:
    """Path, transcript and sound of the recordings, one in `every` of each kind; the noises by name."""
    with (folder / "MANIFEST.tsv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file, delimiter="\t"))
    rows = [row for row in rows if half in (None, zlib.crc32(row["speaker"].encode()) % 2)]
    found = []
    for kind in ("words", "other", "sentences", "quiet"):
        for row in [row for row in rows if row["path"].startswith(f"{kind}/")][::every]:
            found.append((row["path"], row["transcript"], wav.read(folder / row["path"])))
    noises = {name: wav.read(folder / "noise" / f"{name}.wav") for name in ("kitchen", "babble")}
    return found, noises


def words_table(hearing: Hearing, folder: Path, options: argparse.Namespace) -> None:
    """Single words: in moments of their own, all together, and where they are not for the coach."""
    rows, noises = recorded(folder, options.every, options.half)
    words = sorted({text for path, text, _ in rows if path.startswith("words/")})
    everything = sorted({text for path, text, _ in rows if path.split("/")[0] in ("words", "other")})
    heading = f"{'right/wrong in %':<20}{'up to 12':>10}{'right':>9}{'the ten':>10}{f'all {len(everything)}':>10}"
    print(f"{heading}   other words taken   time for an utterance", flush=True)
    for label, change in conditions(noises, options.raised):
        tally = Tally()
        for path, said, clean in rows:
            if path.split("/")[0] in ("words", "other"):
                _word(hearing, tally, path, said, change(path, clean), words, everything)
        taken = tally.results["taken"]
        rates = [tally.rates(kind) for kind in ("drawn", "ten", "all")]
        others = f"{100 * taken['yes'] / max(taken.total(), 1):.1f}% of {taken.total()}"
        columns = f"{rates[0]:>10}{tally.likely('drawn'):>9}{rates[1]:>10}{rates[2]:>10}{others:>20}"
        print(f"{label:<20}{columns}   {tally.spent()}", flush=True)
    if not options.raised:
        _taken(hearing, rows, noises, words)


def conditions(noises: dict[str, Samples], factors: Sequence[float]) -> Iterator[tuple[str, Change]]:
    """How the recordings are heard: as they came and raised, or as they came and in noise."""
    yield "clean", lambda path, sound: sound
    for factor in factors:
        yield f"raised by {factor - 1:.0%}", partial(_raised, factor)
    for name, noise, decibels in NOISES if not factors else ():
        yield f"{name} {decibels} dB", partial(_mixed, noises[noise], decibels)


def _raised(factor: float, path: str, sound: Samples) -> Samples:
    return raised(sound, factor)


def _mixed(noise: Samples, decibels: float, path: str, sound: Samples) -> Samples:
    return mixed(sound, noise, decibels, path)


def _word(
    hearing: Hearing, tally: Tally, path: str, said: str, sound: Samples, words: Sequence[str], everything: list[str]
) -> None:
    """One recording in all the moments."""

    def hear(phrases: Sequence[str]) -> str:
        begin = time.perf_counter()
        text = hearing.sound(sound, phrases).text
        tally.times.append(time.perf_counter() - begin)
        return text

    if path.startswith("words/"):
        tally.add("drawn", judged(hear(drawn(words, said, path)), said))
    others = drawn([word for word in words if word != said], "", path)
    tally.add("taken", "yes" if hear(others) else "no")
    if said in TEN:
        tally.add("ten", judged(hear(TEN), said))
    tally.add("all", judged(hear(everything), said))


def _taken(
    hearing: Hearing, rows: Sequence[tuple[str, str, Samples]], noises: dict[str, Samples], words: Sequence[str]
) -> None:
    """What else is taken for a command: talk, pieces of it, background, each in three moments."""
    sounds = [(path.split("/")[0], path, sound) for path, _, sound in rows if path.startswith(("sent", "quiet"))]
    sounds += [("a second of one", path, sound[2 * RATE : 3 * RATE]) for kind, path, sound in sounds if kind[0] == "s"]
    for name, noise in noises.items():
        sounds += [(name, f"{name}{at}", noise[at * RATE : at * RATE + RATE]) for at in range(len(noise) // RATE)]
    taken: dict[str, list[bool]] = defaultdict(list)
    for kind, path, sound in sounds:
        for phrases in (TEN, drawn(words, "", path), ("yes", "no")):
            taken[kind].append(bool(hearing.sound(sound, phrases).text))
    print("taken for a command: " + ", ".join(f"{kind} {sum(those)} of {len(those)}" for kind, those in taken.items()))


def spoken(texts: Sequence[str], folder: Path) -> Iterator[tuple[str, Samples]]:
    """The texts by the voices there are, each text by one of them: the synthesiser's name and the sound."""
    voices = [("espeak-ng", voice) for voice in ESPEAK if shutil.which("espeak-ng")]
    voices += [("flite", voice) for voice in FLITE if shutil.which("flite")]
    for number, text in enumerate(texts):
        name, voice = voices[number % len(voices)]
        path = folder / "spoken.wav"
        command = {
            "espeak-ng": ["espeak-ng", "-v", voice, "-s", "160", "-w", str(path), text],
            "flite": ["flite", "-voice", voice, "-t", text, "-o", str(path)],
        }[name]
        subprocess.run(command, check=True, capture_output=True)
        yield name, np.concatenate([np.zeros(RATE // 4, np.int16), wav.read(path), np.zeros(RATE // 2, np.int16)])


def descriptions_table(hearing: Hearing, path: Path, options: argparse.Namespace) -> None:
    """Answers in the learner's own words, synthesised: whether what was heard means what is true."""
    if not shutil.which("espeak-ng") and not shutil.which("flite"):
        print("Neither espeak-ng nor flite is here to speak the descriptions: not measured.")
        return
    asked = ("look-top-edges", "look-top-corners", "piece")
    answers = [answer for answer in lines([path]) if answer["asked"] in asked and answer.get("complete")]
    answers = answers[:: options.every]
    with tempfile.TemporaryDirectory() as folder:
        sounds = list(spoken([answer["said"] for answer in answers], Path(folder)))
    print("\ndescriptions in %: right, wrong, told in part, not understood; time for an utterance")
    for factor in (1, *options.raised):
        if options.raised:
            print(f"raised by {factor - 1:.0%}:")
        higher = [(name, raised(sound, factor)) for name, sound in sounds]
        _descriptions(hearing, answers, higher)


def _descriptions(hearing: Hearing, answers: Sequence[dict[str, Any]], sounds: Sequence[tuple[str, Samples]]) -> None:
    """The answers, each with its synthesiser's name and its sound."""
    language = load()
    tallies: dict[str, Tally] = defaultdict(Tally)
    for answer, (name, sound) in zip(answers, sounds, strict=True):
        begin = time.perf_counter()
        scene = scene_of(answer)
        heard = hearing.sound(sound, language.phrases(answer["asked"]), answer["asked"], scene)
        spent = time.perf_counter() - begin
        meaning = heard.meaning or language.understand(heard.text, answer["asked"], scene)
        result = judged_by_meaning(answer, meaning) if heard.text else "not understood"
        for key in (name, answer["asked"], "all"):
            tallies[key].add("", result)
            tallies[key].times.append(spent)
    for key, tally in sorted(tallies.items(), key=lambda one: one[0] == "all"):
        counts = tally.results[""]
        names = ("right", "wrong", "again", "not understood")
        rates = "".join(f"{100 * counts[name] / counts.total():8.1f}" for name in names)
        print(f"{key:<20}{rates}   of {counts.total()}, right {tally.likely('')}   {tally.spent()}", flush=True)


def main() -> None:
    if "--turns" in sys.argv:
        from scripts.benches.turns import turns

        turns([argument for argument in sys.argv[1:] if argument != "--turns"])
        return
    if "--counts" in sys.argv:
        from scripts.benches.counts import counts

        counts([argument for argument in sys.argv[1:] if argument != "--counts"])
        return
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("folder", nargs="?", type=Path, default=SHARED / "speech")
    parser.add_argument("--engine", help="one recogniser alone")
    parser.add_argument("--every", type=int, default=1, help="only every Nth recording and answer")
    parser.add_argument("--half", type=int, choices=(0, 1), help="only the recordings of half of the speakers")
    parser.add_argument("--raised", type=float, nargs="+", default=[], metavar="FACTOR", help="as 1.15 1.3")
    parser.add_argument("--words", action="store_true", help="only the recorded words")
    parser.add_argument("--descriptions", action="store_true", help="only the descriptions")
    options = parser.parse_args()
    if options.raised and not shutil.which("sox"):
        parser.error("to raise voices takes sox: apt-get install sox")
    with Runtime() as runtime, runtime.seat() as seat:
        tables(Hearing(seat.recognition(options.engine), seat.language), options)


def tables(hearing: Hearing, options: argparse.Namespace) -> None:
    """What was measured."""
    print(AIMS, end="\n\n")
    if not options.descriptions:
        if (options.folder / "MANIFEST.tsv").exists():
            words_table(hearing, options.folder, options)
        else:
            print(f"There are no recordings in {options.folder}: not measured.")
    answers = options.folder.parent / "examples" / "learner_answers.jsonl"
    if not options.words:
        if answers.exists():
            descriptions_table(hearing, answers, options)
        else:
            print(f"There are no answers in {answers.parent}: not measured.")


if __name__ == "__main__":
    main()
