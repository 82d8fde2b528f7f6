"""How surely ways to call the turns are heard: spoken by synthetic voices, in quiet and with six talkers at 10 dB.

Whisper writes down freely what it hears: exact to the word, and the call of that style that comes closest.
PocketSphinx chooses among the calls of the style alone. Wrong ones are counted by pairs, turns of the other direction
apart: those undo a lesson.
"""

import argparse
import sys
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from difflib import SequenceMatcher
from functools import cache

import numpy as np
from bench_listening import mixed

from benches import SHARED
from coach.simulation.ears import words
from coach.simulation.mouth import by_flite
from coach.speech.ears.hearing import hear
from coach.speech.ears.pocketsphinx_engine import PocketSphinx
from coach.speech.ears.whisper import NAME, Whisper
from coach.speech.errors import ModelError
from coach.speech.models import verified
from coach.speech.signal import wav
from coach.speech.signal.resample import resample
from coach.speech.signal.wav import RATE, VOICE_RATE, Samples
from coach.speech.voice.synthesis import Synthesiser, Voice

SNR = 10.0
_TURNS = "RLUDF"


def style(right: Sequence[str], left: Sequence[str], top: Sequence[str], bottom: Sequence[str], front: Sequence[str],
          half: str = "{}, twice") -> dict[str, str]:  # fmt: skip
    """Each turn with its call: of both directions of a layer, and of the half turn."""
    calls = {}
    for face, (one, other) in zip(_TURNS, (right, left, top, bottom, front), strict=True):
        calls |= {face: one, f"{face}'": other, f"{face}2": half.format(one)}
    return calls


_CLOCK = ("front clockwise", "front anticlockwise")
STYLES: Mapping[str, Mapping[str, str]] = {
    "side up": style(("right side up", "right side down"), ("left side down", "left side up"),
                     ("top to the left", "top to the right"), ("bottom to the right", "bottom to the left"), _CLOCK),
    "turn the side": style(("turn the right side up", "turn the right side down"),
                           ("turn the left side down", "turn the left side up"),
                           ("turn the top to the left", "turn the top to the right"),
                           ("turn the bottom to the right", "turn the bottom to the left"),
                           ("turn the front clockwise", "turn the front anticlockwise")),
    "push and pull": style(("push the right side up", "pull the right side down"),
                           ("pull the left side down", "push the left side up"),
                           ("push the top to the left", "push the top to the right"),
                           ("push the bottom to the right", "push the bottom to the left"),
                           ("turn the front clockwise", "turn the front anticlockwise")),
    "away": style(("right side away from you", "right side towards you"),
                  ("left side towards you", "left side away from you"),
                  ("top to the left", "top to the right"), ("bottom to the right", "bottom to the left"), _CLOCK),
    "layer upwards": style(("right layer upwards", "right layer downwards"),
                           ("left layer downwards", "left layer upwards"),
                           ("top layer to the left", "top layer to the right"),
                           ("bottom layer to the right", "bottom layer to the left"),
                           ("front layer clockwise", "front layer anticlockwise")),
    "layer up": style(("right layer up", "right layer down"), ("left layer down", "left layer up"),
                      ("top layer to the left", "top layer to the right"),
                      ("bottom layer to the right", "bottom layer to the left"),
                      ("front layer clockwise", "front layer anticlockwise")),
    "layer goes": style(("the right layer goes up", "the right layer goes down"),
                        ("the left layer goes down", "the left layer goes up"),
                        ("the top layer goes left", "the top layer goes right"),
                        ("the bottom layer goes right", "the bottom layer goes left"),
                        ("the front layer goes clockwise", "the front layer goes anticlockwise")),
    "turn the layer": style(("turn the right layer up", "turn the right layer down"),
                            ("turn the left layer down", "turn the left layer up"),
                            ("turn the top layer left", "turn the top layer right"),
                            ("turn the bottom layer right", "turn the bottom layer left"),
                            ("turn the front layer clockwise", "turn the front layer anticlockwise")),
    "right-hand": style(("turn the right-hand layer up", "turn the right-hand layer down"),
                        ("turn the left-hand layer down", "turn the left-hand layer up"),
                        ("turn the top layer left", "turn the top layer right"),
                        ("turn the bottom layer right", "turn the bottom layer left"),
                        ("turn the front layer clockwise", "turn the front layer anticlockwise")),
    "right-hand goes": style(("the right-hand layer goes up", "the right-hand layer goes down"),
                             ("the left-hand layer goes down", "the left-hand layer goes up"),
                             ("the top layer goes left", "the top layer goes right"),
                             ("the bottom layer goes right", "the bottom layer goes left"),
                             ("the front layer goes clockwise", "the front layer goes anticlockwise")),
    "column": style(("right column up", "right column down"), ("left column down", "left column up"),
                    ("top row to the left", "top row to the right"),
                    ("bottom row to the right", "bottom row to the left"), _CLOCK),
    "goes": style(("the right side goes up", "the right side goes down"),
                  ("the left side goes down", "the left side goes up"),
                  ("the top goes left", "the top goes right"), ("the bottom goes right", "the bottom goes left"),
                  ("the front goes clockwise", "the front goes anticlockwise")),
    "clock": style(("right clockwise", "right anticlockwise"), ("left clockwise", "left anticlockwise"),
                   ("top clockwise", "top anticlockwise"), ("bottom clockwise", "bottom anticlockwise"), _CLOCK,
                   "{}, half turn"),
}  # fmt: skip
"""The ways to call the turns that are compared."""

