"""`turncaller progress`: what learners know by heart, what is due, and forgetting a learner."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Sequence
from contextlib import closing, suppress
from dataclasses import dataclass
from datetime import date

from coach.app.commands.common import tell
from coach.learning.exercise import Exercise
from coach.learning.progress import Progress
from coach.learning.progress import progress as worked_out
from coach.learning.schedule import Fsrs
from coach.learning.times import Attempt, Standing, standing
from coach.method import Hand, default_method
from coach.records import export, picture, report
from coach.records.naming import Names
from coach.records.nickname import plain, shown
from coach.records.profile import ProfileError, learner_path, load
from coach.records.store import RecordsError, Store, default_path


@dataclass(frozen=True)
class _Known:
    """What is known of a learner."""

    now: Progress
    exercises: Sequence[Exercise]
    attempts: Sequence[Attempt]

    @property
    def stands(self) -> Standing:
        """How the learner's timed solves stand."""
        return standing([attempt.result for attempt in self.attempts])


Learners = Sequence[_Known]

_OUT_OF_REACH = (
    "Out of reach, to be deleted by hand: session logs (--log), CSV files, pictures and pages (method --sheet) that "
    "were made, and copies of these folders, such as backups."
)


def progress(args: Namespace) -> int:
    """Print progress and write the requested files; or forget a learner."""
    try:
        if args.forget is not None:
            return _forget(args.forget)
        learners = _all()
        if args.learner is not None:
            return _one(args, learners, plain(args.learner))
    except (RecordsError, ValueError) as error:
        tell(error)
        return 1
    if not learners:
        print("Nobody has practised yet: there are no records.")
        return 0
    print("\n".join(report.of_class((each.now, each.stands) for each in learners)))
    drawn = picture.of_class([(each.now, each.exercises) for each in learners])
    return _write(args, learners, "How many things each learner has done alone", drawn)


def _all() -> Learners:
    """All learners; none if there are no records, since only looking must not create them."""
    if not default_path().exists():
        return []
    with closing(Store()) as store:
        found = [(name, store.exercises(name), store.attempts(name)) for name in store.learners()]
    by_case = default_method().sequence_of
    return [
        _Known(worked_out(name, exercises, date.today(), Fsrs(), by_case), exercises, attempts)
        for name, exercises, attempts in found
    ]


def _one(args: Namespace, learners: Learners, name: str) -> int:
    found = [each for each in learners if plain(each.now.name) == name]
    if not found:
        others = ", ".join(each.now.name for each in learners)
        there_are = f"There are of: {others}." if others else "Nobody has practised yet."
        tell(f"There are no records of {shown(args.learner)}. {there_are}")
        return 1
    (one,) = found
    times = report.of_times(one.stands)
    names = Names(default_method(_hand(one.now.name)))
    print("\n".join([*report.of_learner(one.now, names), *(["", *times] if times else [])]))
    title = f"{one.now.name}: help with each thing to know, from 4 (every turn is called) down to 0"
    return _write(args, found, title, picture.of_learner(one.now, one.exercises, names))


def _hand(name: str) -> Hand:
    """The hand that the learner turns with most, after which sequences are named."""
    try:
        return load(learner_path(name)).hand
    except ProfileError:
        return "right"


def _write(args: Namespace, learners: Learners, title: str, lanes: Sequence[picture.Lane]) -> int:
    """Write the requested files."""
    try:
        if args.csv:
            export.write_csv(args.csv, [(each.now.name, each.exercises) for each in learners])
            print(f"All exercises{_whose(args)} are in {args.csv}.")
            if times := export.write_times(args.csv, [(each.now.name, each.attempts) for each in learners]):
                print(f"All timed solves{_whose(args)} are in {times}.")
        if args.picture:
            picture.draw(args.picture, title, lanes, date.today())
            print(f"The picture is {args.picture}.")
    except OSError as error:
        tell(f"{error.filename or 'The file'} cannot be written: {error.strerror or error}.")
        return 1
    except ImportError:
        tell("A picture needs the package matplotlib: pip install matplotlib")
        return 1
    return 0


def _whose(args: Namespace) -> str:
    return f" of {shown(args.learner)}" if args.learner else ""


def _forget(name: str) -> int:
    """Remove everything kept about the learner; the profile even if the records cannot be used."""
    removed, code = _forget_exercises(name)
    profile = learner_path(name)
    for path in (profile, profile.with_suffix(".new")):
        if path.exists():
            path.unlink()
            removed.append(f"their choices ({path})")
    if removed:
        print(f"Removed of {shown(name)}: {', '.join(removed)}.\n{_OUT_OF_REACH}")
        return code
    tell(f"Nothing else is kept of {shown(name)}." if code else f"Nothing is kept of {shown(name)}.{_others()}")
    return 1


def _others() -> str:
    """Who is in the records instead: a name may have been typed otherwise."""
    with suppress(RecordsError):
        if names := ", ".join(each.now.name for each in _all()):
            return f" There are records of: {names}."
    return ""


def _forget_exercises(name: str) -> tuple[list[str], int]:
    """Remove the learner's exercises; return what was removed, and the exit code so far."""
    if not default_path().exists():
        return [], 0
    try:
        with closing(Store()) as store:
            return [f"their exercises and timed solves ({store.path})"] if store.forget(name) else [], 0
    except RecordsError as error:
        tell(f"{error} Until then {shown(name)} may still be in them.")
        return [], 1
