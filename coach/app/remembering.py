"""What is remembered of a learner between lessons: read at the start of one, and kept while it goes on."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from coach.dialogue import Act, Pace, Practised
from coach.dialogue.lesson import LastTime, Lesson, Settings
from coach.learning.exercise import Exercise
from coach.learning.learned import Learned
from coach.records.keeping import Records
from coach.records.profile import Profile, ProfileError, default_path
from coach.records.profile import load as load_profile
from coach.records.profile import save as save_profile


def profile_at(path: Path) -> Profile:
    """The learner's choices; those of this machine, and no step, for a new learner. Raises ProfileError."""
    return load_profile(path, otherwise=replace(load_profile(default_path()), step=None, unread=False))


def settings_of(profile: Profile, learner: str | None, *, goes_on: bool, ask_colours: bool = False) -> Settings:
    """What the learner has chosen, for the conversation. `goes_on`: from where the last lesson ended. Raises
    ProfileError."""
    last = LastTime(profile.step, profile.unread) if profile.step and goes_on else None
    return Settings(
        profile.held(), profile.style, profile.manner, ask_colours,
        Pace(profile.pause, profile.on_my_word), profile.touch, frozenset(profile.confuse), last,
        " ".join((learner or "").split()),
    )  # fmt: skip


def keep_exercise(records: Records, learned: Learned, act: Act) -> None:
    """Store an exercise as soon as it is over."""
    if isinstance(act, Practised):
        item = learned.item(act.kind, act.step, act.case)
        records.add(Exercise(item, datetime.now(), act.help, act.result, learned.origin))


def keep_step(path: Path, step: str) -> None:
    """Save the step as soon as it is reached, and nothing else yet, so that closing the window does not lose it."""
    with suppress(OSError, ProfileError):  # saving is retried, and a failure reported, at the end of the lesson
        save_profile(replace(load_profile(path), step=step, unread=False), path)


def remember(profile: Profile, held: Lesson, path: Path, tell: Callable[[str], None]) -> None:
    """Save the choices as they are now and the step at which the lesson ended."""
    kept = held.choices
    profile = profile.named(kept.colours)
    if profile.headphones is None:  # it may have been answered since
        profile = replace(profile, headphones=load_profile(default_path()).headphones)
    last = kept.last_time
    profile = replace(
        profile, style=kept.style, manner=kept.manner, hand=kept.hand, pause=kept.pace.pause,
        on_my_word=kept.pace.on_word, touch=kept.touch, confuse=tuple(sorted(kept.confuse)),
        step=last.step if last else None, unread=bool(last and last.unread),
    )  # fmt: skip
    try:
        save_profile(profile, path)
    except OSError as error:
        tell(f"Your choices could not be kept: {error.strerror or error}.")
