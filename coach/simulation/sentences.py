"""A recogniser for a speaker who says nothing but known sentences, one after the other without a pause.

It uses PocketSphinx limited to a series of these sentences, so it always hears some: the caller checks the meaning.
"""

from collections.abc import Iterable
from typing import Any

import numpy as np

from coach.speech.ears.grammar import END, START, network
from coach.speech.ears.pocketsphinx_engine import can_say
from coach.speech.errors import ModelError
from coach.speech.signal.wav import to_float, to_int16

# With the usual 1e-48 three of 85 stretches in the coach's voice were lost, with this none; everything that they asked
# and commanded was heard. It takes a twentieth of a core while somebody speaks (25 November 2026).
_BEAM = 1e-60
_HISS = np.random.default_rng(0).normal(0, 10 ** (-80 / 20), 16_000).astype(np.float32)


class SentenceRecogniser:
    """Streams 16-bit mono at 16 kHz. Raises ModelError if PocketSphinx is not installed properly."""

    def __init__(self, sentences: Iterable[str], gain: float = 1.0) -> None:
        """`sentences` in lower case without punctuation; `gain` brings the voice to 0.03 of full scale."""
        try:
            from pocketsphinx import Decoder

            self._decoder: Any = Decoder(
                lm=None, bestpath=False, lw=1.0, wip=1.0, pip=1.0, beam=_BEAM, wbeam=_BEAM, pbeam=_BEAM,
                loglevel="FATAL",
            )  # fmt: skip
        except (ImportError, OSError, RuntimeError) as error:
            raise ModelError(f"PocketSphinx does not work ({error}). Run scripts/setup or pip again.") from error
        known = [text for text in sentences if all(can_say(self._decoder, word) for word in text.split())]
        self._decoder.add_fsg("sentences", self._decoder.create_fsg("sentences", START, END, network(known)))
        self._decoder.activate_search("sentences")
        self._gain = gain
        self._mean = ""  # cepstral mean of the earlier speech: the speaker's voice
        self._started = False

    def feed(self, block: bytes) -> None:
        """Take the next block of sound."""
        if not self._started:
            self._decoder.reinit_feat()
            self._decoder.start_utt()
            if self._mean:
                self._decoder.set_cmn(self._mean)
            self._started = True
        sound = to_float(np.frombuffer(block, np.int16)) * self._gain
        # The model does not know digital silence, so add a faint hiss.
        self._decoder.process_raw(to_int16(sound + np.resize(_HISS, len(sound))).tobytes())

    def finish(self) -> str:
        """What was said, one sentence after the other; "" if nothing was made out."""
        if not self._started:
            return ""
        self._decoder.end_utt()
        self._started = False
        self._mean = self._decoder.get_cmn(True)
        hypothesis = self._decoder.hyp()
        return str(hypothesis.hypstr) if hypothesis else ""
