"""The robot in the room: a simulated learner with a mouth and ears of its own, `python -m coach.simulation.robot`.

It knows of the coach only what comes out of the coach's loudspeaker. On stdout it writes what it says; its last
line tells how its cube lies. Exit code 0: the top is of one colour.
"""

import argparse
import sys
from random import Random

import numpy as np

from coach.language import load
from coach.method import default_method
from coach.simulation import Learner, random_cube
from coach.simulation.ears import Ears, words
from coach.simulation.mouth import Mouth
from coach.simulation.pupil import Pupil
from coach.simulation.repertoire import Repertoire
from coach.simulation.sentences import SentenceRecogniser
from coach.sound.loudspeaker import Loudspeaker
from coach.sound.microphone import Microphone
from coach.speech.errors import AudioError
from coach.speech.signal.levels import dbfs
from coach.speech.signal.wav import RATE
from coach.speech.turns.inbox import Inbox

MOUTH, EARS = "learner_mouth", "coach_speaker_monitor"
"""The robot's ends of the virtual sound card."""
LISTENING = "The learner is listening."

_PAUSE = 1.1  # seconds of silence after which the coach has finished: half of them are its own
_PATIENCE = 90.0  # give up after this many seconds of silence
_LOUD = -55.0  # dBFS; the coach's voice comes over a noiseless cable
_GAIN = 0.3  # brings the coach's voice to the level at which the recogniser hears best


class Robot:
    """Hears the coach out, does what it was told, and answers in the coach's pauses."""

    def __init__(self, pupil: Pupil, ear: Inbox, speaker: Loudspeaker, mouth: Mouth) -> None:
        lines = Repertoire(load().sentences, default_method()).lines
        self._ears = Ears(lines)
        self._recogniser = SentenceRecogniser((" ".join(words(text)) for text in lines), _GAIN)
        self._pupil, self._ear, self._speaker, self._mouth = pupil, ear, speaker, mouth

    def run(self) -> bool:
        """Talk until the coach says goodbye; False if it has fallen silent."""
        while not self._pupil.parted:
            if not self._hear_out():
                return False
            sentences = self._ears.sentences(self._recogniser.finish())
            for missed in (sentence.heard for sentence in sentences if sentence.line is None):
                print(f"(not understood: {missed})", flush=True)
            if text := self._pupil.hear(sentences):
                print(text, flush=True)
                self._speaker.play(self._mouth.sound(text))
        return True

    def _hear_out(self) -> bool:
        """Listen until the coach has spoken and is silent; False if it says nothing."""
        spoken, still, waited = False, 0.0, 0.0
        while not spoken or still < _PAUSE:
            block = self._ear.take()
            samples = np.frombuffer(block, np.int16)
            loud = dbfs(samples) > _LOUD
            spoken = spoken or loud
            if spoken:
                self._recogniser.feed(block)
            still = 0.0 if loud else still + len(samples) / RATE
            waited += len(samples) / RATE
            if not spoken and waited > _PATIENCE:
                return False
        return True


def main() -> int:
    """Hold a lesson with the coach; the exit code is 0 if the top ends up in one colour."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--from", dest="step", default="top-cross")
    args = parser.parse_args()
    pupil = Pupil(Learner(random_cube(args.step, Random(args.seed)), Random(args.seed)))
    mouth = Mouth()
    try:
        microphone = Microphone(EARS)
        ear = Inbox(microphone)
        with microphone, Loudspeaker(MOUTH) as speaker:
            assert isinstance(speaker, Loudspeaker)
            robot = Robot(pupil, ear, speaker, mouth)
            ear.clear()
            print(LISTENING, flush=True)
            parted = robot.run()
    except AudioError as error:
        print(error, file=sys.stderr)
        return 1
    finally:
        mouth.close()
    if not parted:
        print("I have not heard the coach for a long time.", flush=True)
    print("The top is one colour." if pupil.done else "The top is not of one colour.", flush=True)
    return 0 if pupil.done else 1


if __name__ == "__main__":
    try:
        sys.exit(main())
    except KeyboardInterrupt:
        sys.exit(130)
