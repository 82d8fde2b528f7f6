"""Words that mean several things: which one is meant, by what stands beside them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from coach.language.en.clauses import verdicts
from coach.language.en.lexicon import Token
from coach.language.en.normalise import HARD, SOFT

_HOURS = {"12": "B", "3": "R", "6": "F", "9": "L"}
_NOTHING = Token("", "", "")
_ADJECTIVES = ("a", "like", "big", "full", "complete", "proper", "nice", "of", "perfect", "whole", "small", "little")
_PLACE = ("dir", "hand")
_PLACING = ("at", "in", "on", "by", "round", "behind", "under", "next")
_OPENERS = ("there", "i", "so", "now", "well")


@dataclass(frozen=True)
class Spot:
    """A token with its neighbours, and what is known of the whole answer."""

    tokens: Sequence[Token]
    at: int
    up: str
    clock: bool  # bare hours are places
    listing: bool  # yeses and noes stand after places
    wrong: bool  # something is called wrong
    said: bool  # something was described before

    def near(self, offset: int) -> Token:
        """The token so far away, or an empty one."""
        at = self.at + offset
        return self.tokens[at] if 0 <= at < len(self.tokens) else _NOTHING

    @property
    def words(self) -> str:
        return self.tokens[self.at].words


def settle(tokens: Sequence[Token], up: str) -> list[Token]:
    """The tokens, each with the sense it has here: hours, fillers, "plus", "line", bare "no" and so on."""
    clock, listing = _tells_by_clock(tokens), verdicts(tokens) > 1
    wrong = any(token.kind == "top" and token.words == "wrong" for token in tokens)
    out: list[Token] = []
    said = False
    for at, token in enumerate(tokens):
        spot = Spot(tokens, at, up, clock, listing, wrong, said)
        said = said or token.kind in (*_PLACE, "num", "shape", "linedir")
        if token.words in ("left right", "right left") and _goes_on(spot):
            out += [Token("dir", word[0].upper(), word) for word in token.words.split()]
            continue
        senses = (sense(spot, token) for sense in _SENSES)
        out.append(next((found for found in senses if found is not None), token))
    return out


def _tells_by_clock(tokens: Sequence[Token]) -> bool:
    """"Three o'clock and six", or "twelve and three" with nothing to count."""
    if any("clock" in token.words for token in tokens):
        return True
    numbers = [token for token in tokens if token.kind == "num"]
    hours = [token for token in numbers if token.value in _HOURS]
    counted = any(token.kind in ("noun", "dir") for token in tokens)
    return len(hours) == len(numbers) > 1 and not counted and any(t.value in ("12", "9", "6") for t in hours)


def _goes_on(spot: Spot) -> bool:
    return spot.near(1).kind in ("dir", "conj") and spot.near(2).kind != "mark"


# --- the senses: each gives the token its sense here, or None


def _hour(spot: Spot, token: Token) -> Token | None:
    if spot.clock and token.kind == "num" and token.value in _HOURS and spot.near(1).kind != "noun":
        return Token("dir", _HOURS[token.value], token.words)
    return None


def _plus(spot: Spot, token: Token) -> Token | None:
    if token.words != "plus":
        return None
    before = spot.near(-1)
    shape = before.kind in ("det", "quant", "colour") or before.words in _ADJECTIVES or len(spot.tokens) == 1
    return None if shape else Token("conj", "and", token.words)


def _filler(spot: Spot, token: Token) -> Token | None:
    filler = token.words in ("okay", "yeah", "yep", "yes", "right", "good", "fine") and _interjection(spot)
    after = spot.near(1)
    doubled = token.words in ("no", "nope", "nah") and (after.kind == "neg" or after.value == "none")
    return Token("word", token.words, token.words) if filler or doubled else None


def _interjection(spot: Spot) -> bool:
    """"Right, so it's a line", "okay", "yeah" between marks: said to nobody."""
    before, after = spot.near(-1), spot.near(1)
    if before.kind not in ("", "mark"):
        return False
    if spot.at and after.kind not in ("mark", "", "conj"):
        return before.kind == "mark" and after.kind in ("word", "skip")
    if _is_place(spot):
        return False
    counted = after.kind == "num" and after.words != "one"
    return after.kind in ("mark", "conj", "word", "skip", "") or (not spot.at and (after.kind == "pron" or counted))


def _is_place(spot: Spot) -> bool:
    """"Right" between marks is a place in a list of places, or where another one follows."""
    after, then = spot.near(1), spot.near(2)
    if spot.at and spot.near(-2).kind == "dir" and spot.near(-1).value == SOFT:
        return True
    if after.value == HARD and (then.kind in ("det", "pron") or then.words in _OPENERS):
        return False
    if after.kind == "mark":
        joined = then.kind == "conj" and then.value == "and"
        return joined or then.kind in (*_PLACE, "det", "num", "")
    return after.kind == "" or (after.kind == "conj" and after.value == "and")


def _verdict_right(spot: Spot, token: Token) -> Token | None:
    """"The back is wrong, the front is right"."""
    ends = spot.near(1).kind in ("", "mark", "conj")
    if token.words == "right" and spot.wrong and spot.near(-1).kind == "be" and ends:
        return Token("top", "yes", token.words)
    return None


def _emphasis(spot: Spot, token: Token) -> Token | None:
    return Token("word", token.words, token.words) if emphatic(spot.near(-1), token, spot.near(1)) else None


def emphatic(before: Token, token: Token, after: Token) -> bool:
    """"Right at the back": no place."""
    placed = after.kind == "prep" or after.words.split(" ")[0] in _PLACING
    return token.words == "right" and before.kind in ("", "mark", "be", "pron", "word") and placed


def _straight(spot: Spot, token: Token) -> Token | None:
    """"Straight at the back" is no line."""
    after = spot.near(1)
    if token.words == "straight" and (after.kind == "prep" or after.words.startswith(("at ", "on "))):
        return Token("word", token.words, token.words)
    return None


def _exception(spot: Spot, token: Token) -> Token | None:
    """"Everything but ..." leaves out, "nothing but ..." leaves only; "apart from the middle" says nothing."""
    after = spot.near(1)
    before = spot.tokens[: spot.at]
    if token.value == "except" and not _none(before) and "centre" in (after.value, spot.near(2).value):
        return Token("word", token.words, token.words)
    bare = token.words in ("but", "bar") and _universal(before, after) and not _predicated(spot)
    if token.value == "except" or bare:
        return Token("quant", "only" if _none(before) else "except", token.words)
    return None


def _universal(before: Sequence[Token], after: Token) -> bool:
    """The sentence so far speaks of all or none, without a place, and something to leave out follows."""
    sentence: list[Token] = []
    for token in before:
        sentence = [] if token.kind == "mark" else [*sentence, token]
    total = any(
        t.kind in ("noun", "quant") and t.value in ("everything", "all", "none", "nothing_else") for t in sentence
    )
    placed = any(t.kind in _PLACE and t.value != "U" for t in sentence)
    left_out = after.kind in ("det", "dir", "num", "noun", "hand", "quant") and after.value != "nothing_else"
    return total and not placed and left_out


def _predicated(spot: Spot) -> bool:
    """What follows in the clause has a verb of its own."""
    for token in spot.tokens[spot.at + 1 :]:
        if token.kind == "mark":
            return False
        if token.kind in ("be", "do", "have", "neg"):
            return True
    return False


def _none(before: Sequence[Token]) -> bool:
    for token in reversed(before):
        if token.kind == "mark":
            return False
        if token.kind == "quant" and token.value in ("none", "nothing_else"):
            return True
        if token.kind in ("neg", "top") and token.words.split()[0] == "no":
            return True
    return False


def _row_or_side(spot: Spot, token: Token) -> Token | None:
    """"The top line" is a row, "the left face" a side, "on the side near me" neither."""
    before, after = spot.near(-1), spot.near(1)
    if token.words == "line" and before.kind == "dir" and before.value != "U":
        return Token("noun", "row", token.words)
    if token.words in ("face", "faces"):
        named = before.kind == "det" or (before.kind == "dir" and after.kind not in ("dir", "facedir"))
        return Token("noun", "side", token.words) if named else None
    if token.words == "on the side" and after.kind in ("dir", "facedir", "hand"):
        return Token("prep", "prep", token.words)
    return None


def _looks(spot: Spot, token: Token) -> Token | None:
    """"It looks left" is facing; "looks like" is not."""
    after = spot.near(1)
    if token.words in ("looks", "look") and after.kind in ("dir", "facedir") and after.value != "U":
        return Token("face", "face", token.words)
    return None


def _pronoun(spot: Spot, token: Token) -> Token | None:
    """"Has it on the left": the colour. "Another one": one word."""
    before = spot.near(-1)
    if token.words == "it" and before.kind == "have":
        return Token("colour", spot.up, token.words)
    if token.words == "one" and before.words in ("another", "there is another"):
        return Token("pron", "one", token.words)
    return None


def _on_page(spot: Spot, token: Token) -> Token | None:
    """"Up and left", "the down one": directions on the page that the top is read like."""
    if token.words not in ("up", "down") or token.kind != "dir":
        return None
    before, after, then = spot.near(-1), spot.near(1), spot.near(2)
    joined = after.words == "and" and then.kind == "dir" and not then.value.startswith("page")
    joined = joined or (before.words == "and" and after.kind in ("", "mark", "conj"))
    if joined or (before.kind == "det" and after.words in ("one", "edge", "ones")):
        return Token("dir", "F" if token.words == "down" else "B", token.words)
    return None


def _retraction(spot: Spot, token: Token) -> Token | None:
    """"..., no, far left": a bare word between marks that takes back what went before."""
    before, after, then = spot.near(-1), spot.near(1), spot.near(2)
    if not spot.said or before.kind not in ("mark", "correct"):
        return None
    if token.words == "actually":
        takes_back = after.kind in ("pron", "det", "mark", *_PLACE)
    elif token.words in ("sorry", "rather"):
        takes_back = after.kind in ("mark", "det", "num", "pron", *_PLACE)
    elif token.words == "wait":
        goes_on = then.kind in ("det", "num", "noun", "pron", "mark", "", *_PLACE)
        takes_back = after.kind in ("mark", "det", *_PLACE) and goes_on
    elif token.words in ("no", "nope") and not spot.listing:
        takes_back = after.value == SOFT and then.kind in (
            *_PLACE, "det", "num", "pron", "shape", "correct", "word", "quant", "neg", "mark"
        )  # fmt: skip
    else:
        takes_back = False
    return Token("correct", "fix", token.words) if takes_back else None


_SENSES: tuple[Callable[[Spot, Token], Token | None], ...] = (
    _hour,
    _plus,
    _filler,
    _verdict_right,
    _emphasis,
    _exception,
    _straight,
    _row_or_side,
    _looks,
    _pronoun,
    _on_page,
    _retraction,
)
