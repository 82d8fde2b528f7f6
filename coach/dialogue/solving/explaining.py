"""Telling the learner what went wrong."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from coach.belief.slips.explanations import Slip, leading, really
from coach.belief.slips.repairs import Repair
from coach.belief.slips.trail import Trail
from coach.cube import Turn, write
from coach.dialogue.acts import SlipFound
from coach.dialogue.saying import Talking
from coach.dialogue.talk import Talk

_SURE: Final = 0.95
"""A try has failed only if something went wrong in its run with at least this chance, whatever it was."""


def explain(
    talk: Talk, slips: Sequence[Slip], trail: Trail, repair: Repair, guessed: bool, by_run: Mapping[int, float]
) -> Talking[None]:
    """Say which slips were made on the trail, as a guess if they are `guessed`, and record them; `by_run` has the
    chance that more than a turn of the top besides went wrong in a run, by its number. An attempt counts for nothing if
    only the whole cube has to be turned, since its turns may have been right. If several slips in an earlier run
    explain what is seen, the next check has to tell: what was done may be something else, and elsewhere."""
    told = leading(slips)
    yield from talk.attempts.explained()
    held = bool(repair.turns) and all(turn.whole for turn in repair.turns)
    far = len(told) > 1 and any(slip.at < trail.last_run for slip in told)
    many = len(told) > 2 and all(slip.kind == "left-out" for slip in told)
    said = set[tuple[str, str]]()
    for slip in told:
        start, called = trail.run_of(slip.at)
        at = slip.at - start
        talk.record.add(slip, called, at)
        talk.slips += 1
        rotation = at < len(called) and called[at].whole
        number, earlier = trail.number_of_run(slip.at), slip.at < trail.last_run
        which = _which(talk, called, at, earlier)
        sure = by_run.get(number, 0.0) >= _SURE and not (held or far)
        yield from talk.attempts.slipped(number, at, earlier, sure, held or slip.kind in ("hold", "top-turned"))
        key = "slip.rotation" if rotation else f"slip.{slip.kind}"
        if many:
            if slip == told[0]:
                yield from talk.tell("slip.left-out-many", int(guessed), n=len(told), which=which)
        elif (key, which) not in said:  # of two like it in an earlier run, the same would be said
            yield from talk.tell(key, int(guessed), which=which)
        said.add((key, which))
    if not slips:
        yield from talk.tell("slip.second-thoughts")
    start = trail.run_of(slips[0].at)[0] if slips else trail.last_run
    explains = really(trail, slips).run_of(start)[1]
    yield SlipFound(write(explains), write(repair.turns))


def _which(talk: Talk, called: Sequence[Turn], at: int, earlier: bool) -> str:
    """The call at which it happened, in words; turns of the whole cube are not counted. Nobody can count back to a call
    of an earlier run."""
    if earlier:
        return talk.phrases.part("slip.which-earlier")
    number = sum(not turn.whole for turn in called[: at + 1])
    nth = talk.phrases.part("slip.ordinals", max(number - 1, 0))
    return talk.phrases.part("slip.which", nth=nth)
