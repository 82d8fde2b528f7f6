"""The second pass: what is decided from probabilities, and the real model where it has been fetched."""

import csv
import math
import socket
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from coach.app.certainty import SURE
from coach.app.expected import Expected
from coach.language import Question
from coach.speech.ears import hearing, transcript
from coach.speech.ears.fusion import THRESHOLD, fuse, in_doubt
from coach.speech.ears.hearing import decide
from coach.speech.ears.recogniser import Alternative, Transcript
from coach.speech.ears.second_pass import SecondPassEvidence, WhisperPass, confidence
from coach.speech.ears.weighing import Background, Spelled, Weighed, is_another, once, spell, total, weigh, words
from coach.speech.ears.whisper import Free
from coach.speech.errors import ModelError
from coach.speech.signal import wav
from coach.speech.signal.wav import RATE, Samples
from tests.conftest import Speaker
from tests.loaded import load

# A vocabulary of eight tokens: 0 to 3 begin phrases, 4 and 5 follow, 6 and 7 are other words.
YES, NO, TOP, LEFT, RIGHT, CORNER = range(6)
FLAT = Background({}, math.log(1 / 8))
COMMANDS = ("yes", "no", "stop", "go", "left", "right", "up", "down", "on", "off")


def free(text: str, **shares: float) -> Free:
    """A free look whose first token has these shares, the rest spread over the other tokens."""
    names = {"yes": YES, "no": NO, "top": TOP, "left": LEFT}
    chances = np.full(8, (1 - sum(shares.values())) / (8 - len(shares)))
    for name, share in shares.items():
        chances[names[name]] = share
    return Free(text, np.log(chances).astype(np.float32), 0.0)


def never(ways: Sequence[object]) -> list[list[float]]:
    assert not ways, "nothing has to be looked at word by word"
    return []


def evidence(**changes: float) -> SecondPassEvidence:
    usual: dict[str, float] = {
        "evidence": 5.0, "margin": 6.0, "rival": 4.0, "no_speech": 0.1,
        "extra": 0, "contrast": 35.0,
    }  # fmt: skip
    return SecondPassEvidence(**(usual | changes))  # type: ignore[arg-type]


def test_the_phrase_with_the_largest_share_comes_first() -> None:
    phrases = [Spelled("yes", ((YES,),)), Spelled("no", ((NO,),))]
    ranked = weigh(phrases, free("No.", no=0.7, yes=0.1), FLAT, never)
    assert [one.text for one in ranked] == ["no", "yes"]
    assert ranked[0].evidence == pytest.approx(math.log(0.7 * 8), abs=1e-5)


def test_all_spellings_of_a_phrase_count_together() -> None:
    phrases = [Spelled("yes", ((YES,), (LEFT,))), Spelled("no", ((NO,),))]
    background = Background({LEFT: math.log(0.001)}, math.log(1 / 8))
    ranked = weigh(phrases, free("", yes=0.25, left=0.2, no=0.3), background, never)
    assert ranked[0].text == "yes"
    assert ranked[0].evidence == pytest.approx(math.log(0.45 / (1 / 8 + 0.001)), abs=1e-5)


def test_a_word_that_is_heard_in_everything_needs_more_to_win() -> None:
    phrases = [Spelled("yes", ((YES,),)), Spelled("no", ((NO,),))]
    heard = free("", no=0.3, yes=0.2)
    assert weigh(phrases, heard, FLAT, never)[0].text == "no"
    usual_no = Background({NO: math.log(0.25)}, math.log(0.01))
    assert weigh(phrases, heard, usual_no, never)[0].text == "yes"


@pytest.mark.parametrize(
    ("best", "dissents"), [("yes", True), ("no", False), ("top right", False)], ids=["another", "the same", "not told"]
)
def test_another_way_to_look_dissents_where_its_first_token_tells_all(best: str, dissents: bool) -> None:
    phrases = [Spelled("yes", ((YES,),)), Spelled("no", ((NO,),)), Spelled("top right", ((TOP, RIGHT),))]
    seen = free("", no=0.4, yes=0.2, top=0.1)
    assert is_another(Weighed(best, 0.0), phrases, seen.first, FLAT) == dissents


