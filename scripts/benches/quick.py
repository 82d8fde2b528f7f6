"""What needs no sound card: the recogniser, the voice, the understander."""

import json
import resource
import time
from collections.abc import Sequence

import numpy as np

from benches import SHARED, row, timed

SPOKEN = ("next", "yes", "repeat that", "slow down", "what next", "go back", "wait", "stop", "ready", "help")
ANSWER = "right side up"


def spoken() -> list[np.ndarray]:
    """Phrases at the recogniser's rate."""
    from coach.speech.signal import wav
    from coach.speech.signal.resample import resample
    from coach.speech.voice.synthesis import Synthesiser, Voice

    with Synthesiser() as voice:
        made = [voice.synthesise(text, Voice(name)) for text in SPOKEN for name in ("en-us", "en-us+f3")]
    return [wav.to_int16(resample(wav.to_float(samples), wav.VOICE_RATE, wav.RATE)) for samples in made]


def recogniser(arguments: Sequence[str] = ()) -> None:
    from coach.speech.ears import engines
    from coach.speech.signal.wav import RATE

    sounds = spoken()
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    begin = time.perf_counter()
    one = engines.choose()
    load = (time.perf_counter() - begin) * 1000
    row(f"{one.name}: load", [load], aim="aim: ready within 2000")
    streamed, finished = [], []
    for sound in sounds * 2:
        one.limit(SPOKEN)
        blocks = [sound[at : at + 320].tobytes() for at in range(0, len(sound), 320)]
        took = timed(lambda blocks=blocks: [one.feed(block) for block in blocks])
        streamed.append(took / (len(sound) / RATE * 1000))
        finished.append(timed(one.finish))
    row(f"{one.name}: real-time factor, streaming", streamed, "x")
    row(f"{one.name}: end of sound to result", finished)
    row(f"{one.name}: memory it added", [(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) / 1024], "MB")
    row("memory of the process in all", [resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024], "MB", "aim: 300")


def voice(arguments: Sequence[str] = ()) -> None:
    from coach.speech.voice.synthesis import Synthesiser

    first = []
    for _ in range(3):
        with Synthesiser() as one:
            first.append(timed(lambda one=one: one.synthesise(ANSWER)))
    row("voice: first phrase, with its process", first, aim="aim: ready within 2000")
    with Synthesiser() as one:
        one.synthesise(ANSWER)
        new = [timed(lambda number=number: one.synthesise(f"turn number {number}")) for number in range(50)]
        again = [timed(lambda number=number: one.synthesise(f"turn number {number}")) for number in range(50)]
    row("voice: a new phrase", new)
    row("voice: a phrase made before", again)


def understand(arguments: Sequence[str] = ()) -> None:
    from coach.language import load

    shared = SHARED / "examples/learner_answers.jsonl"
    lines = [("look-top-edges", "a line from left to right"), ("turn", "go back one"), ("claim", "no it is not")] * 50
    if shared.exists():
        lines = [(entry["asked"], entry["said"]) for entry in map(json.loads, shared.read_text("utf-8").splitlines())]
    begin = time.perf_counter()
    language = load()
    language.understand("yes", "claim")
    row("understanding: load", [(time.perf_counter() - begin) * 1000])
    took = [timed(lambda asked=asked, said=said: language.understand(said, asked)) for asked, said in lines]
    row("understanding: a line", took, aim="aim: 5")
