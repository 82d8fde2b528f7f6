"""What people say beside descriptions: yes and no, wishes, questions back, slips, and what is not for the coach at all."""

from __future__ import annotations

import random as rnd
from collections.abc import Mapping
from functools import lru_cache
from typing import get_args

from coach.language.en.answers.manner import say_as_people_do
from coach.language.en.answers.phrasing import Grammar, tidy
from coach.language.en.answers.sample import Moment, Sample

NOT_FOR_COACH = "aside"
MOMENTS: tuple[Moment, ...] = tuple(moment for moment in get_args(Moment) if moment not in ("step", "recite", "hands", "hold"))

# How often a command is said, and by which rule where its name is not the rule. What a moment asks for comes on top.
_EVERYWHERE: Mapping[str, float] = {
    "wait": 4, "more-time": 3, "resume": 2, "slower": 2.5, "faster": 2, "louder": 1.5, "softer": 1.5, "on-my-word": 1.5,
    "mistake": 4, "lost": 2, "back": 1.5, "restart-run": 1.5, "stop": 3, "pain": 3, "correct": 2, "layers-broken": 2,
    "read": 1.5, "repeat": 4, "explain": 5, "help": 3, "where": 3, "unsure": 2, "how-am-i-doing": 1, "hint": 1,
    "call-it": 1, "alone": 1, "whole-sequence": 1, "quiz": 1, "once-more": 1,
}  # fmt: skip
_ASKED: Mapping[str, Mapping[str, tuple[str, float]]] = {
    "claim": {"claim-yes": ("yes", 16), "claim-no": ("no", 16), "unsure": ("unsure", 8)},
    "turn": {"turn-next": ("next", 18), "mistake": ("mistake", 4), "lost": ("lost", 2), "repeat": ("repeat", 2)},
    "ready": {"ready-ready": ("ready", 16), "not-yet": ("no", 6), "explain": ("explain", 2)},
    "continue": {"continue-yes": ("yes", 14), "continue-no": ("no", 8), "stop": ("stop", 5)},
    "do": {
        "do-done": ("done", 14), "hint": ("hint", 6), "call-it": ("call-it", 4), "alone": ("alone", 3), "quiz": ("quiz", 2),
        "once-more": ("once-more", 4), "whole-sequence": ("whole-sequence", 2), "how-am-i-doing": ("how-am-i-doing", 2),
    },
    "look": {"unsure": ("unsure", 9), "done-top": ("done-top", 4), "correct": ("correct", 3), "claim-no": ("no", 1), "yes": ("yes", 1)},
    "other": {"unsure": ("unsure", 9), "correct": ("correct", 3), "claim-no": ("no", 1), "yes": ("yes", 1)},
}  # fmt: skip
_NOT_FOR_COACH_SHARE = 0.2
_NOT_AT_ONCE = {"turn": ("once-more",), "claim": ("once-more",), "continue": ("once-more",)}
# What matters more than the answer that it follows: "yes, but wait a second".
_AFTER_ALL: Mapping[str, str] = {
    "wait": "{hold}", "pain": "{body} {hurts}", "mistake": "{slip}", "stop": "{quit}", "where": "{how-long}",
    "explain": "{why}", "repeat": "{can-you} {say-again}", "slower": "{slow}", "layers-broken": "{lower} {broken}",
}  # fmt: skip
_CELLS_ON_TOP = {f"U{place}": True for place in range(9) if place != 4}


@lru_cache(1)
def grammar() -> Grammar:
    """The rules of all talk."""
    return Grammar("talk-answers.toml", "talk-wishes.toml", "talk-others.toml")


def talk(random: rnd.Random, moment: Moment) -> Sample:
    """Something said in a moment that describes nothing."""
    if random.random() < _NOT_FOR_COACH_SHARE:
        return Sample(moment, say_as_people_do(random, grammar().say(random, NOT_FOR_COACH)), complete=False)
    rules, commands, weights = _choices(moment)
    at = random.choices(range(len(rules)), weights)[0]
    text, command = grammar().say(random, rules[at]), commands[at]
    if random.random() < 0.06:
        text, command = _after_all(random, text, command)
    if random.random() < 0.05:
        text = tidy(f"{grammar().say(random, 'interruption')}! {grammar().say(random, 'turning-back')}. {text}")
    cells = _CELLS_ON_TOP if command == "done-top" else {}
    return Sample(moment, say_as_people_do(random, text), command=command, cells=cells)


@lru_cache
def _choices(moment: Moment) -> tuple[list[str], list[str], list[float]]:
    """The rules that may be spoken in a moment, their commands and how often."""
    asked = _ASKED.get(moment) or _ASKED["look" if moment.startswith("look") else "other"]
    table = {rule: (rule, share) for rule, share in _EVERYWHERE.items() if rule not in _NOT_AT_ONCE.get(moment, ())}
    for rule, (command, share) in asked.items():
        table[rule] = (command, share + table.get(rule, ("", 0.0))[1])
    return list(table), [command for command, _ in table.values()], [share for _, share in table.values()]


def _after_all(random: rnd.Random, text: str, command: str) -> tuple[str, str]:
    """An answer, and behind it what makes it wait."""
    if command not in ("yes", "no", "next", "ready", "done"):
        return text, command
    then, wording = random.choice(list(_AFTER_ALL.items()))
    more = grammar().phrase(random, wording)
    return tidy(f"{text}{random.choice((', but', '. But', ', only', '. Oh,', '... no,', ', and', ', hang on,'))} {more}"), then
