"""Facts about generated talk, answers to claims and answers to the first question."""

from __future__ import annotations

import random
import re
from collections import Counter
from collections.abc import Callable
from functools import partial

import pytest

from coach.language.en.answers import talk as talk_module
from coach.language.en.answers.claims import CORNERS, EDGES, claims
from coach.language.en.answers.manner import RETRACTIONS, said, say_as_people_do
from coach.language.en.answers.marks import MARK, numbered
from coach.language.en.answers.phrasing import Grammar, tidy
from coach.language.en.answers.sample import ROLES, Sample
from coach.language.en.answers.steps import STEPS, StepsDone, steps, told
from coach.language.en.answers.talk import MOMENTS, grammar, talk

COMMANDS = (
    *("next", "repeat", "restart-run", "back", "wait", "resume", "slower", "faster", "louder", "softer", "mistake"),
    *("lost", "correct", "where", "help", "explain", "ready", "yes", "no", "unsure", "stop", "done-top", "read"),
    *("pain", "layers-broken", "more-time", "on-my-word", "done", "hint", "call-it", "alone", "whole-sequence"),
    *("quiz", "once-more", "how-am-i-doing"),
)


def talks(count: int, seed: int = 1) -> list[Sample]:
    rng = random.Random(seed)
    return [talk(rng, rng.choice(MOMENTS)) for _ in range(count)]


def test_near_misses_hold_the_words_of_answers_and_tell_nothing() -> None:
    nothing = " ".join(sample.text.lower() for sample in talks(20000) if sample.command is None)
    words = ("yes", "no", "stop", "right", "done", "ready", "back", "wrong", "lost", "start", "left")
    assert min(len(re.findall(rf"\b{word}\b", nothing)) for word in words) > 20


def test_every_command_is_frequent() -> None:
    counts = Counter(sample.command for sample in talks(20000))
    assert set(counts) == {None, *COMMANDS}
    assert min(counts.values()) > 100


def test_a_fifth_is_not_for_the_coach() -> None:
    counts = Counter(sample.command for sample in talks(5000))
    assert 0.16 < counts[None] / 5000 < 0.25


@pytest.mark.parametrize("make", [*(partial(talk, moment=moment) for moment in ("claim", "turn", "do")), claims, steps])
def test_hardly_anything_is_said_twice(make: Callable[[random.Random], Sample]) -> None:
    rng = random.Random(2)
    assert len({make(rng).text for _ in range(20000)}) > 18000


def test_the_same_seed_says_the_same() -> None:
    assert [sample.text for sample in talks(50, 9)] == [sample.text for sample in talks(50, 9)]


def test_no_rule_is_left_unexpanded() -> None:
    rng = random.Random(3)
    samples = [*talks(5000), *(claims(rng) for _ in range(5000)), *(steps(rng) for _ in range(5000))]
    left = re.compile(r"[{}()|\[\]]|qqq", re.IGNORECASE)
    assert [sample.text for sample in samples if not sample.text or left.search(sample.text)] == []


def test_a_top_of_one_colour_shows_it_everywhere() -> None:
    for sample in talks(8000):
        assert sample.command == "done-top" or not sample.cells
        if sample.command == "done-top":
            assert set(sample.cells) == {*EDGES, *CORNERS} and all(sample.cells.values())


def test_a_bare_description_of_the_top_carries_no_verdict_of_its_own() -> None:
    """The same top may be just what was claimed: only who says yes or no has said it."""
    rng = random.Random(4)
    verdicts = [sample.command for sample in (claims(rng) for _ in range(5000)) if sample.cells]
    shares = {command: verdicts.count(command) / len(verdicts) for command in ("yes", "no", None)}
    assert all(0.2 < share < 0.6 for share in shares.values()), shares


def test_a_word_that_denies_says_yes_as_well_as_no() -> None:
    rng = random.Random(13)
    denial = re.compile(r"\b(?:no|not|none|nothing|never)\b|n't\b", re.IGNORECASE)
    answers = [sample for _ in range(8000) for sample in (talk(rng, "claim"), claims(rng))]
    commands = Counter(sample.command for sample in answers if denial.search(sample.text))
    assert commands["yes"] > commands["no"] / 3 > 100


def test_a_hand_is_told_of_without_pain_and_with_it() -> None:
    rng = random.Random(15)
    hands = re.compile(r"\b(?:hand|palm|thumb|finger|wrist)\b", re.IGNORECASE)
    samples = (talk(rng, "turn") for _ in range(8000))
    commands = Counter(sample.command for sample in samples if hands.search(sample.text))
    assert min(commands[command] for command in ("pain", None, "next")) > 20


