"""A learner's line, with a page that is played here."""

import json
import struct
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from coach.speech.signal.wav import VOICE_RATE
from coach.speech.turns.inbox import Inbox
from coach.speech.turns.ports import Played
from coach.speech.turns.turns import joined
from coach.web.line import LearnerLine, LineLost, Screen, last_pause
from coach.web.protocol import AHEAD

WORD = np.full(VOICE_RATE, 1000, np.int16)
THREE, ENDS = joined([WORD, WORD, WORD])
SECOND, THIRD = (end - VOICE_RATE for end in ENDS[1:])


class Page:
    """Takes down what it is sent."""

    def __init__(self) -> None:
        self.frames: list[str | bytes | None] = []

    @property
    def messages(self) -> list[dict[str, Any]]:
        return [json.loads(frame) for frame in self.frames if isinstance(frame, str)]

    @property
    def kinds(self) -> list[str]:
        return [message["kind"] for message in self.messages]

    @property
    def sound(self) -> list[tuple[int, int, int]]:
        """Of each frame of sound its utterance, its offset, and where it ends."""
        found = []
        for frame in self.frames:
            if isinstance(frame, bytes):
                _, utterance, offset = struct.unpack_from("<BII", frame)
                found.append((utterance, offset, offset + (len(frame) - 9) // 2))
        return found


def connected(line: LearnerLine) -> tuple[Page, Callable[[str | bytes | None], None]]:
    page = Page()
    send = page.frames.append
    line.connect(send, "word")
    return page, send


def test_sound_goes_no_further_ahead_than_it_may() -> None:
    line = LearnerLine()
    page, _ = connected(line)
    line.say("One. Two. Three.")
    line.loudspeaker.begin(THREE)
    assert page.kinds == ["welcome", "say", "speaking"]
    sent = page.sound[-1][2]
    assert sent < len(THREE) and abs(sent - AHEAD * VOICE_RATE) < VOICE_RATE / 2
    line.loudspeaker.report(1, VOICE_RATE)
    assert page.sound[-1][2] > sent
    assert [start for _, start, _ in page.sound[1:]] == [end for *_, end in page.sound[:-1]]


def test_what_the_page_reports_has_been_heard_and_not_more_than_was_sent() -> None:
    line = LearnerLine()
    connected(line)
    line.say("One. Two. Three.")
    line.loudspeaker.begin(THREE)
    line.loudspeaker.report(1, len(THREE))
    assert not line.loudspeaker.played.over
    for _ in range(5):
        line.loudspeaker.report(1, len(THREE))
    assert line.loudspeaker.played == Played(len(THREE), over=True)
    line.loudspeaker.report(0, 5)
    assert line.loudspeaker.played == Played(len(THREE), over=True)


def test_an_interrupted_utterance_is_flushed_and_what_is_reported_later_counts_no_more() -> None:
    line = LearnerLine()
    page, _ = connected(line)
    line.say("One. Two. Three.")
    line.loudspeaker.begin(THREE)
    line.loudspeaker.report(1, SECOND)
    line.loudspeaker.cut_off()
    line.loudspeaker.cut_off()
    line.loudspeaker.report(1, THIRD)
    assert page.messages[-1] == {"kind": "flush", "utterance": 1} and page.kinds.count("flush") == 1
    assert line.loudspeaker.played == Played(SECOND, over=True, cut_off=True)


def test_after_a_lost_connection_the_same_sentence_is_said_again() -> None:
    line = LearnerLine()
    _, send = connected(line)
    line.say("One. Two. Three.")
    line.loudspeaker.begin(THREE)
    line.loudspeaker.report(1, SECOND + VOICE_RATE // 2)
    line.disconnect(send)
    line.check()
    page, _ = connected(line)
    assert page.messages[1] == {"kind": "say", "utterance": 1, "text": "One. Two. Three."}
    assert page.sound[0][:2] == (1, SECOND)
    assert not line.loudspeaker.played.over
    for _ in range(5):
        line.loudspeaker.report(1, len(THREE))
    assert line.loudspeaker.played.over


def test_what_is_said_while_nobody_is_there_is_said_when_they_are_back() -> None:
    line = LearnerLine()
    _, send = connected(line)
    line.disconnect(send)
    line.say("One.")
    line.loudspeaker.begin(WORD)
    page, _ = connected(line)
    assert page.kinds == ["welcome", "say", "speaking"] and page.sound[0][:2] == (1, 0)


def test_a_page_that_comes_back_while_the_coach_listens_is_told_so() -> None:
    line = LearnerLine()
    _, send = connected(line)
    line.say("Ready?")
    line.listen()
    line.disconnect(send)
    assert connected(line)[0].kinds == ["welcome", "say", "listening"]


def test_a_second_window_takes_over_and_the_first_is_closed() -> None:
    line = LearnerLine()
    first, send = connected(line)
    second, _ = connected(line)
    line.disconnect(send)  # its end takes nothing from the second
    line.say("Ready?")
    assert first.kinds == ["welcome", "refused"] and first.frames[-1] is None
    assert second.kinds == ["welcome", "say"]


def test_who_does_not_come_back_in_time_or_leaves_has_left() -> None:
    late = LearnerLine(patience=-1.0)
    _, send = connected(late)
    late.check()
    late.disconnect(send)
    with pytest.raises(LineLost, match=r"lost\."):
        late.check()
    left = LearnerLine()
    connected(left)
    left.close()
    with pytest.raises(LineLost, match=r"left\."):
        left.check()


def test_frames_come_in_order_and_late_ones_are_dropped() -> None:
    line = LearnerLine()
    inbox = Inbox(line.microphone)
    for sequence in (0, 1, 4, 2, 4, 5):
        line.microphone.sound(sequence, bytes([sequence]))
    line.microphone.sound(0, b"again")  # the page is back, and counts from 0
    line.microphone.sound(1, b"more")
    assert [inbox.take() for _ in range(6)] == [b"\0", b"\1", b"\4", b"\5", b"again", b"more"]
    assert inbox.lost_blocks == 2
    line.close()
    with pytest.raises(LineLost):
        inbox.take()


def test_enter_alone_is_a_pause_where_the_coach_listens_and_goes_on_where_it_is_read() -> None:
    line = LearnerLine()
    connected(line)
    line.say("One.")
    line.loudspeaker.begin(WORD)
    line.type("")
    assert not line.typed and not line.loudspeaker.played.over
    line.reads = True
    line.type("")
    assert not line.typed and line.loudspeaker.played.cut_off
    line.listen()
    line.type("")
    assert list(line.typed) == [""]


def test_the_learners_own_screen_shows_what_was_heard_and_what_is_to_be_done() -> None:
    line = LearnerLine()
    page, _ = connected(line)
    screen = Screen(line)
    screen.coach("Ready?")
    screen.learner("yes")
    screen.tell("Move closer.")
    line.end("done")
    assert page.messages[1:] == [
        {"kind": "say", "utterance": 1, "text": "Ready?"}, {"kind": "heard", "text": "yes"},
        {"kind": "tell", "text": "Move closer."}, {"kind": "end", "outcome": "done"},
    ]  # fmt: skip
    assert page.frames[-1] is None


def test_where_the_last_pause_is_over() -> None:
    assert [last_pause(THREE, at) for at in (0, 5, SECOND + 5, THIRD + 5, len(THREE))] == [0, 0, SECOND, THIRD, THIRD]
    assert last_pause(np.zeros(0, np.int16), 0) == 0


def test_a_louder_voice_is_louder() -> None:
    line = LearnerLine()
    page, _ = connected(line)
    loudest = []
    for steps in (0, 1, -3):
        line.loudspeaker.adjust(steps)
        line.say("One.")
        line.loudspeaker.begin(WORD)
        loudest.append(max(struct.unpack_from("<h", frame, 9)[0] for frame in page.frames if isinstance(frame, bytes)))
        page.frames.clear()
    assert loudest[1] > loudest[0] > loudest[2]
