"""Where learners say they are in the method: by name, number, what is done, what is open, or what they see."""

from __future__ import annotations

import random as rnd
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from coach.language.en.answers.manner import lowered, say_as_people_do
from coach.language.en.answers.phrasing import Grammar, tidy
from coach.language.en.answers.sample import Sample
from coach.language.en.reader.heads import STEPS

_DOING = re.compile(r"\b[Tt]he (?=(?:getting|filling|placing|moving|swapping)\b)")
_ONE_OF = re.compile(r"\bone (?:of|edge|corner)|doing|at the|with", re.IGNORECASE)
_MANY = re.compile(r"\b(edges|corners|ones|bits|pieces)(?: is|'s)\b(?! (?:mine|next|where|what))")
_NUMBERS = ("one", "two", "three", "four", "five", "six", "seven")
_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh")
_BUT = (", but ", ", ", " and ", ", only ", ". ", " but ", ", and now ")
_ONLY = (", ", " and ", ". ", ", ")
# What is said at any moment, including the first question.
_TALK: Mapping[str, float] = {
    "wait": 2, "more-time": 2, "repeat": 3, "help": 2, "stop": 1, "pain": 1, "louder": 1, "slower": 1, "softer": 0.5,
    "where": 0.5,
}  # fmt: skip


@dataclass(frozen=True)
class StepsDone:
    """How much is done: so many whole steps, and of the pieces of the next one this many, where that is known."""

    done: int
    pieces: int = 0

    @property
    def step(self) -> str:
        return STEPS[self.done]


@lru_cache(1)
def _grammar() -> Grammar:
    return Grammar("talk-answers.toml", "talk-wishes.toml", "talk-others.toml", "talk-near.toml", "steps.toml")


def steps(random: rnd.Random) -> Sample:
    """An answer to the first question: which step the learner is at."""
    if random.random() < 0.68:
        progress = StepsDone(random.randrange(len(STEPS)), random.choice((2, 3)))
        return Sample("step", told(random, progress), step=progress.step)
    return random.choices(list(_OTHERS), list(_OTHERS.values()))[0](random)


def told(random: rnd.Random, progress: StepsDone) -> str:
    """What somebody says who has come so far."""
    ways = [way for way in _WAYS if way not in _NEEDS or _NEEDS[way](progress)]
    text = random.choices(ways, [_WAYS[way] for way in ways])[0](random, progress)
    if random.random() < 0.15:
        text = f"{_grammar().phrase(random, '{well}')}, {lowered(text)}"
    return say_as_people_do(random, tidy(_agreeing(text)))


def _agreeing(text: str) -> str:
    """Makes names of one piece, of many, or of an activity agree with the same sentences."""
    text = _DOING.sub("", text)
    return text if _ONE_OF.search(text) else _MANY.sub(r"\1 are", text)


def _say(random: rnd.Random, rule: str, progress: StepsDone, **values: str) -> str:
    n = _NUMBERS[progress.pieces - 1]
    left = _NUMBERS[3 - progress.pieces]
    return _grammar().say(random, rule, n=n, left=left, **values)


def _name(step: str) -> str:
    return f"{{name-{step}}}"


def _spoken(random: rnd.Random, step: str) -> str:
    return _grammar().phrase(random, _name(step))


# --- the ways of telling it


def _by_name(random: rnd.Random, at: StepsDone) -> str:
    return _say(random, "at", at, name=_spoken(random, at.step))


def _by_number(random: rnd.Random, at: StepsDone) -> str:
    return _say(random, "numbered", at, number=_NUMBERS[at.done], ordinal=_ORDINALS[at.done])


def _from_the_end(random: rnd.Random, at: StepsDone) -> str:
    return _say(random, f"last-{at.step}", at)


def _done(random: rnd.Random, at: StepsDone) -> str:
    """What is done, and that there is no more, or what comes next."""
    text = _say(random, f"done-{STEPS[at.done - 1]}", at)
    return text if random.random() < 0.4 else f"{text}{random.choice(_ONLY)}{lowered(_say(random, 'what-now', at))}"


def _done_and_open(random: rnd.Random, at: StepsDone) -> str:
    parts = [_say(random, f"done-{STEPS[at.done - 1]}", at), _say(random, f"open-{at.step}", at)]
    if random.random() < 0.3:
        parts.reverse()
    return parts[0] + random.choice(_BUT[:2] if random.random() < 0.5 else _BUT) + lowered(parts[1])


def _one_after_another(random: rnd.Random, at: StepsDone) -> str:
    """The last two things done, and perhaps what is open."""
    first = _say(random, f"done-{STEPS[at.done - 2]}", at)
    second = _say(random, "also", at, name=_spoken(random, STEPS[at.done - 1]))
    text = first + random.choice((" and ", ", ", ", and ")) + lowered(second)
    if random.random() < 0.6:
        text += random.choice(_BUT[:2]) + lowered(_say(random, f"open-{at.step}", at))
    return text


