"""Fetching models: the right files are kept, wrong ones refused, and being offline is told in words."""

import hashlib
import http.server
import importlib.util
import subprocess
import sys
import threading
import zipfile
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from coach.speech import models
from coach.speech.errors import ModelError

SCRIPT = Path(__file__).resolve().parents[2] / "scripts" / "fetch_models"
FILES = {"config.json": b'{"a": 1}' * 40, "model.bin": bytes(range(256)) * 400}


def sha(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


class Server(http.server.SimpleHTTPRequestHandler):
    """Files with byte ranges, as model servers have them."""

    asked: list[str] = []  # noqa: RUF012 (one list for the one server of a test)
    breaks_after = 0  # bytes of a file after which the connection is lost; 0: never

    def do_GET(self) -> None:
        path = Path(self.translate_path(self.path))
        wanted = self.headers.get("Range")
        self.asked.append(f"{path.name} {wanted}")
        if not path.is_file():
            return self.send_error(404)
        data = path.read_bytes()
        if self.breaks_after:
            data = data[: self.breaks_after]
        begin = int(wanted.removeprefix("bytes=").rstrip("-")) if wanted else 0
        self.send_response(206 if wanted else 200)
        self.send_header("Content-Length", str(path.stat().st_size - begin))
        self.end_headers()
        self.wfile.write(data[begin:])
        return None

    def log_message(self, *_: object) -> None:
        pass


@pytest.fixture
def site(tmp_path: Path) -> Iterator[tuple[str, Path]]:
    folder = tmp_path / "site"
    folder.mkdir()
    Server.asked, Server.breaks_after = [], 0
    server = http.server.ThreadingHTTPServer(
        ("127.0.0.1", 0), lambda *args: Server(*args, directory=str(folder))
    )
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}", folder
    server.shutdown()
    server.server_close()


def catalogue(folder: Path, sources: str, files: dict[str, bytes]) -> Path:
    folder.mkdir()
    listed = "\n".join(f'"{name}" = "{sha(data)}"' for name, data in files.items())
    (folder / "models.toml").write_text(
        '[[model]]\nname = "small"\nabout = "a test"\nlanguage = "en"\nlicence = "MIT"\nbytes = 100\n'
        f"{sources}\n[model.files]\n{listed}\n"
    )
    return folder


def from_files(url: str) -> str:
    return f'[[model.source]]\nkind = "files"\nurl = "{url}"'


def fetch(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, SCRIPT, "--models", folder, "--catalogue", folder / "models.toml", *arguments],
        capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip


def test_files_are_fetched_checked_and_not_fetched_again(site: tuple[str, Path], tmp_path: Path) -> None:
    url, served = site
    for name, data in FILES.items():
        (served / name).write_bytes(data)
    folder = catalogue(tmp_path / "models", from_files(url), FILES)
    done = fetch(folder, "small")
    assert done.returncode == 0, done.stderr
    assert {path.name: path.read_bytes() for path in (folder / "small").iterdir()} == FILES
    asked = list(Server.asked)
    assert fetch(folder).returncode == 0
    assert Server.asked == asked


def test_a_file_with_another_hash_is_refused_and_the_next_source_tried(
    site: tuple[str, Path], tmp_path: Path
) -> None:
    url, served = site
    for place, model in (("bad", b"something else"), ("good", FILES["model.bin"])):
        (served / place).mkdir()
        (served / place / "config.json").write_bytes(FILES["config.json"])
        (served / place / "model.bin").write_bytes(model)
    only_bad = catalogue(tmp_path / "one", from_files(f"{url}/bad"), FILES)
    done = fetch(only_bad)
    assert done.returncode == 1
    assert "wrong SHA-256" in done.stderr
    assert not (only_bad / "small").exists()
    both = catalogue(tmp_path / "two", from_files(f"{url}/bad") + "\n" + from_files(f"{url}/good"), FILES)
    assert fetch(both).returncode == 0
    assert (both / "small" / "model.bin").read_bytes() == FILES["model.bin"]


def test_a_download_goes_on_where_it_stopped(site: tuple[str, Path], tmp_path: Path) -> None:
    url, served = site
    for name, data in FILES.items():
        (served / name).write_bytes(data)
    folder = catalogue(tmp_path / "models", from_files(url), FILES)
    (folder / ".download").mkdir()
    (folder / ".download" / "small-model.bin.part").write_bytes(FILES["model.bin"][:5000])
    assert fetch(folder).returncode == 0
    assert "model.bin bytes=5000-" in Server.asked
    assert (folder / "small" / "model.bin").read_bytes() == FILES["model.bin"]


