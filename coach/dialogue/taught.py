"""What the method teaches, told out of its turn to who asks for a sequence by its name or for a case; the place in the
lesson is kept."""

from __future__ import annotations

from coach.dialogue.acts import Query, Tell
from coach.dialogue.saying import Saying, Talking
from coach.language.meaning import Question
from coach.language.teachings import words
from coach.method import Case, Method, NamedSequence, PlacingCase, cases_of

_OF_CASES = ("recite", "hold")
"""What is asked so is about the case in the question, not about the sequence at hand."""


def is_at_hand(talk: Saying, method: Method, ids: tuple[str, ...], asked: Question, query: Query) -> bool:
    """Whether it is what the learner is doing now, or is asked about: then to be told it is help."""
    attempts, present = talk.attempts, f"{query.step}/{query.case}"
    if asked == "hold":
        return ids == (present,)
    found = {named.id for each in ids for named in [_named(method, each)] if named}
    if asked == "recite":
        named = _named(method, present)
    else:
        named = attempts.sequence if attempts.now and not attempts.now.over else None
    return named is not None and found == {named.id}


def tell(talk: Saying, method: Method, ids: tuple[str, ...]) -> Talking[None]:
    """Tell a sequence whole; a case with its hold and its sequence; several cases without the turns."""
    for id in ids:
        named = _named(method, id)
        if "/" in id:
            yield from _case(talk, _case_of(method, id))
        if named and len(ids) == 1:
            yield from whole(talk, named)
        elif named:
            yield from talk.aside("by-heart.takes", name=named.say(talk.phrases.code, "name"))


def whole(talk: Saying, sequence: NamedSequence) -> Talking[None]:
    """Tell a sequence: its name, its groups with their calls, and why it works."""
    code = talk.phrases.code
    yield from talk.aside("by-heart.name", name=sequence.say(code, "name"))
    for number, group in enumerate(sequence.groups):
        form = 0 if len(sequence.groups) == 1 else 1 if not number else 2
        yield from talk.aside("by-heart.part", form, name=group.say(code, "name"), calls=talk.calls_of(group.turns))
    yield Tell(sequence.say(code, "why"))


def _case(talk: Saying, case: Case | PlacingCase) -> Talking[None]:
    name, hold = (words(case, what, talk.phrases, talk.gaps) for what in ("name", "hold"))
    key = "telling.told" if case.named else "by-heart.nothing"
    yield from talk.aside(key, name=name, statement=hold)


def _case_of(method: Method, id: str) -> Case | PlacingCase:
    step, _, case = id.partition("/")
    return next(each for each in cases_of(method.step(step)) if each.id == case)


def _named(method: Method, id: str) -> NamedSequence | None:
    if "/" in id:
        return _case_of(method, id).named
    return next(each for each in method.sequences if each.id == id)
