"""One learner's line: both ends of a conversation by sound, typed answers and captions. Thread-safe; without sockets.

The learner's page may lose its connection: for `PATIENCE` seconds the lesson then stands still, and goes on with the
sentence that was interrupted once the page is back.
"""

from __future__ import annotations

import time
from collections import deque
from collections.abc import Callable
from threading import Condition
from typing import Final, TypeAlias

import numpy as np

from coach.app.captions import Captions
from coach.speech.errors import AudioError
from coach.speech.signal.volume import Volume
from coach.speech.signal.wav import VOICE_RATE, Samples, to_float, to_int16
from coach.speech.turns.ports import Played, Push
from coach.speech.turns.turns import BREATH
from coach.web.protocol import (
    AHEAD,
    Caption,
    Flush,
    FromCoach,
    HeardText,
    Listening,
    Notice,
    Over,
    Refused,
    Speaking,
    Welcome,
    voice_frame,
    written,
)  # fmt: skip

PATIENCE: Final = 30.0
Send: TypeAlias = Callable[[str | bytes | None], None]
"""Takes the next frame for the page, from any thread and without waiting; None: close the connection."""

_CHUNK: Final = VOICE_RATE // 5
_ELSEWHERE: Final = "This lesson goes on in another window."


class LineLost(AudioError):
    """The learner has left, or has not come back in time."""


class LearnerLine:
    """One learner's line. It begins without a connection."""

    def __init__(self, patience: float = PATIENCE) -> None:
        self.changed = Condition()
        """Held for every change; notified when something has come from the page."""
        self.typed: deque[str] = deque()
        """Answers that were typed and not yet taken."""
        self.microphone = RemoteMicrophone(self)
        self.loudspeaker = RemoteLoudspeaker(self)
        self.reads = False
        """Whether the learner reads and types, so that what is said may be cut short."""
        self._patience = patience
        self._send: Send | None = None
        self._gone_since = time.monotonic()
        self._closed = False
        self._caption: Caption | None = None
        self._listens = False

    # What the socket's task calls

    def connect(self, send: Send, word: str) -> None:
        """The page is there, or back: from now on everything goes to `send`, and an earlier connection is closed. With
        `word` the page may resume."""
        with self.changed:
            if self._send:
                self._send(written(Refused(_ELSEWHERE)))
                self._send(None)
            self._send = send
            self.post(Welcome(word, VOICE_RATE))
            if self._caption:
                self.post(self._caption)
            if not self.loudspeaker.played.over:
                self.loudspeaker.say_again()
            elif self._listens:
                self.post(Listening())

    def disconnect(self, send: Send) -> None:
        """That connection is lost."""
        with self.changed:
            if self._send == send:
                self._send, self._gone_since = None, time.monotonic()

    def type(self, text: str) -> None:
        """The learner has typed an answer. While the coach speaks, nothing but Enter is no answer: with it, who
        reads faster than the coach speaks goes on."""
        with self.changed:
            if text or self._listens:
                self.typed.append(text)
            elif self.reads:
                self.loudspeaker.cut_off()
            self.changed.notify_all()

    def close(self) -> None:
        """The learner has left, or the server ends."""
        with self.changed:
            self._closed = True
            self.changed.notify_all()

    # What the lesson's thread calls

    def check(self) -> None:
        """Raises LineLost if nothing more will come."""
        with self.changed:
            if self._closed:
                raise LineLost("The learner has left.")
            if self._send is None and time.monotonic() - self._gone_since > self._patience:
                raise LineLost("The connection was lost.")

    def say(self, text: str) -> None:
        """Show the next thing that the coach says; its sound follows."""
        with self.changed:
            self._listens = False
            self._caption = Caption(self.utterance + 1, text)
            self.post(self._caption)

    def listen(self) -> None:
        """It is the learner's turn."""
        with self.changed:
            self._listens = True
            self.post(Listening())

    def end(self, outcome: str) -> None:
        """The lesson is over: say so and close."""
        with self.changed:
            self._closed = True
            self.post(Over(outcome))
            if self._send:
                self._send(None)

    def post(self, message: FromCoach | bytes) -> None:
        """Send it if there is a connection."""
        with self.changed:
            if self._send:
                self._send(message if isinstance(message, bytes) else written(message))

    @property
    def utterance(self) -> int:
        """The number of what is being said, 0 before the first."""
        return self._caption.utterance if self._caption else 0


