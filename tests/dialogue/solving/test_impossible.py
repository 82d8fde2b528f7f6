"""Why a cube cannot be solved is told in the learner's words, with what to do about it."""

from __future__ import annotations

from collections.abc import Mapping
from random import Random

from coach.cube import FACE_PLACES, FACES, Problem, find_problems, solved
from coach.cube.problems import WrongCentres
from coach.dialogue.solving.impossible import explained
from coach.language.meaning import USUAL_COLOURS
from coach.simulation import scrambled
from tests.cube.damaged import flip, replaced, swap, twist
from tests.loaded import load


def explain(problem: Problem, colours: Mapping[str, str] = USUAL_COLOURS) -> str:
    return explained(load().sentences, problem, colours)


def explain_centres(centres: str) -> str:
    return explain(WrongCentres(centres))


def test_centres_twice_out_of_order_or_as_in_a_mirror() -> None:
    assert "Two centres have yellow" in explain_centres("FBRLUU")
    assert "white must be across from yellow" in explain_centres("UBRLFD")
    assert "yellow on top and green in front, orange must be on the right" in explain_centres("FBLRUD")


def test_counts_are_told_in_words() -> None:
    assert explain(find_problems(replaced(solved().faces, 0, "U"))[0]).startswith("I have green only 8 times, but")
    whole = "".join("U" if place in FACE_PLACES["F"] else face for place, face in enumerate(solved().faces))
    texts = [explain(problem) for problem in find_problems(whole)]
    assert texts[:2] == [
        "I have green nowhere, but a cube has it nine times. Check where else you find green.",
        "I have yellow 18 times, but a cube has it nine times. Check where you found yellow.",
    ]


def test_whatever_is_wrong_can_be_told() -> None:
    random = Random(1)
    for _ in range(50):
        problems = find_problems("".join(random.choices(FACES, k=54)))
        assert all(explain(problem)[0].isupper() and explain(problem).endswith(".") for problem in problems)


def test_a_piece_that_cannot_be_and_one_that_is_there_twice() -> None:
    faces = solved().faces
    texts = [explain(problem) for problem in find_problems(replaced(faces, FACE_PLACES["F"][1], "D"))]
    opposite = "front of the top can't have yellow and white: yellow and white are on opposite sides, so no edge"
    assert any(opposite in text for text in texts)
    texts = [explain(problem) for problem in find_problems(replaced(faces, FACE_PLACES["F"][1], "R"))]
    assert "The edge with yellow and orange is there twice: at the front of the top and at the right of the top. " in (
        " ".join(texts)
    )
    assert any(text.startswith("The edge with yellow and green is nowhere.") for text in texts)


def test_words_for_a_learner() -> None:
    (twisted,) = find_problems(twist(solved(), "UFR", 1).faces)
    words = explain(twisted)
    assert "the corner with yellow, green and orange, at the front right of the top" in words
    assert "twist it anticlockwise by a third" in words
    (flipped,) = find_problems(flip(solved().do("y"), "FR").faces)
    assert "the edge with blue and orange, at the front right of the middle layer" in explain(flipped)
    (swapped,) = find_problems(swap(solved(), "DF", "DB").faces)
    assert "the edge with white and blue, at the front of the bottom" in explain(swapped)
    assert "the edge with white and green, at the back of the bottom" in explain(swapped)


def test_what_cannot_be_known_is_not_claimed() -> None:
    (flipped,) = find_problems(flip(scrambled(Random(3)), "UF").faces)
    assert "I can't tell which" in explain(flipped)
    assert "lift any edge out" in explain(flipped)


def test_the_learners_own_names_of_the_colours() -> None:
    names = {"U": "dots", "R": "ridges", "F": "smooth", "D": "plain", "L": "rough", "B": "rings"}
    (flipped,) = find_problems(flip(solved(), "UF").faces)
    assert "the edge with dots and smooth" in explain(flipped, names)
    for place, colour in ((0, "F"), (4, "F")):
        for problem in find_problems(replaced(solved().faces, place, colour)):
            words = explain(problem, names).lower()
            assert not any(usual in words for usual in ("yellow", "green", "white", "colour", "look", "see", "saw"))


