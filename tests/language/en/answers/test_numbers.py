"""Generated answers to how many: the number is one that is said, counted or reckoned to."""

import re
from random import Random

from coach.language.en.answers import numbers as module
from coach.language.en.answers.numbers import MOST, numbers, spoken


def test_numbers_in_words() -> None:
    assert [spoken(n) for n in (0, 7, 20, 25, 40, 60)] == ["zero", "seven", "twenty", "twenty-five", "forty", "sixty"]
    assert len({spoken(n) for n in range(MOST + 1)}) == MOST + 1


def test_a_plain_number_is_in_the_text() -> None:
    for seed in range(6000):
        sample = module._plain(Random(seed))
        assert sample.number is not None and sample.complete
        text = sample.text.lower().replace("-", " ")
        words = re.sub(r"[^a-z0-9 ]", " ", text)
        if sample.number > 1 and not re.search(r"\b(um|uh|er|erm|hmm|like|know|see|well)\b|\.\.\.", text):
            assert re.search(rf"\b({sample.number}|{spoken(sample.number).replace('-', ' ')})\b", words), sample


def test_what_is_said_last_counts() -> None:
    for seed in range(6000):
        sample = module._corrected(Random(seed))
        assert sample.number is not None and 1 <= sample.number <= MOST


def test_only_what_settles_the_number_is_complete() -> None:
    for seed in range(20000):
        sample = numbers(Random(seed))
        assert sample.complete == (sample.number is not None or sample.case is not None)
        assert (sample.command == "unsure") == (not sample.complete)
        if sample.case and sample.case.startswith("all-but-"):
            assert sample.number is None and sample.command is None


def test_every_kind_of_label_occurs() -> None:
    said = [numbers(Random(seed)) for seed in range(20000)]
    assert {s.number for s in said} == {None, *range(MOST + 1)}
    cases = {f"all-but-{n}" for n in range(1, 7)}
    assert {s.case for s in said} == {None, "all", "half", *cases}
    assert {s.command for s in said} == {None, "unsure"}


def test_most_answers_are_said_once() -> None:
    random = Random(1)
    assert len({numbers(random).text for _ in range(20000)}) >= 10000
