"""An answer in everyday English to its meaning."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache

from coach.language.en import commands as acts
from coach.language.en.cells import CELLS, POSSIBLE
from coach.language.en.claims import asks, goes_on, weighed
from coach.language.en.closing import Look
from coach.language.en.lexicon import Lexicon, Token, lexicon
from coach.language.en.look import describe
from coach.language.en.naming import own_word
from coach.language.en.normalise import normalise
from coach.language.en.piece import PieceReader, locate
from coach.language.en.row import read_colours
from coach.language.en.steps import read_step
from coach.language.en.wishes import wish
from coach.language.meaning import Meaning, Question, Scene

_OF_PIECES = (
    "layer", "dir", "hand", "facedir", "face", "noun", "neg", "be", "or", "quant", "correct", "conj", "det", "prep",
    "skip",
)  # fmt: skip


@lru_cache(maxsize=1)
def _looking() -> Lexicon:
    return Lexicon({k: v for k, v in lexicon().tables.items() if k != "layer"})


@lru_cache(maxsize=1)
def _finding() -> Lexicon:
    return Lexicon({kind: lexicon().tables[kind] for kind in _OF_PIECES})


def _extra(scene: Scene) -> dict[str, tuple[str, str]]:
    """The learner's words for the colours (or marks) of the moment."""
    words: dict[str, tuple[str, str]] = {}
    for name in scene.names:
        for word in normalise(name):
            words |= {f"{word}s": ("colour", name), word: ("colour", name)}
    if scene.usual:
        felt = lexicon().tables["mark"]["felt"]
        words |= {word: ("colour", scene.up) for word in felt if " " not in word}
    return words


_ASKS_STEP = ("step", "return")


def understand(text: str, asked: Question, scene: Scene) -> Meaning | None:
    """The meaning of `text` as an answer to `asked`, or None when the coach can use nothing of it."""
    words = normalise(text)
    if not words:
        return None
    change = wish(words, scene)
    if change and not ("step" in change and scene.about in _ASKS_STEP):
        return Meaning(change=change)
    reader = {"look-top-edges": _look, "look-top-corners": _look, "piece": _piece, "row": _row, "face": _row}.get(
        asked, _talk
    )
    meaning = reader(words, asked, scene)
    if not meaning and "?" in text and acts.names_term(words):
        return Meaning(command="explain")
    return meaning or None


_OTHER_WORDS = 4  # so many, and more than half of all: the talk is of something else
_TELLING = ("dir", "hand", "layer", "colour", "facedir", "line", "linedir", "noun", "neg")
_SHAPES = ("dot", "line", "cross")
_DENIED_TOO = re.compile(r"\bnot (?:\w+ )?(?:as well|too)\b")
"""Those that are not are not "either"; "aren't" was heard for "are"."""

def doubtful(text: str, asked: Question, scene: Scene) -> bool:
    """Whether a description, as it was heard, says what cannot be so together, or is of something else."""
    words = normalise(text)
    if words and asked in ("look-top-edges", "look-top-corners"):
        tokens, described = _described(words, asked, scene)
        told = _look_meant(words, asked, tokens, described)
        if told.command and not told.look:
            return False  # "the bottom's gone wrong" describes nothing
        if _DENIED_TOO.search(" ".join(words)) or described.clashes or _impossible(described.look):
            return True
        return bool(described) and _of_something_else(tokens)
    if asked == "piece":
        reader = PieceReader(scene.names)
        reader.read(_finding().tokens(words, _extra(scene)))
        return reader.clashes
    return False


def _impossible(look: Mapping[str, bool]) -> bool:
    """Whether no cube with its two lower layers whole looks so; who sees four does not tell of three."""
    told = {kind: [look[cell] for cell in pieces if cell in look] for kind, pieces in CELLS.items()}
    return any(sum(ups) == 3 or (len(ups) == 4 and sum(ups) not in POSSIBLE[kind]) for kind, ups in told.items())


def _of_something_else(tokens: Sequence[Token]) -> bool:
    said = [token for token in tokens if token.kind != "mark"]
    strange = sum(token.kind == "word" for token in said)
    telling = any(token.kind in _TELLING or token.words in _SHAPES for token in said)
    return strange >= _OTHER_WORDS and 2 * strange > len(said) and not telling


def _look(words: list[str], asked: Question, scene: Scene) -> Meaning:
    return _look_meant(words, asked, *_described(words, asked, scene))


def _described(words: list[str], asked: Question, scene: Scene) -> tuple[Sequence[Token], Look]:
    """The words of an answer to a look, and what they say of the top."""
    tokens = _looking().tokens(words, _extra(scene))
    return tokens, describe(tokens, "edge" if asked == "look-top-edges" else "corner", scene.up)