def test_what_is_not_turned_yet_is_waited_for_and_what_was_left_out_is_a_mistake() -> None:
    rng = random.Random(14)
    undone = re.compile(r"\bnever (?:did|turned)\b|\bhaven't (?:done|turned)\b")
    commands = Counter(
        sample.command for sample in (talk(rng, "turn") for _ in range(8000)) if undone.search(sample.text)
    )
    assert min(commands[command] for command in ("more-time", "mistake")) > 10


def test_counts_of_a_denied_claim_are_said_and_short_of_four() -> None:
    rng = random.Random(5)
    numbers = ("none", "one|wan|un", "two|twa", "three|free|tree")
    counted = [sample for sample in (claims(rng) for _ in range(5000)) if sample.edges or sample.corners]
    assert len(counted) > 100
    for sample in counted:
        assert sample.command == "no"
        assert re.search(numbers[sample.edges or sample.corners or 0], sample.text.lower()), sample


def test_the_stickers_of_a_row_are_words_for_colours() -> None:
    rng = random.Random(6)
    rows = [sample for sample in (claims(rng) for _ in range(5000)) if sample.stickers]
    assert len(rows) > 300
    verdict = re.compile(r"(?:nope|wrong|no,? (?:it's|here|mine))\b", re.IGNORECASE)
    assert all(sample.command == "no" for sample in rows if verdict.match(sample.text))
    for sample in rows:
        words = sample.text.lower().split()
        assert sum(count for _, count in sample.stickers) == 3
        assert all(words[at].startswith(tuple(ROLES.values())) for at, _ in sample.stickers), sample
        assert MARK not in sample.text


@pytest.mark.parametrize("at", range(len(STEPS)))
def test_a_step_is_told_as_the_progress_it_was_made_from(at: int) -> None:
    """What is said to be done is done, by number and by colour of the cross."""
    rng = random.Random(at)
    numbers = ("one", "two", "three", "four", "five", "six", "seven")
    for _ in range(1500):
        text = told(rng, StepsDone(at, 2)).lower()
        if named := re.search(rf"\b(?:step|number) ({'|'.join(numbers)})\b", text):
            assert numbers.index(named.group(1)) == at, text
        if re.search(r"white cross is (?:done|finished|complete|made)\b", text) and "half" not in text:
            assert at >= 1, text
        if re.search(r"(?:two lower|first two|bottom two) layers are (?:done|finished|complete|made)\b", text):
            assert at >= 3, text
        if re.search(r"yellow cross is (?:done|finished|complete|made)\b", text):
            assert at >= 4, text
        if re.search(r"scrambled|from scratch|jumbled", text):
            assert at == 0, text


def test_a_step_is_only_asked_about_or_told() -> None:
    rng = random.Random(8)
    samples = [steps(rng) for _ in range(5000)]
    assert {sample.command for sample in samples if sample.step} == {None, "explain"}
    assert {sample.step for sample in samples} == {None, *STEPS}
    assert Counter(sample.command for sample in samples if not sample.step).keys() >= {None, "read", "unsure", "resume"}


def test_manners_keep_what_denies() -> None:
    rng = random.Random(10)
    denial = re.compile(r"\bno|n't\b|nae\b|\bnuh\b|in't\b", re.IGNORECASE)
    for _ in range(3000):
        assert denial.search(say_as_people_do(rng, "It isn't there, not at all.")), "a denial was lost"


def test_a_rule_there_twice_and_a_bracket_left_open_are_refused() -> None:
    with pytest.raises(ValueError, match="twice"):
        Grammar("talk-answers.toml", "talk-answers.toml")
    with pytest.raises(ValueError, match="brackets"):
        grammar().phrase(random.Random(1), "a) b")


def test_tidy_leaves_one_mark_and_begins_sentences_with_a_capital() -> None:
    assert tidy("well , yes,. it is , ") == "Well, yes. It is"
    assert tidy("I 'd say") == "I'd say"


def test_only_an_answer_is_taken_back_by_an_answer() -> None:
    rng = random.Random(11)
    taken_back = [talk_module._taken_back(rng, "claim", "yes") for _ in range(500)]
    assert all(begin.endswith(tuple(f"{words}, " for words in RETRACTIONS)) for begin in taken_back)
    assert not any(begin.endswith("my mistake, ") for begin in taken_back), "that is a command"
    assert talk_module._taken_back(rng, "claim", "pain") == ""


def test_a_marked_word_is_found_again_in_every_manner() -> None:
    rng = random.Random(12)
    text = f"it's the orange{MARK}0 one, the{MARK}1 turning is red{MARK}23. They're green{MARK}4"
    for _ in range(5000):
        plain, words = numbered(said(rng, text))
        spoken = [word.strip(".,;!?…").lower() for word in plain.split()]
        assert MARK not in plain
        assert [spoken[words[number]] for number in (0, 2, 3, 4)] == ["orange", "red", "red", "green"], plain
        assert spoken[words[1]] in ("the", "de", "da", "di", "ze", "t'", "that"), plain