def test_what_came_before_the_connection_was_lost_is_kept(site: tuple[str, Path], tmp_path: Path) -> None:
    url, served = site
    (served / "model.bin").write_bytes(FILES["model.bin"])
    Server.breaks_after = 7000
    folder = catalogue(tmp_path / "models", from_files(url), {"model.bin": FILES["model.bin"]})
    done = fetch(folder)
    assert done.returncode == 1
    assert "connection was lost" in done.stderr
    assert "wrong SHA-256" not in done.stderr
    Server.breaks_after = 0
    assert fetch(folder).returncode == 0
    assert Server.asked[-1] == "model.bin bytes=7000-"
    assert (folder / "small" / "model.bin").read_bytes() == FILES["model.bin"]


def wheel(folder: Path, model: dict[str, bytes]) -> None:
    """A wheel that holds a model, and code that leaves a trace when it is run."""
    code = "import pathlib; pathlib.Path(__file__).with_name('was_run').touch()"
    about = "Metadata-Version: 2.1\nName: spoken-models\nVersion: 0.1.0\n"
    kind = "Wheel-Version: 1.0\nGenerator: test\nRoot-Is-Purelib: true\nTag: py3-none-any\n"
    folder.mkdir()
    with zipfile.ZipFile(folder / "spoken_models-0.1.0-py3-none-any.whl", "w") as packed:
        packed.writestr("spoken_models/__init__.py", code)
        packed.writestr("spoken_models/model/extra.py", code)
        for name, data in model.items():
            packed.writestr(f"spoken_models/model/{name}", data)
        packed.writestr("spoken_models-0.1.0.dist-info/METADATA", about)
        packed.writestr("spoken_models-0.1.0.dist-info/WHEEL", kind)
        packed.writestr("spoken_models-0.1.0.dist-info/RECORD", "")


PYPI = '[[model.source]]\nkind = "pypi"\npackage = "spoken-models==0.1.0"\ninside = "spoken_models/model"'


