"""What each command does. Every error that a person can cause or mend is told in words on stderr."""

from __future__ import annotations

import json
import os
import sys
from argparse import Namespace
from contextlib import closing, suppress
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from coach.app.answer import answer_of
from coach.app.runtime import Runtime, Seat
from coach.app.session import run
from coach.app.typed import TypedShell, read_line, standard_input
from coach.dialogue import Pace
from coach.dialogue.lesson import LastTime, Lesson, Settings
from coach.language import QUESTIONS, Language, Meaning, Question, Scene, load
from coach.method import Method, MethodError, default_method
from coach.method import load as load_method
from coach.method.report import report
from coach.records.log import SessionLog
from coach.records.profile import FACE_WORDS, Profile, ProfileError, default_path, learner_path
from coach.records.profile import load as load_profile
from coach.records.profile import save as save_profile

if TYPE_CHECKING:
    from coach.app.voice import VoiceShell


def _tell(message: object) -> None:
    print(message, file=sys.stderr, flush=True)


def _method(path: Path | None) -> Method | None:
    try:
        return load_method(path) if path else default_method()
    except MethodError as error:
        _tell(error)
        return None


def lesson(args: Namespace) -> int:
    """A lesson by voice, or typed where asked or where there is no sound."""
    chosen = _method(args.method)
    if chosen is None:
        return 1
    step_ids = [step.id for step in chosen.steps]
    if args.step and args.step not in step_ids:
        _tell(f"This method does not teach the {args.step.replace('-', ' ')}; it has: {', '.join(step_ids)}.")
        return 1
    try:
        path = default_path() if args.learner is None else learner_path(args.learner)
        profile = _profile(args, path)
        settings = _settings(profile, args)
    except ProfileError as error:
        _tell(error)
        return 1
    with Runtime() as runtime, runtime.seat() as seat, closing(SessionLog(args.log)) as log:
        language = seat.language
        for word, other in language.clashes(args.colours) if args.colours and len(args.colours) == 6 else ():
            key = "colours.clash-told" if other in args.colours else "colours.clash-own-told"
            _tell(language.sentences.say(key, one=word, other=other))
        one = Lesson(chosen, language.sentences, args.step, settings, language.offers, language.clashes)
        keep = partial(_keep_step, path) if _remembers(args) else None
        with closing(_shell(args.typed, profile, runtime, seat)) as shell:
            end = run(one, shell, log, args.learner, keep)
    if _remembers(args):
        _remember(profile, one, path)
    return 0 if end.outcome in ("done", "stopped") and not one.failed else 1


def _profile(args: Namespace, path: Path) -> Profile:
    """The learner's choices: what is remembered, and over it what this command line says."""
    profile = load_profile(path, otherwise=replace(load_profile(default_path()), step=None, unread=False))
    if args.colours and len(args.colours) == 6:
        profile = profile.named(dict(zip(FACE_WORDS, args.colours, strict=True)))
    said = {key: getattr(args, key) for key in ("up", "front", "style", "manner", "pause", "touch", "confuse")}
    said["on_my_word"] = args.on_my_word or None
    said["headphones"] = {"yes": True, "no": False}.get(args.headphones)
    return replace(profile, **{key: value for key, value in said.items() if value is not None})


def _remembers(args: Namespace) -> bool:
    return args.remember or args.learner is not None


def _settings(profile: Profile, args: Namespace) -> Settings:
    last = LastTime(profile.step, profile.unread) if profile.step and _remembers(args) else None
    return Settings(
        profile.held(), profile.style, profile.manner, args.colours == ("ask",),
        Pace(profile.pause, profile.on_my_word), profile.touch, frozenset(profile.confuse), last,
        " ".join((args.learner or "").split()),
    )  # fmt: skip


def _keep_step(path: Path, step: str) -> None:
    """Keep the step as soon as it is reached, and nothing else yet: whoever closes the window has not lost it."""
    with suppress(OSError, ProfileError):  # it is tried again, and told of, at the end of the lesson
        save_profile(replace(load_profile(path), step=step, unread=False), path)


def _remember(profile: Profile, held: Lesson, path: Path) -> None:
    """Keep the choices as they are now, and where the lesson has ended."""
    kept = held.choices
    profile = profile.named(kept.colours)
    if profile.headphones is None:  # it may have been answered since
        profile = replace(profile, headphones=load_profile(default_path()).headphones)
    last = kept.last_time
    profile = replace(
        profile, style=kept.style, manner=kept.manner, pause=kept.pace.pause, on_my_word=kept.pace.on_word,
        touch=kept.touch, confuse=tuple(sorted(kept.confuse)), step=last.step if last else None,
        unread=bool(last and last.unread),
    )  # fmt: skip
    try:
        save_profile(profile, path)
    except OSError as error:
        _tell(f"Your choices could not be kept: {error.strerror or error}.")


def _keep_headphones(answer: bool | None) -> None:
    """Keep it, and nothing else of this lesson; without an answer it is asked again the next time."""
    if answer is None:
        return
    try:
        save_profile(replace(load_profile(default_path()), headphones=answer), default_path())
    except OSError as error:
        _tell(f"Your answer could not be kept: {error.strerror or error}.")


