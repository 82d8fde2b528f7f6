"""Remarks that may come with any question: which rows were heard and how many are left, that the cube fell, a request
to repeat the edges, a wish for another kind of session."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from coach.language.aside import Remark
from coach.language.en.besides import of_sequence
from coach.language.en.besides.sessions import other_session
from coach.language.en.reader.normalise import HARD, SOFT, normalise

_MORE: Final = r"(?:again|once more|one more time|another time|anew|afresh|a second time)"
_EDGES: Final = r"(?:(?:the|those|these|my|all|four|white|question|questions|about|of|with|for|on|me|you|that|to)\b ?)*"
_CUBE: Final = (
    r"(?:it|this|(?:(?:the|my|this|that) )?(?:(?:damn|bloody|stupid|whole|silly|poor|little) )*(?:cube|thing|one))"
)
_LATELY: Final = r"(?: (?:just|has|have|is|was|all|now|then|did|gone|went|came|and|also|got|had|must))*"
_DOWN: Final = r"(?:down|off|out|from|on|onto|under|to|behind|through)"
_WAYS: Final[Mapping[Remark, str]] = {
    "fell": (
        rf"\b{_CUBE}{_LATELY} (?:fell|fall|falls|fallen|falling|dropped|crashed|tumbled|landed)\b"
        rf"|\b{_CUBE}{_LATELY} (?:slipped|slid|rolled|slip|flew|popped|jumped|bounced) (?:right )?{_DOWN}\b"
        rf"|\b(?:drop|dropped|dropping)(?: of)? {_CUBE}\b|\blet go of {_CUBE}\b|\blet {_CUBE} (?:fall|drop|slip)\b"
        rf"|\b(?:knocked|knock|kicked|pushed|threw|hit|bumped) {_CUBE} (?:right )?(?:out|off|over|down|to|on)\b"
        rf"|\b{_CUBE}{_LATELY} (?:on|hit|onto|on to) the (?:floor|ground|carpet|tiles)\b(?!.*\b(?:left|right"
        rf"|front|back)\b)"
        r"|\bbutterfingers\b|\bdown (?:it|she) (?:went|goes)\b"
    ),
    "edges-again": (
        rf"\b(?:ask|tell|answer|say|question|hear)\b.* edges?\b.* {_MORE}\b"
        rf"|\b(?:do|redo|re do|repeat|try|have|start|begin|go back|back to|return|go over|go through)\b"
        rf"(?: (?:to|with|at|from|over|through))* {_EDGES}edges?(?: question)?(?: {_MORE})?(?: please)?$"
        rf"|^{_EDGES}edges? {_MORE}\b|\b{_MORE}(?: with)? {_EDGES}edges?(?: please)?$|\bredo {_EDGES}edges?\b"
        rf"|\bi (?:have |think |just )*(?:told|said|gave|answered|got|described) {_EDGES}edges?(?: (?:all|to"
        rf"|it))* wrong"
    ),
    "rows-left": (
        r"\bhow (?:many|much)\b.* (?:more|left|longer|remain|remaining|remains|to go|still|need|to come|to do"
        r"|missing)\b"
        r"|\bhow (?:many|much) (?:more|longer|rows|lines|of (?:them|these|this))\b|\bhow (?:long|much time|far)\b"
        r"|\b(?:are|is|am) (?:we|it|this|that|i|there)(?: \w+)? (?:nearly|almost|soon|still|long|much more"
        r"|many more|a lot"
        r"|lots|done|finished|over|halfway|half way)\b"
        r"|\b(?:are|is|am) (?:we|it|this|i) (?:\w+ )?(?:done|finished|there) (?:yet|now|soon|already)\b"
        r"|\balmost done\b"
        r"|\bwhen (?:do|does|is|are|will|am|can) (?:\w+ )*(?:finish|finished|end|ends|over|done|ready|stop|know"
        r"|enough)\b"
        r"|\bwill (?:this|it|that|there) (?:take|be|go on|last)\b"
        r"|\b(?:do|must|should|have|need)(?: i| we)? (?:i |we )?(?:\w+ to )?(?:do|read|tell|say"
        r"|go through)\b.* (?:all|every"
        r"|each|whole|rest|everything|them all)\b|\btak(?:es|ing) (?:\w+ )?(?:for ?ever|ages|long|so long|too long)\b"
        r"|\b(?:many|much) more (?:is|are|rows|of)\b"
    ),
    "rows-told": (
        r"\b(?:what|which)\b(?: \w+)*? (?:have|do|did) you(?: (?:already|just|now|really|actually|got|have|all))* "
        r"(?:got|get|have|had|hear|heard|know|knew|write|wrote|written|note|noted|record|recorded|remember|understand"
        r"|understood|save|saved|collected|taken)\b"
        r"|\b(?:what|which)\b(?: \w+)*? (?:have|did) (?:i|we)(?: (?:already|just|now|really|actually|all))* "
        r"(?:got|tell|told|say|said|give|given|gave|read|do|done|finish|finished|had|have)\b"
        r"|\b(?:what|which)\b(?: \w+)* (?:so far|already|until now|up to now|till now|done|last row|last line"
        r"|row before)\b"
        r"|\b(?:read|say|tell|repeat|give|list|play)\b(?: \w+)* (?:back\b|what (?:you|i|we)(?: (?:have|had|did"
        r"|just|already))* "
        r"(?:got|have|had|told|tell|said|say|gave|give|read|heard|know|wrote)|my (?:last )?rows?|rows? (?:i|so))\b"
        r"|\bwhere (?:are|were) we with\b|\bdid you (?:get|hear|catch|write|note|understand|save)\b"
        r"|\bhave you (?:got|heard|written|noted|saved) (?:it|that|them|my|the|all|this|everything)\b"
    ),
}
_PATTERNS: Final = {remark: re.compile(ways) for remark, ways in _WAYS.items()}
_NEVER: Final[Mapping[Remark, re.Pattern[str]]] = {
    "fell": re.compile(r"\b(?:not|never|nearly|almost|if|into place|apart|asleep|penny)\b"),
    "edges-again": re.compile(
        r"\bmiddle edges\b|\b(?:go back|back|return|go|do|start|begin|try|practise) (?:\w+ )*(?:top|bottom"
        r"|last) edges\b"
    ),
    "rows-left": re.compile(r"\b(?:pause|seconds|wait)\b"),
    "rows-told": re.compile(r"\bi (?:will|can|would)\b|\bdid you (?:say|mean|want)\b|\bwhat (?:do|should|must"
    r"|can) i\b"),
}


def remark(text: str) -> Remark | None:
    """The remark in `text`, or None."""
    words = normalise(text)
    said = " ".join(word for word in words if word not in (HARD, SOFT))
    found = (kind for kind, ways in _PATTERNS.items() if ways.search(said) and not _NEVER[kind].search(said))
    return next(found, None) or other_session(said) or of_sequence.remark_of(words)
