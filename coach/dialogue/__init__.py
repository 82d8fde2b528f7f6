"""The conversation as a pure state machine: what goes in and out, and what every kind of lesson shares."""

from coach.dialogue.acts import (
    Act,
    Adjust,
    Ask,
    Bye,
    CallTurn,
    Claimed,
    End,
    Event,
    Heard,
    Listen,
    Practised,
    Query,
    Rotate,
    Say,
    SendOff,
    Silence,
    SlipFound,
    TakePart,
    Tell,
    Timed,
    TurnIntoHold,
    When,
)
from coach.dialogue.pace import Pace

__all__ = [
    "Act", "Adjust", "Ask", "Bye", "CallTurn", "Claimed", "End", "Event", "Heard", "Listen", "Pace", "Practised",
    "Query", "Rotate", "Say", "SendOff", "Silence", "SlipFound", "TakePart", "Tell", "Timed", "TurnIntoHold", "When",
]  # fmt: skip