ESPEAK = (
    Voice("en-us", 135), Voice("en-us+f2", 150), Voice("en", 160), Voice("en+f4", 180),
    Voice("en-gb-scotland", 140), Voice("en-us+m3", 170), Voice("en-gb-x-rp+f3", 130), Voice("en-029", 145),
)  # fmt: skip
FLITE = ("slt", "rms", "awb", "kal")


def calls(arguments: Sequence[str] = ()) -> None:
    """The table of all styles."""
    parser = argparse.ArgumentParser(prog="scripts/bench calls", description=__doc__)
    parser.add_argument("styles", nargs="*", metavar="STYLE", help=f"{', '.join(STYLES)} (default: all)")
    parser.add_argument("--voices", type=int, default=99, help="so many voices of each synthesiser")
    args = parser.parse_args(arguments)
    if unknown := set(args.styles) - set(STYLES):
        sys.exit(f"There is no style {', '.join(sorted(unknown))}. There are: {', '.join(STYLES)}.")
    wanted = args.styles or list(STYLES)
    results = {name: Result(STYLES[name]) for name in wanted}
    texts = sorted({call for name in wanted for call in STYLES[name].values()})
    ears = Ears()
    for voice, sounds in spoken(texts, args.voices):
        print(f"{voice} ...", file=sys.stderr, flush=True)
        for noisy in (False, True):
            heard = {text: in_babble(sound, text) if noisy else padded(sound) for text, sound in sounds.items()}
            written = {text: ears.written(sound) for text, sound in heard.items()}
            for result in results.values():
                result.add(noisy, written, {call: ears.chosen(heard[call], result.texts) for call in result.texts})
    table(results)


def table(results: Mapping[str, "Result"]) -> None:
    """Shares by style, and what was taken for what."""
    print(f"{'':<16}{'':<14} {'Whisper, free writing':^34} {'PocketSphinx, among these':>26}")
    print(f"{'style':<16}{'':<14} {'exact':>7} {'nearest':>8} {'wrong':>7} {'opposite':>9}   "
          f"{'right':>7} {'wrong':>7} {'opposite':>9}")  # fmt: skip
    for name, result in results.items():
        for noisy in (False, True):
            print(f"{name:<16}{'talkers 10 dB' if noisy else 'quiet':<14} {result.line(noisy)}")
    for name, result in results.items():
        print(f"\n{name}: taken for another call")
        for (engine, said, taken), number in result.pairs.most_common(8):
            print(f"  {number:3d}  {engine:<13} {said} -> {taken}")


class Ears:
    """Both ways to hear a call."""

    def __init__(self) -> None:
        try:
            self._whisper = Whisper(verified(NAME))
        except ModelError as error:
            sys.exit(str(error))
        self._first = PocketSphinx()

    def written(self, sound: Samples) -> list[str]:
        """The words that Whisper writes."""
        text, _ = self._whisper.transcripts(self._whisper.encode(sound), "", 1)[0]
        return _plain(text)

    def chosen(self, sound: Samples, texts: Sequence[str]) -> str:
        """The call that PocketSphinx hears, "" for none."""
        phrases = {" ".join(_plain(text)): text for text in texts}
        return phrases.get(hear(self._first, sound, list(phrases)).text, "")


