"""Where one statement ends and the next begins, with or without punctuation."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from coach.language.en.lexicon import Token
from coach.language.en.normalise import SOFT

_NOTHING = Token("", "", "")
_SUBJECT = ("dir", "noun", "pron", "num", "hand", "quant")
_STARTS = ("det", "dir", "hand", "num", "quant", "pron", "noun")
_VERBS = ("be", "have", "do")
_PREDICATE = (*_VERBS, "face", "facedir", "top", "same")
_AFTER_VERDICT = ("mark", "dir", "det", "hand", "conj", "num", "quant")
_LED = ("at", "on", "to", "by", "in", "near", "towards", "away")
_PIECES = ("corner", "corners", "edge", "edges", "row2", "column2")


def split(tokens: Sequence[Token]) -> list[list[Token]]:
    """The clauses: cut at marks, corrections and contrasts, at "and" between two predicates, and, where
    nothing is punctuated, where a new subject follows a finished statement."""
    clauses: list[list[Token]] = [[]]
    listing, leading = verdicts(tokens) > 1, _leading(tokens)
    for at, token in enumerate(tokens):
        clause = clauses[-1]
        verdict = leading and _is_verdict(token) and bool(clause)
        if verdict or (not leading and _new_subject(clause, tokens, at, listing)) or _divides(clause, tokens, at):
            clauses.append([token])
        else:
            clause.append(token)
    return _attach([clause for clause in clauses if clause])


def _divides(clause: Sequence[Token], tokens: Sequence[Token], at: int) -> bool:
    token = tokens[at]
    if token.kind == "conj" and token.value == "and":
        return (predicated(clause) or _counted(clause)) and predicated(_ahead(tokens, at))
    return token.kind in ("mark", "correct", "same") or (token.kind == "conj" and token.value in ("but", "because"))


def verdicts(tokens: Sequence[Token]) -> int:
    """How many places are followed at once by a yes or a no ("left yes, right no")."""
    total = 0
    for at, (before, token) in enumerate(pairwise(tokens), 1):
        after = tokens[at + 1].kind if at + 1 < len(tokens) else "mark"
        verdict = token.kind == "top" or (token.kind == "neg" and token.words == "no")
        total += verdict and before.kind in ("dir", "hand", "noun", "pron") and after in _AFTER_VERDICT
    return total


def _is_verdict(token: Token) -> bool:
    return (token.kind == "top" and token.words in ("yes", "yep", "no", "nope")) or (
        token.kind == "neg" and token.words == "no"
    )


def _leading(tokens: Sequence[Token]) -> bool:
    """Every place has its yes or no before it ("yes near left, no near right")."""
    content = [t for t in tokens if t.kind not in ("mark", "word", "prep", "det", "conj")]
    if len(content) < 4 or not _is_verdict(content[0]) or _is_verdict(content[-1]):
        return False
    doubled = any(_is_verdict(one) and _is_verdict(two) for one, two in pairwise(content))
    return sum(map(_is_verdict, content)) > 1 and not doubled


def _ahead(tokens: Sequence[Token], at: int) -> list[Token]:
    """The rest of the clause after `at`, up to a mark or a joint."""
    ahead = []
    for token in tokens[at + 1 :]:
        if token.kind in ("mark", "correct") or (token.kind == "conj" and token.value in ("and", "but")):
            break
        ahead.append(token)
    return ahead


def predicated(tokens: Sequence[Token]) -> bool:
    """It has a subject and says something of it."""
    kinds = [token.kind for token in tokens]
    return any(kind in _PREDICATE and any(k in _SUBJECT for k in kinds[:at]) for at, kind in enumerate(kinds))


def _counted(clause: Sequence[Token]) -> bool:
    """So many at a place, without a verb: "both at the back"."""
    many = next((at for at, token in enumerate(clause) if token.kind in ("quant", "num")), len(clause))
    return any(
        token.kind in ("dir", "hand") and (token.words.split()[0] in _LED or before.kind == "prep")
        for before, token in pairwise(clause[many:])
    )


def _placed(clause: Sequence[Token]) -> bool:
    """It names a place or a kind of piece."""
    return any(
        (t.kind in ("dir", "hand") and t.value != "U")
        or (t.kind == "quant" and t.value == "rest")
        or (t.kind == "noun" and t.value in _PIECES)
        for t in clause
    )


def _finished(clause: Sequence[Token], listing: bool) -> bool:
    """The clause has a subject and its predicate is complete."""
    if len(clause) < 2 or not (_placed(clause) or any(t.kind == "num" for t in clause)):
        return False
    last, before = clause[-1], clause[-2]
    if last.kind == "dir" and last.value == "U":
        return predicated(clause)
    if last.kind == "colour":
        return before.kind in ("be", "have", "neg") or before.words in ("all", "completely", "both", "solid")
    if last.kind == "neg":
        return before.kind in _VERBS or (listing and before.kind in ("dir", "noun", "pron", "hand"))
    return last.kind == "top"


def _goes_on(token: Token, last: Token) -> bool:
    """The token cannot begin a statement after a finished one: it still belongs to it."""
    if token.kind == "dir":
        return token.value == "U" or token.words.split()[0] in _LED
    if token.kind == "noun":
        return token.value in ("side", "sides", "end", "ends", "each_side") or (
            last.kind == "colour" and token.value in ("sticker", "stickers")
        )
    if token.kind == "quant" and token.value in ("nothing_else", "except"):
        return True
    return last.kind == "neg" and token.kind in ("num", "quant")


def _new_subject(clause: Sequence[Token], tokens: Sequence[Token], at: int, listing: bool) -> bool:
    """`tokens[at]` begins a statement of its own, though no mark says so."""
    token, last = tokens[at], clause[-1] if clause else _NOTHING
    after = tokens[at + 1] if at + 1 < len(tokens) else _NOTHING
    if token.kind in _STARTS and not _goes_on(token, last) and _finished(clause, listing):
        return True
    if token.kind == "quant" and token.value == "only" and any(t.kind in ("dir", "hand", "noun") for t in clause):
        return last.kind not in (*_VERBS, "neg", "conj", "det") and after.kind not in ("", "mark", "conj")
    if not _placed(clause):
        return False
    if token.kind == "det" and after.kind in ("dir", "hand") and last.kind in ("dir", "hand", "noun", "pron"):
        return predicated(_ahead(tokens, at))
    if token.kind == "quant" and last.kind not in (*_VERBS, "conj", "neg", "prep"):
        named = any(t.kind in ("dir", "hand", "num", "noun") for t in tokens[at + 1 : at + 6])
        return token.value == "rest" or (token.value == "none" and named)
    if token.kind == "noun" and token.value == "everything":
        return last.kind not in ("be", "have")
    if token.kind == "dir":
        return _side_next(clause, last, after)
    return _colour_again(clause, token, last, after)


def _side_next(clause: Sequence[Token], last: Token, after: Token) -> bool:
    """"No corners left face has two": a side with a verb of its own."""
    if after.kind in ("noun", "face") and after.words in ("side", "face"):
        return last.kind in ("noun", "pron", "colour") and last.value != "side"
    verb = after.kind == "have" and last.kind in ("noun", "pron", "colour", "det")
    return verb and any(t.kind == "noun" for t in clause)


def _colour_again(clause: Sequence[Token], token: Token, last: Token, after: Token) -> bool:
    """"Yellow at the back yellow at the left no yellow at the front"."""
    coloured = token.kind == "colour" or token.words == "no yellow" or (token.kind == "neg" and after.kind == "colour")
    if not coloured or not any(t.kind == "colour" for t in clause):
        return False
    return last.kind in ("dir", "hand", "noun") and clause[0].kind in ("colour", "mark", "neg", "be", "top")


def _attach(clauses: Sequence[Sequence[Token]]) -> list[list[Token]]:
    """A verdict set off by a comma ("the back row, nothing") belongs to the place before it."""
    joined: list[list[Token]] = []
    for clause in clauses:
        body = _body(clause)
        before = next((c for c in reversed(joined) if _body(c)), None)
        bereft = before is not None and _placed(before) and not predicated(before) and before[0].kind != "correct"
        if before is not None and bereft and clause[0].value == SOFT and _lacks_subject(body):
            before.extend(body)
        else:
            joined.append(list(clause))
    return joined


def _body(clause: Sequence[Token]) -> list[Token]:
    return [token for token in clause if token.kind not in ("mark", "word")]


def _lacks_subject(body: Sequence[Token]) -> bool:
    """It begins with a verb, or is nothing but a yes or a no."""
    if not body or body[0].kind in ("have", "face", "facedir"):
        return bool(body)
    total = ("none", "both", "all")
    opens = body[0].kind in ("top", "be", "do", "quant") or (body[0].kind == "neg" and body[0].words == "no")
    return opens and all(
        t.kind in ("top", "be", "do", "neg", "colour", "have") or (t.kind == "quant" and t.value in total)
        for t in body
    )
