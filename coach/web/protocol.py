"""What a learner's page and the server say to each other over one WebSocket, version 1. Pure.

Text frames are JSON objects with `kind`, binary frames are sound; integers in them are little-endian.

| from the page | |
|---|---|
| `hello` | first of all: `version`, `code` (to join), `name` (a nickname, or "": nothing is remembered); `microphone`, `headphones` (true or false); `resume` (the word of a `welcome`, after a lost connection) |
| binary | u8 1, u32 sequence, 320 samples of PCM16, mono at 16 kHz: 20 ms of the microphone |
| `played` | `utterance`, `samples`: so much of that utterance has been heard |
| `answer` | `text`, typed instead of said; "" is a pause |
| `bye` | the learner has left the lesson |

| from the server | |
|---|---|
| `welcome` | `version`, `resume` (show it after a lost connection), `rate` (samples a second of the coach's voice) |
| `say` | `utterance`, `text`: what the coach says from now on. Said again after a lost connection |
| binary | u8 2, u32 utterance, u32 offset in samples, PCM16 mono: the sound of it. The page drops what is late: an utterance that is flushed or past. An offset before what has come goes back to there |
| `flush` | `utterance`: it is interrupted. Fall silent and drop the rest of its sound |
| `listening`, `speaking` | whose turn it is |
| `heard` | `text`: what the coach has heard, for the learner's own screen |
| `tell` | `text`: about the sound, to be shown |
| `end` | `outcome`: `done`, `stopped`, `unsolvable`, or `broken` (the coach could not go on) |
| `refused` | `why`: a sentence for people. The server closes |

Sound goes out no further ahead of what has been played than `AHEAD` seconds, so a page that reports nothing gets no more.
"""  # noqa: E501

from __future__ import annotations

import json
import struct
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any, Final, TypeAlias

VERSION: Final = 1
FRAME_SAMPLES: Final = 320
LONGEST_TEXT: Final = 4096
"""Bytes of a text frame."""
LONGEST_ANSWER: Final = 500
LONGEST_NAME: Final = 40
LONGEST_WORD: Final = 64
"""Characters of a code, or of the word to resume with."""
AHEAD: Final = 2.0
FRAMES_A_SECOND: Final = 100.0
"""Sound comes 50 times a second; a page that catches up may be twice as fast."""
TEXTS_A_SECOND: Final = 25.0
"""`played` comes some ten times a second."""
BURST: Final = 4.0
"""Seconds' worth of frames that may come at once."""

_FRAME: Final = struct.Struct("<BI")
_VOICE: Final = struct.Struct("<BII")
_FROM_LEARNER, _FROM_COACH = 1, 2
_MOST: Final = 2**32 - 1


@dataclass(frozen=True)
class Hello:
    """A learner joins, or comes back."""

    code: str
    name: str = ""
    microphone: bool = False
    headphones: bool = False
    resume: str = ""
    version: int = VERSION


@dataclass(frozen=True)
class SoundFrame:
    """20 ms from the learner's microphone."""

    sequence: int
    block: bytes


@dataclass(frozen=True)
class PlayedUntil:
    """So many samples of an utterance have been heard."""

    utterance: int
    samples: int


@dataclass(frozen=True)
class Answer:
    """The learner has typed an answer."""

    text: str


@dataclass(frozen=True)
class Leave:
    """The learner has left."""


@dataclass(frozen=True)
class Malformed:
    """Nothing that the protocol knows; `why` is a sentence."""

    why: str


FromLearner: TypeAlias = Hello | SoundFrame | PlayedUntil | Answer | Leave | Malformed


@dataclass(frozen=True)
class Welcome:
    """The learner is in."""

    resume: str
    rate: int
    version: int = VERSION


@dataclass(frozen=True)
class Caption:
    """The coach says this."""

    utterance: int
    text: str


@dataclass(frozen=True)
class Flush:
    """That utterance is interrupted."""

    utterance: int


@dataclass(frozen=True)
class Listening:
    """The coach listens."""