def test_what_not_all_ways_to_look_agree_on_has_to_be_surer() -> None:
    shares = [confidence(evidence(evidence=2.0, dissent=dissent)) for dissent in (0.0, 1 / 3, 2 / 3)]
    assert shares[0] > THRESHOLD > shares[1] > shares[2]


@pytest.mark.parametrize(("goes_on", "expected"), [(0.9, "top right"), (0.1, "top")])
def test_a_phrase_that_another_one_continues_is_told_from_it(goes_on: float, expected: str) -> None:
    phrases = [Spelled("top", ((TOP,),)), Spelled("top right", ((TOP, RIGHT),))]

    def likelihoods(ways: object) -> list[list[float]]:
        assert ways == [(TOP, RIGHT)]
        return [[-0.1, math.log(goes_on)]]

    assert weigh(phrases, free("Top", top=0.9), FLAT, likelihoods)[0].text == expected


def test_phrases_that_begin_alike_are_told_apart_by_what_follows() -> None:
    phrases = [Spelled("top right", ((TOP, RIGHT),)), Spelled("top corner", ((TOP, CORNER),))]
    chances = {(TOP, RIGHT): 0.2, (TOP, CORNER): 0.7}
    ranked = weigh(phrases, free("Top", top=0.9), FLAT, lambda ways: [[-0.1, math.log(chances[way])] for way in ways])
    assert [one.text for one in ranked] == ["top corner", "top right"]
    assert ranked[0].evidence == pytest.approx(math.log(0.9 * 0.7 * 8), abs=1e-5)


def test_a_number_is_also_spelled_as_a_digit() -> None:
    written: list[str] = []

    def tokens(text: str) -> list[int]:
        written.append(text)
        return [len(written)]

    assert len(spell("two", tokens).ways) == len(written)
    assert {" two", " Two", " TWO", " 2"} <= set(written)


def test_words_are_compared_without_case_punctuation_and_digits() -> None:
    assert words("Two corners, 2 edges!") == ("two", "corners", "two", "edges")


def test_what_is_heard_over_and_over_counts_once() -> None:
    assert once(words("Front right, front right, front")) == ("front", "right")
    assert once(words("Green, green, green")) == ("green", "green", "green")
    assert once(words("front left and front right")) == words("front left and front right")


def test_an_answer_that_goes_on_after_yes_or_no_is_also_spelled_with_a_comma() -> None:
    written: list[str] = []

    def tokens(text: str) -> list[int]:
        written.append(text)
        return [len(written), 0]

    spell("no it is not", tokens)
    assert {" No, it is not", " No, it's not", " No, it isn't"} <= set(written)
    spell("not yet", tokens)
    assert not any(text.startswith(" Not,") for text in written)
    spell("how do i hold it", tokens)
    assert " How do I hold it" in written


@pytest.mark.parametrize(("heard", "expected"), [("Top.", "top"), ("Top in the corner", "top right")])
def test_a_phrase_after_which_others_are_heard_is_behind_the_longer_one(heard: str, expected: str) -> None:
    phrases = [Spelled("top", ((TOP,),)), Spelled("top right", ((TOP, RIGHT),))]
    chances = {(TOP,): [-0.1], (TOP, RIGHT): [-0.1, math.log(0.01)]}
    ranked = weigh(phrases, free(heard, top=0.9), FLAT, lambda ways: [chances[way] for way in ways])
    assert ranked[0].text == expected


def test_what_the_free_text_tells_of_a_phrase_is_not_looked_at_again() -> None:
    # The model writes "top corner": after "top" it believes in the corner, and it is over after that.
    after_top = np.log(np.array([0.01] * 5 + [0.9] + [0.01] * 2, np.float32))
    told = replace(free("top corner", top=0.8), tokens=(TOP, CORNER), then=(after_top,))
    phrases = [Spelled("top corner", ((TOP, CORNER),)), Spelled("top left", ((TOP, LEFT),)), Spelled("no", ((NO,),))]
    best, *others = weigh(phrases, told, FLAT, never)
    assert best.text == "top corner"
    assert best.evidence == pytest.approx(math.log(0.8 * 0.9 / (1 / 8)), abs=1e-5)
    assert {one.text: one.evidence for one in others}["top left"] == pytest.approx(math.log(0.8 * 0.01 * 8), abs=1e-5)


