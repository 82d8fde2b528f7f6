"""Converts typed or heard text to plain words: unifies case, contractions, numerals and marks."""

from __future__ import annotations

import re
import unicodedata

LONGEST = 2000
"""Read at most this many characters; nobody needs more to answer a question."""

HARD, SOFT = "|", ","
"""Clause marks: the end of a sentence, and a lesser break."""

_APOSTROPHES = dict.fromkeys(map(ord, "\u2019\u2018\u02bc\u00b4`"), "'")
_NEGATED = re.compile(r"\b(is|are|was|were|do|does|did|has|have|had|could|should|would|must|need|might)n'?t\b")
_UNMARKED = re.compile(r"\b(is|are|was|were|do|does|did|has|have|had|could|should|would|must|ca|wo)nt\b")
_WHOLE = {
    "can't": "can not", "cant": "can not", "cannot": "can not", "won't": "will not", "wont": "will not",
    "ain't": "is not", "aint": "is not", "couldnt": "could not", "shan't": "shall not",
    "i'm": "i am", "im": "i am", "i've": "i have", "ive": "i have", "i'd": "i would", "i'll": "i will",
    "it's": "it is", "its": "its", "thats": "that is", "theres": "there is", "theyre": "they are",
    "let's": "let us", "lets": "let us", "dunno": "do not know", "idk": "do not know", "gimme": "give me",
    "wanna": "want to", "gonna": "going to", "gotta": "have got to", "lemme": "let me", "cause": "because",
    "'cause": "because", "cos": "because", "cuz": "because", "kinda": "kind of", "sorta": "sort of",
    "em": "them", "'em": "them", "ya": "you", "y'all": "you all", "u": "you", "o'clock": "oclock",
    "what'd": "what did", "how'd": "how did", "where'd": "where did", "d'you": "do you", "lotta": "lot of",
    "whats": "what is", "wheres": "where is", "youre": "you are", "hows": "how is", "ok": "okay", "k": "okay",
    "okey": "okay", "alrighty": "all right", "alright": "all right", "colored": "coloured", "color": "colour",
    "colors": "colours", "center": "centre", "centers": "centres", "centered": "centred", "centr": "centre",
    "grey": "gray", "whaddya": "what do you", "didja": "did you", "&": "and", "+": "plus", "w": "with",
    "onto": "on to", "lefthand": "left hand", "righthand": "right hand", "topleft": "top left",
    "topright": "top right", "bottomleft": "bottom left", "bottomright": "bottom right",
    "c'mon": "come on", "o": "oh", "yall": "you all", "nowt": "nothing", "summat": "something",
    "innit": "is it not", "tho": "though", "thx": "thanks", "pls": "please", "plz": "please",
}  # fmt: skip
_ENDINGS = (
    (re.compile(r"\b(i|you|we|they)'(?:ve)\b"), r"\1 have"),
    (re.compile(r"\b(\w+)'(?:re)\b"), r"\1 are"),
    (re.compile(r"\b(\w+)'(?:ll)\b"), r"\1 will"),
    (re.compile(r"\b(\w+)'(?:ve)\b"), r"\1 have"),
    (re.compile(r"\b(\w+)'(?:d)\b"), r"\1 would"),
    (re.compile(r"\b(\w+)'s (got|gone|been|come|broken|gotten|messed|moved|turned)\b"), r"\1 has \2"),
    (re.compile(r"\b(\w+)'s\b"), r"\1 is"),
)
_FILLERS = frozenset(("uh", "uhh", "um", "umm", "uhm", "er", "err", "erm", "ehm", "ah", "ahh"))
_DIGITS = (
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"
)  # fmt: skip
_PIECES = re.compile(r"[a-z]+(?:'[a-z]+)*|\d+|[|,&+]")


def normalise(text: str) -> list[str]:
    """The words of `text` in lower case, with clause marks between them.

    Never fails: anything but letters, figures and marks counts as a space, and only the first `LONGEST` characters are
    read.
    """
    line = unicodedata.normalize("NFKC", text[:LONGEST]).translate(_APOSTROPHES).casefold()
    line = re.sub(r"([a-z])\1{2,}", r"\1", line)
    line = re.sub(r"^\s*(?:ya|yah|yea|yass?)\b", "yes", line)
    line = re.sub(r"(\d)\s*[x×]\s*(\d)", r" \1 by \2 ", line)
    line = re.sub(r"\b(\d\d?):00\b", r"\1 oclock", line)
    line = re.sub(r"\b(\d\d?)(?=o'?clock)", r"\1 ", line)
    line = re.sub(r"(?<=\w)[-\u2010\u2011/](?=\w)", " ", line)
    line = re.sub(r"\.\.+|\u2026|--+|[-\u2013\u2014;:()\[\]\"]", " , ", line)
    line = re.sub(r"[.!?\n\r]+", " | ", line)
    line = re.sub(r"\b(?:m+ ?h+m+|u+h huh|m+hm+|aha)\b", "yes", line)
    line = re.sub(r"\b(?:uh uh|nuh uh|mm mm)\b", "no", line)
    line = _NEGATED.sub(r"\1 not", line)
    line = " ".join(_WHOLE.get(word, word) for word in line.replace(",", " , ").split())
    for pattern, plain in _ENDINGS:
        line = pattern.sub(plain, line)
    words = []
    for word in _PIECES.findall(line):
        if word.isdigit():
            words.append(_DIGITS[int(word)] if len(word) < 3 and int(word) < len(_DIGITS) else "number")
        else:
            words.extend(w for w in _WHOLE.get(word, word).split() if w not in _FILLERS)
    return _tidy(words)


def plain(text: str) -> str:
    """The words of `text`, each in its plain form ("Noooo!" is "no", "didnt" is "didn't"), separated by spaces."""
    said = re.sub(r"([a-z])\1{2,}", r"\1", text.translate(_APOSTROPHES).lower())
    return _UNMARKED.sub(r"\1n't", " ".join(re.findall(r"[a-z]+(?:'[a-z]+)*", said)))


def _tidy(words: list[str]) -> list[str]:
    """Keep only the strongest of neighbouring marks and none at the ends; say stammered words once."""
    tidy: list[str] = []
    for word in words:
        if word in (HARD, SOFT):
            if not tidy:
                continue
            if tidy[-1] in (HARD, SOFT):
                tidy[-1] = HARD if HARD in (word, tidy[-1]) else SOFT
                continue
        tidy.append(word)
    while tidy and tidy[-1] in (HARD, SOFT):
        tidy.pop()
    return tidy
