"""Chooses the recogniser."""

from collections.abc import Iterable, Sequence
from pathlib import Path

from coach.speech.ears import pocketsphinx_engine, vosk_engine
from coach.speech.ears.recogniser import Recogniser
from coach.speech.errors import ModelError
from coach.speech.models import FOLDER

NAMES = (pocketsphinx_engine.NAME, vosk_engine.NAME)


def vosk_model(models: Path = FOLDER) -> Path | None:
    """The folder of an English Vosk model in `models`, or None."""
    return next(iter(sorted(models.glob("vosk-model-*en-*/"))), None)


def choose(name: str | None = None, models: Path = FOLDER) -> Recogniser:
    """The recogniser of that name; by default Vosk if there is an English model in `models`, else PocketSphinx. Raises
    ModelError if the requested one is unavailable."""
    if name == vosk_engine.NAME:
        return vosk_engine.Vosk(vosk_model(models) or models / "vosk-model-small-en-us-0.15")
    if name == pocketsphinx_engine.NAME:
        return pocketsphinx_engine.PocketSphinx()
    if name is not None:
        raise ModelError(f'There is no recogniser "{name}". There are: {", ".join(NAMES)}.')
    if folder := vosk_model(models):
        try:
            return vosk_engine.Vosk(folder)
        except ModelError:
            pass  # soundcheck reports it; the embedded one always works
    return pocketsphinx_engine.PocketSphinx()


def cannot_hear(recogniser: Recogniser, moments: Iterable[Sequence[str]]) -> tuple[str, ...]:
    """The phrases of these moments with a word that the recogniser lacks; known before the lesson begins."""
    lacking: dict[str, None] = {}
    for phrases in moments:
        recogniser.limit(phrases)
        lacking.update(dict.fromkeys(recogniser.unknown))
    return tuple(lacking)


def lacking(recogniser: Recogniser, moments: Iterable[Sequence[str]]) -> str | None:
    """A sentence about what the recogniser cannot hear in these moments; None if it has all the words."""
    missing = cannot_hear(recogniser, moments)
    if not missing:
        return None
    some = ", ".join(missing[:5]) + (" ..." if len(missing) > 5 else "")
    return f"{recogniser.name} lacks words, and cannot hear {len(missing)} phrases of a lesson: {some}"
