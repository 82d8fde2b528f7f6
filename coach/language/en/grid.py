"""The top read out square by square: nine yeses and noes (or colours), row by row like a page."""

from __future__ import annotations

from collections.abc import Sequence

from coach.language.en.lexicon import Token
from coach.language.en.normalise import HARD, SOFT

_LABELS = frozenset(
    ("row", "rows", "line", "then", "and", "next", "top", "middle", "bottom", "first", "second", "third", "last",
     "back", "front", "near", "far", "reading", "reads", "looks", "like", "this", "across", "goes", "go", "it",
     "is", "the", "in", "so", "i", "read", "from", "left", "to", "right", "at", "are", "have", "has", "all", "one",
     "by", "okay", "um", "that", "starting", "start", "with", "now")
)  # fmt: skip
"""Words that may stand between the squares: they only say which row comes."""
_NEAR = ("bottom", "front", "near", "nearest", "closest")


def read_grid(tokens: Sequence[Token], up: str) -> dict[str, bool] | None:
    """The nine top stickers, where exactly nine were read out; None for any other answer."""
    parted: list[Token] = []
    for token in tokens:
        if token.words == "no yellow":
            parted += [Token("neg", "not", "no"), Token("colour", up, "yellow")]
        else:
            parted.append(token)
    return _nine(parted, up) or _nine(tokens, up)


def _nine(tokens: Sequence[Token], up: str) -> dict[str, bool] | None:
    squares: list[bool] = []
    times, every = 1, False
    first_label = ""
    row_open = False
    for token in tokens:
        shown: bool | None = None
        if token.kind == "colour":
            shown = token.value == up
        elif token.kind == "top" or (token.kind == "neg" and token.words in ("no", "not")):
            shown = token.value == "yes"
            if token.words in ("okay", "right"):
                shown = None
        elif token.kind == "quant" and token.value == "none" and row_open:
            shown, times = False, 3
        elif token.kind == "num":
            times = int(token.value) or 1
            continue
        elif token.kind == "quant" and token.value == "all":
            every = True
            continue
        elif not all(word in _LABELS or word in (HARD, SOFT) for word in token.words.split()):
            return None
        else:
            if not squares and not first_label and token.kind in ("dir", "noun"):
                first_label = token.words
            row_open = row_open or token.kind == "noun" or token.words in ("line",)
            continue
        if shown is None:
            continue
        squares.extend([shown] * (3 if every else times))
        times, every = 1, False
    if len(squares) != 9:
        return None
    if first_label.split()[:1] and first_label.split()[0] in _NEAR:
        squares = squares[6:] + squares[3:6] + squares[:3]
    return {f"U{place}": shown for place, shown in enumerate(squares) if place != 4}


def read_run(tokens: Sequence[Token], up: str, pieces: Sequence[str]) -> dict[str, bool]:
    """Four yeses, or four noes, and nothing else ("no, no, no and no"), for the four `pieces` asked for."""
    run = []
    for token in tokens:
        if token.kind == "top" and token.words in ("yes", "yep", "yeah", "no", "nope", "nah"):
            run.append(token.value == "yes")
        elif token.kind == "neg" and token.words == "no":
            run.append(False)
        elif token.kind not in ("mark", "conj", "word"):
            return {}
    return dict.fromkeys(pieces, run[0]) if len(run) == 4 and len(set(run)) == 1 else {}
