"""Speech models: which exist (`models.toml`), where the fetched ones are, and whether they are intact.

In a checkout only the standard library is used, since scripts/fetch_models runs before anything is installed.
"""

import hashlib
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

from coach.speech.errors import ModelError

CATALOGUE: Final = Path(__file__).with_name("models.toml")
CHECKOUT: Final = Path(__file__).resolve().parents[2]  # meaningful only if it contains _SCRIPT
_SCRIPT: Final = Path("scripts", "fetch_models")
_CHUNK = 1 << 20


def folder(checkout: Path = CHECKOUT) -> Path:
    """Where fetched models are kept: in `models/` of a checkout, else in the user's data folder."""
    if (checkout / _SCRIPT).is_file():
        return checkout / "models"
    import platformdirs

    return platformdirs.user_data_path("turncaller") / "models"


def how_to_fetch(name: str = "", checkout: Path = CHECKOUT) -> str:
    """The command that fetches the model of that name."""
    script = _SCRIPT.as_posix() if (checkout / _SCRIPT).is_file() else "python -m coach.app.fetch_models"
    return f"{script} {name}".rstrip()


FOLDER: Final = folder()


@dataclass(frozen=True)
class Model:
    """A speech model that can be fetched."""

    name: str  # also the name of its folder
    about: str
    language: str
    licence: str
    bytes: int  # download size
    sources: tuple[Mapping[str, str], ...]  # in the order to try; keys as models.toml explains
    files: Mapping[str, str] = field(default_factory=dict)  # relative path -> SHA-256, "" where unknown


def catalogue(file: Path = CATALOGUE) -> dict[str, Model]:
    """All models by name. Raises ModelError if the catalogue cannot be read."""
    try:
        entries: list[dict[str, Any]] = tomllib.loads(file.read_text("utf-8"))["model"]
        models = [Model(sources=tuple(entry.pop("source")), **entry) for entry in entries]
    except (OSError, KeyError, TypeError, tomllib.TOMLDecodeError) as error:
        raise ModelError(f"The list of models in {file} cannot be read ({error}).") from error
    return {model.name: model for model in models}


def sha256(path: Path) -> str:
    """The SHA-256 of a file, in hexadecimal digits."""
    digest = hashlib.sha256()
    with path.open("rb") as file:
        while chunk := file.read(_CHUNK):
            digest.update(chunk)
    return digest.hexdigest()


def problem(model: Model, folder: Path) -> str | None:
    """What is wrong with the model in that folder; None if every file is there with the right hash."""
    if not folder.is_dir():
        return "it has not been fetched"
    for name, wanted in model.files.items():
        path = folder / name
        try:
            if not path.is_file() or path.stat().st_size == 0:
                return f"{name} is missing or empty"
            if wanted and sha256(path) != wanted:
                return f"{name} is not what it should be (its SHA-256 differs)"
        except OSError as error:
            return f"{name} cannot be read ({error.strerror or error})"
    return None


def verified(name: str, models: Path = FOLDER) -> Path:
    """The folder of a fetched model, with every file checked. Raises ModelError if it must not be used."""
    known = catalogue()
    if name not in known:
        raise ModelError(f'There is no model "{name}". There are: {", ".join(known)}.')
    folder = models / name
    if wrong := problem(known[name], folder):
        raise ModelError(f"The speech model {name} is not used: {wrong}. Run {how_to_fetch(name)}")
    return folder
