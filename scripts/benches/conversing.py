"""The same practice as in `learning`, in whole conversations with the coach: slow, to see how fair the short cut is."""

from __future__ import annotations

from benches.learning import ITEMS, METHOD, SETUPS, Pupil, Remembering
from coach.cube import Cube
from coach.dialogue.acts import End, Event, Heard, Listen, Practised, Say, Silence
from coach.dialogue.practice.session import Practice
from coach.language import load
from coach.learning.learned import Learned
from coach.simulation.practiser import Practiser

MOST_ANSWERS = 2000
_SEEN = ("row", "face", "piece", "look-top-edges", "look-top-corners")
"""What is answered here depends on the scene."""


class Conversing:
    """Sessions of `practise` with the last layer, typed in memory."""

    def __init__(self) -> None:
        self._planner = Remembering()

    def day(self, pupil: Pupil, limit: float) -> None:
        """A session of that many seconds, as the coach estimates them."""
        learned = Learned(METHOD.name, pupil.exercises, pupil.today, fades=True, origin="practice")
        practice = Practice(METHOD, load().sentences, learned, limit / 60, planner=self._planner)
        practice._setups, practice._items = SETUPS, tuple(ITEMS)
        learner = Practiser(Cube(), pupil.mind, METHOD)
        acts, since = practice.start(), 0.0
        for _ in range(MOST_ANSWERS):
            for act in acts:
                if isinstance(act, Say):
                    learner.hear(act)
                elif isinstance(act, Practised):
                    pupil.taken[act.kind, act.help].append(practice._estimate - since)
                    since = practice._estimate
            pupil.mind.second = practice._estimate
            if isinstance(acts[-1], End):
                return
            assert isinstance(acts[-1], Listen)
            acts = practice.handle(answer(learner, acts[-1]))
        raise RuntimeError("the session did not end")


def answer(learner: Practiser, listen: Listen) -> Event:
    """What the learner says."""
    text = learner.answer(listen.asked)
    if not text:
        return Silence(listen.seconds)
    if listen.asked in _SEEN:
        return Heard.read(text, load().read(text, listen.asked, listen.scene), listen.asked)
    return _read(text, listen.asked, listen.scene.about, listen)


_KNOWN: dict = {}


def _read(text, asked, about, listen) -> Heard:
    key = (text, asked, about)
    if key not in _KNOWN:
        _KNOWN[key] = load().read(text, asked, listen.scene)
    return Heard.read(text, _KNOWN[key], asked)
