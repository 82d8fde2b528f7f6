"""Has sentences spoken by voices to learn from, into a folder: NUMBER.opus at 16 kHz, and list.jsonl with a line each:
the file ("sound"), what it "said" and was "asked", whether it is "general", "voice", "tempo" and "pitch" (1: its own).
"""

import json
import re
import subprocess
import sys
from collections.abc import Iterable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial
from itertools import islice
from pathlib import Path
from random import Random
from typing import Any

from benches.voices import GROUPS, Speaker

from coach.speech.signal.wav import RATE, Samples
from training.recogniser import kokoro
from training.recogniser.sentences import Sentence

LIST = "list.jsonl"
_OF_PEOPLE = 0.85  # of the group's voices so often those that sound like people, else formants alone
_KOKORO = 1 / 3  # so many by Kokoro where it is here
_TEMPOS, _PITCHES = (0.82, 1.25), (0.9, 1.15)
_SILENCE = round(0.2 * RATE), round(0.4 * RATE)  # samples of a Speaker's silence before and after that are left out
_LONGEST = 14 * RATE  # samples
_STRENGTH = 0.94  # of compression: some 9 kB a sentence


@dataclass(frozen=True)
class Task:
    """A sentence and who says it."""

    number: int
    sentence: Sentence
    voice: str
    tempo: float
    pitch: float

    @property
    def sound(self) -> str:
        """The name of its file."""
        return f"{self.number:05d}.opus"


def tasks(sentences: Iterable[Sentence], count: int, seed: int, styles: Path | None) -> list[Task]:
    """So many sentences with a voice for each; `styles`: Kokoro's, where it shall speak as well."""
    found, (people, formants) = [], GROUPS["a"]
    for number, sentence in enumerate(islice(sentences, count)):
        random = Random(f"{seed} {number}")
        if styles and random.random() < _KOKORO:
            voice, tempo, pitch = kokoro.drawn(styles, random)
        else:
            voice = random.choice(people if random.random() < _OF_PEOPLE else formants)
            tempo, pitch = round(random.uniform(*_TEMPOS), 3), round(random.uniform(*_PITCHES), 3)
        found.append(Task(number, sentence, voice, tempo, pitch))
    return found


def speak(out: Path, wanted: Iterable[Task], styles: Path | None, processes: int) -> None:
    """Speak what is not there yet. Raises FileNotFoundError where a synthesiser is missing."""
    out.mkdir(parents=True, exist_ok=True)
    done = {row["sound"] for row in listed(out)}
    left = [task for task in wanted if task.sound not in done]
    with ProcessPoolExecutor(processes) as pool, (out / LIST).open("a", encoding="utf-8") as file:
        for row in pool.map(partial(_written, out, styles), left):
            if row:
                print(json.dumps(row, ensure_ascii=False), file=file, flush=True)


def listed(folder: Path) -> list[dict[str, Any]]:
    """The lines of the folder's list, none where there is no list yet."""
    path = folder / LIST
    return [json.loads(line) for line in path.read_text("utf-8").splitlines()] if path.exists() else []


def _written(out: Path, styles: Path | None, task: Task) -> dict[str, Any] | None:
    """The task's line once its sound is written; None where it could not be said or is too long."""
    import soundfile  # here, so that the rest is at hand without it

    try:
        samples = _said(task, styles)
    except subprocess.SubprocessError as error:
        print(f"{task.voice} did not say {task.sentence.text!r}: {error}", file=sys.stderr)
        return None
    if not 0 < len(samples) <= _LONGEST:
        return None
    soundfile.write(out / task.sound, samples, RATE, format="OGG", subtype="OPUS", compression_level=_STRENGTH)
    said = task.sentence
    row = {"sound": task.sound, "said": said.text, "asked": said.asked, "general": said.general}
    return row | {"voice": task.voice, "tempo": task.tempo, "pitch": task.pitch}


def _said(task: Task, styles: Path | None) -> Samples:
    text = re.sub(r"[^\w ,.!?;:'-]", " ", task.sentence.text)  # some synthesisers read other marks aloud
    if styles and task.voice.startswith("kokoro "):
        return kokoro.say(styles, task.voice, text, task.tempo, task.pitch)
    samples = Speaker(task.voice, task.tempo, task.pitch).say(text)
    before, after = _SILENCE
    return samples[before : len(samples) - after]
