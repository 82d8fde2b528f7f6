"""How surely turns said from memory are heard, by style of call: in quiet and with kitchen noise.

scripts/bench listening --turns [--every N] [--group GROUP] [--noise DECIBELS...] [--lines FILE]

The sequences of the method, for either hand, are recited group by group by synthetic voices that nothing was fitted to
(`voices`), half of them with a single slip. A group is right if exactly its turns were heard, as they were said. What
was heard is followed as in an exercise (`coach.dialogue.recital`): a slip is noticed unless the recital is
complete, and told if it went wrong; a recital without a slip should be complete, and not blamed. What is not understood
is neither right nor wrong: the coach asks again. --group a: voices to learn from. --lines: each breath, a JSON line.
"""

from __future__ import annotations

import argparse
import json
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from random import Random

from coach.app.hearing import Hearing
from coach.app.runtime import Runtime
from coach.cube import FACE_TURNS, Turn, parse, write
from coach.dialogue.recital import Recital
from coach.language import Language, Meaning, Scene
from coach.method import default_method, mirrored_method
from coach.speech.ears import transcript
from coach.speech.ears.recogniser import Transcript
from coach.speech.signal import wav
from scripts.bench_listening import SHARED, mixed
from scripts.benches.voices import Speaker, drawn

EACH = 60
"""Recitals of each style."""
AIMS = "The aims in quiet: 97 / 1 of turns (letters 92), groups 93, 95 of slips noticed."

_NAMES = {"R": "right", "L": "left", "U": "top", "D": "bottom", "F": "front", "B": "back"}
_WAYS = {"R": ("up", "down"), "L": ("down", "up"), "U": ("left", "right"), "D": ("right", "left")}
_CLOCKS = ("clockwise", "anticlockwise")
_Words = dict[str, tuple[str, ...]]
STYLES: dict[str, _Words] = {
    "plain": {
        "call": ("the {f} layer goes {w}", "the {f} layer goes {w}", "{f} {w}", "{f} {w}", "{f} side {w}",
                 "{f} layer {w}", "{f} goes {w}"),
        "half": ("{call} twice", "{call}, twice", "{call} two times"),
    },
    "clock": {
        "call": ("{f} {c}", "{f} {c}", "the {f} {c}", "{f} layer {c}"),
        "half": ("{f} half turn", "{f}, half a turn", "{f} half a turn", "{f} twice"),
    },
    "letters": {"call": ("{l}",), "half": ("{l} two",)},
}  # fmt: skip
"""How the turns are called in each style, and half turns; one way of each throughout a recital."""


@dataclass(frozen=True)
class Said:
    """One recital: its groups, what is said of each, in turns and in words, by whom, and the slip if there is one."""

    style: str
    groups: tuple[tuple[Turn, ...], ...]
    said: tuple[tuple[Turn, ...], ...]
    texts: tuple[str, ...]
    speaker: Speaker
    slip: str


def recitals(style: str, count: int, group: str = "b") -> Iterator[Said]:
    """So many recitals, always the same ones."""
    right = default_method()
    sequences = [each for method in (right, mirrored_method(right)) for each in method.sequences]
    for number in range(count):
        random = Random(f"{style} {number}")
        groups = tuple(each.turns for each in sequences[number % len(sequences)].groups)
        said, slip = _slipped(groups, random) if random.random() < 0.5 else (groups, "")
        way = {name: random.choice(ways) for name, ways in STYLES[style].items()}
        joint = random.choice((", ", ", ", " ", " then "))
        texts = tuple(joint.join(call(turn, way) for turn in turns) for turns in said if turns)
        yield Said(style, groups, tuple(turns for turns in said if turns), texts, drawn(group, random), slip)


def call(turn: Turn, way: dict[str, str]) -> str:
    """The words for a turn."""
    name, back = _NAMES[turn.face], turn.quarters == 3
    words = {"f": name, "c": _CLOCKS[back], "l": f"{turn.face} prime" if back else turn.face}
    if turn.quarters == 2 and "{call}" not in way["half"]:
        return way["half"].format(**words)
    if turn.face in _WAYS:
        text = way["call"].format(w=_WAYS[turn.face][back], **words)
    else:
        text = way["call"].format(w=_CLOCKS[back], **words)
    return way["half"].format(call=text) if turn.quarters == 2 else text


def _slipped(groups: Sequence[Sequence[Turn]], random: Random) -> tuple[tuple[tuple[Turn, ...], ...], str]:
    """What is said with a single slip in one of the groups."""
    at = random.randrange(len(groups))
    turns, place = list(groups[at]), random.randrange(len(groups[at]))
    turn = turns[place]
    kinds = ["other way", "other face", "left out", "twice", "swapped"]
    kind = random.choice(kinds if len(turns) > 1 else kinds[:2])
    match kind:
        case "other way":
            turns[place] = turn.inverse if turn.quarters != 2 else Turn(turn.face, 1)
        case "other face":
            turns[place] = random.choice(
                [each for each in FACE_TURNS if each.face in "RLUF" and each.quarters == turn.quarters and each != turn]
            )
        case "left out":
            del turns[place]
        case "twice":
            turns.insert(place, turn)
        case _:
            place = min(place, len(turns) - 2)
            turns[place : place + 2] = turns[place + 1], turns[place]
    return (*map(tuple, groups[:at]), tuple(turns), *map(tuple, groups[at + 1 :])), kind


