"""From a transcript to the lesson's event: what was surely heard, what may have been said, and what was nothing."""

from collections.abc import Callable
from dataclasses import replace
from typing import Final

from coach.dialogue import Heard
from coach.dialogue.replies import command_of
from coach.language.commands import Trait, has
from coach.language.meaning import Meaning, Question
from coach.speech.ears.recogniser import Transcript
from coach.speech.signal.levels import Levels

Understand = Callable[[str], Meaning | None]

SURE: Final = 0.6
"""A command that changes the lesson needs this confidence to be obeyed without asking. Confidences are calibrated, so
just above it four results in ten are wrong or were said to somebody else, but of all above it far fewer. On the clean
recordings described in second_pass.py, 95.3% of the words said pass and are right instead of 96.9%, and 1.8% of other
words pass instead of 3.3%."""
LIKELY: Final = 0.2
"""Ask about anything at least this likely. Measured on 25 November 2026 with both looks, moments of twelve: of 122
single words, half of them with six talkers at 10 dB, 7 were asked about, 4 of them rightly; of 66 other words,
sentences and stretches of background, 1."""
_CLOSE: Final = 0.6  # a guess with this share of the first one's confidence is a rival
_MOST: Final = 2  # tell the lesson at most this many guesses
_SPEECH: Final = 10.0  # speech is this many dB above the noise around it


def judge(look: Transcript, levels: Levels, understand: Understand, asked: Question) -> Heard:
    """What was heard in answer to `asked`: a meaning, some guesses, or nothing of use.

    In the pause after a call ("turn") nothing was asked, so the only guesses are commands that must not be missed.
    """
    likely = _likely(look, understand)
    first = likely[0] if likely else None
    if look.text and (first is None or first.text != look.text):
        return Heard(look.text, None, look.confidence)
    if first is None:
        return Heard("", None, look.confidence)
    if look.text and not _doubtful(likely, asked):
        return first
    worth = (one for one in likely if asked != "turn" or has(command_of(one), Trait.MISSED))
    guesses = tuple(worth)[:_MOST]
    if not guesses or guesses[0].text != first.text or levels.speech - levels.floor < _SPEECH:
        guesses = ()
    return Heard("", None, look.confidence, guesses)


class Judge:
    """Judges one utterance after the other. If one was not surely heard, the learner says it again, and the two
    together are sure."""

    def __init__(self) -> None:
        self._doubted: Heard | None = None  # what the last utterance may have been

    def __call__(self, look: Transcript, levels: Levels, understand: Understand, asked: Question) -> Heard:
        event = judge(look, levels, understand, asked)
        before, self._doubted = self._doubted, event.guesses[0] if event.guesses else None
        return agreed(before, self._doubted) or event


def unsure(meaning: Meaning, confidence: float) -> bool:
    """Whether the meaning would change the lesson and was not heard surely enough for that."""
    return has(meaning.command, Trait.GRAVE) and confidence < SURE


def agreed(before: Heard | None, now: Heard | None) -> Heard | None:
    """The likeliest meaning of two utterances in a row, if the two together are sure; otherwise None."""
    if before is None or now is None or before.meaning != now.meaning:
        return None
    sure = (before.confidence or 0.0) + (now.confidence or 0.0)
    return replace(now, confidence=min(sure, 1.0)) if sure >= SURE else None


def _likely(look: Transcript, understand: Understand) -> tuple[Heard, ...]:
    """The possible meanings, likeliest first, each once."""
    texts = [(one.text, one.confidence or 0.0) for one in look.alternatives if one.confidence >= LIKELY]
    if look.text:
        texts.insert(0, (look.text, look.confidence))
    found: list[Heard] = []
    for text, confidence in texts:
        settled = look.meaning if not found and isinstance(look.meaning, Meaning) else None
        meaning = settled or understand(text)
        if meaning is not None and all(meaning != one.meaning for one in found):
            found.append(Heard(text, meaning, confidence))
    return tuple(found)


def _doubtful(likely: tuple[Heard, ...], asked: Question) -> bool:
    """Whether asking is better than acting on the first of these."""
    first, *others = likely
    sure = first.confidence or 0.0
    if sure >= SURE:
        return False
    if first.meaning and unsure(first.meaning, sure):
        return True
    return asked != "turn" and bool(others) and (others[0].confidence or 0.0) > _CLOSE * sure
