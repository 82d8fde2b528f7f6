"""Whoever asks why, where they are, or for help is answered in every kind of session, wherever it is."""

from __future__ import annotations

from collections.abc import Callable
from itertools import repeat

import pytest

from coach.cube import parse
from coach.dialogue import Heard, Listen, Tell
from coach.dialogue.lesson import ALL_STEPS, Lesson, Settings
from coach.dialogue.practice.session import Practice
from coach.dialogue.stopwatch import Stopwatch
from coach.learning.learned import Learned
from coach.method import default_method
from tests.loaded import load

ENGLISH, METHOD = load(), default_method()
TURNS = parse("R U' F2 L D")
SENTENCES = ENGLISH.sentences
SESSIONS: dict[str, Callable[[], Lesson]] = {
    **{step: lambda step=step: Lesson(METHOD, SENTENCES, step, None, ENGLISH.offers) for step in ALL_STEPS},  # type: ignore[misc]
    "unknown": lambda: Lesson(METHOD, SENTENCES, None, None, ENGLISH.offers),
    "brief": lambda: Lesson(METHOD, SENTENCES, "top-cross", Settings(manner="brief"), ENGLISH.offers),
    "scramble": lambda: Lesson(METHOD, SENTENCES, None, Settings(scramble=TURNS), ENGLISH.offers),
    "practice": lambda: Practice(METHOD, SENTENCES, Learned(METHOD.name, origin="practice"), offers=ENGLISH.offers),
    "stopwatch": lambda: Stopwatch(METHOD, SENTENCES, repeat(TURNS), offers=ENGLISH.offers),
}
ASKED = ("why", "why must it be solved", "explain", "where are we", "help", "repeat that", "how many more")
ONWARD = ("ready", "yes", "no", "next")


@pytest.mark.parametrize("onward", ONWARD)
@pytest.mark.parametrize("name", SESSIONS)
def test_whatever_is_asked_of_the_coach_is_answered_at_any_moment(name: str, onward: str) -> None:
    session = SESSIONS[name]()
    acts = session.start()
    for number in range(28):
        listen = acts[-1]
        if not isinstance(listen, Listen):
            break
        text = ASKED[number // 2 % len(ASKED)] if number % 2 == 0 else onward
        acts = session.handle(Heard.read(text, ENGLISH.read(text, listen.asked, listen.scene), listen.asked))
        assert acts


@pytest.mark.parametrize("name", ["scramble", "stopwatch"])
def test_why_a_solved_cube_is_needed_is_told_before_it_is_scrambled(name: str) -> None:
    session = SESSIONS[name]()
    listen = session.start()[-1]
    assert isinstance(listen, Listen)
    heard = Heard.read("why", ENGLISH.read("why", listen.asked, listen.scene), listen.asked)
    assert session.talk.words("scramble.why") in [act.text for act in session.handle(heard) if isinstance(act, Tell)]
