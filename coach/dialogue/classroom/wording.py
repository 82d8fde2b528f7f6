"""What is said to a class of the cases that its pupils may have, and of how to hold them."""

from __future__ import annotations

from collections.abc import Sequence

from coach.dialogue.saying import Saying
from coach.method import Case
from coach.method.sequences import Spoken


def clause(talk: Saying, statement: str) -> str:
    """A statement of the method, of one sentence or more, as a part of a longer sentence."""
    sentences = [part for part in statement.rstrip(".").split(". ") if part]
    return talk.joined("class.and", [f"{each[:1].lower()}{each[1:]}" for each in sentences])


def words(talk: Saying, of: Spoken, what: str) -> str:
    """The method's words for a step or a case."""
    return of.say(talk.phrases.code, what).format(**talk.gaps)


def named(talk: Saying, case: Case) -> str:
    """The case as a condition: "you have a line"."""
    return clause(talk, words(talk, case, "name"))


def for_whom(talk: Saying, cases: Sequence[Case]) -> str:
    """Who takes part, in a sentence for each of several cases."""
    who = [talk.words("class.run", int(number > 0), who=named(talk, case)) for number, case in enumerate(cases)]
    return " ".join([*who, talk.words("class.others-rest")])


def hold(talk: Saying, case: Case) -> str:
    """The sentence that tells who has this case how to hold it."""
    if not (case.hold.shows or case.hold.same):
        return talk.words("class.any-side", case=named(talk, case))
    return talk.words("class.into-hold", case=named(talk, case), hold=clause(talk, words(talk, case, "hold")))
