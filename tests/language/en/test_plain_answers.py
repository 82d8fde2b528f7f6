"""Short answers, some in broken English, that say less or something else than they seem to."""

import pytest

from coach.language import Meaning, Scene
from tests.loaded import load

LANGUAGE = load()
ROW = Scene(claimed=("blue", "white", "red"))
PLACED = Scene(piece=("white", "green"), about="placed")
YES, NEXT = Meaning(command="yes"), Meaning(command="next")


@pytest.mark.parametrize(
    "said", ["done", "done it", "I'm done", "done, next", "finished", "next", "it is done"]
)
def test_done_tells_nothing_of_stickers(said: str) -> None:
    assert LANGUAGE.understand(said, "claim", ROW) is None


def test_of_whole_layers_finished_is_a_yes() -> None:
    assert LANGUAGE.understand("finished", "claim", Scene(claimed=("white",) * 12)) == YES


@pytest.mark.parametrize("said", ["yes! only one left I think?", "yes, nearly all, I guess", "yeah almost there"])
def test_a_yes_with_a_doubt_is_no_no(said: str) -> None:
    assert LANGUAGE.understand(said, "claim", Scene(claimed=("white",) * 12)) is None


@pytest.mark.parametrize("said", ["yes they're all white at the bottom but one", "yes, except one"])
def test_a_yes_with_an_exception_is_a_no(said: str) -> None:
    assert LANGUAGE.understand(said, "claim", Scene(claimed=("white",) * 12)) == Meaning(command="no")


@pytest.mark.parametrize(
    "said",
    [
        "this one finish",
        "I do already this",
        "done, very long this",
        "this done already",
        "already I turn it",
    ],
)
def test_a_turn_is_done_in_broken_english(said: str) -> None:
    assert LANGUAGE.understand(said, "turn") == NEXT


@pytest.mark.parametrize(
    "said",
    ["this one I do not yet", "finish this", "is finish this turn?", "cube fall on floor", "I dropped it"],
)
def test_these_do_not_say_that_a_turn_is_done(said: str) -> None:
    assert LANGUAGE.understand(said, "turn") not in (NEXT, Meaning(command="ready"))


@pytest.mark.parametrize("said", ["phone finish, let's go", "call finish, we continue"])
def test_who_goes_on_does_not_stop(said: str) -> None:
    reading = LANGUAGE.read(said, "turn")
    assert reading.best != Meaning(command="stop")


@pytest.mark.parametrize("said", ["it's in now", "yes it's in", "that one is in place"])
def test_the_piece_before_is_in(said: str) -> None:
    assert LANGUAGE.understand(said, "piece", PLACED) == YES
