"""A lesson: a guided solve, starting from some step."""

from coach.dialogue.lesson.course import ALL_STEPS, Lesson, Settings
from coach.dialogue.lesson.opening import LastTime

__all__ = ["ALL_STEPS", "LastTime", "Lesson", "Settings"]
