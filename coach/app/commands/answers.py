"""`turncaller understand` and `turncaller hear`: the meaning of typed and recorded answers."""

from __future__ import annotations

import json
from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from coach.app.answer import answer_of
from coach.app.commands.common import tell
from coach.app.runtime import Runtime
from coach.app.typed import read_line, standard_input
from coach.language import Language, Meaning, Question, Scene
from coach.records.profile import FACE_WORDS

if TYPE_CHECKING:
    from coach.app.hearing import Hearing


def understand(args: Namespace) -> int:
    """Print the meaning of every line on stdin as a line of JSON."""
    if not (args.asked or args.json):
        tell("Say what was asked: --asked QUESTION, or give --json. turncaller understand --help tells more.")
        raise SystemExit(2)
    source = standard_input()
    scene = Scene(dict(zip(FACE_WORDS, args.colours, strict=True))) if args.colours else Scene()
    with Runtime() as runtime:
        language = runtime.language
        while line := read_line(source):
            text = line.decode("utf-8", "replace").strip()
            plain = None if args.json else _plain(language.understand(text, args.asked, scene))
            told = _reading(language, text, args.asked, scene) if args.json else plain
            print(json.dumps(told, ensure_ascii=False), flush=True)
    return 0


def _reading(language: Language, line: str, asked: Question | None, scene: Scene) -> dict[str, Any]:
    """What the answer in a JSON object means and how sure that is; or what is wrong with the object."""
    try:
        said, question, seen = answer_of(json.loads(line), asked, scene)
    except json.JSONDecodeError:
        return {"meaning": None, "confidence": None, "best": None, "error": "This line is no JSON object."}
    except ValueError as error:
        return {"meaning": None, "confidence": None, "best": None, "error": str(error)}
    reading = language.read(said, question, seen)
    return {
        "meaning": _plain(reading.meaning), "confidence": round(reading.confidence, 3), "best": _plain(reading.best),
    }  # fmt: skip


def _plain(meaning: Meaning | None) -> dict[str, Any] | None:
    return meaning.to_json() if meaning else None


def hear(args: Namespace) -> int:
    """Print what was heard in each recording and what it means as a line of JSON."""
    from coach.app.hearing import Hearing
    from coach.speech.errors import AudioError

    with Runtime() as runtime, runtime.seat() as seat:
        try:
            phrases = _phrases(args.phrases) if args.phrases else seat.language.phrases(args.asked)
            hearing = Hearing(seat.recognition(args.engine), seat.language)
        except (AudioError, OSError, UnicodeDecodeError) as error:
            tell(error)
            return 1
        return _hear(args, hearing, seat.language, phrases)


def _hear(args: Namespace, hearing: Hearing, language: Language, phrases: tuple[str, ...]) -> int:
    from coach.speech.errors import AudioError

    failed, told = False, False
    for path in args.files:
        try:
            heard = hearing.file(path, phrases, None if args.phrases else args.asked)
        except AudioError as error:
            tell(error)
            failed = True
            continue
        if hearing.unknown and not told:
            tell(f"These phrases hold a word that the recogniser does not know: {', '.join(hearing.unknown)}.")
            told = True
        meaning = language.understand(heard.text, args.asked) if heard.text else None
        line = {"file": str(path), "text": heard.text, "meaning": meaning.to_json() if meaning else None,
                "confidence": round(heard.confidence, 3), "engine": heard.engine}  # fmt: skip
        print(json.dumps(line, ensure_ascii=False), flush=True)
    return int(failed)


def _phrases(path: Path) -> tuple[str, ...]:
    lines = path.read_text("utf-8").lower().splitlines()
    return tuple(line.strip() for line in lines if line.strip())
