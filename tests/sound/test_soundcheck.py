"""What keeps a lesson by voice from being held, and what does not."""

from collections.abc import Iterator

import pytest

from coach.sound import soundcheck
from coach.sound.soundcheck import Finding
from coach.speech.errors import DeviceError, ModelError, SynthesisError
from tests.loaded import load


def findings() -> dict[str, list[Finding]]:
    """All lines by what they are about."""
    lines: dict[str, list[Finding]] = {}
    for line in soundcheck.report([("yes", "no")], load().sentences.say):
        lines.setdefault(line.about, []).append(line)
    return lines


def prevented(lines: dict[str, list[Finding]]) -> set[str]:
    return {about for about, those in lines.items() if any(line.prevents for line in those)}


@pytest.fixture
def works(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """A machine on which everything does."""
    for device in (soundcheck.Loudspeaker, soundcheck.Microphone):
        monkeypatch.setattr(device, "open", lambda self: self)
    monkeypatch.setattr(soundcheck.Loudspeaker, "play", lambda self, samples: True)
    monkeypatch.setattr(soundcheck.Inbox, "take", lambda self: bytes(640))
    monkeypatch.setattr(soundcheck.Synthesiser, "synthesise", lambda self, text: b"")
    monkeypatch.setattr(soundcheck.Synthesiser, "voices", lambda self: ("gmw/en-us",))
    yield


def missing(error: Exception) -> object:
    def fail(*_: object) -> None:
        raise error

    return fail


@pytest.mark.usefixtures("works")
def test_what_can_be_mended_while_a_lesson_goes_on_does_not_prevent_it() -> None:
    lines = findings()
    assert not lines["level"][0].fine  # nothing but digital silence, which a muted microphone gives
    assert prevented(lines) == set()


@pytest.mark.usefixtures("works")
@pytest.mark.parametrize(
    ("of", "name", "error", "about"),
    [
        (soundcheck.Synthesiser, "synthesise", SynthesisError("no voice"), "voice"),
        (soundcheck.Loudspeaker, "open", DeviceError("no loudspeaker"), "loudspeaker"),
        (soundcheck.Inbox, "take", DeviceError("no microphone"), "microphone"),
        (soundcheck.engines, "choose", ModelError("no model"), "recogniser"),
    ],
)
def test_without_a_voice_a_loudspeaker_a_microphone_or_a_recogniser_there_is_no_lesson_by_voice(
    of: object, name: str, error: Exception, about: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(of, name, missing(error))
    assert prevented(findings()) == {about}


@pytest.mark.usefixtures("works")
def test_one_recogniser_is_enough(monkeypatch: pytest.MonkeyPatch) -> None:
    choose = soundcheck.engines.choose
    monkeypatch.setattr(soundcheck.engines, "vosk_model", lambda: "broken")

    def no_vosk(name: str) -> object:
        if name == "vosk":
            raise ModelError("broken")
        return choose(name)

    monkeypatch.setattr(soundcheck.engines, "choose", no_vosk)
    lines = findings()
    assert not all(line.fine for line in lines["recogniser"])
    assert prevented(lines) == set()
