"""What listening costs while nobody speaks, over the virtual sound card."""

import os
import time
from collections.abc import Sequence

import numpy as np

from benches import fact, head, lesson_by_voice, on_virtual_card, row

SECONDS = 20.0


def idle(arguments: Sequence[str] = ()) -> None:
    """The share of one core that an idle coach takes: devices open, listening, in digital silence and in a
    room's noise (the process plays that too, which it would not do in life)."""
    if not on_virtual_card("idle", arguments):
        return
    from coach.app.runtime import Runtime
    from coach.sound.local import LocalSound
    from coach.sound.loudspeaker import Loudspeaker
    from coach.speech.signal import wav
    from coach.speech.turns.listening import Expectation, Unanswered

    head()
    runtime = Runtime()
    seat, sound, learner = runtime.seat(), LocalSound("coach_microphone", "coach_speaker"), Loudspeaker("learner_mouth")
    phrases = seat.language.phrases("turn")
    driver = lesson_by_voice(seat, sound, seat.recognition()).driver

    def heard(seconds: float) -> object:
        return driver.listen(Expectation(phrases, seconds))

    room = np.random.default_rng(1).normal(0, 10 ** (-50 / 20), 22_050 * round(SECONDS + 12))
    sound.open()
    for what in ("digital silence", "noise of -50 dBFS"):
        if what.startswith("noise"):
            learner.open()
            learner.begin(wav.to_int16(room))
            heard(5.0)  # it gets to know the room
        share = []
        end = time.monotonic() + SECONDS
        while time.monotonic() < end:
            before, began = os.times(), time.monotonic()
            if not isinstance(heard(2.0), Unanswered):
                fact(f"idle, {what}", "something was heard in it")
            after = os.times()
            used = after.user + after.system - before.user - before.system
            share.append(100 * used / (time.monotonic() - began))
        row(f"idle listening, {what}", share, "%", aim="aim: 10 % of a core")
    fact("idle: blocks lost at the microphone", f"{driver.lost_blocks[0]:8d}")
    for held in (learner, sound, seat, runtime):
        held.close()
