"""Timed solves by voice. The core knows no clock: the shell tells when an answer began, and times are differences."""

from coach.dialogue.stopwatch.session import Stopwatch

__all__ = ["Stopwatch"]
