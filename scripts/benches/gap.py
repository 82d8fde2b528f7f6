"""From the end of the learner's word to the start of the coach's answer, over the virtual sound card."""

import csv
import threading
import time
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from benches import SHARED, fact, head, lesson_by_voice, on_virtual_card, row
from benches.card import Ear, onset, word_end
from benches.quick import ANSWER, SPOKEN
from coach.cube import Turn

if TYPE_CHECKING:
    from coach.app.runtime import Seat
    from coach.speech.ears.two_pass import TwoPass

RECORDED = {"yes": "claim", "no": "claim", "stop": "turn"}  # words that lessons ask for, and when
EACH = 6  # recordings of each


def words() -> list[tuple[str, str, np.ndarray]]:
    """What is said (question, text, sound): synthesised, and recorded people where there are recordings."""
    from coach.speech.signal import wav
    from coach.speech.signal.resample import resample
    from coach.speech.voice.synthesis import Synthesiser, Voice

    with Synthesiser() as one:
        made = [("turn", text, one.synthesise(text, Voice(name))) for name in ("en-us", "en-us+f3") for text in SPOKEN]
    if (SHARED / "speech/MANIFEST.tsv").exists():
        with (SHARED / "speech/MANIFEST.tsv").open() as file:
            rows = list(csv.DictReader(file, delimiter="\t"))
        for text, asked in RECORDED.items():
            for entry in [row for row in rows if row["transcript"] == text and row["path"].startswith("words/")][:EACH]:
                sound = wav.to_float(wav.read(SHARED / "speech" / entry["path"]))
                made.append((asked, text, wav.to_int16(resample(sound, wav.RATE, wav.VOICE_RATE))))
    return made


def gap(arguments: Sequence[str] = ()) -> None:
    """The gap with the first pass alone, and with the second; `first` or `both`: only that."""
    if not on_virtual_card("gap", arguments):
        return
    from coach.app.runtime import Runtime
    from coach.speech.ears.two_pass import TwoPass

    head()
    with Runtime() as runtime, runtime.seat() as seat:
        both = seat.recognition()
        if "both" not in arguments:
            measure("first pass alone", seat, TwoPass(both.first))
        if "first" not in arguments and both.second:
            measure("both looks", seat, both)


def measure(what: str, seat: "Seat", recognition: "TwoPass") -> None:
    from coach.dialogue import CallTurn, Heard, Listen
    from coach.sound.local import LocalSound
    from coach.sound.loudspeaker import Loudspeaker
    from coach.speech.signal.wav import VOICE_RATE

    at_learner, at_coach = Ear("learner_mouth_monitor"), Ear("coach_speaker_monitor")
    gaps: list[float] = []
    wrong = missed = 0
    with Loudspeaker("learner_mouth") as learner, LocalSound("coach_microphone", "coach_speaker") as coach:
        shell = lesson_by_voice(seat, coach, recognition)
        shell.say(CallTurn(ANSWER, Turn("R")))  # so that it is ready
        time.sleep(1.0)
        for asked, text, sound in (said := words()):
            begin = time.perf_counter()
            player = threading.Timer(0.7, learner.play, [sound])
            player.start()
            event = shell.listen(Listen(asked, 4.0))
            if isinstance(event, Heard) and event.meaning is not None:
                shell.say(CallTurn(ANSWER, Turn("R")))
                wrong += event.meaning != seat.language.understand(text, asked)
            else:
                missed += 1
            player.join()
            time.sleep(0.4)
            heard, answered = at_learner.first(begin), at_coach.first(begin)
            if heard is not None and answered is not None:
                gaps.append((answered - heard - (word_end(sound, VOICE_RATE) - onset(sound)) / VOICE_RATE) * 1000)
    row(f"gap, {what}: end of word to start of answer", gaps, aim="aim: 200 / 400")
    fact(f"gap, {what}: heard wrongly, not understood", f"{wrong:8d} {missed:8d} of {len(said)}")
    lost, dry = shell.driver.lost_blocks
    fact(f"gap, {what}: blocks lost at the microphone", f"{lost:8d}")
    fact(f"gap, {what}: times the loudspeaker ran dry", f"{dry:8d} latency {coach.sink.latency} s")
    for ear in (at_learner, at_coach):
        ear.line.close()
