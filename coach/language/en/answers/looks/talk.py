"""What speakers say around an answer: before, between and after; how they hesitate, take back, and sound.

Nothing here tells anything about the top: words like "right" or "left" or "back" in asides are not places.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Final

from coach.language.en.answers.looks.lists import Speaker
from coach.language.en.answers.manner import accented, hesitant
from coach.language.en.answers.phrasing import pick, word

_BEFORE: Final = (
    "okay", "okay so", "so", "well", "um", "uh", "er", "hmm", "hm, let me (see|feel|look)", "let me see", "let's see",
    "right then", "ah",
    "oh", "ooh", "oh my", "one moment", "hold on", "hang on", "wait", "I think", "I guess", "it looks like",
    "basically", "like", "yeah so",
    "ok", "aha", "alright", "now", "well now", "look", "as far as I can (see|tell|feel)",
    "let me turn it to the light",
    "erm", "I believe",
    "if I'm not mistaken", "this time", "for me", "got it", "easy", "I looked twice", "I go round with my finger",
    "to be (honest|precise)",
    "sorry", "yes", "yes, I see", "ready", "you asked about the {n}s", "the {n}s", "the {n}s, hm",
    "the bits you call {n}s",
    "let me put my glasses on", "here we go",
    "I'm looking at the {n}s", "on top, you mean", "which {n}s, well", "if I look from above", "from where I sit",
    "with my glasses on",
    "och", "ay", "aiya", "eh", "ja", "tja", "sure look", "cho", "mamma mia", "nah then", "bruv", "yo", "oh dear",
    "excuse me", "please",
    "which {n}s have yellow on top? Well", "which ones? Um", "you want the {n}s? Okay", "that's easy", "finally",
    "oh no", "eh, what was it",
    "is it the {n}s you want? Well", "answer", "my answer is", "report", "in my hand", "how do you say",
    "I would say",
    "ugh", "again", "fine",
    "did you say {n}s? Okay", "hey", "wow", "I shall say", "whatever", "I swear", "I'm afraid", "kinda",
    "I'll speak slowly", "my God",
)  # fmt: skip
_SURE: Final = (
    "(no|without [a|any]|there's no|beyond [any]) (doubt|question|doubt about it)", "no problem", "not a problem",
    "no (mistake|mistaking it|question about it|trouble|worries|need to look twice|two ways about it|wonder"
    "|kidding|lie)",
    "you (can't|cannot|couldn't|won't) (miss|mistake) it", "I can't be wrong",
    "(nothing|it couldn't be) (easier|clearer)",
    "(unmistakably|undoubtedly|unless I'm (wrong|mistaken|blind)|if nothing is wrong)", "don't worry",
    "not (bad|hard|gonna lie|kidding|difficult|that hard|so bad|to worry)", "I'm not (kidding|wrong|lying|blind)",
    "why not", "I wouldn't lie", "no hurry", "I don't need my glasses", "it's not (hard|difficult|rocket science)",
    "I'm no expert", "I've nothing against it", "I have not the slightest doubt", "nothing wrong with my eyes",
    "no peeking",
    "I couldn't be (surer|more certain)", "there's no denying it", "nobody helped me",
    "without (looking|peeking|hesitation)",
)  # fmt: skip
"""Expressions of certainty that contain a denial: they say neither yes nor no about any place."""
_ECHO: Final = (
    "dot, line, corner, cross... ", "a dot, a line, a corner or a cross? Hm. ", "dot, line, corner or cross? ",
    "what do I see in yellow? ",
    "which edges have yellow on top? ", "which edges, back, front, left or right? ",
    "look at the edges on top, okay. ",
)  # fmt: skip
_AFTER: Final = (
    "I think", "I guess", "I'd say", "for sure", "I believe", "innit", "mate", "love", "hen", "dear", "please", "po",
    "you know", "okay?",
    "thanks", "I'm pretty sure", "definitely", "if that helps", "so it is", "yeah", "I suppose", "more or less",
    "haha",
    "hehe", "there",
    "there you go", "done", "that's what I see", "as I see it", "I checked twice", "no doubt", "of course", "sorry",
    "if I'm honest",
    "my friend", "sir", "ma'am", "miss", "coach", "for what it's worth", "at last", "finally", "obviously", "over",
    "got that?", "I reckon",
    "clearly", "probably", "and that's that", "so", "again", "happy now?", "bruv", "man", "you see", "let's go on",
    "next", "what now?",
    "is that good?", "can we go on?", "how nice", "what a mess", "same as before", "like last time", "that was quick",
    "is that bad?", "voilà",
)  # fmt: skip
_WHO: Final = (
    "(the|my) (dog|cat|kettle|phone|baby|neighbour|sister|son|mother|tea|bus|radio|doorbell|husband|wife|boss|parrot"
    "|soup|teacher)"
)
_ASIDES: Final = (
    _WHO +
    " (is|was) (calling|barking|here|boiling|ringing|asking|crying|waiting|in the way|at the door|singing|ready"
    "|too loud|on my lap)",
    "(sorry|excuse me), " + _WHO,
    "my (hands|fingers|eyes|glasses) are (cold|dirty|tired|slippery|not what they were|shaking|numb)",
    "(the|this) (light|lamp|sun|glare) is (bad|too bright|awful|in my eyes|terrible)",
    "I (always|keep) (mix|mixing) up (my hands|the sides|the words)",
    "(where was I|what was I saying|give me a second|let me breathe|one second|bear with me|I need my glasses"
    "|now I see it)",
    "(it's|this is) (hard|fun|tricky|slippery|like a puzzle for grown-ups|harder than it looks|easy today"
    "|a lovely colour)",
    "(the middle|the centre|the center) (is|one is) yellow (too|of course|as always|anyway)",
    "(it|this cube) (sticks|is old|squeaks|is sticky|slipped)",
    "like my (grandmother|uncle|old boss|cat) (would say|used to say|always said)",
    "(no|not now), (Biscuit|Rex|Tom|Ana), (get down|stop it|later|off)",
    "I (dropped|nearly dropped) it", "I had to (count|look|feel) (twice|again|three times)",
    "(my back hurts|I'm back|right, where was I)",
    "(isn't that|which is) (nice|odd|funny|typical)",
    "(don't laugh|don't rush me|I'm hungry|I'm not good at this|be patient with me)",
    "(we have|I've) (visitors|customers|no time|five minutes left)",
    "(there is|there's) (a scratch|dirt|some glue|a crumb) on (it|one sticker)",
)  # fmt: skip
_ELSEWHERE: Final = (
    "the {s} (side|face) is [all] {c}", "(on|at) the {s} (side|face) I (see|have) {c} [and {d}]",
    "the {s} (side|face) is (done|finished|mixed|a mess|{c} and {d})", "the sides (are|look) (mixed|fine|all right)",
    "it's (all one colour|{c}) round the sides", "I'm holding it with {c} (to me|in front|facing me)",
    "(underneath|the bottom) is [all] white", "the {c} (side|face) is (at the front|facing me|on my left|behind)",
    "the {s} (side|face) has (some|a bit of) {c} in it", "the (first|lower) two layers are (fine|still good|done)",
)  # fmt: skip
"""Remarks about the other sides of the cube, which say nothing about the top."""
_SIDES: Final = ("front", "left", "right", "back")
_COLOURS: Final = ("green", "red", "orange", "blue")
_RESTART: Final = (
    "no, wait", "no wait, I had it upside down", "scratch that", "no no no", "hang on, that's wrong",
    "sorry, wrong side, I look again",
    "oh no, I was looking at the side", "forget that", "I take that back", "no, start again", "let me start over",
    "wait, that was nonsense",
    "sorry, no", "correction", "hm, no", "er, no", "ignore that", "all wrong, again", "no, I turned it",
    "oops, I held it the wrong way round",
    "that was before I turned it, now", "I lied", "disregard", "no, I tell a lie", "no, that's not it", "stop, no",
    "wait, let me look properly",
    "I said it wrong", "my mistake", "no, wrong way round", "excuse me, I mean", "what am I saying",
    "no, I misread it",
    "delete that",
)  # fmt: skip
_FRAMES: Final[Mapping[str, str]] = {
    "clock":
    "(if|say|when) (twelve is away from me|six is (by|at) my (belly|chest)|the front is six)|on a clock"
    "|like on a clock|as a clock",
    "compass": "if north is (away from me|at the back)|with north at the back|on a map|like on a map|as a compass",
    "rows": "counting rows from the back|row one being the far one|as rows and columns|in a grid|on my grid",
    "number": "if I number them one to nine|like on a phone, one is back left|numbered by rows from the back",
}  # fmt: skip


def before(speaker: Speaker, noun: str) -> str:
    """What comes before the answer, with the mark after it."""
    if speaker.frame in _FRAMES and speaker.chance(0.3):
        return speaker.say(_FRAMES[speaker.frame]) + ", "
    if noun == "edge" and speaker.chance(0.08):
        return speaker.pick(_ECHO)
    if speaker.chance(0.15):
        return speaker.pick(_SURE) + speaker.say("(, |, |: |. |... | )")
    start = speaker.say(pick(speaker.random, _BEFORE), n=noun)
    return start + speaker.say("(, |, |... |. | )" if start[-1] not in "ks" else "(, |, |... )")


def after(speaker: Speaker) -> str:
    return speaker.say("(, |, |. |... )") + speaker.pick(_SURE if speaker.chance(0.2) else _AFTER)


def restart(speaker: Speaker) -> str:
    """Words that take back everything said so far."""
    return speaker.say("(. |, |... |? )") + speaker.pick(_RESTART) + speaker.say("(, |. |... |: )")


def aside(speaker: Speaker) -> str:
    return speaker.pick(_ASIDES)


def elsewhere(speaker: Speaker) -> str:
    """Something about the other sides of the cube."""
    c, d = speaker.random.sample(_COLOURS, 2)
    return speaker.say(pick(speaker.random, _ELSEWHERE), s=pick(speaker.random, _SIDES), c=c, d=d)


def interrupted(speaker: Speaker, text: str) -> str:
    """The text with an aside at one of its pauses, or at either end."""
    pauses = [found.end() for found in re.finditer(r"[,.] ", text)]
    said = aside(speaker)
    if pauses and speaker.chance(0.5):
        at = pick(speaker.random, pauses)
        return text[:at] + speaker.say("{a}, |... {a}... |, {a}, ", a=said) + text[at:]
    return said + ". " + text if speaker.chance(0.4) else text + speaker.say("(. |, )") + said


def talked(speaker: Speaker, noun: str, text: str, false_start: Callable[[], str] | None) -> str:
    """The answer as really spoken, perhaps after a first try that is taken back as a whole."""
    chance = speaker.chance
    if false_start is not None and speaker.slips and chance(0.7):
        text = false_start() + restart(speaker) + text
        if speaker.slips > 1 and chance(0.3):
            text = false_start() + restart(speaker) + text
    if chance(0.07):
        text = interrupted(speaker, text)
    if chance(0.04):
        between = speaker.say("(. |, |, and |. And on top, |, but on top |. On the top: )")
        text = elsewhere(speaker) + between + text
    elif chance(0.03):
        text += speaker.say("(. |, |, and |. And )") + elsewhere(speaker)
    if chance(0.13):
        text = hesitant(speaker.random, text)
    if chance(0.42):
        text = before(speaker, noun) + text
        if chance(0.12):
            text = before(speaker, noun) + text
    if chance(0.2):
        text += after(speaker)
    if chance(0.06):
        text = aside(speaker) + word(speaker.random, "(. |, |... )") + text
    return accented(speaker.random, text) if chance(0.65) else text
