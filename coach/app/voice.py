"""The voice shell: speaks what the lesson says, listens for the answer, and lives with lost devices."""

import os
import sys
import time
from collections.abc import Callable, Iterable, Sequence
from functools import partial
from typing import TextIO, TypeVar

import numpy as np

from coach.app.certainty import agreed, judge
from coach.app.expected import Expected
from coach.app.interruption import GO_ON, MOVES_ON, Unsaid, rest_of, sentences
from coach.app.runtime import Seat
from coach.app.typed import TypedShell
from coach.dialogue import Adjust, Event, Heard, Listen, Say, Silence
from coach.language import Language, Meaning
from coach.sound import devices
from coach.sound.loudspeaker import Loudspeaker
from coach.sound.microphone import Microphone
from coach.speech.errors import DeviceError, SynthesisError
from coach.speech.signal.levels import SILENCE, Levels, advice, advice_on_room
from coach.speech.signal.wav import Samples
from coach.speech.turns.listening import Expectation, Listener, Unanswered, Utterance
from coach.speech.turns.ports import Ear, Mouth
from coach.speech.voice.synthesis import VOICE_RATE, Narrator, Voice

_Result = TypeVar("_Result")

TAIL = 0.25  # seconds after the coach's last word during which its echo is not listened to
_BREATH = 0.3  # seconds between two sentences
_PATIENCE = 60.0  # seconds to wait for a device that has gone, before going on typed
_RETRY = 1.0
_SHORTEST = 0.3  # seconds; less time than this is not worth listening for
_HEARD_OUT = 1.0  # seconds in which a learner who has begun to speak is heard again
_EACH_IN_VAIN, _MOST_IN_VAIN = 5, 4  # blocks of 20 ms that speech must last longer after each interruption by nothing
_ECHOES_IN_VAIN = 2  # as if there had been so many
_ROOM_BLOCKS = 25  # of 20 ms
_HEADPHONES_SECONDS = 5.0

HEADPHONES = "Do you wear headphones? Say yes or no."
_MAY_INTERRUPT = "Then you may speak while I speak, and I fall silent."


def open_voice(
    seat: Seat,
    microphone: str | None = None,
    loudspeaker: str | None = None,
    voice: Voice | None = None,
) -> "VoiceShell":
    """Open everything that a lesson by voice needs. Raises AudioError with what to do where it cannot.

    Devices by name, else those in TURNCALLER_MICROPHONE and TURNCALLER_LOUDSPEAKER, else the system's. Where
    they have an echo canceller the learner may interrupt the coach.
    """
    mouth = Loudspeaker(loudspeaker or os.environ.get("TURNCALLER_LOUDSPEAKER"))
    ear = Microphone(microphone or os.environ.get("TURNCALLER_MICROPHONE"))
    narrator = seat.narrator(voice or Voice())
    try:
        narrator.synthesise("ready")  # starts its process, and tells now if there is no synthesiser
        listener = Listener(seat.recognition())
        listener.prepare()
        mouth.open()
        ear.open()
    except BaseException:
        mouth.close()
        ear.close()
        narrator.close()
        raise
    shell = VoiceShell(seat.language, ear, mouth, listener, narrator)
    shell.duplex = shell.echoes = devices.echo_cancelled(ear.name)
    shell.know_room()
    return shell


