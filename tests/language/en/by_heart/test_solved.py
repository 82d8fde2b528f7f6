"""Whether the cube is solved before practice, and what is wished for in the end or instead of an exercise."""

from __future__ import annotations

import pytest

from coach.language import Meaning, Scene
from coach.language.meaning import Change, Question
from tests.loaded import load

LANGUAGE = load()


@pytest.mark.parametrize("answer, meant", [
    ("yup i solved it yesterday", "yes"), ("yes, we've already solved it", "yes"), ("I have just solved it", "yes"),
    ("yes it's only the last edges that are wrong", "no"), ("all but the corners", "no"), ("except the top", "no"),
    ("what's next", None), ("okay, what now", None), ("so what do we do next", None),
])  # fmt: skip
def test_whether_the_cube_is_solved(answer: str, meant: str | None) -> None:
    heard = LANGUAGE.understand(answer, "other", Scene(about="solved"))
    assert (heard.command if heard else None) == meant


@pytest.mark.parametrize("answer", [
    "can i play a bit more first", "one more please", "another exercise", "I'd like to practise a little longer",
])  # fmt: skip
def test_who_wants_more_in_the_end(answer: str) -> None:
    heard = LANGUAGE.understand(answer, "other", Scene(about="solve-last"))
    assert heard == Meaning(change=Change(exercise="other"))


@pytest.mark.parametrize("asked", ("recite", "hold", "do", "turn"))
@pytest.mark.parametrize("wish", [
    "skip this", "please skip this one", "can we skip this exercise please", "I'm bored", "this is so boring",
    "i only want the last layer not this", "I don't want this one",
])  # fmt: skip
def test_who_wants_something_else(wish: str, asked: Question) -> None:
    assert LANGUAGE.understand(wish, asked, Scene(about="top-cross")) == Meaning(change=Change(exercise="other"))


@pytest.mark.parametrize("said", ["I skipped this turn", "i left this out", "not this side", "not that one, the left"])
def test_who_skipped_a_turn_wants_nothing_else(said: str) -> None:
    heard = LANGUAGE.understand(said, "turn", Scene())
    assert heard is None or heard.change is None


def test_a_step_is_wished_for_without_saying_what_to_do_with_it() -> None:
    for wish in ("i want the top cross please, i never practised it", "I'd like the top cross"):
        heard = LANGUAGE.understand(wish, "recite", Scene(about="middle-edges"))
        assert heard and heard.change == Change(step="top-cross"), wish
