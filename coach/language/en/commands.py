"""What the learner asks of the coach: concepts that come together in a sentence, and who is spoken to."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from functools import lru_cache
from importlib.resources import files
from itertools import groupby

from coach.language.en.lexicon import Lexicon
from coach.language.en.normalise import HARD, SOFT
from coach.language.meaning import Question

MARKS = (HARD, SOFT)


class Commands:
    """The command words of the language."""

    def __init__(self, data: Mapping[str, object]) -> None:
        concepts: dict[str, list[str]] = data["concepts"]  # type: ignore[assignment]
        others: dict[str, list[str]] = data["others"]  # type: ignore[assignment]
        self.rules: list[list[str]] = data["rules"]  # type: ignore[assignment]
        fillers: dict[str, list[str]] = data["fillers"]  # type: ignore[assignment]
        self.fillers = frozenset(fillers["fillers"])
        self._phrases: dict[str, dict[tuple[str, ...], set[str]]] = {}
        for name, phrases in (*concepts.items(), *others.items()):
            for phrase in phrases:
                words = tuple(phrase.split())
                self._phrases.setdefault(words[0], {}).setdefault(words, set()).add(name)
        self.known = {word for phrases in concepts.values() for phrase in phrases for word in phrase.split()}

    def concepts(self, words: Sequence[str]) -> dict[str, list[tuple[int, int]]]:
        """Every concept in the words, with where it stands (start, end); marks are not crossed."""
        found: dict[str, list[tuple[int, int]]] = {}
        for at, word in enumerate(words):
            for phrase, names in self._phrases.get(word, {}).items():
                if tuple(words[at : at + len(phrase)]) == phrase:
                    for name in names:
                        found.setdefault(name, []).append((at, at + len(phrase)))
        return found

    def strange(self, words: Sequence[str]) -> int:
        """How many words of the clause belong neither to a command nor to the usual padding."""
        return sum(1 for w in words if w not in MARKS and w not in self.fillers and w not in self.known)


@lru_cache(maxsize=1)
def commands() -> Commands:
    """The command words, read once."""
    return Commands(tomllib.loads(files(__package__).joinpath("commands.toml").read_text("utf-8")))


def _parts(words: Sequence[str], marks: tuple[str, ...]) -> list[list[str]]:
    return [list(part) for cut, part in groupby(words, key=lambda w: w in marks) if not cut]


def _matches(rule: Sequence[str], found: Mapping[str, object], asked: Question) -> bool:
    for need in rule[1:]:
        if need.startswith("?"):
            if not asked.startswith(need[1:]):
                return False
        elif need.startswith("-"):
            if need[1:] in found:
                return False
        elif need not in found:
            return False
    return True


def particular(words: Sequence[str], asked: Question) -> str | None:
    """A command that its own words give away, whatever was asked; None if there is none."""
    book = commands()
    for sentence in _parts(words, (HARD,)):
        plain = [word for word in sentence if word not in MARKS]
        found = book.concepts(plain)
        if _addressed(sentence, plain, found, strict=False):
            continue
        for rule in book.rules:
            if _matches(rule, found, asked) and _fits(rule[0], plain, found):
                return rule[0]
    return None


def _fits(command: str, plain: Sequence[str], found: Mapping[str, list[tuple[int, int]]]) -> bool:
    """Weak cues count only in sentences that are about little else."""
    return commands().strange(plain) <= 3 or command in ("repeat", "louder", "slower", "layers-broken", "lost")


def _addressed(
    sentence: Sequence[str], plain: Sequence[str], found: Mapping[str, list[tuple[int, int]]], strict: bool
) -> bool:
    """The sentence is spoken to somebody else, or is thinking aloud."""
    if "home" in found and not ({"wait", "stop"} & found.keys() and "address" not in found and not strict):
        return not {"louder", "not_heard", "wait", "repeat"} & found.keys()
    if "muse" in found and strict:
        return True
    return "address" in found and strict


def _names(words: Sequence[str]) -> bool:
    """A clause of one unknown word among others: somebody is called by name."""
    book = commands()
    parts = _parts(words, MARKS)
    return len(parts) > 1 and any(
        len(part) == 1 and part[0] not in book.known and part[0] not in book.fillers and len(part[0]) > 2
        for part in parts
    )


def ordinary(words: Sequence[str], asked: Question) -> str | None:
    """Stop, wait, resume, next, ready, yes and no: short words that other talk holds too."""
    book = commands()
    plain = [word for word in words if word not in MARKS]
    whole = book.concepts(plain)
    if {"home", "address"} & whole.keys() and "wait" not in whole and not {"today", "tired"} & whole.keys():
        return None
    if "muse" in whole and not {"stop", "wait", "next"} & whole.keys():
        return None
    parts = _parts(words, MARKS)
    found: dict[str, int] = {}
    for at, part in enumerate(parts):
        cues = book.concepts(part)
        if book.strange(part) > (1 if len(part) < 5 else 2) and "wait" not in cues and "tired" not in cues:
            continue
        for name in cues:
            found.setdefault(name, at)
    if asked in ("claim", "other"):
        return _claim(found)
    if asked == "continue":
        if found.keys() & {"tired", "stop"} or "today" in found:
            return "no" if "no" in found else "stop"
        if "no" in found and found["no"] <= found.get("yes", 99):
            return "no"
        if "wait" in found:
            return "wait"
        return "yes" if found.keys() & {"yes", "next", "resume", "ready"} else None
    if _names(words) and "wait" not in found:
        return None
    if "stop" in found or ("tired" in found and "today" in found):
        return "stop"
    if "back_again" in found:
        return "resume"
    if "wait" in found or "mishap" in found:
        return "wait"
    if "resume" in found and asked not in ("turn", "ready"):
        return "resume"
    if asked == "turn":
        if found.keys() & {"next", "yes", "ready", "resume"} and "no" not in found:
            return "next"
        return "no" if "no" in found else None
    if asked == "ready":
        if "no" in found:
            return "no"
        return "ready" if found.keys() & {"ready", "next", "yes", "resume"} else None
    if "no" in found and len(plain) < 4:
        return "no"
    return "yes" if "yes" in found and len(plain) < 4 else None


def _claim(found: Mapping[str, int]) -> str | None:
    if "no" in found and found["no"] <= found.get("yes", 99):
        return "no"
    if "yes" in found:
        return "yes"
    if "wait" in found:
        return "wait"
    return "stop" if "stop" in found else None


def done_top(words: Sequence[str]) -> bool:
    """The whole top shows one colour."""
    plain = [word for word in words if word not in MARKS]
    found = commands().concepts(plain)
    return {"whole_top", "one_colour", "entire"} <= found.keys() and "no" not in found


def unsure(words: Sequence[str]) -> bool:
    """The learner cannot tell what is there."""
    return "unsure" in commands().concepts([word for word in words if word not in MARKS])


def corrects(words: Sequence[str]) -> bool:
    """The learner takes the last answer back."""
    return "correct" in commands().concepts([word for word in words if word not in MARKS])
