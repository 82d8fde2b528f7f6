"""Generated rows and faces: each sticker is told by a word that names its colour."""

from random import Random

from coach.language.en.answers import rows as module
from coach.language.en.answers.marks import MARK
from coach.language.en.answers.rows import rows
from coach.language.en.answers.sample import ROLES, Sample
from coach.language.en.answers.threes import three

SIZES = {"row": 3, "face": 9}
COLOURS = tuple(ROLES.values())


def colours_of(sample: Sample) -> list[str | None]:
    """The colours that the label tells, None where a sticker cannot be told."""
    words = sample.text.lower().split()
    told: list[str | None] = []
    for at, count in sample.stickers:
        colour = None if at < 0 else next((c for c in COLOURS if words[at].startswith(c)), "no colour")
        told += [colour] * count
    return told


def test_word_numbers_point_to_words_that_name_a_colour() -> None:
    for seed in range(20000):
        sample = rows(Random(seed))
        assert all(-1 <= at < len(sample.text.split()) and count >= 1 for at, count in sample.stickers)
        told = colours_of(sample)
        assert "no colour" not in told, sample
        assert len(told) <= SIZES[sample.moment]
        assert sample.complete == (len(told) == SIZES[sample.moment] and None not in told), sample
        assert MARK not in sample.text


def test_rows_are_told_as_they_are() -> None:
    for seed in range(6000):
        random = Random(seed)
        row = module._random_row(random)
        sample = module._sample(random, "row", three(random, row, 0), 3)
        assert colours_of(sample) == list(row), sample
        sample = module._sample(random, "row", module._taken_back(random, row), 3)
        assert colours_of(sample) == list(row), sample


def test_faces_are_told_as_they_are() -> None:
    for seed in range(6000):
        random = Random(seed)
        face = module._random_face(random)
        assert colours_of(module._sample(random, "face", module._in_rows(random, face), 9)) == face


def test_what_cannot_be_seen_is_told() -> None:
    for seed in range(2000):
        random = Random(seed)
        row = module._random_row(random)
        told = colours_of(module._hidden(random, row))
        assert len(told) == 3 and told.count(None) == 1
        assert all(colour in (None, true) for colour, true in zip(told, row, strict=True))


def test_every_kind_of_label_occurs() -> None:
    said = [rows(Random(seed)) for seed in range(20000)]
    assert {s.moment for s in said} == set(SIZES)
    assert {count for s in said for at, count in s.stickers if at >= 0} >= {1, 2, 3, 4, 8, 9}
    assert any(at == -1 for s in said for at, _ in s.stickers)
    assert any(not s.stickers for s in said)
    backwards = [s for s in said if [at for at, _ in s.stickers] != sorted(at for at, _ in s.stickers)]
    assert len(backwards) > 500
    assert {colour for s in said for colour in colours_of(s)} == {None, *COLOURS}
    assert sum(not s.complete for s in said) > 1500


def test_hardly_any_answer_is_said_twice() -> None:
    random = Random(1)
    assert len({rows(random).text for _ in range(20000)}) >= 18000
