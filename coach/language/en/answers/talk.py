"""What people say besides descriptions: yes and no, wishes, questions in return, slips, and asides."""

from __future__ import annotations

import random as rnd
from collections.abc import Mapping
from functools import lru_cache
from typing import get_args

from coach.language.en.answers.manner import RETRACTIONS, lowered, say_as_people_do
from coach.language.en.answers.phrasing import Grammar, pick, tidy
from coach.language.en.answers.sample import Moment, Sample

_ELSEWHERE = ("step", "recite", "hands", "hold")  # moments that other modules cover
MOMENTS: tuple[Moment, ...] = tuple(moment for moment in get_args(Moment) if moment not in _ELSEWHERE)

# How often each rule is used at any moment. A moment adds what it asks for, in words that only fit there.
_EVERYWHERE: Mapping[str, float] = {
    "wait": 4, "more-time": 3, "resume": 2, "slower": 2.5, "faster": 2, "louder": 1.5, "softer": 1.5, "on-my-word": 1.5,
    "mistake": 4, "lost": 2, "back-turn": 1.2, "restart-run": 1.5, "stop": 3, "pain": 3, "layers-broken": 2,
    "read": 1.5, "repeat": 4, "explain": 5, "help": 3, "where": 3, "unsure": 2, "how-am-i-doing": 1, "hint-please": 1,
    "call-it": 1, "alone": 1, "whole-sequence": 1, "quiz": 1,
}  # fmt: skip
_ASKED: Mapping[str, Mapping[str, tuple[str, float]]] = {
    "claim": {"claim-yes": ("yes", 16), "claim-no": ("no", 16), "unsure": ("unsure", 8), "correct": ("correct", 2),
              "okay-again": ("resume", 2), "mid-turns": ("more-time", 3), "all-scrambled": ("layers-broken", 2),
              "claim-kept": ("yes", 9), "claim-strange": ("no", 9), "not-done": ("more-time", 1),
              "bedded": ("yes", 2)},
    "turn": {
        "turn-next": ("next", 18), "mistake": ("mistake", 2), "mistake-now": ("mistake", 3),
        "lost": ("lost", 2), "repeat": ("repeat", 2), "back": ("back", 1.5), "correct-answer": ("correct", 1),
        "turn-late": ("more-time", 2), "not-done": ("more-time", 3), "left-out": ("mistake", 2.5),
        "left-behind": ("mistake", 1.5),
        "done-freely": ("next", 12), "done-counted": ("next", 2), "done-around": ("next", 2), "hand-done": ("next", 2),
    },
    "ready": {
        "ready-ready": ("ready", 16), "not-yet": ("no", 6), "explain": ("explain", 2), "correct-answer": ("correct", 1),
        "done-around": ("ready", 7), "not-done": ("no", 1.5),
    },
    "continue": {
        "continue-yes": ("yes", 14), "continue-no": ("no", 8), "stop": ("stop", 5), "correct-answer": ("correct", 1),
    },
    "do": {
        "do-done": ("done", 16), "hint": ("hint", 7), "call-it": ("call-it", 5), "alone": ("alone", 4),
        "quiz": ("quiz", 3), "once-more": ("once-more", 10), "whole-sequence": ("whole-sequence", 3),
        "back": ("back", 1), "how-am-i-doing": ("how-am-i-doing", 3), "mistake-now": ("mistake", 2),
        "correct-answer": ("correct", 0.5), "done-counted": ("done", 8), "not-done": ("more-time", 1),
        "left-out": ("mistake", 1),
    },
    "look": {"unsure": ("unsure", 9), "done-top": ("done-top", 4), "correct": ("correct", 4), "plain-no": ("no", 0.5),
             "plain-yes": ("yes", 0.5), "all-scrambled": ("layers-broken", 3), "mid-turns": ("more-time", 2)},
    "other": {
        "unsure": ("unsure", 9), "correct": ("correct", 4), "plain-no": ("no", 0.5), "plain-yes": ("yes", 0.5),
    },
}  # fmt: skip
_FILES = (
    "talk-answers.toml", "talk-claims.toml", "talk-done.toml", "talk-wishes.toml", "talk-others.toml", "talk-near.toml",
)  # fmt: skip
_NOT_FOR_COACH_SHARE = 0.23
_NEAR_SHARE = 0.5  # share of these that sounds like an answer or a wish
_ANSWERS = ("yes", "no", "next", "ready", "done")
_CORRECTIONS = tuple(words for words in RETRACTIONS if "mistake" not in words)  # that is a command of its own
_COMMANDS = {"back-turn": "back", "hint-please": "hint"}  # if the rule has another name
# What overrides the answer that it follows: "yes, but wait a second".
_AFTER_ALL: Mapping[str, str] = {
    "wait": "{hold}", "pain": "{body} {hurts}", "mistake": "{slip}", "stop": "{quit}", "where": "{how-long}",
    "explain": "{why}", "repeat": "{can-you} {say-again}", "slower": "{slow}", "layers-broken": "{lower} {broken}",
}  # fmt: skip
_CELLS_ON_TOP = {f"U{place}": True for place in range(9) if place != 4}


