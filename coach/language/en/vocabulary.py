"""What a recogniser is limited to at each moment."""

from __future__ import annotations

from coach.language.meaning import Question, Scene


def phrases(asked: Question, scene: Scene) -> tuple[str, ...]:
    return ("yes", "no")


def offers(asked: Question) -> tuple[str, ...]:
    return ()
