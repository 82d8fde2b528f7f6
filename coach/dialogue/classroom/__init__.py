"""A class is led in unison: one voice, many cubes. What is known is how many pupils have what, not which of them."""

from coach.dialogue.classroom.session import ClassLesson

__all__ = ["ClassLesson"]
