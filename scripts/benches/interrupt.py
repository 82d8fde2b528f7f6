"""How soon the coach is silent when the learner begins to speak, over the virtual sound card."""

import io
import threading
import time
from collections.abc import Sequence

from benches import fact, head, listener, on_virtual_card, row
from benches.card import Ear

SAID = ("stop", "wait", "slow down", "repeat that", "help me", "go back one", "i am lost", "what next")
CALL = "Hold the cube so that the line on top runs from the left to the right. Then turn the right side up."


def interrupt(arguments: Sequence[str] = ()) -> None:
    """From the learner's first sound to the coach's last, and what was heard of the words."""
    if not on_virtual_card("interrupt", arguments):
        return
    from coach.app.voice import VoiceShell
    from coach.dialogue import Heard, Listen, Tell
    from coach.language import load
    from coach.sound.loudspeaker import Loudspeaker
    from coach.sound.microphone import Microphone
    from coach.speech.ears.hearing import second_pass
    from coach.speech.voice.synthesis import Synthesiser, Voice

    head()
    learner, coach, ear = Loudspeaker("learner_mouth"), Loudspeaker("coach_speaker"), Microphone("coach_microphone")
    for line in (learner, coach, ear):
        line.open()
    at_learner, at_coach = Ear("learner_mouth_monitor"), Ear("coach_speaker_monitor")
    silent: list[float] = []
    right = missed = 0
    with Synthesiser() as one:
        language = load()
        language.prepare()
        shell = VoiceShell(language, ear, coach, listener(second_pass()), one, captions=io.StringIO())
        shell.duplex = True
        words = [(text, one.synthesise(text, Voice(name))) for name in ("en-us+f3", "en-us") for text in SAID]
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
            right += isinstance(event, Heard) and event.meaning == language.understand(text, "turn")
    row("interrupt: learner's first sound to silence", silent, aim="aim: 200")
    fact("interrupt: coach went on; words heard rightly", f"{missed:8d} {right:8d} of {len(words)}")
    for line in (learner, coach, ear, at_learner.line, at_coach.line):
        line.close()