@dataclass(frozen=True)
class Speaking:
    """The coach speaks."""


@dataclass(frozen=True)
class HeardText:
    """The coach has heard this."""

    text: str


@dataclass(frozen=True)
class Notice:
    """Something about the sound."""

    text: str


@dataclass(frozen=True)
class Over:
    """The lesson is over."""

    outcome: str


@dataclass(frozen=True)
class Refused:
    """The server has closed, and why."""

    why: str


FromCoach: TypeAlias = Welcome | Caption | Flush | Listening | Speaking | HeardText | Notice | Over | Refused
_KINDS: Final[Mapping[type[FromCoach], str]] = {
    Welcome: "welcome", Caption: "say", Flush: "flush", Listening: "listening", Speaking: "speaking",
    HeardText: "heard", Notice: "tell", Over: "end", Refused: "refused",
}  # fmt: skip


def written(message: FromCoach) -> str:
    """The text frame of a message."""
    return json.dumps({"kind": _KINDS[type(message)], **asdict(message)}, ensure_ascii=False)


def voice_frame(utterance: int, offset: int, pcm: bytes) -> bytes:
    """The binary frame of some of an utterance's sound."""
    return _VOICE.pack(_FROM_COACH, utterance, offset) + pcm


def read(frame: str | bytes) -> FromLearner:
    """What a frame from a page says. Never raises."""
    return _sound(frame) if isinstance(frame, bytes) else _message(frame)


def _sound(frame: bytes) -> SoundFrame | Malformed:
    if len(frame) != _FRAME.size + 2 * FRAME_SAMPLES or frame[0] != _FROM_LEARNER:
        return Malformed(f"A frame of sound has {FRAME_SAMPLES} samples; this one has {len(frame)} bytes.")
    _, sequence = _FRAME.unpack_from(frame)
    return SoundFrame(sequence, frame[_FRAME.size :])


def _message(text: str) -> FromLearner:
    if len(text) > LONGEST_TEXT:
        return Malformed("That message is too long.")
    try:
        fields = json.loads(text)
    except (ValueError, RecursionError):
        return Malformed("That is no JSON.")
    if not isinstance(fields, dict):
        return Malformed("A message is a JSON object.")
    try:
        return _of_kind(fields)
    except _WrongField as wrong:
        return Malformed(str(wrong))


def _of_kind(fields: Mapping[str, Any]) -> FromLearner:
    match fields.get("kind"):
        case "hello":
            return Hello(
                _text(fields, "code", LONGEST_WORD), _text(fields, "name", LONGEST_NAME, ""),
                _flag(fields, "microphone"), _flag(fields, "headphones"), _text(fields, "resume", LONGEST_WORD, ""),
                _number(fields, "version"),
            )  # fmt: skip
        case "played":
            return PlayedUntil(_number(fields, "utterance"), _number(fields, "samples"))
        case "answer":
            return Answer(_text(fields, "text", LONGEST_ANSWER))
        case "bye":
            return Leave()
    return Malformed("That kind of message is not known.")


class _WrongField(Exception):
    """A field is missing or of the wrong kind; the message is a sentence."""


def _text(fields: Mapping[str, Any], name: str, longest: int, otherwise: str | None = None) -> str:
    value = fields.get(name, otherwise)
    if not isinstance(value, str) or len(value) > longest:
        raise _WrongField(f"{name} is a text of at most {longest} characters.")
    # Lone surrogates are no characters: JSON can write them, and nothing else can.
    return " ".join(value.encode("utf-8", "replace").decode("utf-8").split())


def _number(fields: Mapping[str, Any], name: str) -> int:
    value = fields.get(name)
    if not isinstance(value, int) or isinstance(value, bool) or not 0 <= value <= _MOST:
        raise _WrongField(f"{name} is a whole number.")
    return value


def _flag(fields: Mapping[str, Any], name: str) -> bool:
    value = fields.get(name, False)
    if not isinstance(value, bool):
        raise _WrongField(f"{name} is true or false.")
    return value
