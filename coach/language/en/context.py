"""Words that mean several things: which one is meant, by what stands beside them."""

from __future__ import annotations

from collections.abc import Sequence

from coach.language.en.clauses import verdicts
from coach.language.en.lexicon import Token
from coach.language.en.normalise import HARD, SOFT

_HOURS = {"12": "B", "3": "R", "6": "F", "9": "L"}
_NOTHING = Token("", "", "")
_BEFORE_SHAPE = ("a", "like", "big", "full", "complete", "proper", "nice", "of", "perfect", "whole", "small", "little")
PLACE = ("dir", "hand")


def settle(tokens: Sequence[Token], up: str) -> list[Token]:
    """The tokens with clock hours, fillers, "plus" and bare "no" given the sense they have here."""
    hours = [t for t in tokens if t.kind == "num" and t.value in _HOURS]
    numbers = [t for t in tokens if t.kind == "num"]
    clock = any("clock" in token.words for token in tokens) or (
        len(hours) == len(numbers) and len(hours) > 1 and any(t.value in ("12", "9", "6") for t in hours)
        and not any(t.kind in ("noun", "dir") for t in tokens)
    )
    wrong = any(token.kind == "top" and token.words == "wrong" for token in tokens)
    listing = verdicts(tokens) > 1
    out: list[Token] = []
    said = False
    for at, token in enumerate(tokens):
        before = tokens[at - 1] if at else _NOTHING
        after = tokens[at + 1] if at + 1 < len(tokens) else _NOTHING
        then = tokens[at + 2] if at + 2 < len(tokens) else _NOTHING
        if clock and token.kind == "num" and token.value in _HOURS and after.kind != "noun":
            token = Token("dir", _HOURS[token.value], token.words)
        elif token.words == "plus" and not (
            before.kind in ("det", "quant") or before.words in _BEFORE_SHAPE or before.kind == "colour" or len(tokens) == 1
        ):
            token = Token("conj", "and", token.words)
        elif token.words in ("okay", "yeah", "yep", "yes", "right", "good", "fine") and _interjection(
            before, after, then, at, tokens[at - 2] if at > 1 else _NOTHING
        ):
            token = Token("word", token.words, token.words)
        elif token.words in ("but", "bar") and _excepts(tokens[:at], after):
            token = Token("quant", "only" if _none(tokens[:at]) else "except", token.words)
        elif token.value == "except" and _none(tokens[:at]):
            token = Token("quant", "only", token.words)
        elif token.words in ("no", "nope", "nah") and (after.kind == "neg" or after.value == "none"):
            token = Token("word", token.words, token.words)
        elif token.words == "right" and before.kind == "be" and after.kind in ("", "mark", "conj") and wrong:
            token = Token("top", "yes", token.words)
        elif emphatic(before, token, after):
            token = Token("word", token.words, token.words)
        elif token.value == "except" and any(t.value == "centre" for t in (after, then)):
            token = Token("word", token.words, token.words)
        elif token.words == "on the side" and after.kind in ("dir", "facedir", "hand"):
            token = Token("prep", "prep", token.words)
        elif token.words == "straight" and (after.kind == "prep" or after.words.startswith(("at ", "on "))):
            token = Token("word", token.words, token.words)
        elif token.words == "line" and before.kind == "dir" and before.value != "U":
            token = Token("noun", "row", token.words)
        elif token.words in ("looks", "look") and after.kind in ("dir", "facedir") and after.value != "U":
            token = Token("face", "face", token.words)
        elif token.words == "it" and before.kind == "have":
            token = Token("colour", up, token.words)
        elif token.words in ("face", "faces") and before.kind == "dir" and after.kind not in ("dir", "facedir"):
            token = Token("noun", "side", token.words)
        elif token.words in ("face", "faces") and before.kind == "det":
            token = Token("noun", "side", token.words)
        elif token.words in ("down", "up") and token.kind == "dir" and _on_page(before, after, then):
            token = Token("dir", "F" if token.words == "down" else "B", token.words)
        elif token.words == "one" and before.words in ("another", "there is another"):
            token = Token("pron", "one", token.words)
        elif token.words in ("no", "nope", "sorry", "wait", "actually", "er", "rather", "well") and said and not (listing and token.words in ("no", "nope")) and _retracts(token, before, after, then):
            token = Token("correct", "fix", token.words)
        if token.kind in PLACE or token.kind in ("num", "shape", "linedir"):
            said = True
        out.append(token)
    return out


