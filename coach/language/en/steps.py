"""Where the learner is in the method: a step by its name or number, or by what is done and what is not."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import takewhile
from typing import Final

from coach.language.en.lexicon import Lexicon, Token, read_toml
from coach.language.meaning import Meaning, Scene

STEPS: Final = (
    "bottom-cross", "bottom-corners", "middle-edges", "top-cross", "top-face", "top-corners", "top-edges",
)  # fmt: skip
_NAMES: Final = {
    ("bottom", "cross"): "bottom-cross",
    ("bottom", "edges"): "bottom-cross",
    ("bottom", "corners"): "bottom-corners",
    ("bottom", "face"): "bottom-corners",
    ("bottom", "all"): "bottom-corners",
    ("middle", "edges"): "middle-edges",
    ("top", "cross"): "top-cross",
    ("top", "face"): "top-face",
    ("top", "all"): "top-face",
    ("top", "corners"): "top-corners",
    ("top", "edges"): "top-edges",
}
_PARTS: Final = ("cross", "corners", "edges", "all", "face")
"""A clause that names several is about the first of these: "the whole cross", "all the corners"."""

_OPENING: Final = 4  # words within which a question begins
_SHORT: Final = 7  # words of an answer that is not more than a number
_STEP_WORDS: Final = ("step", "steps", "please", "bit", "part", "stage", "station", "i", "thing", "thank")


@lru_cache(maxsize=1)
def _lexicon() -> Lexicon:
    return Lexicon(read_toml("steps.toml"))


def _tokens(words: Sequence[str], scene: Scene) -> list[Token]:
    own: dict[str, tuple[str, str]] = {}
    for face, layer in (("D", "bottom"), ("U", "top")):
        for word in scene.colours[face].casefold().split():
            own |= {word: ("colour", layer), f"{word}s": ("colour", layer)}
    return _lexicon().tokens(words, own)


def named_step(words: Sequence[str], scene: Scene) -> str | None:
    """The step that is named, by its name or its number, and nothing said of what is done."""
    tokens = _tokens(words, scene)
    names = {name for clause in _clauses(tokens) if (name := _name(clause, ""))}
    return names.pop() if len(names) == 1 else None if names else _number(tokens, ("ordinal",))


def read_step(words: Sequence[str], scene: Scene, bare: bool = True) -> Meaning | None:
    """What an answer to "which step are you at?" means, apart from the commands that are always open.

    `bare` tells whether a number without "step" counts.
    """
    tokens = _tokens(words, scene)
    kinds = {token.kind for token in tokens}
    if "ask" in {token.kind for token in tokens[:_OPENING]} and "after" not in kinds:
        return Meaning(command="explain", step=named_step(words, scene))
    if "find" in kinds:
        return Meaning(command="read")
    step = _step(tokens, bare)
    if step:
        return Meaning(step=step)
    if "again" in kinds:
        return Meaning(command="resume")
    return Meaning(step=STEPS[0]) if "start" in kinds else None


def _step(tokens: Sequence[Token], bare: bool) -> str | None:
    counted = _number(tokens, ("nth", "number")) if bare else None
    return _number(tokens, ("ordinal",)) or _described(tokens) or counted


def _number(tokens: Sequence[Token], kinds: tuple[str, ...]) -> str | None:
    """A step by its number, of several the last; the one after it where it is done."""
    said = [token for token in tokens if token.kind not in ("mark", "split")]
    if any(token.words == "not" or token.kind == "start" for token in said):
        return None
    if "nth" in kinds and (len(said) > _SHORT or any(token.kind == "part" for token in said)):
        return None
    numbers = [at for at, token in enumerate(said) if token.kind in kinds and not _of_other(said, token)]
    if not numbers:
        return None
    number = int(said[numbers[-1]].value) + _is_past(tokens, said[numbers[-1]])
    return STEPS[number - 1] if 0 < number <= len(STEPS) else None


def _is_past(tokens: Sequence[Token], number: Token) -> bool:
    """Whether a step told by number is done ("step four I made", "I have done three", "what is after the third")."""
    at = tokens.index(number)
    near = (*tokens[max(0, at - 2) : at], *takewhile(lambda token: token.kind != "mark", tokens[at : at + 3]))
    done = any(token.kind == "done" or token.words in ("down", "behind") for token in near)
    return done or any(token.kind == "after" for token in tokens)


def _of_other(said: Sequence[Token], number: Token) -> bool:
    """A number of something that the method does not have ("the second drawer")."""
    after = said[said.index(number) + 1 :]
    return number.kind != "ordinal" and bool(after) and after[0].kind == "word" and after[0].words not in _STEP_WORDS


def _clauses(tokens: Sequence[Token]) -> Iterator[list[Token]]:
    """What is said of one part each: a further part after what was said of one begins a clause as well."""
    clause: list[Token] = []
    for token in tokens:
        ends = token.kind in ("mark", "split")
        if ends or (token.kind == "part" and _is_told(clause)):
            yield clause
            clause = []
        if not ends:
            clause.append(token)
    yield clause


def _is_told(clause: Sequence[Token]) -> bool:
    parts = [at for at, token in enumerate(clause) if token.kind == "part"]
    return bool(parts) and any(token.kind in ("done", "open") for token in clause[parts[0] + 1 :])


def _described(tokens: Sequence[Token]) -> str | None:
    """The step after the last that is done; else the one that is under way."""
    done: set[str] = set()
    at: set[str] = set()
    corners = False
    layer = ""
    shown = [token.value for token in tokens if token.kind == "shows"]
    if shown:
        return shown[0]
    after = any(token.kind == "after" for token in tokens)
    for clause in _clauses(tokens):
        layer = _layer(clause) or layer
        step, kinds = _name(clause, layer), {token.kind for token in clause}
        parts = {token.value for token in clause if token.kind == "part"}
        if step is None and corners and "edges" in parts:
            at.add("top-edges")  # with the corners home, whichever edges are left are the last
        if step is not None:
            (done if _is_done(clause, kinds, after) else at).add(step)
        corners = corners or ("corners" in parts and "done" in kinds and "open" not in kinds)
    if done:
        last = max(map(STEPS.index, done))
        return STEPS[last + 1] if last + 1 < len(STEPS) else None
    if not at and _is_top_left(tokens):
        return "top-cross"
    return at.pop() if len(at) == 1 else None


def _is_top_left(tokens: Sequence[Token]) -> bool:
    """The top layer is all that is left ("everything but the top")."""
    kinds = {token.kind for token in tokens}
    top = any((token.kind, token.value) == ("layer", "top") for token in tokens)
    left = {"open", "except"} & kinds or any(token.words == "last layer" for token in tokens)
    parts = {token.value for token in tokens if token.kind == "part"} - {"all"}
    return top and bool(left) and not parts and not {"number", "colour"} & kinds


def _is_done(clause: Sequence[Token], kinds: set[str], after: bool) -> bool:
    """Whether a clause says that what it names is whole, and not only a part of it."""
    counted = "number" in kinds and any(token.value in ("corners", "edges") for token in clause)
    if counted or "open" in kinds:
        return False
    whole = _part(clause) == "all" or any(token.value == "middle-edges" for token in clause)
    return whole or after or "done" in kinds or ("part" not in kinds and {"colour", "layer"} <= kinds)


def _layer(clause: Sequence[Token]) -> str:
    layers = [token.value for kind in ("layer", "colour") for token in clause if token.kind == kind]
    return layers[0] if layers else ""


def _part(clause: Sequence[Token]) -> str:
    parts = {token.value for token in clause if token.kind == "part"}
    return next((part for part in _PARTS if part in parts), "")


def _name(clause: Sequence[Token], layer: str) -> str | None:
    """The step that a clause names, or says something of."""
    layer = _layer(clause) or layer
    for token in clause:
        if token.kind == "built":
            return token.value
        if token.value == "middles":
            return "top-edges" if layer == "top" else "middle-edges"
    part, kinds = _part(clause), [token.kind for token in clause]
    if not part and {"colour", "layer"} <= set(kinds):
        part = "face"  # "the top is yellow"
    if layer == "top" and part == "corners" and "colour" in kinds[kinds.index("part") :]:
        part = "face"  # "the corners are not yellow"
    return _NAMES.get((layer, part))