@lru_cache(1)
def grammar() -> Grammar:
    """The rules of all talk."""
    return Grammar(*_FILES)


def talk(random: rnd.Random, moment: Moment) -> Sample:
    """Something said in a moment that describes nothing."""
    if random.random() < _NOT_FOR_COACH_SHARE:
        rule = "near" if random.random() < _NEAR_SHARE else "aside"
        return Sample(moment, say_as_people_do(random, grammar().say(random, rule)), complete=False)
    rules, commands, weights = _choices(moment)
    at = random.choices(range(len(rules)), weights)[0]
    text, command = grammar().say(random, rules[at]), commands[at]
    draw = random.random()
    if draw < 0.06:
        text, command = _after_all(random, text, command)
    elif draw < 0.1:
        text = _taken_back(random, moment, command) + lowered(text)
    if random.random() < 0.05:
        text = tidy(f"{grammar().say(random, 'interruption')}! {grammar().say(random, 'turning-back')}. {text}")
    cells = _CELLS_ON_TOP if command == "done-top" else {}
    return Sample(moment, say_as_people_do(random, text), command=command, cells=cells)


@lru_cache
def _choices(moment: Moment) -> tuple[list[str], list[str], list[float]]:
    """The rules that may be used in a moment, their commands and their weights."""
    asked = _ASKED.get(moment) or _ASKED["look" if moment.startswith("look") else "other"]
    table = {rule: (_COMMANDS.get(rule, rule), share) for rule, share in _EVERYWHERE.items()}
    for rule, (command, share) in asked.items():
        table[rule] = (command, share + table.get(rule, ("", 0.0))[1])
    return list(table), [command for command, _ in table.values()], [share for _, share in table.values()]


def _taken_back(random: rnd.Random, moment: Moment, command: str) -> str:
    """Another answer to the same question, then words that take it back: the "no wait" in them is no command."""
    rules, commands, weights = _choices(moment)
    answers = [n for n, other in enumerate(commands) if other in _ANSWERS and other != command]
    if command not in _ANSWERS or not answers:
        return ""
    at = random.choices(answers, [weights[n] for n in answers])[0]
    return f"{grammar().say(random, rules[at])}{random.choice((', ', '... ', '. '))}{pick(random, _CORRECTIONS)}, "


def _after_all(random: rnd.Random, text: str, command: str) -> tuple[str, str]:
    """An answer followed by something that makes it wait."""
    if command not in _ANSWERS:
        return text, command
    then, wording = random.choice(list(_AFTER_ALL.items()))
    more = grammar().phrase(random, wording)
    joint = random.choice((", but", ". But", ", only", ". Oh,", ", and", ", hang on,"))
    return tidy(f"{text}{joint} {more}"), then
