"""Clauses of a description: what is said of the places they name."""

from __future__ import annotations

from coach.language.en.lexicon import Token
from coach.language.en.normalise import HARD
from coach.language.en.nouns import NounReader
from coach.language.en.phrase import Phrase

_VERBS = ("be", "have", "do")
_SUBJECT_END = (*_VERBS, "dir", "noun", "pron", "hand", "quant", "colour", "num")
_THEY = ("they", "them", "it", "those", "these")


class Reader(NounReader):
    """Reads one clause: verbs, verdicts, negation, facing, shapes and marks."""

    # --- negation

    def read_neg(self, token: Token, following: Token) -> None:
        self.out.unfaced = self.out.unfaced or (following.kind == "facedir" and following.value != "U")
        if following.kind == "rel":
            self.out.relation_denied = self.out.relation is None
        elif following.kind == "linedir" or (self.phrase.none and token.words == "no"):
            return
        elif token.words == "no" and following.kind == "colour":
            self.flush()
            self.out.denied = True
        else:
            self._deny(following)

    def _deny(self, following: Token) -> None:
        """A negation: of what stands before it when it is the predicate, else of what follows."""
        phrase, verb = self.phrase, self.previous.kind in _VERBS
        ones = phrase.pronoun and phrase.plural
        subject = phrase.placed or phrase.rest or ones or (verb and phrase.number is not None)
        subject = subject or any(p.placed or p.rest for p in self.out.phrases)
        if subject and self.previous.kind in _SUBJECT_END and (verb or not self.out.predicate):
            self.flush()
            if verb or following.kind in ("", "mark"):
                self.out.denied = True
            else:
                self.negated, self.out.only = True, False
            return
        self.flush()
        self.negated = True
        self.out.exhaustive = self.out.exhaustive or (ones and (verb or self.previous.kind == "pron"))

    def read_or(self, token: Token, following: Token) -> None:
        """"Or" after a negation goes on with it; else the speaker is in doubt."""
        none = self.phrase.none
        self.flush(joined=True)
        self.negated = self.negated or none
        self.out.unsure = self.out.unsure or not (self.negated or self.out.denied)

    # --- verbs and verdicts

    def read_be(self, token: Token, following: Token) -> None:
        if following.kind in ("word", "num"):
            self._look_there(following, bare=False)
        self.out.predicate = self.out.predicate or bool(self.phrase or self.out.phrases)

    read_do = read_be

    def read_have(self, token: Token, following: Token) -> None:
        self._look_there(following, bare=True)
        self.read_be(token, following)

    def _look_there(self, following: Token, bare: bool) -> None:
        """"The left face has two": the place is where to look, not what is there."""
        phrase = self.phrase
        told = phrase.side or (bare and following.kind == "num")
        plain = len(phrase.dirs) == 1 and not (phrase.kind or phrase.row) and phrase.number is None
        if told and plain and following.kind in ("num", "colour", "pron", "word", "quant"):
            self.out.view = phrase.dirs[0]
            self.phrase = Phrase()

    def read_top(self, token: Token, following: Token) -> None:
        phrase = self.phrase
        if token.value == "yes":
            self.out.affirmed = self.out.predicate = True
        elif phrase.none or (self.negated and (phrase.kind or following.kind == "noun")):
            self.negated = phrase.none = False
            self.out.inverted = True
            self.out.doubled = token.words.startswith("not ")
        elif phrase.placed or phrase.rest or phrase.number is not None or self.out.phrases:
            self.flush()
            self.out.denied = True
            self.out.exhaustive = self.out.exhaustive or token.words in ("missing", "absent", "gone")
        else:
            self.out.exhaustive = phrase.pronoun
            self.negated = True

    def read_colour(self, token: Token, following: Token) -> None:
        phrase = self.phrase
        phrase.colours.append(token.value)
        if token.value != self.up:
            if self.previous.kind == "be" and (phrase.placed or self.out.phrases):
                self.flush()
                self.out.denied = True
            return
        self.out.colour = True
        subject = phrase.placed or phrase.rest or any(p.placed or p.rest for p in self.out.phrases)
        its = self.previous.words in ("its", "their")
        if subject and (its or (self.previous.kind in _VERBS and self.out.predicate)):
            self.flush()
            self.possessed = True

    # --- facing

    def read_face(self, token: Token, following: Token) -> None:
        if token.value == "away":
            self.out.left_or_right = self.out.left_or_right or token.words == "sideways"
            if self.out.facing or self.out.colour or self.out.phrases or self.phrase:
                self.flush()
                self.out.outward = self.out.facing = True
        elif self.previous.kind in ("", "mark"):
            self.viewing = token.words == "looking"
        elif not (self.previous.kind in ("noun", "pron") and following.kind in ("", "mark")):
            self.flush()
            self.out.facing = True

    def read_facedir(self, token: Token, following: Token) -> None:
        if token.value == "U":
            self.affirm()
        elif token.value == "D":
            return
        elif token.words.split()[0].endswith("ing") and self._describes():
            self.read_dir(Token("dir", token.value, token.words), following)
        else:
            self.flush()
            self.out.facing = True
            self.out.faces.append(token.value)

    def _describes(self) -> bool:
        """"The edge facing me": which one it is, not where its colour faces."""
        before = self.previous
        head = before.kind == "noun" and before.value not in ("sticker", "stickers")
        return head or (before.kind == "pron" and before.words not in _THEY)

    # --- shapes

    def read_shape(self, token: Token, following: Token) -> None:
        if self.negated or self.out.denied or self.phrase.none:
            if self.out.shape is None:
                self.out.shape, self.out.shape_denied = token.value, True
            self.negated = self.out.denied = self.phrase.none = False
            return
        if self.out.shape in (None, "figure") or self.out.shape_denied:
            self.out.shape, self.out.shape_denied = token.value, False
        if not self.phrase.placed and token.value != "figure":
            self.phrase = Phrase()

    def read_linedir(self, token: Token, following: Token) -> None:
        if self.previous.kind != "neg":
            self.out.line = token.value

    def read_rel(self, token: Token, following: Token) -> None:
        if token.value == "between":
            self.phrase.between = True
        else:
            self.out.relation = self.out.relation or token.value

    def read_motion(self, token: Token, following: Token) -> None:
        self.out.motion = True

    # --- joints and marks

    def read_conj(self, token: Token, following: Token) -> None:
        if token.value in ("from", "to"):
            if token.value == "to" and "from" in self.out.span:
                self.flush(joined=True)
            self.out.span.append(token.value)
            return
        self.out.reason = self.out.reason or token.value == "because"
        self.possessed = False
        self.flush(joined=token.value == "and")
        self.phrase.definite = token.words.endswith(" the")

    def read_mark(self, token: Token, following: Token) -> None:
        self.out.starts = token.value == HARD

    def read_correct(self, token: Token, following: Token) -> None:
        self.out.corrects = token.value

    def read_unsure(self, token: Token, following: Token) -> None:
        if token.value == "whether":
            denied = self.negated or self.out.denied or self.phrase.none
            self.out.unsure = self.out.unsure or not (denied and token.words == "either")
        else:
            self.out.more = True

    def read_same(self, token: Token, following: Token) -> None:
        self.flush()
        self.out.same = True
