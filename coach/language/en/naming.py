"""Fits the learner's own words for colours and marks into sentences: adjectives (smooth) and nouns (dots)."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from coach.language.en.reader.normalise import HARD, SOFT

COLOURS: Final = frozenset({
    "white", "yellow", "green", "blue", "orange", "red", "black", "grey", "gray", "brown", "pink", "purple", "violet",
    "silver", "gold", "golden", "turquoise", "teal", "cyan", "magenta", "lime", "beige", "cream", "navy", "lilac",
    "maroon", "mint", "peach", "indigo", "crimson", "scarlet", "tan",
})  # fmt: skip
"""Words that name a colour."""
_FELT: Final = frozenset({
    "smooth", "rough", "soft", "hard", "flat", "blank", "plain", "bare", "coarse", "fine", "sharp", "round", "square",
    "cold", "warm", "hollow", "matt", "metal", "wooden", "dark", "light", "clear",
})  # fmt: skip
_AROUND: Final = frozenset({
    "it", "is", "its", "the", "a", "an", "that", "this", "there", "i", "we", "you", "think", "guess", "believe",
    "call", "say", "would", "will", "them", "they", "are", "one", "ones", "with", "has", "have", "got", "feel",
    "feels", "like", "me", "colour", "colours", "mark", "marks", "sticker", "stickers", "face", "side", "middle",
    "centre", "please", "well", "oh", "okay", "so", "and", "just", "kind", "of", "sort", "hmm", "looks", "my", "in",
    "on", "for", "um", "top", "bottom", "front", "back", "left", "right", "mine", "let", "us", "mm", "make", "sorry",
    "said", "rear", "roof", "underneath", "here", "be", "should", "must", "could", "might",
    "suppose", "called", HARD, SOFT,
})  # fmt: skip
"""Words around a name that are not names themselves."""
_LONGEST: Final = 20  # letters of a name
_ENDINGS: Final = ("y", "ed", "less", "ish")


def is_colour(word: str) -> bool:
    """Whether the learner's word names a colour ("dark blue")."""
    return bool(COLOURS & set(word.casefold().split()))


def is_noun(word: str) -> bool:
    """Whether it is something that a sticker has (dots), not what the sticker is like (smooth, yellow)."""
    last = word.casefold().split()[-1]
    return not (last in _FELT or is_colour(word) or last.endswith(_ENDINGS))


def is_like(word: str) -> str:
    """What one sticker is: "is yellow", "is smooth", "has dots"."""
    return f"has {word}" if is_noun(word) else f"is {word}"


def are_like(word: str) -> str:
    """What several stickers are: "are yellow", "have dots"."""
    return f"have {word}" if is_noun(word) else f"are {word}"


def sticker(word: str) -> str:
    """A sticker by its word: "yellow sticker", "velvet sticker", "sticker with dots"."""
    several = word.endswith("s") and not word.endswith("ss")
    return f"sticker with {word}" if is_noun(word) and several else f"{word} sticker"


def the(word: str) -> str:
    """The word as something that points somewhere: "white", "the dots", "the smooth sticker"."""
    return word if is_colour(word) else f"the {word}" if is_noun(word) else f"the {word} sticker"


_NO_NAME: Final = frozenset({
    "wrong", "mistake", "oops", "what", "nothing", "something", "hello", "hi", "help", "maybe", "understand", "colour",
    "color", "mark", "next", "ready", "stop", "wait",
    "okay", "shit", "fuck", "fucking", "question", "not", "cannot", "none", "who", "where", "when", "why", "how",
})  # fmt: skip
"""An answer with one of these words names nothing."""


def own_word(words: Sequence[str]) -> str:
    """The one or two words that name a colour or mark in an answer ("it's dark blue"); empty if there are more."""
    at = next((at for at, word in enumerate(words[1:], 1) if word == "what" and words[at - 1] == "is"), len(words))
    named = [word for word in words[:at] if word not in _AROUND]  # "glass is what I feel there"
    if _NO_NAME & set(named):
        return ""
    colours = [word for word in named if is_colour(word)]
    if len(named) > 2 and len(set(colours)) == 1:
        named = colours[:1]  # "that one would be red I suppose"
    elif len(named) > 1 and "is" in words:  # "the belly is glass"
        named = [word for word in words[words.index("is") + 1 :] if word in named] or named
    name = " ".join(dict.fromkeys(named))
    return name if 0 < len(named) <= 2 and len(name) <= _LONGEST else ""


_SIDES: Final = {
    "front": "F", "back": "B", "rear": "B", "right": "R", "left": "L", "top": "U", "bottom": "D", "underneath": "D",
}
_DENIED: Final = re.compile(
    rf"\bnot quite\b|\b(?:that|it|all|they|everything) (?:(?:is|are|was|all|quite) )*right\b|\b(?:all|quite) right\b"
    rf"|\bnot [^{re.escape(HARD + SOFT)}]*"
)


def words_by_side(words: Sequence[str]) -> dict[str, str]:
    """The words for sides that are named with them, by face: "front dimple, back stripe", "silk on top"; {} if a side
    or a word is left over."""
    told: dict[str, str] = {}
    side, name = "", list[str]()
    said = _DENIED.sub(" ", " ".join(words)).split()
    for word in [*said, HARD]:
        if word in _SIDES:
            if side and not name:
                return {}
            if side:
                told[side], name = " ".join(name), []
            side = _SIDES[word]
        elif word in (HARD, SOFT):
            if side and name:
                told[side] = " ".join(name)
                side, name = "", []
        elif word not in _AROUND and word not in _TAKEN_BACK:
            name.append(word)
    left = side or name
    return {} if left or len(set(told.values())) < len(told) or not all(map(_is_name, told.values())) else told


def _is_name(name: str) -> bool:
    return len(name) <= _LONGEST and len(name.split()) <= 2 and not (_NO_NAME | _AGREES) & set(name.split())


_AGREES: Final = frozenset({"yes", "yeah", "yep", "yup", "all", "correct", "quite", "sure", "perfect", "good", "turn"})
_TAKEN_BACK: Final = frozenset({"no", "nope", "hang", "hold", "wait", "actually", "sorry", "rather"})


def some(word: str) -> str:
    """What a piece has with such a sticker: "yellow", "dots", "a smooth sticker"."""
    return word if is_colour(word) or is_noun(word) else _one(sticker(word))


def cross(word: str) -> str:
    """A cross of such stickers: "a yellow cross", "a cross of dots"."""
    return f"a cross of {word}" if is_noun(word) else _one(f"{word} cross")


def gaps(name: str, word: str) -> dict[str, str]:
    """The fillers of gaps for one of the learner's words; `name` says what the word stands for."""
    return {
        name: word, f"is_{name}": is_like(word), f"are_{name}": are_like(word), f"some_{name}": some(word),
        f"the_{name}": the(word), f"{name}_sticker": sticker(word), f"{name}_cross": cross(word),
    }  # fmt: skip


def _one(thing: str) -> str:
    return f"{'an' if thing[0] in 'aeiou' else 'a'} {thing}"
