"""A lesson in a real browser: Debian's Chromium, whose microphone is a recording."""

from __future__ import annotations

import socket
import threading
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import uvicorn

from coach.app.runtime import Runtime
from coach.method import default_method
from coach.records.unfinished import Unfinished
from coach.speech.signal import wav
from coach.speech.signal.resample import resample
from coach.speech.signal.wav import RATE, VOICE_RATE, Samples
from coach.speech.voice.synthesis import Synthesiser, Voice
from coach.web.lessons import Lessons
from coach.web.server import make_app

CHROMIUM = Path("/usr/bin/chromium")
CODE = "ABC234"
WAIT = 60_000
pytestmark = pytest.mark.skipif(not CHROMIUM.exists(), reason="no Chromium here")
sync_api = pytest.importorskip("playwright.sync_api")


@pytest.fixture
def address(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[str]:
    """A server with everything that a lesson by voice needs."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    with Runtime() as runtime, socket.create_server(("127.0.0.1", 0)) as listening:
        lessons = Lessons(runtime, lambda profile: default_method(profile.hand), Unfinished(print))
        server = uvicorn.Server(uvicorn.Config(make_app(lessons, CODE), log_level="error", ws="websockets-sansio"))
        thread = threading.Thread(target=server.run, args=([listening],))
        thread.start()
        yield f"http://localhost:{listening.getsockname()[1]}/"
        lessons.close()
        server.should_exit = True
        thread.join()


def recording(path: Path, text: str, every: float) -> Path:
    """Somebody says that again and again in a quiet room."""
    with Synthesiser(Voice("en-us+f3")) as voice:
        said = wav.to_int16(resample(wav.to_float(voice.synthesise(text)), VOICE_RATE, RATE) * 0.5)
    room = np.random.default_rng(1).normal(0, 10, round(every * RATE))
    room[RATE : RATE + len(said)] += said
    sound: Samples = np.tile(room, 20).astype(np.int16)
    wav.write(path, sound)
    return path


@pytest.fixture
def browser(tmp_path: Path) -> Iterator[sync_api.Browser]:
    said = recording(tmp_path / "said.wav", "stop", 4.0)
    with sync_api.sync_playwright() as playwright:
        launched = playwright.chromium.launch(
            executable_path=str(CHROMIUM),
            args=[
                "--no-sandbox", "--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream",
                f"--use-file-for-fake-audio-capture={said}",
            ],
        )  # fmt: skip
        yield launched
        launched.close()


def test_a_learner_is_heard_and_the_coach_ends_the_lesson(address: str, browser: sync_api.Browser) -> None:
    page = browser.new_page()
    wrong: list[str] = []
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("console", lambda message: message.type == "error" and wrong.append(message.text))
    page.goto(address)
    page.fill("#code", CODE)
    page.keyboard.press("Enter")
    page.wait_for_selector('#turn[data-turn="speaking"]', timeout=WAIT)
    page.wait_for_selector('#turn[data-turn="listening"]', timeout=WAIT)
    assert page.input_value("#answer") == "" and page.is_visible("#meter")
    page.wait_for_selector("#after", timeout=WAIT)
    assert page.inner_text("#after-title") == "The lesson is over"
    assert page.text_content("#heard-text") == "stop"
    assert not wrong


def test_by_keyboard_alone_and_through_a_lost_connection(address: str, browser: sync_api.Browser) -> None:
    page = browser.new_page()
    page.goto(address)
    page.keyboard.press("Tab")
    page.keyboard.type(CODE)
    for _ in range(4):
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")  # by typing
    page.wait_for_selector('#turn[data-turn="speaking"]', timeout=WAIT)
    while page.get_attribute("#turn", "data-turn") != "listening":
        page.keyboard.press("Enter")  # it is read, not waited for
        page.wait_for_timeout(200)
    asked = page.inner_text("#caption")
    page.reload()
    for _ in range(5):
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.wait_for_selector('#turn[data-turn="listening"]', timeout=WAIT)
    assert page.inner_text("#caption") == asked
    page.keyboard.type("stop")
    page.keyboard.press("Enter")
    page.wait_for_selector("#after", timeout=WAIT)


def test_plain_http_on_another_name_says_what_to_do(address: str, tmp_path: Path) -> None:
    with sync_api.sync_playwright() as playwright:
        rules = "--host-resolver-rules=MAP coach.example 127.0.0.1"
        launched = playwright.chromium.launch(executable_path=str(CHROMIUM), args=["--no-sandbox", rules])
        page = launched.new_page()
        page.goto(address.replace("localhost", "coach.example"))
        assert "start by typing" in page.inner_text("#door-notice")
        page.fill("#code", CODE)
        page.click("#typed")
        page.wait_for_selector('#turn[data-turn="speaking"]', timeout=WAIT)
        launched.close()