def _not_the_one_before(random: rnd.Random, at: StepsDone) -> str:
    """The step before is named, and that it is done or not the one."""
    return _say(random, "after", at, before=_spoken(random, STEPS[at.done - 1]))


def _taken_back(random: rnd.Random, at: StepsDone) -> str:
    """Another step first, or less than is done, and then the right one."""
    wrong = random.choice([step for step in STEPS if step != at.step])
    sorry = _grammar().phrase(random, "{sorry}")
    if at.done > 1 and random.random() < 0.4:
        less = _say(random, f"done-{STEPS[random.randrange(at.done - 1)]}", at)
        return f"{less}, {sorry}, {lowered(_say(random, f'done-{STEPS[at.done - 1]}', at))}"
    right = _say(random, "at", at, name=_spoken(random, at.step)) if random.random() < 0.5 else _spoken(random, at.step)
    return f"{_say(random, 'at', at, name=_spoken(random, wrong))}, {sorry}, {lowered(right)}"


def _short(random: rnd.Random, at: StepsDone) -> str:
    """What is done in few words, each in the light of the one before: "the white cross, and the corners too"."""
    first = _spoken(random, STEPS[at.done - 2])
    return _say(random, f"short-{STEPS[at.done - 1]}", at, first=first)


def _before_the_next(random: rnd.Random, at: StepsDone) -> str:
    return _say(random, "before", at, **{"after-it": _spoken(random, STEPS[at.done + 1])})


def _which_cross(random: rnd.Random, at: StepsDone) -> str:
    words = random.choice((("white", "yellow"), ("bottom", "top"), ("first", "second"), ("lower", "upper")))
    this, that = words if at.step == "bottom-cross" else words[::-1]
    return _say(random, "cross-not", at, this=this, that=that)


def _open(random: rnd.Random, at: StepsDone) -> str:
    return _say(random, f"open-{at.step}", at)


def _partly(random: rnd.Random, at: StepsDone) -> str:
    """Part of the step is done, perhaps with what was done before."""
    text = _say(random, f"partial-{at.step}", at)
    if at.done and random.random() < 0.35:
        text = f"{_say(random, f'done-{STEPS[at.done - 1]}', at)} and {lowered(text)}"
    return text


def _seen(random: rnd.Random, at: StepsDone) -> str:
    text = _say(random, f"seen-{at.step}", at)
    return text if random.random() < 0.6 else f"{text}, {lowered(_say(random, 'what-now', at))}"


_WAYS: Mapping[Callable[[rnd.Random, StepsDone], str], float] = {
    _by_name: 5, _by_number: 2, _from_the_end: 1.5, _done: 5, _done_and_open: 5, _one_after_another: 3,
    _not_the_one_before: 3, _before_the_next: 1, _which_cross: 2, _open: 2, _partly: 4, _seen: 2,
    _taken_back: 3, _short: 3,
}  # fmt: skip
_NEEDS: Mapping[Callable[[rnd.Random, StepsDone], str], Callable[[StepsDone], bool]] = {
    _from_the_end: lambda at: f"last-{at.step}" in _grammar(),
    _done: lambda at: at.done > 0,
    _done_and_open: lambda at: at.done > 0,
    _one_after_another: lambda at: at.done > 1,
    _not_the_one_before: lambda at: at.done > 0,
    _short: lambda at: f"short-{STEPS[at.done - 1]}" in _grammar(),
    _before_the_next: lambda at: at.done < len(STEPS) - 1,
    _which_cross: lambda at: at.step in ("bottom-cross", "top-cross"),
    _seen: lambda at: f"seen-{at.step}" in _grammar(),
}


# --- answers that tell no step


def _simple(rule: str, command: str | None) -> Callable[[rnd.Random], Sample]:
    def answer(random: rnd.Random) -> Sample:
        text = say_as_people_do(random, _grammar().say(random, rule))
        return Sample("step", text, command=command, complete=command is not None)

    return answer


def _explained(random: rnd.Random) -> Sample:
    """A question about what one of the steps is."""
    step = random.choice(STEPS)
    text = say_as_people_do(random, _grammar().say(random, "explain-step", name=_spoken(random, step)))
    return Sample("step", text, command="explain", step=step)


def _talk(random: rnd.Random) -> Sample:
    command = random.choices(list(_TALK), list(_TALK.values()))[0]
    return _simple(command, command)(random)


def _interrupted(random: rnd.Random) -> Sample:
    """A step, told after a word to somebody else."""
    sample = steps(random)
    if sample.command is None and sample.step is None:
        return sample
    words = f"{_grammar().say(random, 'interruption')}. {_grammar().say(random, 'turning-back')}. {sample.text}"
    return replace(sample, text=words)


_OTHERS: Mapping[Callable[[rnd.Random], Sample], float] = {
    _simple("read", "read"): 5, _simple("find-out", "unsure"): 5, _simple("same", "resume"): 5, _explained: 4, _talk: 4,
    _simple("vague", None): 2, _simple("solved", None): 0.7, _simple("aside", None): 4, _simple("near", None): 3,
    _interrupted: 1,
}  # fmt: skip
