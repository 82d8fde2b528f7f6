"""Real devices, as far as a private virtual sound card is one: round trips, and devices that vanish."""

import io
import os
import subprocess
import threading
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest

from coach.app.captions import Captions
from coach.app.voice import VoiceShell
from coach.dialogue import Ask, Heard, Listen, Query, Silence, Tell
from coach.sound import devices
from coach.sound.devices import Stream
from coach.sound.local import LocalSound
from coach.sound.loudspeaker import Loudspeaker
from coach.sound.microphone import Microphone
from coach.speech.ears.pocketsphinx_engine import PocketSphinx
from coach.speech.ears.two_pass import TwoPass
from coach.speech.errors import DeviceError
from coach.speech.signal.wav import RATE, VOICE_RATE, Samples
from coach.speech.turns.driver import Driver
from coach.speech.turns.inbox import Inbox
from coach.speech.turns.listening import Expectation, Listener, Utterance
from coach.speech.turns.turns import Turns
from coach.speech.voice.synthesis import Narrator, Synthesiser, Voice
from tests.conftest import SoundCard, Speaker
from tests.loaded import load


def tone(seconds: float = 1.0) -> Samples:
    at = np.arange(round(seconds * VOICE_RATE)) / VOICE_RATE
    return (12_000 * np.sin(2 * np.pi * 500 * at)).astype(np.int16)


class Ear(Inbox):
    """A microphone that is listened to."""

    def __init__(self, name: str) -> None:
        self.line = Microphone(name)
        super().__init__(self.line)
        self.line.open()


def record(ear: Inbox, seconds: float) -> Samples:
    blocks = [ear.take() for _ in range(round(seconds / 0.02))]
    return np.frombuffer(b"".join(blocks), np.int16)


def wait_until_gone(line: Stream) -> bool:
    """Whether its loss is noticed, within two seconds."""
    gone = threading.Event()
    for _ in range(80):
        if not line.alive:
            return True
        gone.wait(0.025)
    return False


@pytest.fixture
def mouth(sound_card: SoundCard) -> Iterator[Loudspeaker]:
    """The learner's mouth."""
    line = Loudspeaker("learner_mouth")
    line.open()
    yield line
    line.close()


@pytest.fixture
def ear(sound_card: SoundCard) -> Iterator[Ear]:
    """The coach's microphone, which hears the learner's mouth."""
    made = Ear("coach_microphone")
    yield made
    made.line.close()


def test_devices_are_found_by_name_or_a_part_of_it(sound_card: SoundCard) -> None:
    assert devices.find("input", "coach_microphone").name == "coach_microphone"
    assert devices.find("output", "LEARNER").name == "learner_mouth"
    with pytest.raises(DeviceError, match="coach_speaker"):
        devices.find("output", "trumpet")


def test_what_is_played_arrives_whole(mouth: Loudspeaker, ear: Ear) -> None:
    ear.clear()
    player = threading.Thread(target=mouth.play, args=(tone(1.0),))
    player.start()
    got = record(ear, 2.0)
    player.join()
    loud = np.flatnonzero(np.abs(got.astype(int)) > 2000)
    assert (loud[-1] - loud[0]) / RATE == pytest.approx(1.0, abs=0.05)
    assert np.diff(loud).max() < 0.1 * RATE  # a busy machine may lose a block, not more
    spectrum = np.abs(np.fft.rfft(got[loud[0] : loud[-1]]))
    assert np.argmax(spectrum) * RATE / (loud[-1] - loud[0]) == pytest.approx(500, abs=3)


def test_cancelled_sound_ends_at_once_and_the_next_is_whole(mouth: Loudspeaker, ear: Ear) -> None:
    ear.clear()
    results: list[bool] = []
    player = threading.Thread(target=lambda: results.append(mouth.play(tone(3.0))))
    player.start()
    record(ear, 0.6)
    mouth.cut_off()
    player.join(1.0)
    assert results == [False]
    record(ear, 0.5)
    assert np.abs(record(ear, 0.3).astype(int)).max() < 500
    assert mouth.play(tone(0.1))


