"""Rows and faces read aloud: colours in the order they were said."""

from __future__ import annotations

from collections.abc import Sequence

from coach.language.en.lexicon import Token

_TIMES = {"twice": 2, "thrice": 3}
MOST = 9


def read_colours(tokens: Sequence[Token], size: int) -> tuple[str, ...]:
    """The colours of a row (or face) of `size` stickers in order, as many as were said, at most `MOST`.

    A correction replaces the colour before it, or all of them where a whole row follows it.
    """
    said: list[str] = []
    kept = 0
    times, fill, correcting = 1, False, False
    for at, token in enumerate(tokens):
        if token.kind == "num":
            times = max(1, int(token.value))
        elif token.kind == "quant" and token.value in ("all", "both"):
            fill, times = token.value == "all", 2 if token.value == "both" else times
        elif token.kind == "noun" and token.value == "everything":
            fill = True
        elif token.kind == "correct" or (token.words in ("no", "sorry") and said):
            correcting = True
        elif token.kind == "colour":
            if correcting:
                kept = len(said)
                correcting = False
            after = tokens[at + 1].words if at + 1 < len(tokens) else ""
            said.extend([token.value] * (size if fill and not said else _TIMES.get(after, times)))
            times, fill = 1, False
    if kept:
        said = said[kept:] if len(said) - kept >= size else said[: kept - 1] + said[kept:]
    return _ends(tokens, said) if size == 3 else tuple(said[:MOST])


def _ends(tokens: Sequence[Token], said: list[str]) -> tuple[str, ...]:
    """"Red at the ends, white in the middle"."""
    places = [at for at, t in enumerate(tokens) if t.value == "ends" or (t.kind == "part" and t.value == "outer")]
    colours = [at for at, token in enumerate(tokens) if token.kind == "colour"]
    if len(said) != 2 or len(colours) != 2 or not places:
        return tuple(said[:MOST])
    outer, inner = (said[0], said[1]) if places[0] < colours[1] else (said[1], said[0])
    return (outer, inner, outer)
