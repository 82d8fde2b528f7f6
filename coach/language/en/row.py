"""Rows and faces read aloud: colours in the order they were said."""

from __future__ import annotations

from collections.abc import Sequence

from coach.language.en.lexicon import Token


def read_colours(tokens: Sequence[Token], size: int) -> tuple[str, ...]:
    """The colours of a row of `size` stickers, or as many as were said."""
    said: list[str] = []
    times, fill, correcting = 1, False, False
    for at, token in enumerate(tokens):
        if token.kind == "num":
            times = int(token.value) or 1
        elif token.kind == "quant" and token.value in ("all", "both"):
            fill, times = token.value == "all", 2 if token.value == "both" else times
        elif token.kind == "noun" and token.value in ("everything", "row"):
            fill = fill or token.value == "everything"
        elif token.kind == "correct":
            correcting = True
        elif token.kind == "colour":
            if correcting and said:
                said.pop()
            correcting = False
            after = tokens[at + 1].words if at + 1 < len(tokens) else ""
            times = {"twice": 2, "thrice": 3}.get(after, times)
            said.extend([token.value] * (size if fill and not said else times))
            times, fill = 1, False
    if "all" in {t.value for t in tokens if t.kind == "quant"} and len(said) == 1:
        said = said * size
    ends = any(token.value == "end" for token in tokens)
    if ends and len(said) == 2 and size == 3:
        first_middle = any(t.value == "centre" for t in tokens[: next(i for i, t in enumerate(tokens) if t.value == "end")])
        outer, inner = (said[1], said[0]) if first_middle else (said[0], said[1])
        return (outer, inner, outer)
    return tuple(said[:size])
