"""A whole lesson between the coach and a simulated learner, both audible, without any sound device.

A second voice speaks the learner's answers in a recorded room, where the voice shell listens as in any lesson: the
coach knows only what it has heard. The result is one recording with a transcript beside it.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from contextlib import ExitStack, closing
from functools import partial
from pathlib import Path
from random import Random
from typing import Final

from tqdm import tqdm

from coach.app.advice import know_room
from coach.app.captions import Captions
from coach.app.interrupt import CtrlC
from coach.app.runtime import Runtime, Seat
from coach.app.session import run
from coach.app.voice import VoiceShell
from coach.dialogue import Act, Adjust, Ask, End, Event, Heard, Listen, Pace, Say, Silence
from coach.dialogue.lesson import Lesson, Settings
from coach.language import Language
from coach.method import default_method
from coach.records.log import SessionLog
from coach.simulation import Learner, random_cube
from coach.simulation.ears import words
from coach.simulation.mouth import Mouth
from coach.simulation.room import Room, RoomTime
from coach.speech.signal import wav
from coach.speech.signal.wav import VOICE_RATE, at_tempo
from coach.speech.turns.driver import Driver
from coach.speech.turns.listening import Listener
from coach.speech.turns.turns import Turns
from coach.speech.voice.synthesis import Voice

_REACTION: Final = 0.5
"""Seconds from the coach's last word to the learner's first."""
_TEMPOS: Final = (0.94, 1.06)
"""The range of the learner's tempo: nothing is said twice in quite the same way."""
_PATIENCE: Final = 2 * 3600.0
"""The learner gives up an endless lesson after this many seconds."""


class _Led:
    """A learner who does as the coach says and answers it; without a room they always understand each other."""

    def __init__(self, language: Language, learner: Learner) -> None:
        self.language, self.learner, self.said = language, learner, 0
        self.gone = False
        asking = (language.sentences.say(f"reply.did-you-{verb}", text="|") for verb in ("mean", "say"))
        self._asks_back = [text.split("|") for text in asking]
        self._guess: str | None = None
        self._last: tuple[str, Listen] | None = None  # what the learner has said, and in reply to what

    def say(self, say: Say) -> None:
        self.said += 1
        if isinstance(say, Ask) and say.query.about == "heard":
            before, after = next(each for each in self._asks_back if say.text.startswith(each[0]))
            self._guess = say.text.removeprefix(before).removesuffix(after)
        else:  # the previous question stays open while the coach confirms the answer
            self.learner.hear(say)

    def listen(self, listen: Listen) -> Event | None:
        text = self.answer(listen)
        if not text:
            return Silence(listen.seconds)
        return Heard.read(text, self.language.read(text, listen.asked, listen.scene), listen.asked)

    def adjust(self, adjust: Adjust) -> None:
        pass

    def answer(self, listen: Listen) -> str:
        """What the learner says now, or ""."""
        if self._guess is not None:
            guess, self._guess = self._guess, None
            return "yes" if self._means_as_much(guess) else "no"
        text = self.learner.answer(listen.asked)
        self._last = (text, listen)
        return text

    def _means_as_much(self, guess: str) -> bool:
        """Whether the learner has said that, perhaps in other words."""
        if self._last is None:
            return False
        said, to = self._last
        one, other = (self.language.understand(text, to.asked, to.scene) for text in (guess, said))
        return one is not None and one == other


class _Transcript(Captions):
    """Writes what the coach says to the transcript, where remarks on the learner's lines show what it has heard."""

    def __init__(self, lines: list[str]) -> None:
        super().__init__()
        self._lines = lines

    def coach(self, text: str) -> None:
        self._lines.append(f"Coach: {text}")

    def learner(self, text: str) -> None:
        pass