def _shell(typed: bool, profile: Profile, runtime: Runtime, seat: Seat) -> VoiceShell | TypedShell:
    if not typed:
        from coach.app.voice import open_voice
        from coach.speech.errors import AudioError
        from coach.speech.voice.synthesis import Voice

        try:
            voice = Voice(profile.voice, profile.rate, profile.pitch, profile.volume)
            shell = open_voice(seat, voice=voice, second=runtime.second_look)
            if profile.headphones is None and not shell.duplex:
                profile = replace(profile, headphones=shell.ask_headphones())
                _keep_headphones(profile.headphones)
            shell.duplex = shell.duplex or bool(profile.headphones)
            shell.prepare(seat.language.sentences.ready_made(profile.style, profile.up))
            return shell
        except AudioError as error:
            _tell(f"{error}\nThe lesson goes on typed: answer with a line, an empty line is a pause.")
    return TypedShell(seat.language)


def understand(args: Namespace) -> int:
    """The meaning of every line on stdin, a JSON line each."""
    if not (args.asked or args.json):
        _tell("Say what was asked: --asked QUESTION, or give --json. turncaller understand --help tells more.")
        raise SystemExit(2)
    language, source = load(), standard_input()
    scene = Scene(dict(zip(FACE_WORDS, args.colours, strict=True))) if args.colours else Scene()
    while line := read_line(source):
        text = line.decode("utf-8", "replace").strip()
        plain = None if args.json else _plain(language.understand(text, args.asked, scene))
        told = _reading(language, text, args.asked, scene) if args.json else plain
        print(json.dumps(told, ensure_ascii=False), flush=True)
    return 0


def _reading(language: Language, line: str, asked: Question | None, scene: Scene) -> dict[str, Any]:
    """What the answer in a JSON object means, and how surely; what is wrong with the object, where it is none."""
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
    """What was heard in each recording and what it means, a JSON line each."""
    from coach.app.hearing import Hearing
    from coach.speech.errors import AudioError

    language = load()
    phrases = language.phrases(args.asked)
    try:
        if args.phrases:
            phrases = _phrases(args.phrases)
        hearing = Hearing(args.engine)
    except (AudioError, OSError, UnicodeDecodeError) as error:
        _tell(error)
        return 1
    failed, told = False, False
    for path in args.files:
        try:
            heard = hearing.file(path, phrases, None if args.phrases else args.asked)
        except AudioError as error:
            _tell(error)
            failed = True
            continue
        if hearing.unknown and not told:
            _tell(f"These phrases hold a word that the recogniser does not know: {', '.join(hearing.unknown)}.")
            told = True
        meaning = language.understand(heard.text, args.asked) if heard.text else None
        line = {"file": str(path), "text": heard.text, "meaning": meaning.to_json() if meaning else None,
                "confidence": round(heard.confidence, 3), "engine": heard.engine}  # fmt: skip
        print(json.dumps(line, ensure_ascii=False), flush=True)
    return int(failed)


def _phrases(path: Path) -> tuple[str, ...]:
    lines = path.read_text("utf-8").lower().splitlines()
    return tuple(line.strip() for line in lines if line.strip())


def soundcheck(args: Namespace) -> int:
    """Devices, level, noise, models, voices; the exit code is 1 where no lesson by voice is possible."""
    from coach.sound.soundcheck import report as sound_report

    possible = True
    for line in sound_report([load().phrases(asked) for asked in QUESTIONS]):
        print(line, flush=True)
        possible = possible and not line.prevents
    if not possible:
        print("So no lesson by voice is possible yet. Without sound: turncaller lesson --typed")
    return 0 if possible else 1


_DEMO: Final = Path("demo.wav")


def demo(args: Namespace) -> int:
    """A whole lesson between the coach and a simulated learner, into a recording and a transcript; or live."""
    if problem := _unfit_for_demo(args):
        _tell(problem)
        return 2
    try:
        return _demo(args)
    except KeyboardInterrupt:
        _tell("The demo was interrupted, and nothing of it is kept. Run it again to have the whole.")
        return 130


def _demo(args: Namespace) -> int:
    from coach.simulation import live
    from coach.simulation.demo import record
    from coach.speech.errors import AudioError

    try:
        if args.live:
            snr = 15.0 if args.snr is None else args.snr
            return live.hold(args.step, args.seed, args.pause or 1.0, args.noise, snr)
        return record(args.out or _DEMO, args.step, args.seed, args.pause)
    except (AudioError, OSError) as error:
        _tell(error)
        return 1


def _unfit_for_demo(args: Namespace) -> str | None:
    """What is wrong with the arguments, and what to do; None when nothing is."""
    if args.live:
        return "A demo in real time is not recorded: leave out --out or --live." if args.out else None
    for name in ("noise", "snr"):
        if getattr(args, name) is not None:
            return f"--{name} is for a demo in real time: add --live, or leave --{name} out."
    out: Path = args.out or _DEMO
    if out.is_dir():
        return f"{out} is a folder. Name a file in it: --out {out / _DEMO}"
    if out.suffix.lower() != ".wav":
        return f"The recording is a WAV file, and {out} does not end in .wav. Say --out {out.with_suffix('.wav')}"
    if not out.parent.is_dir():
        return f"There is no folder {out.parent}. Make it first (mkdir -p {out.parent}), or name another."
    if not os.access(out.parent, os.W_OK):
        return f"Nothing can be written into the folder {out.parent}. Name another: --out FOLDER/{out.name}"
    return None


def method(args: Namespace) -> int:
    """Prove a method and show its cases."""
    chosen = _method(args.file)
    if chosen is None:
        return 1
    print(report(chosen))
    return 0
