"""Wishes for another kind of session: "let's practise instead", "I'd rather have a lesson"."""

from __future__ import annotations

import re
from typing import Final, Literal

_WANTS: Final = (
    r"(?:let us|let me|(?:can|could|may|shall|should) (?:we|i)|how about|what about|why do we not|why not"
    r"|(?:i|we) (?:\w+ )?(?:want|like|prefer|need|rather|sooner|fancy|love|feel like|am in the mood for)"
    r"|i am for|rather|sooner|please|give me"
    r"|(?:switch|change|go|move|skip|jump|get|back)(?: over| back| on)? to|start|begin|do|try|have|take|make it)"
)
_FILLED: Final = (
    r"(?: (?:to|a|an|the|some|for|please|rather|just|do|doing|have|having|go|going|start|starting|try|over|back|on|with"
    r"|maybe|now|instead|today|really|actually|take|get|of|be|my|we|us|you))*"
)
_END: Final = (
    r"(?: (?:instead|now|please|today|rather|a bit|a little|for (?:a bit|a while|now|today)|with you|by heart|then"
    r"|again|from you|together|mode|sessions?|first|of (?:this|that|these)|than (?:this|that|practise|a lesson)|coach"
    r"|on this|as before|from the start))*(?=$| (?:i|this|that|and|because|so)\b)"
)
_PRACTICE: Final = re.compile(
    rf"\b{_WANTS}{_FILLED} (?:practi[sc]e|practi[sc]ing|training|train|exercises)(?! makes\b){_END}"
    r"|\b(?:practise|practice|practising|practicing|training) (?:would|might) be (?:better|nice|nicer|good|more)\b"
    rf"|^(?:practise|practice|training) (?:instead|now|please|by heart){_END}"
)
_LESSON: Final = re.compile(
    rf"\b{_WANTS}{_FILLED}(?: (?:proper|real|normal|ordinary|guided|usual|full|whole|new|another|different|other))* "
    rf"lessons?{_END}"
    r"|\blesson (?:would|might) be (?:better|nice|nicer|good|more)\b"
    rf"|^(?:a |the )?lesson (?:instead|now|please){_END}"
    r"|\b(?:lead|guide|take|walk|talk) me through (?:it|(?:the|my) (?:whole )?cube|a (?:whole )?solve|everything"
    r"|all (?:of it|the steps)) (?:instead|rather|now)\b"
)
_NOT: Final = re.compile(
    r"\b(?:not (?!we\b)|never|no more|stop|end|finish|leave|quit|pause|enough of|(?:is|was) over|was|were|last|next"
    r"|tomorrow|week)\b"
)


def other_session(said: str) -> Literal["to-practice", "to-lesson"] | None:
    """Which kind of session is wished for in the plain words `said`, if one is."""
    if _NOT.search(said):
        return None
    return "to-practice" if _PRACTICE.search(said) else "to-lesson" if _LESSON.search(said) else None