def emphatic(before: Token, token: Token, after: Token) -> bool:
    """"Right at the back": no place."""
    return token.words == "right" and before.kind in ("", "mark", "be", "pron", "word") and (
        after.kind == "prep" or after.words.split(" ")[0] in ("at", "in", "on", "by", "round", "behind", "under", "next")
    )


def _excepts(before: Sequence[Token], after: Token) -> bool:
    """"Everything but the left one"."""
    sentence: list[Token] = []
    for token in before:
        sentence = [] if token.kind == "mark" else [*sentence, token]
    universal = any(
        t.value in ("everything", "all", "none", "nothing_else") for t in sentence if t.kind in ("noun", "quant")
    )
    placed = any(t.kind in ("dir", "hand") and t.value != "U" for t in sentence)
    return universal and not placed and after.kind in ("det", "dir", "num", "noun", "hand", "quant") and (
        after.value != "nothing_else"
    )


def _none(before: Sequence[Token]) -> bool:
    """The sentence so far speaks of none, so that an exception to it is what there is."""
    for token in reversed(before):
        if token.kind == "mark":
            return False
        if token.kind == "quant" and token.value in ("none", "nothing_else"):
            return True
    return False


def _on_page(before: Token, after: Token, then: Token) -> bool:
    """"Up and left", "the down one": directions on the page that the top is read like."""
    sideways = ("L", "R", "F", "B", "U", "D")
    joined = after.words == "and" and then.kind == "dir" and then.value in sideways
    joined = joined or (before.words == "and" and after.kind in ("", "mark", "conj"))
    return joined or (before.kind == "det" and after.words in ("one", "edge", "ones"))


def _interjection(before: Token, after: Token, then: Token, at: int, two_before: Token) -> bool:
    """"Right, so it's a line", "okay", "yeah" between marks: said to nobody."""
    if before.kind not in ("", "mark"):
        return False
    if at and after.kind not in ("mark", "") and not (after.kind == "conj"):
        return after.kind in ("pron", "word", "skip", "be") and after.words not in ("ones",) and before.kind == "mark" and (
            after.kind != "be"
        ) and not (after.kind == "pron")
    if _answer(before, after, then, at, two_before):
        return False
    return after.kind in ("mark", "conj", "word", "skip", "") or (at == 0 and after.kind == "pron") or (
        at == 0 and after.kind == "num" and before.words != "right" and after.words != "one"
    )


def _answer(before: Token, after: Token, then: Token, at: int, two_before: Token) -> bool:
    """Before or after "right": nothing, or a mark and another place, so that it was itself a place."""
    if at and two_before.kind == "dir" and before.value == SOFT:
        return True
    if after.value == HARD and (then.kind in ("det", "pron") or then.words in ("there", "i", "so", "now", "well")):
        return False
    return after.kind == "" or (after.kind == "mark" and (then.kind in (*PLACE, "det", "num") or then.kind == "")) or (
        after.kind == "conj" and after.value == "and"
    )


def _retracts(token: Token, before: Token, after: Token, then: Token) -> bool:
    """"..., no, far left": a bare word between marks that takes back what went before."""
    if before.kind not in ("mark", "correct"):
        return False
    if token.words == "actually":
        return after.kind in ("pron", "det", *PLACE, "mark")
    if token.words in ("sorry", "rather", "er", "well"):
        return token.words in ("sorry", "rather") and after.kind in ("mark", *PLACE, "det", "num", "pron")
    if token.words == "wait":
        return after.kind in ("mark", *PLACE, "det") and then.kind in (*PLACE, "det", "num", "noun", "pron", "mark", "")
    return after.value == SOFT and then.kind in (
        *PLACE, "det", "num", "pron", "shape", "correct", "word", "quant", "neg", "mark"
    )
