"""What pip installs works on its own: outside the checkout, with nothing but what the wheel carries."""

import importlib.metadata
import os
import shutil
import subprocess
import sys
import sysconfig
import venv
import zipfile
from pathlib import Path

import pytest

from coach.speech.models import FOLDER
from coach.speech.signal import wav
from coach.speech.voice.synthesis import Synthesiser

ROOT = Path(__file__).resolve().parents[2]
BUILDS_WHEELS = (70, 1)  # setuptools: from here on without the package wheel


class Installed:
    """Turncaller in an environment of its own, for a user of its own, in an empty folder."""

    def __init__(self, folder: Path, wheel: Path) -> None:
        self.folder, home = folder, folder / "home"
        home.mkdir(parents=True)
        made = folder / "venv"
        venv.create(made)
        self.programs = made / "bin"
        pip(f"--python={self.programs / 'python'}", "install", "--no-index", "--no-deps", wheel)
        # The packages that it needs are those of the tests, so that nothing is downloaded. Of the folder that a .pth
        # names no .pth is read: the checkout, which is installed there as editable, is out of reach.
        (site,) = made.glob("lib/python*/site-packages")
        (site / "needed.pth").write_text(sysconfig.get_path("purelib") + "\n")
        kept = {name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "XDG_"))}
        # The models are where `coach.app.fetch_models` would put them, as far as there are any.
        self.models = home / ".local" / "share" / "turncaller" / "models"
        self.models.parent.mkdir(parents=True)
        self.models.symlink_to(FOLDER)
        self.environment = kept | {"HOME": str(home)}

    def run(self, program: str, *arguments: str, typed: str = "") -> str:
        done = subprocess.run(
            [self.programs / program, *arguments], cwd=self.folder, env=self.environment, input=typed, text=True,
            capture_output=True, timeout=300, check=False,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
        return done.stdout


def pip(*arguments: str | Path) -> None:
    command = [sys.executable, "-m", "pip", *arguments, "--quiet", "--disable-pip-version-check"]
    subprocess.run(command, check=True, timeout=300, stdout=subprocess.DEVNULL)


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    version = importlib.metadata.version("setuptools")
    if tuple(map(int, version.split(".")[:2])) < BUILDS_WHEELS:
        pytest.skip(f"setuptools {version} builds no wheels: scripts/setup brings a newer one")
    folder = tmp_path_factory.mktemp("built")
    source = folder / "source"  # a copy: building leaves files behind
    shutil.copytree(ROOT / "coach", source / "coach", ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(ROOT / name, source)
    pip("wheel", "--no-index", "--no-deps", "--no-build-isolation", "--wheel-dir", folder, source)
    (built,) = folder.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Installed:
    if os.name != "posix":
        pytest.skip("environments look otherwise here")
    return Installed(tmp_path_factory.mktemp("installed"), wheel)


def test_every_file_of_the_package_is_in_the_wheel(wheel: Path) -> None:
    files = {path.relative_to(ROOT) for path in (ROOT / "coach").rglob("*") if path.is_file()}
    with zipfile.ZipFile(wheel) as packed:
        carried = set(packed.namelist())
    assert {file.as_posix() for file in files if "__pycache__" not in file.parts} <= carried


def test_what_runs_is_the_wheel_and_its_models_lie_in_the_users_folder(installed: Installed) -> None:
    where = "import coach.speech.models as m; print(m.__file__, m.FOLDER, sep='\\n')"
    module, models = map(Path, installed.run("python", "-c", where).splitlines())
    assert module.is_relative_to(installed.folder / "venv")
    assert models == installed.models
    assert "whisper-tiny.en" in installed.run("python", "-m", "coach.app.fetch_models", "--list")


def test_its_method_is_proven(installed: Installed) -> None:
    assert "top cross: 216 ways the top can lie" in installed.run("turncaller", "method")


def test_a_typed_lesson_understands_ones_own_words(installed: Installed) -> None:
    typed = "a line from left to right\nready\n\nstop\nstop\n"
    said = installed.run("turncaller", "lesson", "--typed", "--from", "top-cross", typed=typed)
    assert "You have a line" in said
    assert "The front layer goes clockwise." in said


def test_a_recorded_lesson_is_heard_by_both(installed: Installed, synthesiser: Synthesiser) -> None:
    # A cube that is solved with the first pass alone, too, where the second one has not been fetched.
    installed.run("turncaller", "demo", "--from", "top-edges", "--seed", "3", "--out", "demo.wav")
    assert len(wav.read(installed.folder / "demo.wav")) > 30 * wav.RATE
    assert "Learner: " in (installed.folder / "demo.txt").read_text("utf-8")
