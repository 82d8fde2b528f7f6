"""`turncaller class`: one coach leads a class in unison, by voice or typed."""

from __future__ import annotations

from argparse import Namespace
from dataclasses import replace
from random import Random
from typing import Final

from coach.app.commands.common import chosen_method, tell
from coach.app.commands.lesson import Clock, choices, hold, no_scramble
from coach.cube.scramble import scramble
from coach.dialogue.classroom import ClassLesson
from coach.dialogue.lesson import Lesson
from coach.language import Language
from coach.learning.learned import Learned
from coach.records.profile import ProfileError

_PAUSE: Final = 4.0
"""Leave so many seconds for a turn: the slowest of the class has to be done."""


def classroom(args: Namespace) -> int:
    """Lead a class until its lesson is over."""
    args.learner = None
    args.pause = args.pause or _PAUSE
    try:
        path, profile, settings = choices(args)
    except ProfileError as error:
        tell(error)
        return 1
    chosen = chosen_method(args.method, profile.hand)
    if chosen is None:
        return 1
    steps = [step.id for step in chosen.top_steps]
    if not steps:
        tell("This method has no step that a class can do in unison: those of the top, which go by a look.")
        return 1
    if args.step and args.step not in steps:
        tell(f"A class begins at one of the steps on top: {', '.join(steps)}.")
        return 1

    if args.scramble and (wrong := no_scramble(args.step, [step.id for step in chosen.steps])):
        tell(wrong)
        return 1
    if args.scramble:
        settings = replace(settings, scramble=scramble(Random()))

    def made(language: Language, learned: Learned, clock: Clock | None) -> Lesson:
        return ClassLesson(chosen, language.sentences, args.step, settings, language.offers, language.clashes)

    return hold(args, chosen, profile, path, made)
