"""The voice shell: speaks what the lesson says, listens for the answer, and lives with lost devices."""

import atexit
import os
import sys
import time
from collections.abc import Callable, Iterable
from functools import partial
from typing import TextIO, TypeVar

from coach.audio import devices, engines
from coach.audio.errors import DeviceError, SynthesisError
from coach.audio.hearing import OPEN, at_once, meaning_of
from coach.audio.levels import advice
from coach.audio.listening import Listener, Utterance
from coach.audio.loudspeaker import Loudspeaker
from coach.audio.microphone import Microphone
from coach.audio.recogniser import SecondLook
from coach.audio.synthesis import Synthesiser, Voice
from coach.dialogue import Adjust, Event, Heard, Listen, Say, Silence
from coach.language import Language
from coach.typed import TypedShell

_Result = TypeVar("_Result")

TAIL = 0.25  # seconds after the coach's last word during which its echo is not listened to
_PATIENCE = 60.0  # seconds to wait for a device that has gone, before going on typed
_RETRY = 1.0
_SHORTEST = 0.3  # seconds; less time than this is not worth listening for


def open_voice(
    language: Language,
    microphone: str | None = None,
    loudspeaker: str | None = None,
    engine: str | None = None,
    voice: Voice | None = None,
    second: SecondLook | None = None,
) -> "VoiceShell":
    """Open everything that a lesson by voice needs. Raises AudioError with what to do where it cannot.

    Devices by name, else those in TURNCALLER_MICROPHONE and TURNCALLER_LOUDSPEAKER, else the system's.
    """
    devices.hush()
    mouth = Loudspeaker(loudspeaker or os.environ.get("TURNCALLER_LOUDSPEAKER"))
    ear = Microphone(microphone or os.environ.get("TURNCALLER_MICROPHONE"))
    synthesiser = Synthesiser(voice)
    try:
        synthesiser.synthesise("ready")  # starts its process, and tells now if there is no synthesiser
        recogniser = engines.choose(engine)
        if lacking := engines.lacking(recogniser, language):
            print(lacking, file=sys.stderr, flush=True)
        listener = Listener(recogniser, second)
        mouth.open()
        ear.open()
    except BaseException:
        mouth.close()
        ear.close()
        synthesiser.close()
        raise
    shell = VoiceShell(language, ear, mouth, listener, synthesiser)
    atexit.register(shell.close)
    return shell


class VoiceShell:
    """Carries out a lesson's acts by sound, with captions on `captions`.

    Half duplex: it does not listen while it speaks. Where the devices are gone for good it goes on typed.
    """

    def __init__(
        self,
        language: Language,
        ear: Microphone,
        mouth: Loudspeaker,
        listener: Listener,
        synthesiser: Synthesiser,
        captions: TextIO | None = None,
        patience: float = _PATIENCE,
    ) -> None:
        self._language = language
        self._ear, self._mouth = ear, mouth
        self._listener, self._synthesiser = listener, synthesiser
        self._captions = captions or sys.stdout
        self._patience = patience
        self._typed: TypedShell | None = None
        self._mute = False  # the synthesiser has failed: captions only
        self._unheard = 0  # utterances in a row of which nothing was understood

    def say(self, say: Say) -> None:
        """Speak it; returns when it has sounded."""
        if self._typed:
            return self._typed.say(say)
        self._caption(say.text)
        return self._speak(say.text)

    def listen(self, listen: Listen) -> Event | None:
        """What the learner says, or that nothing was said."""
        if self._typed:
            return self._typed.listen(listen)
        phrases = self._language.phrases(listen.asked, listen.scene)
        meaning = meaning_of(self._language, listen.asked, listen.scene) if listen.asked in OPEN else None
        same = partial(self._same, listen)
        stands = at_once(self._language, listen.asked, listen.scene)
        left = listen.seconds
        self._with_devices(partial(self._ear.deaf_for, TAIL))
        while self._typed is None and left > _SHORTEST:
            began = time.monotonic()
            hear = partial(self._listener.listen, self._ear, phrases, left, meaning, same, stands)
            utterance = self._with_devices(hear)
            if utterance is None:
                break
            event = self._event(utterance, listen)
            # In the pause after a call nothing was asked: what is not a command was not for the coach.
            if event.meaning is not None or listen.asked != "turn":
                return event
            left -= time.monotonic() - began
        if self._typed:
            return self._typed.listen(listen)
        return Silence(listen.seconds)

    def adjust(self, adjust: Adjust) -> None:
        """Louder or softer by so many steps."""
        self._mouth.adjust(adjust.volume)

    def prepare(self, texts: Iterable[str]) -> None:
        """Make these sounds ahead: what may be said next."""
        self._synthesiser.prefetch(texts)

    def close(self) -> None:
        """Let go of the devices and the voice."""
        atexit.unregister(self.close)
        self._ear.close()
        self._mouth.close()
        self._synthesiser.close()

    def _speak(self, text: str) -> None:
        if self._mute:
            return
        try:
            samples = self._synthesiser.synthesise(text)
        except SynthesisError as error:
            self._mute = True
            self._tell(f"{error} Please read what the coach says here.")
            return
        self._with_devices(partial(self._mouth.play, samples))

    def _same(self, listen: Listen, one: str, other: str) -> bool:
        """Whether two answers mean the same."""
        meanings = [self._language.understand(text, listen.asked, listen.scene) for text in (one, other)]
        return meanings[0] is not None and meanings[0] == meanings[1]

    def _event(self, utterance: Utterance, listen: Listen) -> Heard:
        heard = utterance.heard
        meaning = self._language.understand(heard.text, listen.asked, listen.scene) if heard.text else None
        if heard.text:
            self._caption(f"> {heard.text}")
        self._unheard = 0 if meaning else self._unheard + 1
        if self._unheard == 2 and (remark := advice(utterance.levels)):
            self._caption(remark)
            self._speak(remark)
        return Heard(heard.text, meaning, heard.confidence)

    def _with_devices(self, work: Callable[[], _Result]) -> _Result | None:
        """Do it; when a device vanishes meanwhile wait for it and do it again. None once typing."""
        while self._typed is None:
            try:
                return work()
            except DeviceError as error:
                self._wait_for_devices(error)
        return None

    def _wait_for_devices(self, problem: DeviceError) -> None:
        self._tell(f"{problem} I wait until it is back.")
        until = time.monotonic() + self._patience
        while time.monotonic() < until:
            self._ear.close()
            self._mouth.close()
            devices.refresh()
            try:
                self._mouth.open()
                self._ear.open()
            except DeviceError:
                time.sleep(_RETRY)
                continue
            self._tell("Sound is back.")
            return
        self._tell("It did not come back. The lesson goes on typed: answer with a line (empty: a pause).")
        self._typed = TypedShell(self._language)

    def _caption(self, text: str) -> None:
        print(text, file=self._captions, flush=True)

    def _tell(self, text: str) -> None:
        print(text, file=sys.stderr, flush=True)
