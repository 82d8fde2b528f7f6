"""`turncaller lesson`: a guided solve, by voice or typed."""

from __future__ import annotations

import time
from argparse import Namespace
from collections.abc import Callable, Sequence
from contextlib import closing
from dataclasses import replace
from datetime import date
from functools import partial
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING

from coach.app.commands.common import chosen_method, tell
from coach.app.interrupt import CtrlC
from coach.app.remembering import keep_exercise, keep_step, profile_at, remember, settings_of
from coach.app.runtime import Runtime, Seat
from coach.app.session import run
from coach.app.typed import TypedShell
from coach.cube.scramble import scramble
from coach.dialogue.lesson import ALL_STEPS, Lesson, Settings
from coach.language import Language
from coach.learning.learned import Learned
from coach.method import Method
from coach.records.keeping import Records
from coach.records.log import SessionLog
from coach.records.profile import FACE_WORDS, Profile, ProfileError, default_path, learner_path
from coach.records.profile import load as load_profile
from coach.records.profile import save as save_profile

if TYPE_CHECKING:
    from coach.app.voice import VoiceShell

Clock = Callable[[], float]
Maker = Callable[[Language, Learned, Clock | None], Lesson]
"""Makes a lesson in that language for a learner who has learned this. The clock tells seconds; None for a learner who
types, who is waited for as long as it takes."""


def lesson(args: Namespace) -> int:
    """Hold a lesson by voice, or typed if asked for or if there is no sound."""
    try:
        path, profile, settings = choices(args)
    except ProfileError as error:
        tell(error)
        return 1
    chosen = chosen_method(args.method, profile.hand)
    if chosen is None:
        return 1
    step_ids = [step.id for step in chosen.steps]
    if args.step and args.step not in step_ids:
        tell(f"This method does not teach the {args.step.replace('-', ' ')}; it has: {', '.join(step_ids)}.")
        return 1
    if args.scramble and (wrong := no_scramble(args.step, step_ids)):
        tell(wrong)
        return 1
    if args.scramble:
        settings = replace(settings, scramble=scramble(Random()))
    def made(language: Language, learned: Learned, clock: Clock | None) -> Lesson:
        learned.fades = args.learner is not None
        return Lesson(chosen, language.sentences, args.step, settings, language.offers, language.clashes, learned)

    return hold(args, chosen, profile, path, made, partial(keep_step, path))


def hold(
    args: Namespace,
    chosen: Method,
    profile: Profile,
    path: Path,
    make: Maker,
    keep: Callable[[str], None] | None = None,
) -> int:
    """Hold what `make` makes, and remember what is to be remembered of it. `keep` is told every step it comes to."""
    with (
        CtrlC() as ctrl_c, Runtime() as runtime, runtime.seat() as seat, closing(SessionLog(args.log)) as log,
        _records(args) as records,
    ):  # fmt: skip
        language = seat.language
        tell_clashes(args.colours, language)
        learned = Learned(chosen.name, [*records.exercises], date.today())
        with closing(open_shell(args.typed, profile, seat)) as shell:
            one = make(language, learned, None if isinstance(shell, TypedShell) else time.monotonic)
            reached = keep if _remembers(args) else None
            noted = partial(keep_exercise, records, learned)
            end = run(one, shell, log, args.learner, reached, ctrl_c.pressed, noted)
    if _remembers(args):
        remember(profile, one, path, tell)
    return 0 if end.outcome in ("done", "stopped") and not one.failed else 1


def choices(args: Namespace) -> tuple[Path, Profile, Settings]:
    """The learner's choices: where they are kept, and what they are. Raises ProfileError."""
    path = default_path() if args.learner is None else learner_path(args.learner)
    profile = chosen_profile(args, path)
    return path, profile, settings_of(
        profile, args.learner, goes_on=_remembers(args), ask_colours=args.colours == ("ask",)
    )


def tell_clashes(colours: Sequence[str] | None, language: Language) -> None:
    """Tell which of the six words given for the colours are easily mixed up."""
    if not colours or len(colours) != 6:
        return
    for word, other in language.clashes(colours):
        key = "colours.clash-told" if other in colours else "colours.clash-own-told"
        tell(language.sentences.say(key, one=word, other=other))


def no_scramble(step: str | None, step_ids: Sequence[str]) -> str:
    """Why a lesson by these steps cannot begin with a scramble; "" if it can."""
    if step:
        return "After a scramble the lesson begins with the first step: leave out --from, or --scramble."
    if step_ids[0] != ALL_STEPS[0]:
        first, bottom = (each.replace("-", " ") for each in (step_ids[0], ALL_STEPS[0]))
        return f"A scrambled cube begins with the {bottom}, and this method with the {first}: leave out --scramble."
    return ""


def chosen_profile(args: Namespace, path: Path) -> Profile:
    """The learner's choices: the remembered ones, overridden by this command line."""
    profile = profile_at(path)
    if args.colours and len(args.colours) == 6:
        profile = profile.named(dict(zip(FACE_WORDS, args.colours, strict=True)))
    said = {key: getattr(args, key) for key in ("up", "front", "style", "manner", "hand", "pause", "touch", "confuse")}
    said["on_my_word"] = args.on_my_word or None
    said["headphones"] = {"yes": True, "no": False}.get(args.headphones)
    return replace(profile, **{key: value for key, value in said.items() if value is not None})


def _remembers(args: Namespace) -> bool:
    return args.remember or args.learner is not None


def _records(args: Namespace) -> closing[Records]:
    """What the learner has practised; nothing, and nothing is kept, without a nickname."""
    return closing(Records(args.learner, tell))


def _keep_headphones(answer: bool | None) -> None:
    """Save this answer and nothing else of the lesson; without an answer, ask again next time."""
    if answer is None:
        return
    try:
        save_profile(replace(load_profile(default_path()), headphones=answer), default_path())
    except OSError as error:
        tell(f"Your answer could not be kept: {error.strerror or error}.")


def open_shell(typed: bool, profile: Profile, seat: Seat) -> VoiceShell | TypedShell:
    """The voice shell; the typed one if asked for or if there is no sound."""
    if not typed:
        from coach.app.advice import ask_headphones
        from coach.app.voice import open_voice
        from coach.speech.errors import AudioError
        from coach.speech.voice.synthesis import Voice

        try:
            voice = Voice(profile.voice, profile.rate, profile.pitch, profile.volume)
            shell = open_voice(seat, voice=voice)
            if profile.headphones is None and not shell.duplex:
                profile = replace(profile, headphones=ask_headphones(shell, seat.language.sentences))
                _keep_headphones(profile.headphones)
            shell.duplex = shell.duplex or bool(profile.headphones)
            shell.prepare(seat.language.sentences.ready_made(profile.style, profile.up))
            return shell
        except AudioError as error:
            tell(f"{error}\nThe lesson goes on typed: answer with a line, an empty line is a pause.")
    return TypedShell(seat.language)