def test_what_was_recorded_before_listening_is_forgotten(mouth: Loudspeaker, ear: Ear) -> None:
    mouth.play(tone(0.5))
    threading.Event().wait(0.5)  # for its last to arrive
    ear.clear()
    assert np.abs(record(ear, 0.2).astype(int)).max() < 500


def test_a_device_that_vanishes_is_missed_and_taken_up_again(
    sound_card: SoundCard, mouth: Loudspeaker, ear: Ear
) -> None:
    sound_card.pull()
    assert wait_until_gone(ear.line)
    assert wait_until_gone(mouth)
    with pytest.raises(DeviceError, match="microphone is gone"):
        while True:
            ear.take()
    with pytest.raises(DeviceError, match="loudspeaker is gone"):
        mouth.play(tone(0.1))
    ear.line.close()
    mouth.close()
    devices.refresh()
    with pytest.raises(DeviceError):
        ear.line.open()
    sound_card.plug_in()
    devices.refresh()
    mouth.open()
    ear.line.open()
    assert mouth.play(tone(0.1))
    assert len(record(ear, 0.1)) > 0


def test_what_the_libraries_print_about_a_lost_device_stays_off_the_terminal(
    sound_card: SoundCard, ear: Ear, mouth: Loudspeaker, capfd: pytest.CaptureFixture[str]
) -> None:
    sound_card.pull()
    assert wait_until_gone(ear.line)
    assert wait_until_gone(mouth)
    os.write(2, b"ours")
    assert capfd.readouterr().err == "ours"


def voice(sound: LocalSound, recogniser: PocketSphinx, synthesiser: Synthesiser) -> VoiceShell:
    """A lesson's shell on these devices."""
    driver = Driver(Turns(Listener(TwoPass(recogniser))), sound.blocks, sound.sink, sound.mend)
    narrator = Narrator(synthesiser, Voice(), ThreadPoolExecutor(1))
    return VoiceShell(load(), driver, narrator, Captions(io.StringIO()))


@pytest.fixture
def shell(sound_card: SoundCard, recogniser: PocketSphinx, synthesiser: Synthesiser) -> Iterator[VoiceShell]:
    with LocalSound("coach_microphone", "coach_speaker", Captions().tell, patience=20) as sound:
        yield voice(sound, recogniser, synthesiser)


def answer(mouth: Loudspeaker, synthesiser: Synthesiser, text: str, after: float) -> threading.Timer:
    timer = threading.Timer(after, mouth.play, [synthesiser.synthesise(text)])
    timer.start()
    return timer


def test_the_shell_hears_a_spoken_answer(
    shell: VoiceShell, mouth: Loudspeaker, synthesiser: Synthesiser
) -> None:
    shell.say(Ask("Are you ready?", Query("ready")))
    timer = answer(mouth, synthesiser, "ready", after=1.0)
    event = shell.listen(Listen("ready", 6.0))
    timer.join()
    assert isinstance(event, Heard)
    assert event.meaning is not None
    assert event.meaning.command == "ready"


def test_the_shell_tells_silence_and_does_not_hear_the_coach(shell: VoiceShell) -> None:
    shell.say(Tell("Stop. Repeat that. Yes."))
    assert shell.listen(Listen("continue", 1.0)) == Silence(1.0)


def test_the_lesson_goes_on_when_the_devices_come_back(
    shell: VoiceShell, sound_card: SoundCard, capsys: pytest.CaptureFixture[str]
) -> None:
    pulled = threading.Timer(0.3, sound_card.pull)
    back = threading.Timer(3.0, sound_card.plug_in)
    pulled.start()
    back.start()
    shell.say(Tell("Hold the cube so that the line runs from left to right. Tell me then."))
    back.join()
    assert shell.listen(Listen("continue", 0.5)) == Silence(0.5)
    told = capsys.readouterr().err
    assert "gone" in told
    assert "Sound is back" in told


