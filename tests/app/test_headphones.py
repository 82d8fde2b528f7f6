"""Whether the learner wears headphones is asked once, by voice, and kept. The voice is made up here."""

from pathlib import Path

import pytest

import coach.app.voice
from coach.cli import main
from coach.dialogue import Adjust, Ask, Event, Heard, Listen, Say, Silence
from coach.language import Meaning
from coach.records.profile import default_path, load


class Voice:
    """A voice shell in which everybody goes away after the first words."""

    def __init__(self, answer: bool | None, duplex: bool = False) -> None:
        self.answer, self.duplex, self.asked = answer, duplex, 0

    def prepare(self, texts: object) -> None:
        pass

    def close(self) -> None:
        pass

    def say(self, say: Say) -> None:
        self._headphones = isinstance(say, Ask) and say.query.about == "headphones"
        self.asked += self._headphones

    def listen(self, listen: Listen) -> Event | None:
        if not self._headphones:
            return None
        if self.answer is None:
            return Silence(listen.seconds)
        word = "yes" if self.answer else "no"
        return Heard(word, Meaning(command=word))

    def adjust(self, adjust: Adjust) -> None:
        pass


@pytest.fixture(autouse=True)
def profile(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    return default_path()


def lesson(monkeypatch: pytest.MonkeyPatch, voice: Voice, *arguments: str) -> Voice:
    monkeypatch.setattr(coach.app.voice, "open_voice", lambda *_, **__: voice)
    assert main(["lesson", "--from", "top-cross", *arguments]) == 0
    return voice


@pytest.mark.parametrize("answer", [True, False])
def test_an_answer_is_kept_and_not_asked_for_again(
    monkeypatch: pytest.MonkeyPatch, profile: Path, answer: bool
) -> None:
    first = lesson(monkeypatch, Voice(answer), "--remember")
    assert (first.asked, first.duplex) == (1, answer)
    assert load(profile).headphones is answer
    second = lesson(monkeypatch, Voice(None))
    assert (second.asked, second.duplex) == (0, answer)


def test_without_an_answer_it_is_asked_again_the_next_time(monkeypatch: pytest.MonkeyPatch, profile: Path) -> None:
    first = lesson(monkeypatch, Voice(None))
    assert (first.asked, first.duplex) == (1, False)
    assert load(profile).headphones is None
    assert lesson(monkeypatch, Voice(None)).asked == 1


def test_the_command_line_overrides_what_is_kept(monkeypatch: pytest.MonkeyPatch, profile: Path) -> None:
    lesson(monkeypatch, Voice(True))
    off = lesson(monkeypatch, Voice(None), "--headphones", "no")
    assert (off.asked, off.duplex) == (0, False)
    assert load(profile).headphones is True, "it was for this lesson only"
    assert lesson(monkeypatch, Voice(None), "--headphones", "yes").duplex


def test_with_an_echo_canceller_nobody_needs_headphones(monkeypatch: pytest.MonkeyPatch) -> None:
    voice = lesson(monkeypatch, Voice(None, duplex=True))
    assert (voice.asked, voice.duplex) == (0, True)
