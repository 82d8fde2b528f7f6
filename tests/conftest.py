"""What the tests share: the network's readings, ears and a voice, and a sound card that only one test has at a time."""

import os
import shutil
import signal
import subprocess
from collections.abc import Iterator, Sequence
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from coach.language.en.reader.network import Network, Read
from coach.speech.ears.pocketsphinx_engine import PocketSphinx
from coach.speech.errors import SynthesisError
from coach.speech.signal import wav
from coach.speech.signal.resample import resample
from coach.speech.signal.wav import RATE, VOICE_RATE, Samples
from coach.speech.voice.synthesis import Synthesiser

if TYPE_CHECKING:
    from xdist.remote import Producer
    from xdist.scheduler import Scheduling

ROOT = Path(__file__).resolve().parents[1]
VIRTUAL_AUDIO = ROOT / "scripts" / "virtual_audio"


TOGETHER = {
    "tests/sound/test_virtual_card.py": "sound card",
    "tests/simulation/test_robot.py": "sound card",
    "tests/app/test_wheel.py": "wheel",
    "tests/language/en/test_understanding.py": "what speakers kept apart say",
    "tests/speech/ears/test_second_pass.py": "second pass",
    "tests/speech/ears/test_vosk.py": "vosk",
}
"""Modules whose tests share what is costly to make, or there only once: those with one name run in one worker.

On the sound card they mostly wait, since they play and listen in real time, and two at once would disturb each other.
"""


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: "Producer") -> "Scheduling":
    """Each test goes to whichever worker is free, but for those that belong together."""
    from xdist.scheduler import LoadScopeScheduling

    class Scheduler(LoadScopeScheduling):
        def _split_scope(self, nodeid: str) -> str:
            return TOGETHER.get(nodeid.partition("::")[0], nodeid)

    return Scheduler(config, log)


@pytest.fixture(scope="session", autouse=True)
def read_once() -> Iterator[None]:
    """Lessons hear the same answers at the same moments over and over: the network reads each of them once."""
    read = Network.read

    @lru_cache(maxsize=1 << 14)
    def kept(network: Network, context: str, words: tuple[str, ...]) -> Read:
        found = read(network, context, words)
        found.classes.flags.writeable = found.tags.flags.writeable = False  # nobody changes what others get, too
        return found

    def reading(self: Network, context: str, words: Sequence[str]) -> Read:
        return kept(self, context, tuple(words))

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Network, "read", reading)
        yield


@pytest.fixture(scope="session")
def recogniser() -> PocketSphinx:
    return PocketSphinx()


@pytest.fixture(scope="session")
def synthesiser() -> Iterator[Synthesiser]:
    with Synthesiser() as made:
        try:
            made.synthesise("ready")
        except SynthesisError as error:
            pytest.skip(f"no synthesiser here: {error}")
        yield made


class Speaker:
    """Speaks words at the rate that recognisers take."""

    def __init__(self, synthesiser: Synthesiser) -> None:
        self._synthesiser = synthesiser

    def __call__(self, text: str) -> Samples:
        spoken = wav.to_float(self._synthesiser.synthesise(text))
        return wav.to_int16(resample(spoken, VOICE_RATE, RATE))


@pytest.fixture(scope="session")
def speak(synthesiser: Synthesiser) -> Speaker:
    return Speaker(synthesiser)


@pytest.fixture(scope="session")
def recordings() -> Path:
    """A folder of real speech outside the project."""
    shared = Path(os.environ.get("TURNCALLER_SHARED", ROOT.parent / "shared")) / "speech"
    if not (shared / "MANIFEST.tsv").exists():
        pytest.skip(f"no recorded speech in {shared}")
    return shared


class SoundCard:
    """A private virtual sound card that can be pulled out and put back."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def plug_in(self) -> None:
        subprocess.run(
            [VIRTUAL_AUDIO, "start", self.folder], check=True, stdout=subprocess.DEVNULL, timeout=30
        )

    def pull(self) -> None:
        if (self.folder / "pid").exists():
            os.kill(int((self.folder / "pid").read_text()), signal.SIGKILL)
            (self.folder / "pid").unlink()

    def pull_microphone(self) -> None:
        subprocess.run(["pactl", "unload-module", "module-virtual-source"], check=True, timeout=10)

    def give_microphone(self) -> None:
        made = ("source_name=coach_microphone", "master=learner_mouth.monitor")
        command = ["pactl", "load-module", "module-virtual-source", *made]
        subprocess.run(command, check=True, timeout=10, stdout=subprocess.DEVNULL)

    def environment(self) -> dict[str, str]:
        lines = (self.folder / "env").read_text().splitlines()
        pairs = (line.removeprefix("export ").split("=", 1) for line in lines if line.startswith("export "))
        return dict(pairs)


@pytest.fixture
def sound_card(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[SoundCard]:
    if not (shutil.which("pulseaudio") and shutil.which("pactl")):
        pytest.skip("no pulseaudio here: scripts/setup --tests installs it")
    devices = pytest.importorskip("coach.sound.devices")
    try:
        devices.portaudio()
    except devices.DeviceError as error:
        pytest.skip(str(error))
    card = SoundCard(tmp_path)
    card.plug_in()
    for name, value in card.environment().items():
        monkeypatch.setenv(name, value)
    monkeypatch.delenv("PULSE_LATENCY_MSEC", raising=False)
    devices.refresh()
    yield card
    card.pull()
    devices.refresh()