def test_devices_that_stay_away_are_replaced_by_typing(
    sound_card: SoundCard,
    synthesiser: Synthesiser,
    recogniser: PocketSphinx,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    with LocalSound("coach_microphone", "coach_speaker", Captions().tell, patience=1.5) as sound:
        shell = voice(sound, recogniser, synthesiser)
        sound_card.pull()
        typed = io.TextIOWrapper(io.BytesIO(b"yes\n"))
        monkeypatch.setattr("sys.stdin", typed)
        event = shell.listen(Listen("continue", 3.0))
    assert isinstance(event, Heard)
    assert event.text == "yes"
    assert "typed" in capsys.readouterr().err


def test_words_spoken_to_the_card_are_recognised(
    mouth: Loudspeaker, ear: Ear, recogniser: PocketSphinx, speak: Speaker, synthesiser: Synthesiser
) -> None:
    phrases = ("a line from left to right", "repeat that", "the dot")
    timer = answer(mouth, synthesiser, "a line from left to right", after=0.8)
    listener = Listener(TwoPass(recogniser))
    listener.listen(Expectation(phrases, 6.0))
    while (utterance := listener.block(ear.take())) is None:
        pass
    timer.join()
    assert isinstance(utterance, Utterance)
    assert utterance.heard.text == "a line from left to right"


def test_without_portaudio_the_reason_is_told(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "sounddevice.py").write_text('raise OSError("PortAudio library not found")')
    monkeypatch.syspath_prepend(tmp_path)
    monkeypatch.delitem(__import__("sys").modules, "sounddevice", raising=False)
    with pytest.raises(DeviceError, match="libportaudio2"):
        Microphone().open()


def test_with_headphones_the_coach_falls_silent_and_hears_who_speaks(
    shell: VoiceShell, mouth: Loudspeaker, synthesiser: Synthesiser
) -> None:
    shell.duplex = True
    text = "Hold the cube so that the line on top runs from the left to the right, and then turn the right side up."
    monitor = Ear("coach_speaker_monitor")
    timer = answer(mouth, synthesiser, "slow down", after=1.0)
    shell.say(Tell(text))
    event = shell.listen(Listen("turn", 2.5))
    timer.join()
    played = record(monitor, 4.0)
    monitor.line.close()
    assert isinstance(event, Heard)
    assert event.meaning is not None
    assert event.meaning.command == "slower"
    loud = np.flatnonzero(np.abs(played.astype(int)) > 500)
    whole = len(synthesiser.synthesise(text)) / VOICE_RATE
    assert 0.5 < (loud[-1] - loud[0]) / RATE < 0.6 * whole, "it had begun, and it did not go on"


def test_the_lesson_goes_on_when_the_microphone_alone_was_pulled(
    shell: VoiceShell, mouth: Loudspeaker, sound_card: SoundCard, synthesiser: Synthesiser
) -> None:
    # A sound server may give the coach another microphone meanwhile, or none: either way it is there again.
    pulled, back = threading.Timer(0.3, sound_card.pull_microphone), threading.Timer(1.5, sound_card.give_microphone)
    pulled.start()
    back.start()
    assert shell.listen(Listen("turn", 2.0)) == Silence(2.0)
    back.join()
    timer = answer(mouth, synthesiser, "slow down", after=1.0)
    event = shell.listen(Listen("turn", 6.0))
    timer.join()
    assert isinstance(event, Heard)
    assert event.meaning is not None
    assert event.meaning.command == "slower"


def test_an_echo_canceller_is_found_by_its_name_whatever_the_device_is_called(sound_card: SoundCard) -> None:
    assert not devices.echo_cancelled("coach_microphone")
    assert not devices.echo_cancelled("pulse")
    assert not devices.echo_cancelled("no such microphone")
    source = ("source_name=echo-cancel-source", "master=learner_mouth.monitor")
    subprocess.run(["pactl", "load-module", "module-virtual-source", *source], check=True, stdout=subprocess.DEVNULL)
    subprocess.run(["pactl", "set-default-source", "echo-cancel-source"], check=True)
    assert devices.echo_cancelled("pulse")
    assert not devices.echo_cancelled("coach_microphone"), "one that was chosen by name is not the server's"