def test_what_the_free_text_tells_only_the_beginning_of_is_looked_at_unless_far_behind() -> None:
    after_top = np.log(np.array([1e-6] * 5 + [0.9] + [0.05] * 2, np.float32))
    told = replace(free("top corner", top=0.8), tokens=(TOP, CORNER), then=(after_top,))
    near, far = Spelled("top corner left", ((TOP, CORNER, LEFT),)), Spelled("top no left", ((TOP, NO, LEFT),))
    asked = []

    def look(ways: list[tuple[int, ...]]) -> list[list[float]]:
        asked.extend(ways)
        return [[math.log(0.5)] * len(way) for way in ways]

    weigh([near, far, Spelled("top", ((TOP,),))], told, FLAT, look)
    assert asked == [(TOP, CORNER, LEFT)]


def test_what_follows_a_no_takes_less_from_it() -> None:
    phrases = [Spelled("no", ((NO,),)), Spelled("yes", ((YES,),))]
    alone, going_on = (weigh(phrases, free(text, no=0.9), FLAT, never)[0] for text in ("No.", "No, not at all."))
    assert alone.text == going_on.text == "no"
    assert 0 < alone.evidence - going_on.evidence < 4


def test_the_sum_of_probabilities_is_theirs() -> None:
    assert total([math.log(0.25), math.log(0.5)]) == pytest.approx(math.log(0.75))


def test_the_measured_background_expects_frequent_words_more_than_rare_ones() -> None:
    background = Background.load()
    values = list(background.known.values())
    assert values == sorted(values, reverse=True)
    assert background.other == values[-1]
    assert math.exp(total(values)) < 1


def test_clear_evidence_is_believed_and_weak_evidence_is_not() -> None:
    assert confidence(evidence()) > 0.9
    assert confidence(evidence(evidence=-1.0, margin=0.2, rival=-5.0)) < THRESHOLD


@pytest.mark.parametrize(
    "worse",
    [{"evidence": 1.0}, {"margin": 0.1}, {"rival": -4.0}, {"extra": 3}],
)  # fmt: skip
def test_every_sign_of_doubt_makes_less_sure(worse: dict[str, float]) -> None:
    assert confidence(evidence(**worse)) < confidence(evidence())


def test_a_sure_first_look_that_agrees_makes_surer_and_an_unsure_one_less_sure() -> None:
    second = Transcript("yes", 0.7, "two")
    surer, less = fuse(Transcript("yes", 0.9, "one"), second), fuse(Transcript("yes", 0.1, "one"), second)
    assert (surer.text, surer.engine) == ("yes", "two")
    assert surer.confidence > 0.7 > less.confidence


def test_where_looks_differ_the_second_decides_and_the_first_is_an_alternative() -> None:
    both = fuse(Transcript("no", 0.9, "one"), Transcript("yes", 0.5, "two"))
    assert (both.text, both.confidence) == ("yes", 0.5)
    assert both.alternatives == (Alternative("no", 0.5),)


def test_a_doubtful_second_pass_is_believed_where_a_sure_first_one_agrees() -> None:
    doubtful = Transcript("", 0.25, "two", (Alternative("yes", 0.25), Alternative("no", 0.1)))
    assert fuse(Transcript("yes", 0.9, "one"), doubtful).text == "yes"
    assert fuse(Transcript("yes", 0.4, "one"), doubtful).text == ""
    assert fuse(Transcript("no", 0.9, "one"), doubtful).text == ""
    assert fuse(Transcript("yes", 0.9, "one"), Transcript("", 0.02, "two", (Alternative("yes", 0.02),))).text == ""


