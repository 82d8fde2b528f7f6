"""From the end of the learner's word to the start of the coach's answer, over the virtual sound card."""

import csv
import io
import threading
import time
from collections.abc import Sequence

import numpy as np

from benches import SHARED, fact, head, listener, on_virtual_card, row
from benches.card import Ear, onset, word_end
from benches.quick import ANSWER, SPOKEN
from coach.cube import Turn

RECORDED = {"yes": "claim", "no": "claim", "stop": "turn"}  # words that lessons ask for, and when
EACH = 6  # recordings of each


def words() -> list[tuple[str, str, np.ndarray]]:
    """What is said (question, text, sound): synthesised, and recorded people where there are recordings."""
    from coach.speech.signal import wav
    from coach.speech.signal.resample import resample
    from coach.speech.voice.synthesis import VOICE_RATE, Synthesiser, Voice

    with Synthesiser() as one:
        made = [("turn", text, one.synthesise(text, Voice(name))) for name in ("en-us", "en-us+f3") for text in SPOKEN]
    if (SHARED / "speech/MANIFEST.tsv").exists():
        with (SHARED / "speech/MANIFEST.tsv").open() as file:
            rows = list(csv.DictReader(file, delimiter="\t"))
        for text, asked in RECORDED.items():
            for entry in [row for row in rows if row["transcript"] == text and row["path"].startswith("words/")][:EACH]:
                sound = wav.to_float(wav.read(SHARED / "speech" / entry["path"]))
                made.append((asked, text, wav.to_int16(resample(sound, wav.RATE, VOICE_RATE))))
    return made


def gap(arguments: Sequence[str] = ()) -> None:
    """The gap with the first pass alone, and with the second; `first` or `both`: only that."""
    if not on_virtual_card("gap", arguments):
        return
    from coach.speech.ears.hearing import second_pass

    head()
    if "both" not in arguments:
        measure("first pass alone", None)
    if "first" not in arguments and (second := second_pass()):
        measure("both looks", second)


def measure(what: str, second: object) -> None:
    from coach.app.voice import VoiceShell
    from coach.dialogue import CallTurn, Heard, Listen
    from coach.language import load
    from coach.sound.loudspeaker import Loudspeaker
    from coach.sound.microphone import Microphone
    from coach.speech.voice.synthesis import VOICE_RATE, Synthesiser

    learner, coach, ear = Loudspeaker("learner_mouth"), Loudspeaker("coach_speaker"), Microphone("coach_microphone")
    for line in (learner, coach, ear):
        line.open()
    at_learner, at_coach = Ear("learner_mouth_monitor"), Ear("coach_speaker_monitor")
    gaps: list[float] = []
    wrong = missed = 0
    with Synthesiser() as one:
        language = load()
        language.prepare()
        shell = VoiceShell(language, ear, coach, listener(second), one, captions=io.StringIO())
        one.synthesise(ANSWER)
        for asked, text, sound in (said := words()):
            begin = time.perf_counter()
            player = threading.Timer(0.7, learner.play, [sound])
            player.start()
            event = shell.listen(Listen(asked, 4.0))
            if isinstance(event, Heard) and event.meaning is not None:
                shell.say(CallTurn(ANSWER, Turn("R")))
                wrong += event.meaning != language.understand(text, asked)
            else:
                missed += 1
            player.join()
            time.sleep(0.4)
            heard, answered = at_learner.first(begin), at_coach.first(begin)
            if heard is not None and answered is not None:
                gaps.append((answered - heard - (word_end(sound, VOICE_RATE) - onset(sound)) / VOICE_RATE) * 1000)
    row(f"gap, {what}: end of word to start of answer", gaps, aim="aim: 200 / 400")
    fact(f"gap, {what}: heard wrongly, not understood", f"{wrong:8d} {missed:8d} of {len(said)}")
    fact(f"gap, {what}: blocks lost at the microphone", f"{ear.lost_blocks:8d}")
    fact(f"gap, {what}: times the loudspeaker ran dry", f"{coach.lost_blocks:8d} latency {coach.latency} s")
    for line in (learner, coach, ear, at_learner.line, at_coach.line):
        line.close()
