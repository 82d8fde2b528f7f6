"""`turncaller practise`: a session by heart, by voice or typed."""

from __future__ import annotations

from argparse import Namespace

from coach.app.commands.common import chosen_method, tell
from coach.app.commands.lesson import Clock, choices, hold
from coach.dialogue.lesson import Lesson
from coach.dialogue.practice.session import Practice
from coach.language import Language
from coach.learning.learned import Learned
from coach.records.profile import ProfileError


def practise(args: Namespace) -> int:
    """Hold a session by voice, or typed if asked for or if there is no sound."""
    try:
        path, profile, settings = choices(args)
    except ProfileError as error:
        tell(error)
        return 1
    chosen = chosen_method(args.method, profile.hand)
    if chosen is None:
        return 1

    def made(language: Language, learned: Learned, clock: Clock | None) -> Lesson:
        learned.fades, learned.origin = True, "practice"
        return Practice(
            chosen, language.sentences, learned, args.minutes, settings, language.offers, language.clashes,
            _elapsed(clock) if clock else None,
        )  # fmt: skip

    return hold(args, chosen, profile, path, made)


def _elapsed(clock: Clock) -> Clock:
    """The seconds from now on."""
    start = clock()
    return lambda: clock() - start