class Result:
    """What became of the calls of one style."""

    def __init__(self, calls: Mapping[str, str]) -> None:
        self.turns = {call: turn for turn, call in calls.items()}
        self.texts = tuple(self.turns)
        self.pairs: Counter[tuple[str, str, str]] = Counter()
        self._counts: dict[bool, Counter[str]] = {False: Counter(), True: Counter()}

    def add(self, noisy: bool, written: Mapping[str, Sequence[str]], chosen: Mapping[str, str]) -> None:
        """What one voice's calls have become."""
        counts = self._counts[noisy]
        for call in self.texts:
            counts["said"] += 1
            counts["exact"] += list(written[call]) == _plain(call)
            self._count(noisy, "Whisper", call, nearest(written[call], self.texts))
            self._count(noisy, "PocketSphinx", call, chosen[call])

    def _count(self, noisy: bool, engine: str, call: str, taken: str) -> None:
        counts = self._counts[noisy]
        if taken == call:
            counts[f"{engine} right"] += 1
        elif taken:
            counts[f"{engine} wrong"] += 1
            counts[f"{engine} opposite"] += self._opposite(call, taken)
            self.pairs[engine, call, taken] += 1

    def _opposite(self, one: str, other: str) -> bool:
        """Whether they turn the same layer in opposite directions."""
        turns = self.turns[one], self.turns[other]
        return turns[0][0] == turns[1][0] and "2" not in turns[0] + turns[1]

    def line(self, noisy: bool) -> str:
        """Shares of all calls in percent."""
        counts = self._counts[noisy]
        shown = {"exact": 7, "Whisper right": 8, "Whisper wrong": 7, "Whisper opposite": 9,
                 "PocketSphinx right": 9, "PocketSphinx wrong": 7, "PocketSphinx opposite": 9}  # fmt: skip
        return " ".join(f"{100 * counts[name] / counts['said']:{width}.1f}" for name, width in shown.items())


def nearest(written: Sequence[str], texts: Sequence[str]) -> str:
    """The call that what was written is most like; "" where two are alike or none is half so."""
    ranked = sorted(((_likeness(tuple(written), text), text) for text in texts), reverse=True)
    (best, text), (next_best, _) = ranked[:2]
    return text if best > next_best and best >= 0.5 else ""


@cache
def _likeness(written: tuple[str, ...], text: str) -> float:
    """How alike, 0..1: of words, and a little of letters, so that "write side up" is still near."""
    said = _plain(text)
    by_words = SequenceMatcher(None, written, said, autojunk=False).ratio()
    by_letters = SequenceMatcher(None, " ".join(written), " ".join(said), autojunk=False).ratio()
    return (by_words + by_letters) / 2


def _plain(text: str) -> list[str]:
    """The words; spellings of the same word are one."""
    return words(text.lower().replace("-", " ").replace("anti clockwise", "anticlockwise"))


def spoken(texts: Sequence[str], most: int) -> Iterator[tuple[str, dict[str, Samples]]]:
    """Every voice with its sounds at RATE."""
    for voice in ESPEAK[:most]:
        with Synthesiser(voice) as synthesiser:
            yield f"{voice.name} {voice.rate}", {text: _at_ear(synthesiser.synthesise(text)) for text in texts}
    for name in FLITE[:most]:
        yield f"flite {name}", {text: _at_ear(by_flite(text, name)) for text in texts}


def padded(sound: Samples) -> Samples:
    """With the quiet before and after it that a room has."""
    quiet = np.zeros(RATE // 3, np.int16)
    return np.concatenate([quiet, sound, quiet])


def in_babble(sound: Samples, seed: str) -> Samples:
    """The same with six talkers around."""
    return mixed(padded(sound), babble(), SNR, seed)


@cache
def babble() -> Samples:
    """Six talkers."""
    path = SHARED / "speech" / "noise" / "babble.wav"
    if not path.exists():
        sys.exit(f"There is no {path}.")
    return wav.read(path)


def _at_ear(sound: Samples) -> Samples:
    return wav.to_int16(resample(wav.to_float(sound), VOICE_RATE, RATE))
