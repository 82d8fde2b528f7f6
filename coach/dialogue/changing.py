"""What the learner wants changed about the coach: its pace, its way of calling and explaining, the hand."""

from __future__ import annotations

from typing import Final

from coach.cube import Turn
from coach.dialogue.by_heart import next_comes
from coach.dialogue.pace import LONGEST, SHORTEST, UNHURRIED, Pace
from coach.dialogue.saying import Saying, Talking
from coach.dialogue.signals import ChangeCourse
from coach.language.meaning import Change, Command, Question

_IN_WORDS: Final = ("recite", "hold")


def pace(talk: Saying, command: Command, plainly: bool = True) -> Talking[None]:
    """Go slower or faster, or only on the learner's word. Very fast only for who has said `plainly` to be faster."""
    before = talk.pace
    if command == "on-my-word":
        talk.pace = Pace(before.pause, on_word=True)
        yield from talk.aside("turn.on-word")
        return
    talk.pace = before.slower() if command == "slower" else before.faster(SHORTEST if plainly else UNHURRIED)
    if command == "faster" and talk.pace == before and not plainly:
        yield from talk.aside("reply.fast-enough")
        return
    limit = talk.pace.pause in (SHORTEST, LONGEST)
    key = {"slower": "reply.slowest", "faster": "reply.fastest"}[command] if limit else f"reply.{command}"
    yield from talk.aside(key, seconds=f"{talk.pace.pause:.2g}")


def settings(talk: Saying, wish: Change, asked: Question) -> Talking[None]:
    """Make the change that the learner wants; raises ChangeCourse if it changes where the lesson is."""
    if wish.pause is not None:
        talk.pace = Pace(min(max(wish.pause, SHORTEST), LONGEST))
        yield from talk.aside("reply.pause", seconds=f"{talk.pace.pause:.2g}")
    elif wish.style:
        talk.style = wish.style
        call, plain = (talk.phrases.call(Turn("R"), style) for style in (talk.style, "plain"))
        key = "reply.style" if call != plain else "reply.style-plain"
        yield from talk.aside(key, call=call, plain=plain)
    elif wish.manner:
        talk.manner = wish.manner
        yield from talk.aside(f"reply.manner-{talk.manner}")
    elif wish.confuse:
        talk.confuse |= {word for word in wish.confuse if word in talk.colours.values()}
        yield from talk.aside("reply.confuse")
    elif wish.exercise and not (asked in _IN_WORDS and talk.attempts.learned.origin == "practice"):
        yield from next_comes(talk, wish.exercise)
    elif wish.hand:
        changes, talk.hand = wish.hand != talk.hand, wish.hand
        yield from talk.aside(f"reply.hand-{wish.hand}")
        if changes and asked == "turn":
            talk.pending = wish
        elif changes:
            raise ChangeCourse(wish)
    else:
        raise ChangeCourse(wish)