def test_what_neither_look_understands_is_still_told_as_an_alternative() -> None:
    both = fuse(Transcript("", 0.0, "one"), Transcript("", 0.2, "two", (Alternative("yes", 0.2),)))
    assert (both.text, both.alternatives) == ("", (Alternative("yes", 0.2),))


def test_what_is_said_twice_over_is_kept_once() -> None:
    once = "the back left corner is up."
    assert transcript.once(f"{once} The back left corner is up. The back") == once


def test_answers_that_repeat_words_are_left_alone() -> None:
    said = "yes no yes no yes no yes no"
    assert transcript.once(said) == said


def settled(*texts: tuple[str, float]) -> Transcript:
    """An answer to a look at the edges, written down in these ways."""
    (first, share), *rest = texts
    written = Transcript(first, share, "w", tuple(Alternative(*one) for one in rest))
    return hearing.settled(Expected(load(), "look-top-edges"), written)


LINE = "a line from left to right"


def test_writings_of_the_same_meaning_count_together() -> None:
    heard = settled(("a lion from lap to right of me", 0.2), (LINE, 0.4), ("left to right, a line", 0.4))
    assert heard.text in (LINE, "left to right, a line")
    assert heard.confidence > 0.65
    assert heard.meaning is not None and heard.meaning.look["U3"] and not heard.meaning.look["U1"]


def test_meanings_that_contradict_each_other_are_not_understood() -> None:
    heard = settled(("a line from left to right", 0.34), ("a line from front to back", 0.33), ("a cross", 0.33))
    assert heard.text == ""


def test_of_what_was_not_sure_the_likeliest_is_told_first() -> None:
    heard = settled(("a line from left to right", 0.5), ("a cross", 0.3), ("what a lovely day", 0.2))
    assert heard.text == ""
    assert heard.alternatives[0].text == "a line from left to right"
    assert heard.alternatives[0].confidence == pytest.approx(0.5, abs=0.02)


def test_two_writings_count_half_each_and_nothing_written_is_no_support() -> None:
    one, nothing = Transcript("a", 0.6, "w", (Alternative("b", 0.4),)), Transcript("", 0.0, "w")
    both = transcript.merged(one, Transcript("b", 0.9, "w", (Alternative("c", 0.1),)))
    assert (both.text, both.confidence) == ("b", pytest.approx(0.65))
    assert [text.text for text in both.alternatives] == ["a", "c"]
    assert transcript.merged(one, nothing).confidence == pytest.approx(0.3)
    assert transcript.merged(nothing, nothing).text == ""


def test_the_same_at_another_tempo_is_shorter_and_higher() -> None:
    tone = (8000 * np.sin(2 * np.pi * 400 * np.arange(RATE) / RATE)).astype(np.int16)
    faster = wav.at_tempo(tone, 1.075)
    assert len(faster) == pytest.approx(RATE / 1.075, rel=0.001)
    spectrum = np.abs(np.fft.rfft(faster))
    assert spectrum.argmax() * RATE / len(faster) == pytest.approx(430, abs=1)


class Writing:
    """A second pass that writes down what it is told to, one after the other."""

    def __init__(self, *texts: str) -> None:
        self._texts = list(texts)

    def open(
        self, samples: Samples, before: str = "", fitted: bool = True, words: tuple[tuple[str, ...], ...] = ()
    ) -> Transcript:
        return Transcript(self._texts.pop(0), 0.97, "w", (Alternative("?", 0.03),))


def test_what_is_not_clear_is_written_down_in_other_ways_and_they_vote() -> None:
    long = np.random.default_rng(5).normal(0, 3000, 4 * RATE).astype(np.int16)
    look = Writing("the others", *["a cross"] * 3)
    heard = decide(look, long, [], Expected(load(), "look-top-edges"))
    assert heard.meaning is not None
    assert all(heard.meaning.look[cell] for cell in ("U1", "U3", "U5", "U7"))


