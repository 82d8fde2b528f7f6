"""`turncaller soundcheck` and `turncaller method`: whether everything is ready for a lesson."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Mapping

from coach.app.commands.common import chosen_method, tell
from coach.app.sheet import ForWhom, sheet
from coach.language import QUESTIONS, load
from coach.method import Method
from coach.method.report import report
from coach.records.profile import Profile, ProfileError, default_path, learner_path
from coach.records.profile import load as load_profile


def soundcheck(args: Namespace) -> int:
    """Check devices, level, noise, models and voices; the exit code is 1 if a voice lesson is impossible."""
    from coach.sound.soundcheck import report as sound_report

    possible = True
    language = load()
    for line in sound_report([language.phrases(asked) for asked in QUESTIONS], language.sentences.say):
        print(line, flush=True)
        possible = possible and not line.prevents
    if not possible:
        print("So no lesson by voice is possible yet. Without sound: turncaller lesson --typed")
    return 0 if possible else 1


def method(args: Namespace) -> int:
    """Prove a method and print its cases, or write it as a page to take away."""
    try:
        profile = _profile(args.learner) if args.sheet else Profile()
        words = profile.held()
    except ProfileError as error:
        tell(error)
        return 1
    chosen = chosen_method(args.file, args.hand or profile.hand)
    if chosen is None:
        return 1
    if args.sheet is None:
        print(report(chosen))
        return 0
    if args.step and args.step not in {step.id for step in chosen.steps}:
        there_are = ", ".join(step.id for step in chosen.steps)
        tell(f"This method has no step {args.step}. Its steps are {there_are}. Choose one of them with --from.")
        return 1
    page = _page(chosen, profile, words, args)
    try:
        args.sheet.write_text(page, "utf-8")
    except OSError as error:
        tell(f"The page cannot be written to {args.sheet}: {error.strerror or error}. Name another file.")
        return 1
    print(f"The method is proven, and {args.sheet} is written. Open it in a browser to read it or to print it.")
    return 0


def _profile(learner: str | None) -> Profile:
    """What is remembered of the learner. Raises ProfileError."""
    profile = load_profile(default_path())
    return profile if learner is None else load_profile(learner_path(learner), otherwise=profile)


def _page(chosen: Method, profile: Profile, words: Mapping[str, str], args: Namespace) -> str:
    """The page in the words and style remembered for the learner."""
    sentences = load().sentences
    touch = sentences.felt(words.values()) if profile.touch is None else profile.touch
    learner = " ".join((args.learner or "").split())
    whom = ForWhom(words, args.style or profile.style, learner, touch)
    return sheet(chosen, sentences, whom, args.step)
