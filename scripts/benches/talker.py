"""Lessons by voice with a learner that talks: it knows what the coach says, holds a cube and answers aloud.

The learner's mouth is a process of its own (`python -m benches.talker`): a line in, its sound out.
"""

import math
import subprocess
import sys
import time
from contextlib import suppress
from random import Random

from benches import ROOT

_REACTION = 0.6  # seconds from the coach's last word to the learner's first
_VOICE = "en-us+f2"


class Mouth:
    """The learner's mouth, seen from here."""

    def __init__(self) -> None:
        self._process = subprocess.Popen(
            [sys.executable, "-m", "benches.talker"], stdin=subprocess.PIPE, text=True, cwd=ROOT / "scripts"
        )

    def say(self, text: str) -> None:
        assert self._process.stdin
        with suppress(OSError):
            self._process.stdin.write(text + "\n")
            self._process.stdin.flush()

    def close(self) -> None:
        with suppress(OSError):
            self._process.stdin.close()
        self._process.kill()
        self._process.wait()


class Led:
    """A shell round the voice shell, which tells the learner what goes on. `beat` is set to the time of whatever
    happens; after `until` the learner is gone."""

    def __init__(
        self,
        inner: object,
        mouth: Mouth,
        seed: int,
        step: str = "top-cross",
        beat: list[float] | None = None,
        until: float = math.inf,
    ) -> None:
        from coach.simulation import Learner, random_cube

        self.inner, self.mouth = inner, mouth
        random = Random(seed)
        self.learner = Learner(random_cube(step, random), random)
        self.said = self.answered = self.heard = 0
        self.beat, self.until = beat if beat is not None else [0.0], until

    def say(self, say: object) -> None:
        self.beat[0] = time.monotonic()
        self.learner.hear(say)
        self.said += 1
        self.inner.say(say)

    def listen(self, listen: object) -> object:
        from coach.dialogue import Heard

        self.beat[0] = time.monotonic()
        if time.monotonic() > self.until:
            return None
        text = self.learner.answer(listen.asked)
        if text:
            self.answered += 1
            self.mouth.say(text)
        event = self.inner.listen(listen)
        self.heard += bool(text) and isinstance(event, Heard) and event.meaning is not None
        return event

    def adjust(self, adjust: object) -> None:
        self.inner.adjust(adjust)


def lesson(led: Led, step: str = "top-cross", pause: float = 1.0) -> str:
    """Hold a lesson; how it ended."""
    from coach.app.session import run
    from coach.dialogue import Pace
    from coach.dialogue.lesson import Lesson, Settings
    from coach.language import load
    from coach.method import default_method
    from coach.records.log import SessionLog
    from coach.records.profile import Profile

    settings = Settings(Profile().held(), pace=Pace(pause, False))
    language = load()
    one = Lesson(default_method(), language.sentences, step, settings, language.offers)
    return run(one, led, SessionLog(None)).outcome


def main() -> None:
    """The learner's mouth: speaks each line; when its device has gone it waits for it."""
    sys.path.insert(0, str(ROOT))
    from coach.sound import devices
    from coach.sound.loudspeaker import Loudspeaker
    from coach.speech.errors import DeviceError
    from coach.speech.voice.synthesis import Synthesiser, Voice

    speaker = Loudspeaker("learner_mouth")
    with Synthesiser(Voice(_VOICE)) as voice:
        voice.synthesise("ready")
        for line in sys.stdin:
            sound = voice.synthesise(line)
            time.sleep(_REACTION)
            for _ in range(5):
                try:
                    if not speaker.alive:
                        speaker.close()
                        devices.refresh()
                        speaker.open()
                    speaker.play(sound)
                    break
                except DeviceError:
                    time.sleep(0.5)


if __name__ == "__main__":
    main()
