"""How surely turns said from memory are heard, by style of call: in quiet and with kitchen noise.

scripts/bench listening --turns [--every N] [--group GROUP] [--noise DECIBELS...] [--lines FILE]

The sequences of the method, for either hand, are recited group by group by synthetic voices that nothing was fitted to
(`voices`), every other one with a single slip. A group is right if exactly its turns were heard, as they were said. What
was heard is followed like in an exercise (`coach.dialogue.practice.recital`): a slip is noticed if the recital goes wrong
or is not complete, and a recital without a slip should be complete. What is not understood counts as neither right nor
wrong: the coach asks again. --group a: the voices that were learned from. --lines: each breath as a line of JSON.
"""

from __future__ import annotations

import argparse
import json
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from random import Random

from bench_listening import mixed

from benches import SHARED
from benches.voices import Speaker, drawn
from coach.app.hearing import Hearing
from coach.app.runtime import Runtime
from coach.cube import FACE_TURNS, Turn, parse
from coach.dialogue.practice.recital import Recital
from coach.language import Scene
from coach.method import default_method, mirrored_method
from coach.speech.ears import transcript
from coach.speech.signal import wav

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
        said, slip = _slipped(groups, random) if number // 2 % 2 else (groups, "")
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
        verdict = _followed(said.groups, heard)
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


def _followed(groups: Sequence[Sequence[Turn]], heard: Sequence[Sequence[Turn]]) -> str:
    """The verdict in the end; what was not understood is said again rightly, whatever it was."""
    recital = Recital(groups)
    for turns in heard:
        followed = recital.hear(turns)
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
    kitchen = wav.read(SHARED / "speech" / "noise" / "kitchen.wav")
    print(AIMS, HEADING, sep="\n\n", flush=True)
    with Runtime() as runtime, runtime.seat() as seat:
        hearing, language = Hearing(seat.recognition(None), seat.language), seat.language
        phrases = language.phrases("recite")
        lines = options.lines.open("a", encoding="utf-8") if options.lines else None
        for style in options.styles:
            counts: defaultdict[str, Count] = defaultdict(Count)
            for number, said in enumerate(recitals(style, EACH, options.group)):
                if number % options.every:
                    continue
                sounds = [said.speaker.say(text) for text in said.texts]
                for decibels in (None, *options.noise):
                    heard = []
                    for part, (sound, turns_said) in enumerate(zip(sounds, said.said, strict=True)):
                        seed = f"{style} {number} {part}"
                        noisy = sound if decibels is None else mixed(sound, kitchen, decibels, seed)
                        result = hearing.sound(noisy, phrases, "recite", Scene())
                        meaning = result.meaning or language.understand(result.text, "recite", Scene())
                        heard.append(parse(" ".join(meaning.turns)) if meaning else ())
                        name = "quiet" if decibels is None else f"kitchen {decibels:.0f} dB"
                        counts[name].breath(turns_said, heard[-1])
                        if lines:
                            shown = [(each.text, round(each.confidence, 3)) for each in transcript.texts(result)]
                            row = {"style": style, "voice": said.speaker.voice, "noise": name, "text": said.texts[part],
                                   "said": " ".join(map(str, turns_said)), "heard": " ".join(map(str, heard[-1])),
                                   "all": shown}
                            print(json.dumps(row), file=lines, flush=True)
                    counts[name].recital(said, heard)
            for name, count in counts.items():
                print(f"{style + ', ' + name:<26}{count}", flush=True)
