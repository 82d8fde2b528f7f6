"""Runs a lesson: acts go to a shell, what it hears goes back to the lesson, and everything goes into the log."""

from __future__ import annotations

import sys
import traceback
from collections.abc import Callable, Sequence
from contextlib import suppress
from datetime import datetime
from typing import Protocol

from platformdirs import user_log_path

from coach.dialogue import Act, Adjust, End, Event, Listen, Say
from coach.dialogue.lesson import Lesson
from coach.records.log import SessionLog
from coach.speech.errors import AudioError


class Shell(Protocol):
    """Carries out the acts: by typing, by voice, or in a simulation."""

    def say(self, say: Say) -> None:
        """Let the learner hear (or read) it; returns once it is said."""

    def listen(self, listen: Listen) -> Event | None:
        """The next event from the learner; None if nothing more can come."""

    def adjust(self, adjust: Adjust) -> None:
        """Make the voice louder or softer."""


def run(
    lesson: Lesson,
    shell: Shell,
    log: SessionLog,
    learner: str | None = None,
    reached: Callable[[str], None] | None = None,
    interrupted: Callable[[], bool] = lambda: False,
    noted: Callable[[Act], None] = lambda act: None,
) -> End:
    """Run the lesson, and report every step it comes to through `reached`, and every act through `noted`.

    Ctrl-C, a shell with no more input or an unforeseen error ends it in good order; the details of an error go to a
    file that is named. `interrupted` reports a Ctrl-C that was lost on its way here (`interrupt.CtrlC`).
    """
    log.begin(lesson, learner)
    acts: Sequence[Act] = ()
    event: Event | None = None
    begun, step = False, lesson.step
    while True:
        try:
            if reached and lesson.step not in (None, step):
                step = lesson.step
                reached(str(step))
            resumed, begun = begun, True
            acts = lesson.handle(event) if event else lesson.stop() if resumed else lesson.start()
            event = None
            for act in acts:
                if interrupted():
                    raise KeyboardInterrupt
                event = _perform(act, shell, log)
                noted(act)
                if isinstance(act, End):
                    return act
        except KeyboardInterrupt:
            interrupted()  # it has arrived
            event = None
        except AudioError:
            raise  # expected: the error says what happened and what to do
        except Exception as error:  # an unforeseen error must not reach the learner as a traceback
            _report(error)
            return _give_up(lesson.fail(), shell, log)


def _give_up(acts: Sequence[Act], shell: Shell, log: SessionLog) -> End:
    """Say goodbye with whatever still works."""
    for act in acts:
        with suppress(Exception):  # the shell itself may have failed
            _perform(act, shell, log)
    end = acts[-1]
    assert isinstance(end, End)
    return end


def _report(error: Exception) -> None:
    """Write the error to a file, and say where it is."""
    path = user_log_path("turncaller") / f"failure-{datetime.now():%Y-%m-%d-%H%M%S}.txt"
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text("".join(traceback.format_exception(error)), "utf-8")
        told = f"Details, for whoever can mend it, are in {path}."
    except OSError as why:
        told = f"Details could not be kept ({why.strerror or why}); it was {type(error).__name__}."
    print(f"Something in the coach went wrong. {told}", file=sys.stderr, flush=True)


def _perform(act: Act, shell: Shell, log: SessionLog) -> Event | None:
    log.add(act)
    if isinstance(act, Say):
        shell.say(act)
    elif isinstance(act, Adjust):
        shell.adjust(act)
    elif isinstance(act, Listen):
        event = shell.listen(act)
        if event:
            log.add(event)
        return event
    return None