class _Recorded(_Led):
    """The same through the voice shell, in a recorded room. `lines`: the transcript."""

    def __init__(self, seat: Seat, learner: Learner, mouth: Mouth, bar: tqdm[None]) -> None:
        super().__init__(seat.language, learner)
        self.lines: list[str] = []
        self.room = Room()
        self._mouth, self._bar, self._random = mouth, bar, Random(0)
        captions = _Transcript(self.lines)
        turns = Turns(Listener(seat.recognition(pool=RoomTime(self.room))))
        driver = Driver(turns, self.room, self.room)
        self._shell = VoiceShell(seat.language, driver, seat.narrator(Voice()), captions)
        know_room(driver, seat.language.sentences, captions.tell)

    def say(self, say: Say) -> None:
        super().say(say)
        self._shell.say(say)
        self._bar.update()

    def listen(self, listen: Listen) -> Event | None:
        self.gone = self.room.seconds > _PATIENCE
        if self.gone:
            return None
        text = self.answer(listen)
        if text:
            sound = at_tempo(self._mouth.sound(text), self._random.uniform(*_TEMPOS))
            self.room.speak(sound, _REACTION)
        before = len(self.lines)
        event = self._shell.listen(listen)
        if text:  # before anything the coach may have said on its own: that it hears badly
            self.lines.insert(before, f"Learner: {text}{_remark(text, event)}")
        return event


class _Whole(Lesson):
    """A lesson that ends at once when interrupted: only a complete demo is kept."""

    led: _Led
    interrupted = False

    def stop(self) -> list[Act]:
        self.interrupted = not self.led.gone
        return [act for act in super().stop() if isinstance(act, End) or not self.interrupted]


def _remark(text: str, event: Event | None) -> str:
    if not isinstance(event, Heard):
        return " [not heard]"
    if event.guesses:
        return f" [heard, not surely: {', '.join(guess.text for guess in event.guesses)}]"
    if event.meaning is None:
        return f" [not understood: {event.text}]" if event.text else " [not understood]"
    return "" if words(event.text) == words(text) else f" [heard: {event.text}]"


def _hold(step: str, settings: Settings, ctrl_c: CtrlC, led: _Led) -> str:
    """Hold the lesson and return how it has ended. Raises KeyboardInterrupt."""
    lesson = _Whole(default_method(), led.language.sentences, step, settings, led.language.offers)
    lesson.led = led
    outcome = run(lesson, led, SessionLog(None), interrupted=ctrl_c.pressed).outcome
    if lesson.interrupted:
        raise KeyboardInterrupt
    return outcome


def record(out: Path, step: str, seed: int, pause: float | None = None) -> int:
    """Hold the lesson from `step` on, write the recording to `out` and the transcript beside it as .txt.

    The exit code is 0 if the cube is solved in the end. Raises AudioError or OSError if that fails, and
    KeyboardInterrupt with nothing written.
    """
    cube = random_cube(step, Random(seed))
    settings = Settings(pace=Pace(pause) if pause else Pace())
    with ExitStack() as stack:
        hold = partial(_hold, step, settings, stack.enter_context(CtrlC()))
        seat = stack.enter_context(stack.enter_context(Runtime()).seat())
        rehearsal = _Led(seat.language, Learner(cube, Random(seed)))
        hold(rehearsal)
        mouth = stack.enter_context(closing(Mouth()))
        bar = stack.enter_context(tqdm(total=rehearsal.said, unit="sentence", desc="The lesson", file=sys.stderr))
        shell = _Recorded(seat, Learner(cube, Random(seed)), mouth, bar)
        outcome = hold(shell)
    transcript = out.with_suffix(".txt")
    _write(shell, out, transcript)
    minutes, seconds = divmod(round(shell.room.seconds), 60)
    print(f"{out}: {minutes} min {seconds} s, both voices. The transcript is in {transcript}.")
    if outcome == "done" and shell.learner.cube.solved:
        return 0
    ended = _FAILED.get(outcome, "The lesson has ended")
    print(f"{ended}, and the learner's cube is not solved. Look in {transcript} for where the coach "
          "misheard, or take another cube with --seed.", file=sys.stderr)  # fmt: skip
    return 1


_FAILED: Final[Mapping[str, str]] = {
    "done": "The coach believes that it is done",
    "stopped": "The coach has stopped early",
    "unsolvable": "The coach has found the cube to be put together wrongly",
}


def _write(shell: _Recorded, out: Path, transcript: Path) -> None:
    """Write both files or, if that fails, neither: nothing half-written is left behind."""
    beside = [path.with_name(f".{path.name}.part") for path in (out, transcript)]
    try:
        wav.write(beside[0], shell.room.tape, VOICE_RATE)
        beside[1].write_text("\n".join(shell.lines) + "\n", "utf-8")
        for part, path in zip(beside, (out, transcript), strict=True):
            part.replace(path)
    finally:
        for part in beside:
            part.unlink(missing_ok=True)