def _look_meant(words: list[str], asked: Question, tokens: Sequence[Token], look: Look) -> Meaning:
    """What an answer means that says this of the top."""
    command = acts.particular(words, asked)
    if acts.done_top(words) and not any(map(_names_part, tokens)):
        return Meaning(dict.fromkeys((*CELLS["edge"], *CELLS["corner"]), True), command="done-top")
    if acts.corrects(words) and not any(look.look.values()):
        return Meaning(command="correct")
    if command == "layers-broken" or (command == "explain" and (not look.look or acts.explains(words))):
        return Meaning(command=command)
    if not look:
        return Meaning(command=command or ("unsure" if acts.cannot_tell(words) else acts.command(words, asked)))
    retold = look.corrected or ("actually" in words[:2] and "not" in words)
    return _said(look, "correct" if retold else None)


def _names_part(token: Token) -> bool:
    """The token names a part of the top, so that not all of it is meant."""
    place = token.kind in ("dir", "hand") and token.value not in ("U", "pageB")
    return place or (token.kind == "noun" and token.value.startswith("row"))


def _said(look: Look, command: str | None) -> Meaning:
    return Meaning(look.look, look.shape, look.edges, look.corners, command=command)


def _piece(words: list[str], asked: Question, scene: Scene) -> Meaning:
    tokens = _finding().tokens(words, _extra(scene))
    place, shows = locate(tokens, scene.names, scene.piece, scene.colours)
    if place or shows:
        return Meaning(place=place, shows=shows)
    command = "unsure" if acts.unsure(words) else acts.command(words, asked)
    if scene.about == "placed" and command is None and (said := acts.command(words, "claim")) in ("yes", "no"):
        command = said  # whether the piece before it is in
    return Meaning(command=command)


def _row(words: list[str], asked: Question, scene: Scene) -> Meaning:
    colours = read_colours(_looking().tokens(words, _extra(scene)), 3 if asked == "row" else 9)
    if colours:
        return Meaning(colours=colours)
    return Meaning(command="unsure" if acts.unsure(words) else acts.command(words, asked))


_NO_STEP = ("yes", "no", "next", "ready", "restart-run", "done-top", "layers-broken")
"""What is of no use where the coach has asked for the step."""


def _other(words: list[str], asked: Question, scene: Scene) -> Meaning:
    """An answer to a question of the kind "other", by what it is about."""
    if scene.about == "front":
        return _front(words, scene)
    command = acts.command(words, asked)
    if scene.about == "colour":
        wrong = acts.finds_wrong(words)
        return Meaning(command="no") if wrong else Meaning(command=command) if command else _named(words)
    if scene.about in _ASKS_STEP:
        return _step(words, command, scene)
    return Meaning(command=command)


def _front(words: list[str], scene: Scene) -> Meaning:
    """Which of the learner's colours or marks faces them."""
    said = [name for name in scene.names if all({word, f"{word}s"} & set(words) for word in normalise(name))]
    if len(said) == 1:
        return Meaning(colours=(said[0],))
    return Meaning(command="unsure" if acts.unsure(words) else acts.command(words, "other"))


def _named(words: list[str]) -> Meaning:
    if question := asks(words):
        return Meaning(command=question)
    name = own_word(words)
    return Meaning(colours=(name,) if name else ())


def _step(words: list[str], command: str | None, scene: Scene) -> Meaning:
    if command == "layers-broken":
        return Meaning(command=command)
    said = read_step(words, scene, bare=command is None)
    if said and not (scene.about == "return" and said.command and command in ("yes", "no")):
        return said
    return Meaning(command=None if command in _NO_STEP and scene.about == "step" else command)


def _talk(words: list[str], asked: Question, scene: Scene) -> Meaning:
    if asked == "other" and scene.about:
        return _other(words, asked, scene)
    command = acts.command(words, asked)
    if asked in ("turn", "ready") and command in ("next", "ready") and not goes_on(words):
        return Meaning(command="explain")
    if asked != "claim" or command not in (None, "yes", "no", "unsure"):
        return Meaning(command=command)
    told = weighed(words, command)
    if told != command:
        return Meaning(command=told)
    kind = _claims_of(scene)
    tokens = _looking().tokens(words, _extra(scene))
    look = describe(tokens, kind, scene.up)
    if not acts.answers(words):
        command = (_bears_out(tokens, look, scene) if kind else _is_cross(look)) or command
    return Meaning(command=command, shape=look.shape if command == "no" else None)


def _claims_of(scene: Scene) -> str:
    """The kind of piece that a claim tells of, where it is about some of that kind only."""
    return next((kind for kind, cells in CELLS.items() if scene.claim and scene.claim.keys() < set(cells)), "")


def _bears_out(tokens: Sequence[Token], look: Look, scene: Scene) -> str | None:
    """What a description says to a claim: "yes", "no", or None where it leaves it open."""
    colours = {token.value for token in tokens if token.kind == "colour"}
    told = [look.look[cell] == shown for cell, shown in scene.claim.items() if cell in look.look]
    if False in told or (colours and scene.up not in colours):
        return "no"
    sideways = any(token.kind in ("face", "facedir") and token.value != "U" for token in tokens)
    return "yes" if len(told) == len(scene.claim) and not sideways else None


def _is_cross(look: Look) -> str | None:
    """The same to the claim that there is a cross."""
    edges = [look.look.get(cell) for cell in CELLS["edge"]]
    if look.shape or None not in edges:
        return "yes" if all(edges) else "no"
    return None
