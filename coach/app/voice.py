"""The voice shell: turns what the lesson says into sound, and what the learner says into events."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable
from contextlib import ExitStack
from dataclasses import replace
from functools import partial
from typing import Final

from coach.app.advice import Advice, know_room
from coach.app.captions import Captions
from coach.app.certainty import Judge
from coach.app.expected import expectation
from coach.app.interruption import MovesOn, Unsaid, rest_of, sentences
from coach.app.runtime import Seat
from coach.app.typed import TypedShell, read_typed
from coach.dialogue import Adjust, Bye, Event, Heard, Listen, Say, Silence, Tell, When
from coach.language import QUESTIONS, Language
from coach.sound.local import LocalSound
from coach.speech.errors import DeviceError, SynthesisError
from coach.speech.signal.wav import Samples
from coach.speech.turns.driver import Driver, Typed
from coach.speech.turns.listening import Listener, Utterance
from coach.speech.turns.turns import Turns
from coach.speech.voice.synthesis import Narrator, Voice

_HEARD_OUT: Final = 1.0
"""Give a learner who has begun to speak this many seconds to speak again."""
_GONE: Final = "It did not come back. The lesson goes on typed: answer with a line (empty: a pause)."


def open_voice(
    seat: Seat, microphone: str | None = None, loudspeaker: str | None = None, voice: Voice | None = None
) -> VoiceShell:
    """Open everything that a voice lesson needs. Raises AudioError, saying what to do, if that fails.

    Devices are chosen by name, else from TURNCALLER_MICROPHONE and TURNCALLER_LOUDSPEAKER, else by the system. With an
    echo canceller the learner may barge in.
    """
    captions = Captions()
    with ExitStack() as held:
        narrator = seat.narrator(voice or Voice())
        held.callback(narrator.close)
        narrator.synthesise("ready")  # start its process now, so that a missing synthesiser is reported at once
        recognition = seat.recognition()
        recognition.prepare()
        sound = held.enter_context(LocalSound(microphone, loudspeaker, captions.tell))
        turns = Turns(Listener(recognition))
        turns.duplex = turns.echoes = sound.echo_cancelled
        driver = Driver(turns, sound.blocks, sound.sink, sound.mend)
        know_room(driver, seat.language.sentences, captions.tell)
        return VoiceShell(seat.language, driver, narrator, captions, held.pop_all().close)


class VoiceShell:
    """Carries out a lesson's acts by sound. If the devices are gone for good, it goes on typed."""

    def __init__(
        self,
        language: Language,
        driver: Driver,
        narrator: Narrator,
        captions: Captions | None = None,
        close: Callable[[], None] = lambda: None,
    ) -> None:
        """`close`: what else to do at the end of the lesson."""
        self._language, self._narrator = language, narrator
        self.driver, self.captions, self.close = driver, captions or Captions(), close
        self._turns = driver.turns
        self._judge, self._advice = Judge(), Advice(language.sentences)
        self._typed: TypedShell | None = None
        self._mute = False  # the synthesiser has failed: captions only
        self._unsaid: Unsaid | None = None

    @property
    def duplex(self) -> bool:
        """Whether the learner may barge in: with headphones, or if the microphone does not pick up the coach."""
        return self._turns.duplex

    @duplex.setter
    def duplex(self, may: bool) -> None:
        self._turns.duplex = may

    def say(self, say: Say) -> None:
        """Speak it; returns once it has been heard in full, or when the learner barges in."""
        if self._typed:
            return self._typed.say(say)
        try:
            self._say_in_turn(say)
        except DeviceError:
            self._go_typed()

    def listen(self, listen: Listen) -> Event | None:
        """What the learner says, or that nothing was said."""
        typed = self._typed
        if typed is None:
            try:
                return self._listen(listen)
            except DeviceError:
                typed = self._go_typed()
        return typed.listen(listen)

    def adjust(self, adjust: Adjust) -> None:
        """Make the voice louder or softer by some steps."""
        self.driver.sink.adjust(adjust.volume)

    def prepare(self, texts: Iterable[str]) -> None:
        """Synthesise ahead of time what may be said next."""
        self._narrator.prefetch(sentence for text in texts for sentence in sentences(text))

    def __enter__(self) -> VoiceShell:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def _go_typed(self) -> TypedShell:
        self.captions.tell(_GONE)
        since = time.monotonic() - self._turns.now  # its clock goes on from here
        self._typed = TypedShell(self._language, clock=lambda: time.monotonic() - since)
        return self._typed

    # Listening

    def _listen(self, listen: Listen) -> Event:
        while True:
            if self._unsaid and self._unsaid.wanted(listen):
                self._say_rest()
                continue
            event = self._hear(listen)
            if self._unsaid and self._unsaid.after(event, listen) == "rest":
                self._turns.interrupted(in_vain=not (isinstance(event, Heard) and event.meaning))
                self._say_rest()
            elif event:
                return event

    def _hear(self, listen: Listen) -> Event | None:
        """The event in this moment; None after an interruption that meant nothing."""
        interrupted = self._unsaid is not None and self._unsaid.fresh
        seconds = _HEARD_OUT if interrupted else listen.seconds
        if listen.until is not None:
            seconds = max(listen.until - self._turns.now, 0.0)
        began = self._turns.now
        onward = self._language.onward if self._unsaid else ()
        result = self.driver.listen(expectation(self._language, listen, seconds, onward))
        while isinstance(result, Utterance):
            event = self._event(result, listen)
            if listen.timed:
                event = replace(event, when=When(began, self._turns.now - result.ago))
            if event.meaning and listen.asked != "turn":
                self._turns.answered(result)
            # In the pause after a call nothing was asked, so anything but a command was not meant for the coach.
            if event.meaning is not None or event.guesses or listen.asked != "turn":
                return event
            if interrupted:
                break
            result = self.driver.go_on()
        if isinstance(result, Typed):
            when = When(began, self._turns.now) if listen.timed else None
            return read_typed(result.text, self._language, listen, when)
        if listen.timed:
            return Silence(listen.seconds, When(began, self._turns.now))
        if not QUESTIONS[listen.asked].busy:
            self._turns.missed()
        if listen.asked != "turn" and (remark := self._advice.on_silence(self._turns.signal)):
            self._say(Tell(remark))
        return None if interrupted else Silence(listen.seconds)

    def _event(self, utterance: Utterance, listen: Listen) -> Heard:
        understand = partial(self._language.understand, asked=listen.asked, scene=listen.scene)
        event = self._judge(utterance.heard, utterance.levels, understand, listen.asked)
        event = event.with_asides(partial(self._language.aside, asked=listen.asked, scene=listen.scene))
        if utterance.heard.text:
            self.captions.learner(utterance.heard.text)
        if not listen.timed and (remark := self._advice.on(event, utterance.levels)):
            self._say(Tell(remark))
        return event

    # Speaking

    def _say_in_turn(self, say: Say) -> None:
        if self._unsaid and self._unsaid.fresh and not isinstance(say, Bye):
            self._unsaid.add(say)  # said once the learner has been heard
            return
        if self._unsaid and isinstance(say, MovesOn):
            self._unsaid = None
        self._say(say)

    def _say(self, say: Say) -> None:
        self.captions.coach(say.text)
        if self._mute:
            return
        try:
            sounds = self._sounds(say.text)
        except SynthesisError as error:
            self._mute = True
            self.captions.tell(f"{error} Please read what the coach says here.")
            return
        said = self.driver.say(sounds)
        if said.cut_off:
            self._unsaid = Unsaid([replace(say, text=rest_of(say.text, said.sentences))])

    def _sounds(self, text: str) -> list[Samples]:
        return [self._narrator.synthesise(sentence) for sentence in sentences(text)]

    def _say_rest(self) -> None:
        """Say what was cut off; it may be cut off again."""
        assert self._unsaid
        rest, self._unsaid = self._unsaid.rest, None
        for say in rest:
            self._say_in_turn(say)
