"""The conversation as a pure state machine."""

from coach.dialogue.acts import Act, Adjust, End, Event, Heard, Listen, Say, Silence, Slip
from coach.dialogue.lesson import ALL_STEPS, Lesson, Settings
from coach.dialogue.opening import LastTime
from coach.dialogue.pace import Pace

__all__ = [
    "ALL_STEPS", "Act", "Adjust", "End", "Event", "Heard", "LastTime", "Lesson", "Listen", "Pace", "Say", "Settings",
    "Silence", "Slip",
]  # fmt: skip