def compared(said: Sequence[Turn], heard: Sequence[Turn]) -> tuple[int, int]:
    """How many of the turns were heard as they were said, and how many others were heard."""
    best = {(0, at): (0, at) for at in range(len(heard) + 1)} | {(at, 0): (0, 0) for at in range(len(said) + 1)}
    for one in range(1, len(said) + 1):
        for other in range(1, len(heard) + 1):
            right, wrong = best[one - 1, other - 1]
            same = said[one - 1] == heard[other - 1]
            ways = ((right + same, wrong + (not same)), best[one - 1, other])
            more = best[one, other - 1]
            best[one, other] = max((*ways, (more[0], more[1] + 1)), key=lambda each: (each[0], -each[1]))
    return best[len(said), len(heard)]


class Count:
    """What came of the recitals in one style."""

    def __init__(self) -> None:
        self.turns: Counter[str] = Counter()
        self.groups: Counter[str] = Counter()
        self.whole: Counter[str] = Counter()

    def breath(self, said: Sequence[Turn], heard: Sequence[Turn]) -> None:
        """Count what was heard of a group."""
        right, wrong = compared(said, heard)
        self.turns.update(all=len(said), right=right, wrong=wrong)
        self.groups.update(all=1, right=tuple(said) == tuple(heard), nothing=not heard)

    def recital(self, said: Said, heard: Sequence[Sequence[Turn]]) -> None:
        """Count what an exercise would make of it."""
        verdict = _followed(said, heard)
        if said.slip:
            self.whole.update(slips=1, noticed=verdict != "complete", told=verdict == "wrong")
        else:
            self.whole.update(right=1, complete=verdict == "complete", blamed=verdict == "wrong")

    def __str__(self) -> str:
        shares = (
            (self.turns["right"], self.turns["all"]), (self.turns["wrong"], self.turns["all"]),
            (self.groups["right"], self.groups["all"]), (self.groups["nothing"], self.groups["all"]),
            (self.whole["noticed"], self.whole["slips"]), (self.whole["told"], self.whole["slips"]),
            (self.whole["complete"], self.whole["right"]), (self.whole["blamed"], self.whole["right"]),
        )  # fmt: skip
        return "".join(f"{100 * part / max(whole, 1):9.1f}" for part, whole in shares) + f"   {self.turns['all']} turns"


HEADING = f"{'in %':<26}" + "".join(
    f"{name:>9}" for name in ("right", "wrong", "groups", "nothing", "noticed", "told", "complete", "blamed")
)


def _followed(said: Said, heard: Sequence[Sequence[Turn]]) -> str:
    """The verdict in the end. What is not understood is asked for again, and then taken to be heard as it was said."""
    recital = Recital(said.groups)
    for turns_said, turns_heard in zip(said.said, heard, strict=True):
        followed = recital.hear(turns_heard or turns_said)
        if followed.verdict in ("wrong", "complete"):
            return followed.verdict
    return recital.give_up_group().verdict


def turns(arguments: Sequence[str]) -> None:
    """The tables."""
    parser = argparse.ArgumentParser("scripts/bench listening --turns", description=__doc__,
                                     formatter_class=argparse.RawDescriptionHelpFormatter)  # fmt: skip
    parser.add_argument("--every", type=int, default=1, help="only every Nth recital")
    parser.add_argument("--group", default="b", choices=("a", "b"))
    parser.add_argument("--noise", type=float, nargs="*", default=[10.0], metavar="DECIBELS")
    parser.add_argument("--styles", nargs="+", default=list(STYLES), choices=list(STYLES))
    parser.add_argument("--lines", type=Path)
    options = parser.parse_args(arguments)
    print(AIMS, HEADING, sep="\n\n", flush=True)
    with Runtime() as runtime, runtime.seat() as seat:
        bench = Bench(Hearing(seat.recognition(None), seat.language), seat.language, options.lines)
        for style in options.styles:
            counts: defaultdict[str, Count] = defaultdict(Count)
            for said in list(recitals(style, EACH, options.group))[:: options.every]:
                bench.recital(said, options.noise, counts)
            for name, count in counts.items():
                print(f"{style + ', ' + name:<26}{count}", flush=True)


class Bench:
    """Has recitals heard, in quiet and in noise, and writes down what was heard if there is a file for it."""

    def __init__(self, hearing: Hearing, language: Language, lines: Path | None) -> None:
        self._hearing, self._language, self._lines = hearing, language, lines
        self._phrases = language.phrases("recite")
        self._kitchen = wav.read(SHARED / "speech" / "noise" / "kitchen.wav")

    def recital(self, said: Said, noises: Sequence[float], counts: Mapping[str, Count]) -> None:
        """Count one recital under each condition."""
        sounds = [said.speaker.say(text) for text in said.texts]
        for decibels in (None, *noises):
            name = "quiet" if decibels is None else f"kitchen {decibels:.0f} dB"
            heard = []
            for text, turns_said, clean in zip(said.texts, said.said, sounds, strict=True):
                sound = clean if decibels is None else mixed(clean, self._kitchen, decibels, text)
                result = self._hearing.sound(sound, self._phrases, "recite", Scene())
                meaning = result.meaning or self._language.understand(result.text, "recite", Scene())
                heard.append(parse(" ".join(meaning.turns)) if isinstance(meaning, Meaning) else ())
                counts[name].breath(turns_said, heard[-1])
                self._write(said, name, text, turns_said, heard[-1], result)
            counts[name].recital(said, heard)

    def _write(
        self, said: Said, noise: str, text: str, turns_said: Sequence[Turn], heard: Sequence[Turn], result: Transcript
    ) -> None:
        if self._lines:
            writings = [(each.text, round(each.confidence, 3)) for each in transcript.texts(result)]
            row = {"style": said.style, "voice": said.speaker.voice, "noise": noise, "text": text,
                   "said": write(turns_said), "heard": write(heard), "writings": writings}  # fmt: skip
            with self._lines.open("a", encoding="utf-8") as file:
                print(json.dumps(row, ensure_ascii=False), file=file)