class VoiceShell:
    """Carries out a lesson's acts by sound, with captions on `captions`.

    With `duplex` it listens while it speaks, and the learner may interrupt it: with headphones, or where
    the microphone is free of the coach's own voice. Where the devices are gone for good it goes on typed.
    """

    def __init__(
        self,
        language: Language,
        ear: Ear,
        mouth: Mouth,
        listener: Listener,
        narrator: Narrator,
        captions: TextIO | None = None,
        patience: float = _PATIENCE,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._language = language
        self._ear, self._mouth = ear, mouth
        self._listener, self._narrator = listener, narrator
        self.captions = captions or sys.stdout
        self._patience, self._clock = patience, clock
        self.duplex = False
        self.echoes = False  # an echo canceller leaves some of the coach's own voice
        self._typed: TypedShell | None = None
        self._mute = False  # the synthesiser has failed: captions only
        self._unheard = 0  # utterances in a row of which nothing was understood
        self._doubted: Heard | None = None  # what the last utterance may have been
        self._unsaid: Unsaid | None = None
        self._told_dead = False  # that no signal comes from the microphone
        self._in_vain = 0  # interruptions in a row that were nothing
        self._silent_from = 0.0  # when the coach's last word had sounded

    def say(self, say: Say) -> None:
        """Speak it; returns when it has sounded, or when the learner has begun to speak."""
        if self._typed:
            return self._typed.say(say)
        if self._unsaid and self._unsaid.fresh and say.act != "bye":
            return self._unsaid.add(say)  # it has its turn when the learner has been heard
        if self._unsaid and say.act in MOVES_ON:
            self._unsaid = None
        return self._say(say)

    def listen(self, listen: Listen) -> Event | None:
        """What the learner says, or that nothing was said."""
        while self._typed is None:
            if self._unsaid and self._unsaid.wanted(listen):
                self._say_rest()
                continue
            event = self._hear(listen)
            if self._unsaid and self._typed is None and self._unsaid.after(event, listen) == "rest":
                nothing = not (isinstance(event, Heard) and event.meaning)
                self._in_vain = self._in_vain + 1 if nothing else 0
                self._say_rest()
                continue
            self._silent_from = 0.0  # the answer needs no breath before it
            if self._typed is None:
                return event
        return self._typed.listen(listen)

    def ask_headphones(self) -> bool | None:
        """Whether the learner wears headphones; None where the question is not answered."""
        self._say(Say(HEADPHONES, "ask"))
        event = self._hear(Listen("other", _HEADPHONES_SECONDS)) if self._typed is None else None
        command = event.meaning.command if isinstance(event, Heard) and event.meaning else None
        if command not in ("yes", "no"):
            return None
        if command == "yes":
            self._say(Say(_MAY_INTERRUPT, "tell"))
        return command == "yes"

    def adjust(self, adjust: Adjust) -> None:
        """Louder or softer by so many steps."""
        self._mouth.adjust(adjust.volume)

    @property
    def lost_blocks(self) -> tuple[int, int]:
        """How often the microphone has lost sound and the loudspeaker run dry."""
        return self._ear.lost_blocks, self._mouth.lost_blocks

    def know_room(self) -> None:
        """Listen to the room for a moment, so that the noise is known before anybody speaks."""
        for _ in range(_ROOM_BLOCKS):
            self._with_devices(lambda: self._listener.watch(self._ear.read()))
        self._listener.forget()
        if remark := advice_on_room(self._listener.floor):
            self._tell(remark)

    def prepare(self, texts: Iterable[str]) -> None:
        """Make these sounds ahead: what may be said next."""
        self._narrator.prefetch(sentence for text in texts for sentence in sentences(text))

    def close(self) -> None:
        """Let go of the devices and the voice."""
        self._ear.close()
        self._mouth.close()
        self._narrator.close()

    def __enter__(self) -> "VoiceShell":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    # Listening

    def _hear(self, listen: Listen) -> Event | None:
        """What comes in this moment; after an interruption None where it was nothing that means anything."""
        phrases = self._language.phrases(listen.asked, listen.scene)
        answer = Expected(self._language, listen.asked, listen.scene)
        same = partial(self._same, listen)
        interrupted = self._unsaid is not None and self._unsaid.fresh
        if self._unsaid:
            phrases = (*phrases, *GO_ON)
        left = _HEARD_OUT if interrupted else listen.seconds
        if not self.duplex:
            self._with_devices(partial(self._ear.deaf_for, TAIL))
            self._listener.forget()
        while self._typed is None and left > _SHORTEST:
            moment = Expectation(phrases, left, answer, same, listen.asked)
            utterance = self._with_devices(partial(self._utterance, moment))
            if utterance is None:
                break
            event = self._event(utterance, listen)
            if event.meaning and listen.asked != "turn":
                self._listener.nearness.answered(utterance.levels.speech)
            # In the pause after a call nothing was asked: what is not a command was not for the coach.
            if event.meaning is not None or event.guesses or listen.asked != "turn":
                return event
            if interrupted:
                break
            left -= utterance.seconds
        if listen.asked not in ("turn", "ready"):  # there, silence is an answer too
            self._listener.nearness.missed()
        if not self._listener.signal and listen.asked != "turn" and not self._told_dead:
            self._told_dead = True
            self._say(Say(advice(Levels(SILENCE, SILENCE, 0.0)) or "", "tell"))
        return None if interrupted else Silence(listen.seconds)

    def _utterance(self, moment: Expectation) -> Utterance | None:
        self._listener.listen(moment)
        while (result := self._listener.block(self._ear.read())) is None:
            pass
        return None if isinstance(result, Unanswered) else result

    def _same(self, listen: Listen, one: str, other: str) -> bool:
        """Whether two answers mean the same."""
        meanings = [self._language.understand(text, listen.asked, listen.scene) for text in (one, other)]
        return meanings[0] is not None and meanings[0] == meanings[1]

    def _event(self, utterance: Utterance, listen: Listen) -> Heard:
        def understand(text: str) -> Meaning | None:
            return self._language.understand(text, listen.asked, listen.scene)

        event = judge(utterance.heard, utterance.levels, understand, listen.asked)
        # Whoever was not surely heard says it again: both times together are sure.
        before, self._doubted = self._doubted, event.guesses[0] if event.guesses else None
        event = agreed(before, self._doubted) or event
        if utterance.heard.text:
            self._caption(f"> {utterance.heard.text}")
        self._unheard = 0 if event.meaning or event.guesses else self._unheard + 1
        if self._unheard == 2 and (remark := advice(utterance.levels)):
            self._say(Say(remark, "tell"))
        return event

    # Speaking

    def _say(self, say: Say) -> None:
        self._caption(say.text)
        done = self._speak(say.text)
        if done is not None:
            self._unsaid = Unsaid([Say(rest_of(say.text, done), say.act, say.data)])

    def _say_rest(self) -> None:
        """Say what was cut off; it may be cut off again."""
        assert self._unsaid
        rest, self._unsaid = self._unsaid.rest, None
        for say in rest:
            self.say(say)

    def _speak(self, text: str) -> int | None:
        """Speak it. None when it was said; when the learner has cut it off, how many sentences had been."""
        if self._mute:
            return None
        try:
            sounds = [self._narrator.synthesise(sentence) for sentence in sentences(text)]
        except SynthesisError as error:
            self._mute = True
            self._tell(f"{error} Please read what the coach says here.")
            return None
        sound, ends = self._with_breaths(sounds)
        sounded = self._with_devices(partial(self._play, sound))
        self._silent_from = self._clock()
        done = len(ends) if sounded is None else sum(end <= sounded for end in ends)
        return done if done < len(ends) else None

    def _with_breaths(self, sounds: Sequence[Samples]) -> tuple[Samples, list[int]]:
        """The sentences as one sound with pauses before each of them, and the sample where each ends."""
        breath = round(_BREATH * VOICE_RATE)
        pause = max(breath - round((self._clock() - self._silent_from) * VOICE_RATE), 0)
        parts: list[Samples] = []
        ends: list[int] = []
        for sound in sounds:
            parts += [np.zeros(pause, np.int16), sound]
            ends.append(sum(map(len, parts)))
            pause = breath
        return np.concatenate(parts) if parts else np.zeros(0, np.int16), ends

    def _play(self, sound: Samples) -> int | None:
        """Play it. None when all of it has sounded; how much had when the learner began to speak."""
        if not self.duplex:
            self._mouth.play(sound)
            return None
        self._mouth.begin(sound)
        spoken = -1 if self._listener.speaking else 0  # whoever still ends their last word does not interrupt
        while self._mouth.playing:
            speaking = self._listener.watch(self._ear.read())
            spoken = (spoken + 1 if spoken >= 0 else -1) if speaking else 0
            # Whoever was interrupted in vain needs more to be interrupted again.
            doubt = max(self._in_vain, _ECHOES_IN_VAIN if self.echoes else 0)
            if spoken > min(doubt, _MOST_IN_VAIN) * _EACH_IN_VAIN:
                return self._mouth.hush()
        return None

    # Devices

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
            self._listener.forget()
            self._tell("Sound is back.")
            return
        self._tell("It did not come back. The lesson goes on typed: answer with a line (empty: a pause).")
        self._typed = TypedShell(self._language)

    def _caption(self, text: str) -> None:
        print(text, file=self.captions, flush=True)

    def _tell(self, text: str) -> None:
        print(text, file=sys.stderr, flush=True)
