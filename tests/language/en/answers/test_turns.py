"""Generated recitals of turns: what is said is what the label tells."""

import re
from itertools import pairwise
from random import Random

from coach.cube import notation
from coach.language.en.answers import turns as module
from coach.language.en.answers.marks import numbered
from coach.language.en.answers.turns import MOST, turns

FACES = "FBRLUD"
SIGNS = ("", "'", "2")


def test_turns_can_be_read_and_no_two_in_a_row_are_of_one_layer() -> None:
    for seed in range(6000):
        said = turns(Random(seed)).turns
        assert 1 <= len(said) <= MOST
        assert notation.write(notation.parse(" ".join(said))) == " ".join(said)
        assert all(a[0] != b[0] for a, b in pairwise(said))


def test_each_style_tells_every_turn_apart() -> None:
    for make in module._STYLES:
        for seed in range(400):
            style = make(Random(seed))
            said = {style(Random(seed), face + sign) for face in FACES for sign in SIGNS}
            assert len(said) == len(FACES) * len(SIGNS)


def test_plain_turns_go_the_way_of_the_layer_facing_the_learner() -> None:
    ways = {"R": "up", "R'": "down", "L": "down", "L'": "up", "U": "left", "U'": "right", "D": "right", "D'": "left"}
    for seed in range(1000):
        style = module._plain(Random(seed), "mixed")
        for turn, way in ways.items():
            words = style(Random(seed), turn).split()
            named = [word for word in words if word in ("up", "down", "left", "right")]
            name = module._NAMES[turn[0]]
            assert way in named and set(named) <= {way, name}, (turn, words)


def test_the_clock_style_says_which_way_the_hand_goes() -> None:
    for seed in range(1000):
        style = module._clock(Random(seed))
        for face in FACES:
            against = re.compile("anti|counter|against|other way")
            assert not against.search(style(Random(seed), face))
            assert against.search(style(Random(seed), face + "'"))


def test_every_turn_occurs_and_some_do_not_get_to_the_end() -> None:
    said = [turns(Random(seed)) for seed in range(20000)]
    assert {turn for s in said for turn in s.turns} == {face + sign for face in FACES for sign in SIGNS}
    assert {len(s.turns) for s in said} == set(range(1, MOST + 1))
    assert sum(not s.complete for s in said) > 500


def test_hardly_any_recital_is_said_twice() -> None:
    random = Random(1)
    assert len({turns(random).text for _ in range(20000)}) >= 18000


def test_each_turn_that_counts_begins_at_the_word_that_is_told() -> None:
    faces = {face: {module._NAMES[face], *module._OTHER_NAMES[face].split()} for face in FACES}
    for seed in range(6000):
        sample = turns(Random(seed))
        words = [word.strip(".,;!?:") for word in sample.text.lower().split()]
        begins = [at for at, _ in sample.turn_words]
        assert tuple(turn for _, turn in sample.turn_words) == sample.turns
        assert begins == sorted(set(begins)) and begins[-1] < len(words)
        assert sample.text.isascii(), "nothing is left of the marks"
        for (at, turn), end in zip(sample.turn_words, [*begins[1:], len(words)], strict=True):
            face = turn[0]
            named = re.match(rf"{face.lower()}(?!\w\w)", words[at]) or faces[face] & set(words[at:end])
            assert named, (sample.text, at, turn)


def test_a_turn_that_is_taken_back_has_no_words() -> None:
    for seed in range(2000):
        random = Random(seed)
        style = module._letters(random)
        text = module._taken_back(random, "R", module._marked(style(random, "R"), 0), style)
        plain, begins = numbered(text)
        assert plain.split()[begins[0]] == "R" and begins[0] > 0, text
