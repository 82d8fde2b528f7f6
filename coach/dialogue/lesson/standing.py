"""Where the learner stands: in the turns being called, in the step, in the whole."""

from __future__ import annotations

from collections.abc import Sequence

from coach.dialogue.lesson.part import LessonPart
from coach.dialogue.saying import Saying
from coach.dialogue.solving.running import Run


def standing(talk: Saying, steps: Sequence[str], step: str, part: LessonPart | None) -> str:
    """Where we are in `part` at `step`, one of `steps`, and what is still to come."""
    at = steps.index(step)
    run = part.calling if part else None
    said = [in_turns(talk, run)] if run and run.last else []
    said.append(talk.words("where.step", step=talk.phrases.part(f"steps.{step}"), n=at + 1, of=len(steps)))
    if part and (left := part.left):
        what, count = left
        said.append(talk.words(f"where.{what}", int(count != 1), n=count))
    if not run:
        names = [talk.phrases.part(f"steps.{later}") for later in steps[at + 1 :]]
        said.append(talk.words("where.to-come", steps=", ".join(names)) if names else talk.words("where.last"))
    return " ".join(said)


def in_turns(talk: Saying, run: Run) -> str:
    """The turn that was called last, and how many are still to be called."""
    assert run.last
    key = "where.called-back" if run.went_back else "where.called"
    call = talk.phrases.call(run.last, talk.style)
    return talk.words(f"{key}{'' if run.to_come else '-last'}", call=call, turn=run.called, of=run.count, n=run.to_come)
