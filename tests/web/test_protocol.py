"""Whatever comes over a socket is a message or a sentence about what is wrong with it."""

import json
import struct
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.web.protocol import (
    FRAME_SAMPLES,
    LONGEST_ANSWER,
    LONGEST_TEXT,
    Answer,
    Caption,
    Hello,
    Leave,
    Malformed,
    Over,
    PlayedUntil,
    SoundFrame,
    read,
    voice_frame,
    written,
)

JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=8,
)
KINDS = st.sampled_from(["hello", "played", "answer", "bye", "welcome", "", "HELLO"])
NAMES = ("version", "code", "name", "microphone", "headphones", "resume", "utterance", "samples", "text")


def sentence(found: object) -> bool:
    return isinstance(found, Malformed) and found.why.endswith(".") and len(found.why) < 100


@given(st.binary(max_size=700))
def test_any_bytes_are_a_frame_of_sound_or_a_sentence(frame: bytes) -> None:
    found = read(frame)
    whole = len(frame) == 5 + 2 * FRAME_SAMPLES and frame[0] == 1
    assert isinstance(found, SoundFrame) if whole else sentence(found)


@given(st.text())
def test_any_text_is_a_sentence_unless_it_is_a_message(text: str) -> None:
    assert not isinstance(read(text), SoundFrame)


@given(KINDS | JSON, st.dictionaries(st.sampled_from(NAMES), JSON))
def test_fields_of_any_kind_are_taken_only_where_they_fit(kind: Any, fields: dict[str, Any]) -> None:
    found = read(json.dumps({"kind": kind, **fields}))
    match found:
        case Hello():
            assert kind == "hello" and isinstance(fields["code"], str) and found.version == fields["version"]
            assert found.microphone is fields.get("microphone", False)
        case PlayedUntil():
            assert kind == "played" and (found.utterance, found.samples) == (fields["utterance"], fields["samples"])
        case Answer():
            assert kind == "answer" and found.text == " ".join(fields["text"].split())
        case Leave():
            assert kind == "bye"
        case _:
            assert sentence(found)


@given(st.integers(0, 2**32 - 1), st.binary(min_size=2 * FRAME_SAMPLES, max_size=2 * FRAME_SAMPLES))
def test_sound_comes_as_it_was_sent(sequence: int, block: bytes) -> None:
    assert read(struct.pack("<BI", 1, sequence) + block) == SoundFrame(sequence, block)


@pytest.mark.parametrize(
    "text",
    [
        "[" * 3000,
        '{"kind": "answer", "text": "' + "a" * LONGEST_TEXT + '"}',
        json.dumps({"kind": "answer", "text": "a" * (LONGEST_ANSWER + 1)}),
        json.dumps({"kind": "played", "utterance": True, "samples": 1}),
        json.dumps({"kind": "played", "utterance": 1, "samples": 2**32}),
        json.dumps({"kind": "played", "utterance": 1, "samples": -1}),
        json.dumps({"kind": "played", "utterance": 1.0, "samples": 1}),
        '{"kind": "played", "utterance": ' + "9" * 4000 + ', "samples": 1}',
        json.dumps({"kind": "hello", "code": "A", "version": None}),
        json.dumps({"kind": ["hello"]}),
    ],
)  # fmt: skip
def test_what_is_too_long_or_too_deep_is_told_in_a_sentence(text: str) -> None:
    assert sentence(read(text))


def test_half_a_character_becomes_a_question_mark() -> None:
    assert read('{"kind": "answer", "text": "a\\ud800b"}') == Answer("a?b")


def test_what_the_coach_sends_has_its_kind_and_its_fields() -> None:
    assert json.loads(written(Caption(3, "Wait."))) == {"kind": "say", "utterance": 3, "text": "Wait."}
    assert json.loads(written(Over("done"))) == {"kind": "end", "outcome": "done"}
    assert voice_frame(7, 4410, b"\1\2") == b"\2\7\0\0\0\x3a\x11\0\0\1\2"
