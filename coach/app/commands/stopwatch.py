"""`turncaller stopwatch`: timed solves, by voice or typed."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterator
from contextlib import closing
from datetime import datetime
from queue import Queue
from random import Random
from threading import Thread

from coach.app.commands.common import tell
from coach.app.commands.lesson import chosen_profile, open_shell, tell_clashes
from coach.app.interrupt import CtrlC
from coach.app.remembering import settings_of
from coach.app.runtime import Runtime
from coach.app.session import run
from coach.cube import Turn
from coach.cube.scramble import scramble
from coach.dialogue import Act, Timed
from coach.dialogue.stopwatch import Stopwatch
from coach.learning.times import Attempt
from coach.method import default_method
from coach.records.keeping import Records
from coach.records.log import SessionLog
from coach.records.profile import ProfileError, default_path, learner_path


def stopwatch(args: Namespace) -> int:
    """Time solves until the learner has had enough; with a nickname they are kept."""
    try:
        profile = chosen_profile(args, default_path() if args.learner is None else learner_path(args.learner))
        settings = settings_of(profile, args.learner, goes_on=False)
    except ProfileError as error:
        tell(error)
        return 1
    if args.learner is None:
        tell("These times are not kept. With --learner NAME they are.")
    with (
        CtrlC() as ctrl_c, Runtime() as runtime, runtime.seat() as seat, closing(SessionLog(args.log)) as log,
        closing(Records(args.learner, tell)) as records,
    ):  # fmt: skip
        language = seat.language
        tell_clashes(args.colours, language)
        one = Stopwatch(
            default_method(profile.hand), language.sentences, _scrambles(Random()),
            [attempt.result for attempt in records.attempts], settings, language.offers, language.clashes,
        )  # fmt: skip
        with closing(open_shell(args.typed, profile, seat)) as shell:
            end = run(one, shell, log, args.learner, interrupted=ctrl_c.pressed, noted=lambda act: _keep(records, act))
    return 0 if end.outcome in ("done", "stopped") and not one.failed else 1


def _scrambles(random: Random) -> Iterator[tuple[Turn, ...]]:
    """One scramble after the other, each worked out while the last one is being used."""
    ready: Queue[tuple[Turn, ...]] = Queue(1)

    def work() -> None:
        while True:
            ready.put(scramble(random))

    Thread(target=work, daemon=True).start()
    while True:
        yield ready.get()


def _keep(records: Records, act: Act) -> None:
    """Store a timed solve as soon as it is over, or the other penalty that it is given."""
    if not isinstance(act, Timed):
        return
    if act.judged:
        records.judge_last(act.penalty)
    else:
        now = datetime.now().replace(microsecond=0)
        records.add_attempt(Attempt(now, act.centiseconds, act.penalty, act.scramble))
