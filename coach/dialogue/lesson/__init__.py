"""A lesson: a guided solve, starting from some step."""

from coach.dialogue.lesson.course import ALL_STEPS, Lesson
from coach.dialogue.lesson.opening import LastTime
from coach.dialogue.lesson.settings import Settings

__all__ = ["ALL_STEPS", "LastTime", "Lesson", "Settings"]
