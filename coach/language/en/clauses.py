"""Where one statement ends and the next begins, with or without punctuation."""

from __future__ import annotations

from collections.abc import Sequence

from coach.language.en.lexicon import Token
from coach.language.en.normalise import HARD, SOFT

_SUBJECT = ("dir", "noun", "pron", "num", "hand", "quant")
_STARTS = ("det", "dir", "hand", "num", "quant", "pron", "noun")
_PREDICATE = ("be", "have", "do", "face", "facedir", "top", "same")


def split(tokens: Sequence[Token]) -> list[list[Token]]:
    """The clauses: cut at marks, corrections and contrasts, at "and" between two predicates, and, where
    nothing is punctuated, where a new subject follows a finished statement."""
    clauses: list[list[Token]] = [[]]
    listing = verdicts(tokens) > 1
    leading = _leading(tokens)
    for at, token in enumerate(tokens):
        clause = clauses[-1]
        new = [token]
        if token.kind in ("mark", "correct", "same") or (token.kind == "conj" and token.value in ("but", "because")):
            clauses.append(new)
        elif token.kind == "conj" and token.value == "and" and predicated(clause) and predicated(_ahead(tokens, at)):
            clauses.append(new)
        elif leading and _is_verdict(token) and clause:
            clauses.append(new)
        elif not leading and _new_subject(clause, tokens, at, listing):
            clauses.append(new)
        else:
            clause.append(token)
    return _attach([clause for clause in clauses if clause])


def verdicts(tokens: Sequence[Token]) -> int:
    """How many places are followed at once by a yes or a no ("left yes, right no")."""
    total = 0
    for at, token in enumerate(tokens[1:], 1):
        verdict = token.kind == "top" or (token.kind == "neg" and token.words == "no")
        if verdict and tokens[at - 1].kind in ("dir", "hand", "noun", "pron"):
            ends = at + 1 == len(tokens) or tokens[at + 1].kind in ("mark", "dir", "det", "hand", "conj", "num", "quant")
            total += ends
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
    return sum(map(_is_verdict, content)) > 1 and not any(
        _is_verdict(one) and _is_verdict(two) for one, two in zip(content, content[1:], strict=False)
    )


def _ahead(tokens: Sequence[Token], at: int) -> list[Token]:
    ahead = []
    for token in tokens[at + 1 :]:
        if token.kind in ("mark", "correct") or (token.kind == "conj" and token.value in ("and", "but")):
            break
        ahead.append(token)
    return ahead


def predicated(tokens: Sequence[Token]) -> bool:
    """It has a subject and says something of it."""
    kinds = [token.kind for token in tokens]
    return any(
        kind in _PREDICATE and any(k in _SUBJECT for k in kinds[:at]) for at, kind in enumerate(kinds)
    )


def _placed(clause: Sequence[Token]) -> bool:
    return any(
        (t.kind in ("dir", "hand") and t.value != "U")
        or (t.kind == "quant" and t.value == "rest")
        or (t.kind == "noun" and t.value in ("corner", "corners", "edge", "edges", "row2", "column2"))
        for t in clause
    )


def _finished(clause: Sequence[Token], listing: bool) -> bool:
    """The clause has a subject and its predicate is complete."""
    if len(clause) < 2:
        return False
    last, before = clause[-1], clause[-2]
    counted = any(t.kind == "num" for t in clause)
    if not (_placed(clause) or counted):
        return False
    if last.kind == "top":
        return True
    if last.kind == "dir" and last.value == "U":
        return predicated(clause)
    if last.kind == "colour":
        return before.kind in ("be", "have", "neg") or before.words in ("all", "completely", "both", "solid")
    if last.kind == "neg":
        return before.kind in ("be", "have", "do") or (listing and before.kind in ("dir", "noun", "pron", "hand"))
    return False


def _new_subject(clause: Sequence[Token], tokens: Sequence[Token], at: int, listing: bool) -> bool:
    """`tokens[at]` begins a statement of its own."""
    token = tokens[at]
    after = tokens[at + 1] if at + 1 < len(tokens) else Token("", "", "")
    last = clause[-1] if clause else Token("", "", "")
    led = token.kind == "dir" and token.words.split()[0] in ("at", "on", "to", "by", "in", "near", "towards", "away")
    led = led or (token.kind == "noun" and token.value in ("side", "sides", "end", "ends", "each_side"))
    if token.kind in _STARTS and not led and not (token.kind == "dir" and token.value == "U") and _finished(clause, listing):
        return not (token.kind == "quant" and token.value in ("nothing_else", "except")) and not (
            last.kind == "neg" and token.kind in ("num", "quant")
        )
    if token.kind == "quant" and token.value == "only" and any(t.kind in ("dir", "hand", "noun") for t in clause):
        return last.kind not in ("be", "have", "do", "neg", "conj", "det") and after.kind not in ("", "mark", "conj")
    if not _placed(clause):
        return False
    if token.kind == "det" and after.kind in ("dir", "hand") and last.kind in ("dir", "hand", "noun", "pron"):
        return predicated(_ahead(tokens, at))
    if token.kind == "quant" and token.value in ("rest", "none") and last.kind not in ("be", "have", "do", "conj", "neg", "prep"):
        ahead = tokens[at + 1 : at + 6]
        return token.value == "rest" or any(t.kind in ("dir", "hand", "num", "noun") for t in ahead)
    if token.kind == "noun" and token.value == "everything" and last.kind not in ("be", "have"):
        return True
    if token.kind == "colour" or token.words == "no yellow" or (token.kind == "neg" and after.kind == "colour"):
        coloured = any(t.kind == "colour" for t in clause)
        return coloured and last.kind in ("dir", "hand", "noun") and clause[0].kind in ("colour", "mark", "neg", "be", "top")
    if token.kind == "dir" and after.kind == "have" and last.kind in ("noun", "pron", "colour", "det"):
        return any(t.kind == "noun" for t in clause)
    if token.kind == "dir" and after.kind in ("noun", "face") and after.words in ("side", "face"):
        return last.kind in ("noun", "pron", "colour") and last.value not in ("side",)
    return False


def _attach(clauses: list[list[Token]]) -> list[list[Token]]:
    """A verdict set off by a comma ("the back row, nothing") belongs to the place before it."""
    joined: list[list[Token]] = []
    for clause in clauses:
        body = [t for t in clause if t.kind not in ("mark", "word")]
        if joined and clause[0].value == SOFT and body and (_verdict(body) or body[0].kind in ("have", "face", "facedir")):
            before = next((c for c in reversed(joined) if any(t.kind not in ("mark", "word") for t in c)), None)
            if before is not None and _placed(before) and not predicated(before) and before[0].kind != "correct":
                before.extend(body)
                continue
        joined.append(list(clause))
    return joined


def _verdict(body: Sequence[Token]) -> bool:
    first = body[0]
    opens = (
        first.kind in ("top", "be", "do")
        or (first.kind == "quant" and first.value in ("none", "both", "all"))
        or (first.kind == "neg" and first.words == "no")
    )
    return opens and all(t.kind in ("top", "be", "do", "neg", "quant", "colour", "have") for t in body)


__all__ = ["HARD", "predicated", "split", "verdicts"]
