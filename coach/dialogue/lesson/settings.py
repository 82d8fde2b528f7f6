"""What the learner has chosen for a lesson."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from coach.cube import Turn
from coach.dialogue.lesson.opening import LastTime
from coach.dialogue.pace import Pace
from coach.language.meaning import USUAL_COLOURS
from coach.method import Hand


@dataclass(frozen=True)
class Settings:
    """What the learner has chosen: the words for the faces as the cube is held at the start, the style of the calls,
    the pace, whether they go by touch (None: yes if their words name no colour), the words for colours that they cannot
    tell apart, where the last lesson ended, their nickname, the turns of a scramble that comes first, and
    the hand that turns most, which only `Lesson.choices` tells: what to teach is up to the method."""

    colours: Mapping[str, str] = field(default_factory=lambda: dict(USUAL_COLOURS))
    style: str = "plain"
    manner: str = "teach"
    ask_colours: bool = False
    pace: Pace = field(default_factory=Pace)
    touch: bool | None = None
    confuse: frozenset[str] = frozenset()
    last_time: LastTime | None = None
    learner: str = ""
    scramble: tuple[Turn, ...] = ()
    hand: Hand = "right"

    @property
    def up(self) -> str:
        """The colour on top."""
        return self.colours["U"]

    @property
    def front(self) -> str:
        """The colour in front."""
        return self.colours["F"]