def test_writings_that_differ_only_in_what_was_not_asked_for_count_together() -> None:
    heard = settled((LINE, 0.5), (f"{LINE} and the front left corner", 0.5))
    assert heard.text.startswith(LINE)
    assert heard.confidence > 0.9


class Ears:
    """A Whisper that hears one thing in sound of a second or less, and another in the same made slower and lower."""

    end = 7

    def __init__(self, as_it_came: Free, lowered: Free) -> None:
        self._as_it_came, self._lowered = as_it_came, lowered
        self.looks: list[bool] = []  # at lowered sound?

    def tokens(self, text: str) -> list[int]:
        return [{"yes": YES, "no": NO}[text.strip().lower()]]

    def encode(self, samples: Samples, window: int = 0) -> bool:
        return len(samples) > RATE

    def free(self, lowered: bool, tokens: int = 0) -> Free:
        self.looks.append(lowered)
        return self._lowered if lowered else self._as_it_came

    def likelihoods(self, sound: bool, ways: Sequence[object]) -> list[list[float]]:
        return never(ways)


@pytest.mark.parametrize(
    ("as_it_came", "lowered", "expected"),
    [
        (free("?", yes=0.1, no=0.02, top=0.7), free("Yes.", yes=0.98, no=0.001), "yes"),
        (free("?", yes=0.1, no=0.02, top=0.7), free("Top.", yes=0.01, no=0.01, top=0.9), ""),
        (free("No.", no=0.5, yes=0.1, top=0.3), free("Yes.", yes=0.98, no=0.0001), "yes"),
        (free("No.", no=0.5, yes=0.01, top=0.4), free("No?", no=0.1, yes=0.01, top=0.8), "no"),
    ],
    ids=["a high voice", "another word", "sure of another phrase", "less sure of the same"],
)
def test_what_is_in_doubt_is_also_listened_to_lowered(
    monkeypatch: pytest.MonkeyPatch, as_it_came: Free, lowered: Free, expected: str
) -> None:
    ears = Ears(as_it_came, lowered)
    assert listening(monkeypatch, ears).text == expected
    assert True in ears.looks


def test_what_is_clear_is_not_listened_to_lowered(monkeypatch: pytest.MonkeyPatch) -> None:
    ears = Ears(free("Yes.", yes=0.98, no=0.0001), free("No.", no=0.97))
    assert listening(monkeypatch, ears).text == "yes"
    assert True not in ears.looks


