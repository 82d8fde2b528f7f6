"""Which recogniser is taken, and what happens with a model that is missing or broken."""

from pathlib import Path

import pytest

from coach.speech.ears import engines, vosk_engine
from coach.speech.errors import ModelError


def model_folder(models: Path, *, without: str = "") -> Path:
    """A folder that has every file a Vosk model needs, with rubbish in them."""
    folder = models / "vosk-model-small-en-us-0.15"
    for name in vosk_engine._REQUIRED:
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        if name != without:
            path.write_bytes(b"rubbish" * 50)
    return folder


@pytest.fixture(autouse=True)
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))


def test_without_a_model_the_embedded_one_listens(tmp_path: Path) -> None:
    assert engines.choose(models=tmp_path).name == "pocketsphinx"


def test_an_unknown_name_is_answered_with_the_known_ones(tmp_path: Path) -> None:
    with pytest.raises(ModelError, match="pocketsphinx, vosk"):
        engines.choose("ears", models=tmp_path)


def test_asking_for_vosk_without_a_model_says_how_to_get_one(tmp_path: Path) -> None:
    with pytest.raises(ModelError, match="fetch_models"):
        engines.choose("vosk", models=tmp_path)


@pytest.mark.parametrize("name", vosk_engine._REQUIRED)
def test_a_missing_file_is_named_before_anything_is_loaded(tmp_path: Path, name: str) -> None:
    folder = model_folder(tmp_path, without=name)
    with pytest.raises(ModelError, match=name):
        vosk_engine.check_files(folder)


def test_an_empty_file_counts_as_missing(tmp_path: Path) -> None:
    folder = model_folder(tmp_path)
    (folder / "graph/HCLr.fst").write_bytes(b"")
    with pytest.raises(ModelError, match="HCLr"):
        vosk_engine.check_files(folder)


def test_rubbish_in_a_model_does_not_take_the_process_down(tmp_path: Path) -> None:
    model_folder(tmp_path)
    with pytest.raises(ModelError, match="damaged"):
        engines.choose("vosk", models=tmp_path)
    assert engines.choose(models=tmp_path).name == "pocketsphinx"
