"""What the learner may ask for about learning by heart, at any moment: it leaves the lesson where it is."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from coach.dialogue import taught
from coach.dialogue.acts import Heard, Tell
from coach.dialogue.saying import Saying, Talking
from coach.dialogue.signals import Interrupt
from coach.language.meaning import Wished
from coach.learning.exercise import MOST_HELP
from coach.learning.progress import progress, spoken
from coach.learning.schedule import Fsrs
from coach.method import NamedSequence

_LITTLE: Final = 1
"""The most help for a learner who wants to try it alone: the case and the hold."""
_NEXT: Final[Mapping[Wished, str]] = {"do": "by-heart.do-next", "other": "by-heart.other-next"}
_CALLED: Final = 3
"""From this level of help up, every turn is called anyway."""


def obey(talk: Saying, heard: Heard) -> Talking[None]:
    """Do what the learner asks for by a command, one of WISHES."""
    command = heard.meaning.command if heard.meaning else None
    if command == "hint" and talk.called and _leaves_turns(talk):
        raise Interrupt("what-next", heard)
    yield from WISHES[command](talk)


def _leaves_turns(talk: Saying) -> bool:
    """Whether turns of what is done now are left to the learner, so that the next one may not be called."""
    now, learned = talk.attempts.now, talk.attempts.learned
    return now is not None and not now.over and max(learned.least, min(learned.most, now.help)) < _CALLED


def introduce(talk: Saying, sequence: NamedSequence, why: str = "") -> Talking[None]:
    """Tell the name of a sequence and its groups, and `why` it works."""
    talk.attempts.introduced.add(sequence.id)
    code = talk.phrases.code
    parts = [group.say(code, "name") for group in sequence.groups]
    told = talk.words("by-heart.parts", len(parts) - 1, first=parts[0], rest=talk.joined("by-heart.and", parts[1:]))
    told = told if len(sequence.turns) > 1 else ""  # the name tells it all
    name = talk.words("by-heart.name", name=sequence.say(code, "name"))
    yield from talk.say(Tell(" ".join(filter(None, (name, told, why or sequence.say(code, "why"))))))


def _whole(talk: Saying) -> Talking[None]:
    """Tell the whole sequence at hand."""
    attempts = talk.attempts
    sequence = attempts.sequence
    if sequence is None:
        yield from talk.aside("by-heart.no-sequence")
        return
    if attempts.now and not attempts.now.over and attempts.now.help < _CALLED:
        attempts.now.helped = True
    yield from taught.whole(talk, sequence)


def _alone(talk: Saying) -> Talking[None]:
    attempts = talk.attempts
    attempts.learned.most, attempts.learned.least = _LITTLE, 0
    between = not talk.in_words and (attempts.now is None or attempts.now.over)
    yield from talk.aside("by-heart.alone", int(between))


def _call_it(talk: Saying) -> Talking[None]:
    talk.attempts.learned.least = MOST_HELP
    yield from talk.aside("by-heart.call-it")


def _again(talk: Saying) -> Talking[None]:
    attempts = talk.attempts
    attempts.again = True
    yield from talk.aside("by-heart.again", int(attempts.now is None or attempts.now.over))


def _doing(talk: Saying) -> Talking[None]:
    learned = talk.attempts.hoped
    now = progress("", learned.exercises, learned.today, Fsrs(), learned.sequences)
    for said in spoken(now, learned.origin, learned.fades):
        yield from talk.aside(said.key, said.form, **said.values)


def next_comes(talk: Saying, wish: Wished) -> Talking[None]:
    """Note the kind of exercise that the learner wishes for, and say so."""
    attempts = talk.attempts
    if attempts.learned.origin == "practice":
        attempts.wish = attempts.wish if wish == "other" and attempts.wish else wish  # which is something else, too
        yield from talk.aside(_NEXT.get(attempts.wish, "by-heart.quiz-next"), int(bool(talk.called)))
    elif wish == "other":
        yield from talk.aside("by-heart.no-other")
    else:
        attempts.quiz = "next"
        form = 2 if talk.manner == "brief" else int(attempts.now is None or attempts.now.over)
        yield from talk.aside("by-heart.quiz", form)


def _quiz(talk: Saying) -> Talking[None]:
    yield from next_comes(talk, "words")


def _told(key: str) -> Callable[[Saying], Talking[None]]:
    def tell(talk: Saying) -> Talking[None]:
        yield from talk.aside(key)

    return tell


WISHES: Final[Mapping[str | None, Callable[[Saying], Talking[None]]]] = {
    "whole-sequence": _whole,
    "alone": _alone,
    "call-it": _call_it,
    "once-more": _again,
    "how-am-i-doing": _doing,
    "hint": _told("by-heart.hint"),
    "quiz": _quiz,
}
"""The commands, and what is done about each while no question is open that they answer."""
