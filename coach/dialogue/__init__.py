"""The conversation as a pure state machine: what goes in and out of it, and what every kind of lesson shares."""

from coach.dialogue.acts import Act, Adjust, End, Event, Heard, Listen, Say, Silence, SlipFound
from coach.dialogue.pace import Pace

__all__ = ["Act", "Adjust", "End", "Event", "Heard", "Listen", "Pace", "Say", "Silence", "SlipFound"]