class RemoteMicrophone:
    """The microphone of the learner's page, as a `Source`."""

    def __init__(self, line: LearnerLine) -> None:
        self._line = line
        self._push: Push = lambda block: None
        self._next: int | None = None
        self.lost_blocks = 0

    def start(self, push: Push) -> None:
        """Push every block from now on."""
        self._push = push

    def check(self) -> None:
        """Raises LineLost if no more will come."""
        self._line.check()

    def sound(self, sequence: int, block: bytes) -> None:
        """A frame has come; one that is not newer than the last is dropped. A page begins again with 0."""
        if self._next is not None and 0 < sequence < self._next:
            return
        if self._next is not None and sequence:
            self.lost_blocks += sequence - self._next
        self._next = sequence + 1
        self._push(block)


class RemoteLoudspeaker:
    """The loudspeaker of the learner's page, as a `Sink`. It counts as played what the page reports."""

    lost_blocks = 0

    def __init__(self, line: LearnerLine) -> None:
        self._line, self._volume = line, Volume()
        self._sound: Samples = np.zeros(0, np.int16)
        self._sent = self._heard = 0
        self._cut = False

    def begin(self, samples: Samples) -> None:
        """Begin to send these samples."""
        with self._line.changed:
            self._sound = to_int16(self._volume.of(to_float(samples)))
            self._cut = False
            self._send_from(0)

    def cut_off(self) -> None:
        """Have the page fall silent."""
        with self._line.changed:
            if not self.played.over:
                self._cut = True
                self._line.post(Flush(self._line.utterance))

    @property
    def played(self) -> Played:
        """How much the learner has heard."""
        with self._line.changed:
            return Played(self._heard, self._cut or self._heard >= len(self._sound), self._cut)

    def adjust(self, steps: int) -> bool:
        """Louder or softer, from the next utterance on."""
        return self._volume.adjust(steps)

    def report(self, utterance: int, samples: int) -> None:
        """The page has played so much of that utterance."""
        with self._line.changed:
            if utterance == self._line.utterance and not self._cut:
                self._heard = max(self._heard, min(samples, self._sent))
                self._send_ahead()
                self._line.changed.notify_all()

    def say_again(self) -> None:
        """Go back to the beginning of the sentence that is being said."""
        with self._line.changed:
            self._send_from(last_pause(self._sound, self._heard))

    def _send_from(self, start: int) -> None:
        self._sent = self._heard = start
        if len(self._sound) > start:
            self._line.post(Speaking())
        self._send_ahead()

    def _send_ahead(self) -> None:
        until = min(len(self._sound), self._heard + round(AHEAD * VOICE_RATE))
        while self._sent < until:
            chunk = self._sound[self._sent : self._sent + _CHUNK]
            self._line.post(voice_frame(self._line.utterance, self._sent, chunk.tobytes()))
            self._sent += len(chunk)


class Screen(Captions):
    """The captions on the learner's page."""

    def __init__(self, line: LearnerLine) -> None:
        super().__init__()
        self._line = line

    def coach(self, text: str) -> None:
        """Show what the coach says."""
        self._line.say(text)

    def learner(self, text: str) -> None:
        """Show what the coach has heard."""
        self._line.post(HeardText(text))

    def tell(self, text: str) -> None:
        """Show a message about the sound."""
        self._line.post(Notice(text))


def last_pause(sound: Samples, before: int) -> int:
    """Where the last pause before that sample is over; 0 if there is none."""
    loud = np.flatnonzero(sound[:before])
    gaps = np.flatnonzero(np.diff(loud) > BREATH)
    return int(loud[gaps[-1] + 1]) if len(gaps) else 0