def listening(monkeypatch: pytest.MonkeyPatch, ears: Ears) -> Transcript:
    """What the second pass with these ears hears in a second of sound, where it may be a yes or a no."""
    background = Background({token: math.log(0.05) for token in range(8)}, math.log(0.05))
    monkeypatch.setattr(Background, "load", lambda: background)
    monkeypatch.setattr("coach.speech.ears.second_pass.Whisper", lambda folder: ears)
    loud = np.zeros(RATE, np.int16)
    loud[RATE // 2 :] = np.random.default_rng(7).normal(0, 3000, RATE // 2)
    return WhisperPass(Path("nowhere")).closed(loud, ("yes", "no"))


class Scripted:
    """A second pass that hears what it is told."""

    name = "scripted"

    def __init__(self, closed: Transcript, opened: Transcript) -> None:
        self._closed, self._open = closed, opened

    def closed(self, samples: Samples, phrases: object) -> Transcript:
        return self._closed

    def open(
        self, samples: Samples, before: str = "", fitted: bool = True, words: tuple[tuple[str, ...], ...] = ()
    ) -> Transcript:
        return self._open


@pytest.mark.parametrize(("sure", "expected"), [(0.95, "stop"), (0.5, "a line")])
def test_a_command_heard_surely_goes_before_ones_own_words(sure: float, expected: str) -> None:
    look = Scripted(Transcript("stop", sure, "w"), Transcript("a line", 0.9, "w"))
    assert decide(look, np.zeros(RATE, np.int16), ["stop"], Expected(load(), "look-top-edges")).text == expected


def test_a_word_in_a_long_answer_is_not_taken_for_all_of_it() -> None:
    look = Scripted(Transcript("wait", 0.99, "w"), Transcript("wait, the first two layers broke", 0.9, "w"))
    loud = np.random.default_rng(6).normal(0, 3000, 3 * RATE).astype(np.int16)
    answer = Expected(load(), "look-top-edges")
    assert decide(look, loud[:RATE], ["wait"], answer).text == "wait"
    assert decide(look, loud[: 2 * RATE], ["wait"], answer).text == "wait, the first two layers broke"


def test_a_moment_without_ones_own_words_takes_only_its_phrases() -> None:
    look = Scripted(Transcript("", 0.2, "w"), Transcript("a line", 0.9, "w"))
    assert decide(look, np.zeros(RATE, np.int16), ["stop"]).text == ""


@pytest.mark.parametrize("second", np.arange(0.0, 1.0, 0.05))
def test_where_the_second_pass_is_not_in_doubt_the_first_changes_nothing(second: float) -> None:
    believed, doubted = Transcript("yes", second, "two"), Transcript("", second, "two", (Alternative("yes", second),))
    alone = believed if second >= THRESHOLD else doubted
    if in_doubt(alone):
        return
    for text, sure in (("yes", 1.0), ("yes", 0.0), ("no", 0.9), ("", 0.5)):
        first = Transcript(text, sure, "one")
        both = fuse(first, alone)
        assert both.text == alone.text
        assert (both.confidence >= SURE) == (alone.confidence >= SURE)


def test_a_missing_model_is_told_with_what_to_do(tmp_path: Path) -> None:
    assert not WhisperPass.available(tmp_path)
    with pytest.raises(ModelError, match="fetch_models"):
        WhisperPass(tmp_path)


def test_a_broken_model_is_told_with_what_to_do(tmp_path: Path) -> None:
    pytest.importorskip("ctranslate2")
    for name in ("config.json", "model.bin", "tokenizer.json"):
        (tmp_path / name).write_text("{}")
    with pytest.raises(ModelError, match="fetch_models"):
        WhisperPass(tmp_path)


@pytest.fixture(scope="module")
def look() -> WhisperPass:
    if not WhisperPass.available():
        pytest.skip("the second pass is not installed here (scripts/fetch_models whisper-tiny.en)")
    return WhisperPass()


def test_nothing_is_heard_in_silence_and_in_no_sound(look: WhisperPass) -> None:
    for length in (0, 10, RATE):
        assert look.closed(np.zeros(length, np.int16), COMMANDS) == Transcript("", 0.0, look.name)
        assert look.open(np.zeros(length, np.int16)) == Transcript("", 0.0, look.name)
    assert look.closed(np.full(RATE, 1000, np.int16), []).text == ""


def test_noise_is_no_command(look: WhisperPass) -> None:
    noise = np.random.default_rng(1).normal(0, 2000, 2 * RATE).astype(np.int16)
    assert look.closed(noise, COMMANDS).text == ""


def test_it_needs_no_network(monkeypatch: pytest.MonkeyPatch) -> None:
    if not WhisperPass.available():
        pytest.skip("the second pass is not installed here")

    def refuse(*_: object) -> None:
        raise AssertionError("the network was asked for")

    monkeypatch.setattr(socket.socket, "connect", refuse)
    monkeypatch.setattr(socket, "getaddrinfo", refuse)
    WhisperPass().closed(np.zeros(RATE, np.int16), COMMANDS)


def test_sound_longer_than_the_model_takes_is_cut(look: WhisperPass) -> None:
    noise = np.random.default_rng(2).normal(0, 2000, 40 * RATE).astype(np.int16)
    assert look.closed(noise, COMMANDS).text == ""


def test_synthetic_phrases_of_several_words_are_told_apart(look: WhisperPass, speak: Speaker) -> None:
    phrases = ("say it again", "start the sequence again", "go back one turn", "slow down please", "a line")
    assert [look.closed(speak(phrase), phrases).text for phrase in phrases] == list(phrases)


@pytest.mark.parametrize("asked", ["look-top-edges", "look-top-corners", "piece"])
def test_background_is_no_answer_in_ones_own_words(look: WhisperPass, recordings: Path, asked: Question) -> None:
    reading = Expected(load(), asked)
    for path in sorted((recordings / "quiet").glob("*.wav"))[::4]:
        assert decide(look, wav.read(path), load().phrases(asked), reading).text == "", path.name


@pytest.mark.parametrize(
    ("asked", "said", "look_for"),
    [
        ("look-top-corners", "Two corners, front left and front right, the others are on the sides.",
         {"U0": False, "U2": False, "U6": True, "U8": True}),
        ("look-top-edges", "Um, the back one and the left one, like an L shape.",
         {"U1": True, "U3": True, "U5": False, "U7": False}),
        ("look-top-edges", "A line going from front to back.", {"U1": True, "U3": False, "U5": False, "U7": True}),
    ],
)  # fmt: skip
def test_a_description_in_ones_own_words_is_heard(
    look: WhisperPass, speak: Speaker, asked: Question, said: str, look_for: dict[str, bool]
) -> None:
    heard = decide(look, speak(said), load().phrases(asked), Expected(load(), asked))
    assert heard.meaning is not None
    assert {cell: heard.meaning.look[cell] for cell in look_for} == look_for


@pytest.mark.parametrize(
    ("asked", "said", "command"),
    [
        ("claim", "Oh yes, everything is exactly where it should be.", "yes"),
        ("claim", "No, not quite, there is still one missing at the back.", "no"),
        ("turn", "Please give me a little more time for each turn.", "slower"),
        ("turn", "Sorry, I think I have turned the wrong side just now.", "mistake"),
    ],
)
def test_a_sentence_is_heard_where_a_phrase_is_expected(
    look: WhisperPass, speak: Speaker, asked: Question, said: str, command: str
) -> None:
    heard = decide(look, speak(said), load().phrases(asked), Expected(load(), asked))
    assert heard.meaning is not None
    assert heard.meaning.command in (command, "more-time" if command == "slower" else command)


def test_talk_to_others_is_seldom_taken_for_an_answer(look: WhisperPass, recordings: Path) -> None:
    """Whole sentences, clearly said, of other things: a phrase is never heard in them, nor often a meaning."""
    reading = Expected(load(), "claim")
    paths = sorted((recordings / "sentences").glob("*.wav"))[::2]
    taken = [decide(look, wav.read(path), load().phrases("claim"), reading).meaning for path in paths]
    acted = [meaning.command for meaning in taken if meaning is not None]
    assert len(acted) <= 0.2 * len(paths)
    assert sum(command in ("yes", "no") for command in acted) <= 0.1 * len(paths)


def test_recorded_words_of_higher_voices_are_heard(look: WhisperPass, recordings: Path) -> None:
    # Higher and faster by three tenths, as if a recording were played too fast: as they are, two in three are heard.
    paths = [path for word in COMMANDS for path in sorted((recordings / "words").glob(f"{word}_*.wav"))[::4]]
    heard = [look.closed(wav.at_tempo(wav.read(path), 1.3), COMMANDS).text == path.stem[:-3] for path in paths]
    assert sum(heard) >= 0.75 * len(heard)


def test_recorded_words_are_heard_and_others_are_not(look: WhisperPass, recordings: Path) -> None:
    with (recordings / "MANIFEST.tsv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file, delimiter="\t"))
    commands = [row for row in rows if row["path"].startswith("words/") and row["transcript"] in COMMANDS]
    heard = [
        (row["transcript"], look.closed(wav.read(recordings / row["path"]), COMMANDS).text) for row in commands[::4]
    ]
    assert sum(said == got for said, got in heard) >= 0.9 * len(heard)
    assert sum(got not in ("", said) for said, got in heard) <= 0.05 * len(heard)
    others = [row for row in rows if row["path"].split("/")[0] in ("other", "quiet")][::4]
    taken = [look.closed(wav.read(recordings / row["path"]), COMMANDS).text for row in others]
    assert sum(map(bool, taken)) <= 0.1 * len(taken)
