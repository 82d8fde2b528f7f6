"""What the recogniser learns from: sentences of the right people, others between them, and voices to learn from."""

import json
import sys
from itertools import islice
from pathlib import Path
from random import Random

import pytest

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "scripts"))
from benches.voices import GROUPS  # noqa: E402
from training.recogniser import sentences, speaking  # noqa: E402
from training.recogniser.sentences import Sentence  # noqa: E402

ANSWERS = ROOT / "models" / "answers-en"
LESSONS = [Sentence(f"my answer {at}", "claim") for at in range(5)]
OTHERS = [Sentence("The weather is fine today.", "other", general=True)]


def speakers(*folders: Path) -> set[str]:
    paths = [path for folder in folders for path in folder.glob("*.jsonl")]
    rows = [json.loads(line) for path in paths for line in path.read_text("utf-8").splitlines()]
    return {row["speaker"] for row in rows if "speaker" in row}


def test_nobody_who_is_kept_for_judging_is_learned_from() -> None:
    kept = speakers(ANSWERS / "calibration", ANSWERS / "unseen")
    learned = speakers(*sentences.FOLDERS)
    assert kept
    assert learned
    assert not kept & learned


def test_a_sentence_comes_once_for_each_question_and_long_ones_not_at_all(tmp_path: Path) -> None:
    rows = [
        {"asked": "piece", "said": "The white  one"},
        {"asked": "piece", "said": "the white one"},
        {"moment": "look", "coach": "Which corners are yellow?", "said": "the white one"},
        {"asked": "piece", "said": "on and on " * 20},
        {"asked": "piece", "said": " "},
        {"asked": "piece"},
    ]
    (tmp_path / "some.jsonl").write_text("\n".join(map(json.dumps, rows)))
    found = sentences.of_lessons([tmp_path / "some.jsonl"])
    assert found == [Sentence("The white one", "piece"), Sentence("the white one", "look-top-corners")]


def test_plain_sentences_are_taken_from_a_file_of_sayings(tmp_path: Path) -> None:
    one = "A cat sat by the window.  It was\nnot a dog at all!\n\t\t-- Some Author, On Cats of This World"
    (tmp_path / "sayings").write_text("\n%\n".join((one, "In 1999 it rained for days.", "No.")))
    found = sentences.general([tmp_path / "sayings"])
    assert [each.text for each in found] == ["A cat sat by the window.", "It was not a dog at all!"]
    assert all(each.general for each in found)


def test_one_of_eight_is_general_and_all_of_a_lesson_come_before_any_comes_again() -> None:
    said = list(islice(sentences.in_turn(LESSONS, OTHERS, Random(1)), 24))
    assert [at for at, each in enumerate(said) if each.general] == [7, 15, 23]
    assert {each.text for each in said[:5]} == {each.text for each in LESSONS}


def test_without_general_sentences_all_are_of_lessons() -> None:
    assert not any(each.general for each in islice(sentences.in_turn(LESSONS, [], Random(1)), 20))


@pytest.mark.parametrize("seed", [1, 2])
def test_only_voices_to_learn_from_speak_and_the_same_ones_every_time(seed: int) -> None:
    made = [speaking.tasks(sentences.in_turn(LESSONS, OTHERS, Random(seed)), 300, seed, None) for _ in range(2)]
    assert made[0] == made[1]
    voices = {task.voice for task in made[0]}
    assert voices == {voice for group in GROUPS["a"] for voice in group}
    assert voices.isdisjoint(voice for group in GROUPS["b"] for voice in group)


def test_kokoro_speaks_some_where_it_has_styles(tmp_path: Path) -> None:
    for name in ("one", "two"):
        (tmp_path / f"{name}.bin").touch()
    said = speaking.tasks(sentences.in_turn(LESSONS, [], Random(1)), 300, 1, tmp_path)
    share = sum(task.voice.startswith("kokoro ") for task in said) / len(said)
    assert 0.2 < share < 0.5