def test_a_wheel_is_an_archive_and_the_second_source_when_the_first_does_not_answer(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    wheel(tmp_path / "registry", FILES)
    monkeypatch.setenv("PIP_NO_INDEX", "1")
    monkeypatch.setenv("PIP_FIND_LINKS", str(tmp_path / "registry"))
    folder = catalogue(tmp_path / "models", from_files("http://127.0.0.1:9") + "\n" + PYPI, FILES)
    done = fetch(folder)
    assert done.returncode == 0, done.stderr
    assert {path.name: path.read_bytes() for path in (folder / "small").iterdir()} == FILES  # no code among them
    assert not list(tmp_path.rglob("was_run"))
    assert importlib.util.find_spec("spoken_models") is None  # it was not installed


def test_a_wheel_with_another_model_in_it_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    wheel(tmp_path / "registry", FILES | {"model.bin": b"something else"})
    monkeypatch.setenv("PIP_NO_INDEX", "1")
    monkeypatch.setenv("PIP_FIND_LINKS", str(tmp_path / "registry"))
    folder = catalogue(tmp_path / "models", PYPI, FILES)
    done = fetch(folder)
    assert done.returncode == 1
    assert "SHA-256 differs" in done.stderr
    assert not (folder / "small").exists()


def test_two_at_once_fetch_it_once(site: tuple[str, Path], tmp_path: Path) -> None:
    url, served = site
    for name, data in FILES.items():
        (served / name).write_bytes(data)
    folder = catalogue(tmp_path / "models", from_files(url), FILES)
    with ThreadPoolExecutor() as pool:
        done = list(pool.map(lambda _: fetch(folder), range(3)))
    assert [one.returncode for one in done] == [0, 0, 0]
    assert sorted(Server.asked) == ["config.json None", "model.bin None"]


def test_a_full_disk_is_told_in_words(site: tuple[str, Path], tmp_path: Path) -> None:
    if not Path("/dev/full").exists():
        pytest.skip("no /dev/full here, which is always full")
    url, served = site
    (served / "model.bin").write_bytes(FILES["model.bin"])
    folder = catalogue(tmp_path / "models", from_files(url), {"model.bin": FILES["model.bin"]})
    (folder / ".download").mkdir()
    (folder / ".download" / "small-model.bin.part").symlink_to("/dev/full")
    done = fetch(folder)
    assert done.returncode == 1
    assert "No space left" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_folder_that_cannot_be_used_is_told_in_words(tmp_path: Path) -> None:
    folder = catalogue(tmp_path / "models", from_files("http://127.0.0.1:9"), FILES)
    (folder / ".download").write_text("in the way")
    done = fetch(folder)
    assert done.returncode == 1
    assert "cannot be used" in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize("evil", ["model/../../escaped", "model/../escaped"])
def test_an_archive_is_plain_data_inside_its_folder(
    site: tuple[str, Path], tmp_path: Path, evil: str
) -> None:
    url, served = site
    for name, extra in (("good", "elsewhere/run.py"), ("evil", evil)):
        with zipfile.ZipFile(served / f"{name}.zip", "w") as packed:
            for file, data in FILES.items():
                packed.writestr(f"model/{file}", data)
            packed.writestr(extra, "print('run')")
    results = {}
    for name in ("good", "evil"):
        source = (
            f'[[model.source]]\nkind = "archive"\nurl = "{url}/{name}.zip"\n'
            f'sha256 = "{sha((served / f"{name}.zip").read_bytes())}"\ninside = "model"'
        )
        folder = catalogue(tmp_path / name, source, FILES)
        results[name] = fetch(folder)
    assert results["good"].returncode == 0, results["good"].stderr
    assert {path.name for path in (tmp_path / "good" / "small").iterdir()} == set(FILES)
    assert results["evil"].returncode == 1
    assert not list(tmp_path.rglob("escaped"))


def test_an_archive_of_unknown_hash_is_not_taken(site: tuple[str, Path], tmp_path: Path) -> None:
    url, _ = site
    source = f'[[model.source]]\nkind = "archive"\nurl = "{url}/a.zip"\nsha256 = ""\ninside = "model"'
    done = fetch(catalogue(tmp_path / "models", source, FILES))
    assert done.returncode == 1
    assert "no SHA-256" in done.stderr
    assert Server.asked == []


def test_without_a_network_it_says_what_to_do_and_an_optional_model_is_no_failure(tmp_path: Path) -> None:
    # Port 9 (discard) has no listener here: the connection is refused, as without a network.
    folder = catalogue(tmp_path / "models", from_files("http://127.0.0.1:9"), FILES)
    done = fetch(folder, "small")
    assert done.returncode == 1
    assert "With a network connection" in done.stderr
    assert "Traceback" not in done.stderr
    assert fetch(folder, "--optional", "small").returncode == 0
    assert fetch(folder, "--optional", "small").stderr == ""  # tried a moment ago


def test_an_unknown_name_is_answered_with_the_known_ones(tmp_path: Path) -> None:
    folder = catalogue(tmp_path / "models", from_files("http://127.0.0.1:9"), FILES)
    done = fetch(folder, "large")
    assert done.returncode == 2
    assert "small" in done.stderr


def test_a_model_is_used_only_while_every_file_is_what_it_should_be(tmp_path: Path) -> None:
    folder = catalogue(tmp_path / "models", from_files("http://127.0.0.1:9"), FILES)
    model = models.catalogue(folder / "models.toml")["small"]
    assert models.problem(model, folder / "small") == "it has not been fetched"
    (folder / "small").mkdir()
    for name, data in FILES.items():
        (folder / "small" / name).write_bytes(data)
    assert models.problem(model, folder / "small") is None
    (folder / "small" / "model.bin").write_bytes(FILES["model.bin"][:-1] + b"!")
    assert "SHA-256 differs" in (models.problem(model, folder / "small") or "")
    (folder / "small" / "model.bin").unlink()
    assert "missing" in (models.problem(model, folder / "small") or "")


def test_fetched_models_lie_in_the_checkout_or_else_among_the_users_data(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("platformdirs.user_data_path", lambda app: tmp_path / "data" / app)
    assert models.folder(tmp_path) == tmp_path / "data" / "turncaller" / "models"
    assert models.how_to_fetch("small", tmp_path) == "python -m coach.app.fetch_models small"
    (tmp_path / "scripts").mkdir()
    (tmp_path / "scripts" / "fetch_models").touch()
    assert models.folder(tmp_path) == tmp_path / "models"
    assert models.how_to_fetch("small", tmp_path) == "scripts/fetch_models small"


def test_the_list_of_models_is_whole() -> None:
    for model in models.catalogue().values():
        assert model.sources
        assert model.licence
        assert model.files
        assert all(len(digest) in (0, 64) for digest in model.files.values())


def test_the_sources_of_every_model_are_what_the_script_can_take() -> None:
    needed = {"files": {"url"}, "archive": {"url", "sha256", "inside"}, "pypi": {"package", "inside"}}
    for model in models.catalogue().values():
        for source in model.sources:
            assert set(source) == {"kind"} | needed[source["kind"]]
            assert "==" in source.get("package", "==")  # one version, whatever is published later


def test_the_second_pass_comes_from_its_hub_or_else_from_a_wheel_and_is_one_file_for_file() -> None:
    model = models.catalogue()["whisper-tiny.en"]
    assert [source["kind"] for source in model.sources] == ["files", "pypi"]
    assert model.files["model.bin"] == "1a5afae06a4db91c975c9a9d78be5cc110ee4ea022ad57d55492e4550e936b2a"
    assert all(model.files.values())


def test_an_unreadable_list_is_told_in_words(tmp_path: Path) -> None:
    (tmp_path / "models.toml").write_text("[[model")
    with pytest.raises(ModelError, match="cannot be read"):
        models.catalogue(tmp_path / "models.toml")
