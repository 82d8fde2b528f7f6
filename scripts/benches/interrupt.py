"""How soon the coach is silent when the learner begins to speak, over the virtual sound card."""

import threading
import time
from collections.abc import Sequence

from benches import fact, head, lesson_by_voice, on_virtual_card, row
from benches.card import Ear

SAID = ("stop", "wait", "slow down", "repeat that", "help me", "go back one", "i am lost", "what next")
CALL = "Hold the cube so that the line on top runs from the left to the right. Then turn the right side up."


def interrupt(arguments: Sequence[str] = ()) -> None:
    """From the learner's first sound to the coach's last, and what was heard of the words."""
    if not on_virtual_card("interrupt", arguments):
        return
    from coach.app.runtime import Runtime
    from coach.dialogue import Heard, Listen, Tell
    from coach.sound.local import LocalSound
    from coach.sound.loudspeaker import Loudspeaker
    from coach.speech.voice.synthesis import Voice

    head()
    at_learner, at_coach = Ear("learner_mouth_monitor"), Ear("coach_speaker_monitor")
    silent: list[float] = []
    right = missed = 0
    with (
        Runtime() as runtime, runtime.seat() as seat, Loudspeaker("learner_mouth") as learner,
        LocalSound("coach_microphone", "coach_speaker") as coach,
    ):  # fmt: skip
        shell = lesson_by_voice(seat, coach, seat.recognition())
        shell.duplex = True
        speak = runtime.synthesiser.synthesise
        words = [(text, speak(text, Voice(name))) for name in ("en-us+f3", "en-us") for text in SAID]
        for text, sound in words:
            begin = time.perf_counter()
            player = threading.Timer(1.5, learner.play, [sound])
            player.start()
            shell.say(Tell(CALL))
            event = shell.listen(Listen("turn", 2.5))
            player.join()
            time.sleep(1.0)
            heard = at_learner.first(begin, 200)
            last = at_coach.last(begin) if heard is not None else None
            if heard is None or last is None or last - heard > 2.0:
                missed += 1
            else:
                silent.append((last - heard) * 1000)
            right += isinstance(event, Heard) and event.meaning == seat.language.understand(text, "turn")
    row("interrupt: learner's first sound to silence", silent, aim="aim: 200")
    fact("interrupt: coach went on; words heard rightly", f"{missed:8d} {right:8d} of {len(words)}")
    for ear in (at_learner, at_coach):
        ear.line.close()
