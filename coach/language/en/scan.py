"""Tokens of a description to clauses, each with the places it names and what it says of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from coach.language.en.lexicon import Token
from coach.language.en.normalise import HARD

AXIS = {"F": "depth", "B": "depth", "L": "width", "R": "width", "U": "height", "D": "height"}
PLURAL = {"edges": "edge", "corners": "corner"}


@dataclass
class Phrase:
    """What a noun phrase says: how many of what, where; `down` when it is denied."""

    number: int | None = None
    every: bool = False
    none: bool = False
    some: bool = False
    kind: str | None = None
    plural: bool = False
    dirs: list[str] = field(default_factory=list)
    hand: str | None = None
    rest: bool = False
    excepted: bool = False
    bare: bool = False
    sticker: bool = False
    square: bool = False
    definite: bool = False
    part: str | None = None
    end: bool = False
    side: str | None = None
    row: str | None = None
    whole: bool = False
    centre: bool = False
    pronoun: bool = False
    between: bool = False
    everything: bool = False
    ends: bool = False
    each_side: bool = False
    colours: list[str] = field(default_factory=list)
    down: bool = False
    listed: bool = False

    def __bool__(self) -> bool:
        return any(
            (self.number is not None, self.every, self.none, self.some, self.kind, self.dirs, self.hand, self.rest,
             self.row, self.centre, self.sticker, self.everything, self.ends, self.each_side, self.between, self.part)
        )  # fmt: skip

    @property
    def placed(self) -> bool:
        """It names a place."""
        return bool(self.dirs or self.hand or self.row or self.centre or self.everything)


@dataclass
class Clause:
    """One clause: phrases before the predicate, facing directions after it, shapes and marks."""

    phrases: list[Phrase] = field(default_factory=list)
    faces: list[str] = field(default_factory=list)
    facing: bool = False
    has_ends: bool = False
    shape: str | None = None
    shape_denied: bool = False
    line: str | None = None
    relation: str | None = None
    relation_denied: bool = False
    denied: bool = False
    affirmed: bool = False
    predicate: bool = False
    only: bool = False
    closes: bool = False
    corrects: str | None = None
    unsure: bool = False
    more: bool = False
    span: list[str] = field(default_factory=list)
    colour: bool = False
    starts: bool = False
    sideways: bool = False
    outward: bool = False
    view: str | None = None
    reason: bool = False
    inverted: bool = False
    another: bool = False
    exhaustive: bool = False
    faces_sideways: bool = False
    same: bool = False
    motion: bool = False
    topic: bool = False
    tail: list[str] = field(default_factory=list)


class Reader:
    """Reads one clause, token by token."""

    def __init__(self, clause: Sequence[Token], up: str) -> None:
        self.tokens = [t for t in clause if t.kind != "skip"]
        self.up = up
        self.out = Clause()
        self.phrase = Phrase()
        self.negated = False
        self.joined = False
        self.possessed = False
        self.viewing = False
        self.excepting = False
        self.void = False
        self.listing = False
        self.owner = False
        self.ahead: Sequence[Token] = ()
        self.previous = Token("", "", "")

    def read(self) -> Clause:
        lead = next((t for t in self.tokens if t.kind not in ("mark", "word", "conj")), self.previous)
        self.out.topic = lead.kind == "prep" and lead.words.startswith("of")
        for at, token in enumerate(self.tokens):
            self.ahead = self.tokens[at + 1 : at + 3]
            following = self.tokens[at + 1] if at + 1 < len(self.tokens) else Token("", "", "")
            handler = getattr(self, f"_{token.kind}", None)
            if handler:
                handler(token, following)
            if token.kind != "word" or token.value not in ("a", "an"):
                self.previous = token
        self._flush()
        return self.out

    # --- bookkeeping

    def _flush(self) -> None:
        if self.phrase:
            self.phrase.down = self.negated
            self.phrase.listed = self.joined
            self.phrase.excepted = self.phrase.excepted or self.excepting
            self.out.phrases.append(self.phrase)
        self.phrase = Phrase(kind=self.phrase.kind if self.phrase.plural and self.phrase.dirs else None)
        self.phrase.kind = None
        self.joined = False

    def _deny(self, following: Token) -> None:
        """A negation: of what stands before it when it is the predicate, else of what follows."""
        counted = self.phrase.number is not None and self.previous.kind in ("be", "do", "have")
        subject = bool(self.phrase.placed or self.phrase.rest or counted or (self.phrase.pronoun and self.phrase.plural)
                       or any(p.placed or p.rest for p in self.out.phrases))  # fmt: skip
        if subject and self.previous.kind in ("be", "have", "do", "dir", "noun", "pron", "hand", "quant", "colour", "num"):
            after_predicate = self.previous.kind in ("be", "have", "do")
            if after_predicate or not self.out.predicate:
                self._flush()
                if after_predicate or following.kind in ("", "mark"):
                    self.out.denied = True
                else:
                    self.negated = True
                    self.out.only = False
                return
        pronoun = self.phrase.pronoun and self.phrase.plural
        self._flush()
        self.negated = True
        self.out.exhaustive = self.out.exhaustive or (pronoun and self.previous.kind in ("be", "do", "have", "pron"))

    # --- handlers by kind of token

    def _mark(self, token: Token, following: Token) -> None:
        self.out.starts = token.value == HARD

    def _correct(self, token: Token, following: Token) -> None:
        self.out.corrects = token.value

    def _neg(self, token: Token, following: Token) -> None:
        if following.kind == "rel":
            self.out.relation_denied = self.out.relation is None
            return
        if following.kind == "linedir":
            return
        if token.words == "no" and following.kind == "colour":
            self._flush()
            self.out.denied = True
            return
        self._deny(following)

    def _be(self, token: Token, following: Token) -> None:
        if following.kind == "word" or following.kind == "num":
            self._viewed(following)
        if self.phrase or self.out.phrases:
            self.out.predicate = True

    _do = _be

    def _have(self, token: Token, following: Token) -> None:
        self._viewed(following, bare=True)
        self._be(token, following)

    def _viewed(self, following: Token, bare: bool = False) -> None:
        """"The left face has two": the place is where to look, not what is there."""
        phrase = self.phrase
        told = phrase.side or (bare and following.kind == "num")
        if told and len(phrase.dirs) == 1 and not phrase.kind and not phrase.row and phrase.number is None and (
            following.kind in ("num", "colour", "pron", "word", "quant")
        ):
            self.out.view = phrase.dirs[0]
            self.phrase = Phrase()

    def _conj(self, token: Token, following: Token) -> None:
        if token.value == "from":
            self.out.span.append("from")
            return
        if token.value == "to":
            if "from" in self.out.span:
                self._flush()
                self.joined = True
            self.out.span.append("to")
            return
        if token.value == "because":
            self.out.reason = True
        self.possessed = False
        self._flush()
        self.joined = token.value == "and"
        self.phrase.definite = token.words.endswith(" the")

    def _part(self, token: Token, following: Token) -> None:
        self._flush()
        self.phrase.part = token.value

    def _prep(self, token: Token, following: Token) -> None:
        """"The yellow is on the front of the near left one": the owner stands after the face."""
        phrase = self.phrase
        owned = any(ahead.kind in ("dir", "hand") for ahead in self.ahead)
        if owned and token.words.startswith("of") and len(phrase.dirs) == 1 and self.out.colour and not (
            phrase.kind or phrase.pronoun or phrase.number
        ):
            self.out.facing = self.owner = True
            self.out.faces.extend(phrase.dirs)
            self.phrase = Phrase()

    def _det(self, token: Token, following: Token) -> None:
        if not self.phrase:
            self.phrase.definite = token.words == "the"

    def _dir(self, token: Token, following: Token) -> None:
        value = {"pageB": "B", "pageF": "F"}.get(token.value, token.value)
        if value == "U":
            self._up()
            return
        if value == "D" or self.void:
            return
        if self.viewing:
            self.out.view, self.viewing = value[0], False
            return
        if self.possessed:
            self.out.facing = True
        if self.out.facing and not self.owner:
            self.out.faces.extend(value)
            return
        named = self.phrase.pronoun or self.phrase.kind
        if self.previous.kind == "prep" and len(self.phrase.dirs) == 2 and named and len(value) == 1:
            self.out.tail.append(value)
            return
        self.out.span.append(value)
        counted = self.phrase.number is not None and self.out.predicate and self.previous.words == "the"
        if (self.phrase.dirs or counted) and self.previous.kind == "det":
            self._flush()
            self.joined = True
        if not self.phrase.dirs:
            self.phrase.bare = self.previous.kind == "conj"
        for direction in value:
            if token.words in ("lefts", "rights", "fronts", "backs"):
                self.phrase.plural = True
            held = [AXIS[d] for d in self.phrase.dirs]
            if AXIS[direction] in held and direction in self.phrase.dirs:
                continue
            if held and self.listing and self.previous.kind == "dir":
                self._flush()
                held = []
            if AXIS[direction] in held:
                self.listing = len(held) == 1 and self.previous.kind == "dir"
                kind, plural = self.phrase.kind, self.phrase.plural
                side = self.phrase.side
                self._flush()
                self.joined = True
                if plural or side:
                    self.phrase.kind = kind
            self.phrase.dirs.append(direction)

    def _up(self) -> None:
        self.out.affirmed = True
        self.possessed = False
        if self.out.facing and not self.out.faces:
            self.out.facing = False
            self.out.affirmed = True

    def _hand(self, token: Token, following: Token) -> None:
        if "R" in self.phrase.dirs or "L" in self.phrase.dirs:
            return
        self.phrase.hand = token.value

    def _noun(self, token: Token, following: Token) -> None:
        value = token.value
        if value in ("edge", "edges", "corner", "corners"):
            if self.phrase.kind and self.phrase.placed:
                self._flush()
            self.phrase.kind = PLURAL.get(value, value)
            self.phrase.plural = value in PLURAL
            self.negated = self.negated
        elif value in ("sticker", "stickers"):
            self.phrase.sticker = True
            self.phrase.square = token.words == "square"
            self.phrase.plural = value == "stickers"
        elif value == "side":
            if self.phrase.dirs:
                self.phrase.side = self.phrase.dirs[-1]
        elif value == "sides":
            self.out.sideways = True
            if self.phrase.number and not self.phrase.dirs:
                self._flush()
            if self.phrase.dirs or any(p.dirs for p in self.out.phrases):
                self.phrase.side = self.phrase.dirs[-1] if self.phrase.dirs else None
        elif value == "end":
            self.phrase.end = True
        elif value == "ends":
            self.phrase.ends = True
            self.out.has_ends = True
        elif value == "each_side":
            if self.phrase and not self.out.facing:
                self.phrase.each_side = True
            else:
                self.phrase.each_side = True
        elif value == "row":
            self.phrase.row = "row"
        elif value in ("row2", "column2"):
            self.phrase.row = value
        elif value in ("rowB", "rowF"):
            self.phrase.row = "row"
            self.phrase.dirs.append(value[-1])
        elif value == "centre":
            if self.phrase.dirs and self.previous.kind in ("dir", "conj", "prep", "det") and not self.joined:
                self.phrase.kind = self.phrase.kind or "edge"
            else:
                self.phrase.centre = True
        elif value == "everything":
            self.phrase.everything = True

    def _num(self, token: Token, following: Token) -> None:
        number = int(token.value)
        if number == 4 and self.previous.words in ("of", "of the", "out of", "out of the"):
            return
        if number == 1 and token.words == "one":
            before = self.previous
            if (self.phrase.number or 0) < 2 and before.kind in ("dir", "hand", "quant") and before.value not in ("only", "nothing_else") and not (
                before.kind == "dir" and before.value == "U"
            ):
                self.phrase.pronoun = True
                return
            if before.kind == "det" or before.words.endswith(" the") or before.value == "centre" or before.kind == "colour":
                self.phrase.pronoun = True
                if before.kind == "det":
                    self.phrase.number = 1
                return
        if number > 1 and self.previous.kind == "dir" and self.phrase.number is None and not self.phrase.kind:
            self.phrase.number, self.phrase.plural = number, True
            return
        if self.phrase.number is not None or self.phrase.placed or (self.phrase.kind and not self.phrase.rest):
            if self.out.facing and self.phrase.number is not None:
                return
            kind = self.phrase.kind if self.previous.kind != "conj" else None
            self._flush()
            self.phrase.kind = None if kind is None else kind
        self.phrase.number = number
        self.phrase.plural = number > 1
        if token.words in ("a pair", "pair", "pair of", "a pair of"):
            self.phrase.plural = True

    def _quant(self, token: Token, following: Token) -> None:
        value = token.value
        if value == "only":
            self._flush()
            self.negated = False
            self.out.only = True
        elif value == "nothing_else":
            self.out.closes = True
        elif value == "rest":
            if self.phrase.placed or self.phrase.number is not None:
                self._flush()
            self.phrase.rest = True
        elif value == "except":
            self._flush()
            self.excepting = True
        elif value == "none":
            if self.phrase.placed:
                self.out.denied = True
                return
            self._flush()
            self.phrase.none = True
        elif value == "some":
            if self.phrase:
                self._flush()
            self.phrase.some = True
        elif value in ("all", "both", "each"):
            if self.phrase.placed or self.phrase.kind:
                if not self.out.facing and self.phrase.placed and (following.kind in ("colour", "top", "face", "facedir", "neg", "be") or not following.kind):
                    self.phrase.every = True
                    self.phrase.whole = True
                    return
                if self.out.facing:
                    return
                if self.out.predicate and not self.phrase.dirs:
                    self.phrase.every = True
                    return
                self._flush()
            if token.words in ("whole", "entire", "full", "completely", "complete", "entirely", "fully"):
                self.phrase.whole = True
                if token.words.endswith("ly"):
                    for phrase in self.out.phrases:
                        phrase.whole = True
            else:
                self.phrase.every = True
            self.phrase.pronoun = self.phrase.pronoun or token.words.endswith("them")
            self.phrase.plural = True
            if value == "both":
                self.phrase.number = 2

    def _pron(self, token: Token, following: Token) -> None:
        if token.words in ("ones", "the ones", "those", "these", "them", "they", "those ones", "these ones"):
            self.phrase.plural = True
        elif token.words in ("another", "another one", "one more", "there is another"):
            if self.phrase.placed:
                self._flush()
            self.out.another = True
        elif token.words == "one of them":
            if self.phrase:
                self._flush()
            self.phrase.number = 1
        elif token.words in ("the one", "that one", "this one", "the one that is"):
            if self.phrase.placed and (self.phrase.pronoun or self.phrase.kind):
                self._flush()
        elif token.words == "that side":
            self.phrase = Phrase()
            return
        if token.words == "the one" and self.out.only and self.phrase.number is None:
            self.phrase.number = 1
        self.phrase.pronoun = True

    def _rel(self, token: Token, following: Token) -> None:
        if token.value == "between":
            self.phrase.between = True
        elif self.out.relation is None:
            self.out.relation = token.value

    def _top(self, token: Token, following: Token) -> None:
        if token.value == "yes":
            self.out.affirmed = True
            self.out.predicate = True
        elif self.negated or self.phrase.none:
            self.negated = False
            self.phrase.none = False
            self.out.inverted = True
        elif self.phrase.placed or self.phrase.rest or self.phrase.number is not None or self.out.phrases:
            self._flush()
            self.out.denied = True
            self.out.exhaustive = self.out.exhaustive or token.words in ("missing", "absent", "gone")
        else:
            self.out.exhaustive = self.phrase.pronoun
            self.negated = True

    def _colour(self, token: Token, following: Token) -> None:
        self.phrase.colours.append(token.value)
        if token.value == self.up:
            self.out.colour = True
            subject = self.phrase.placed or self.phrase.rest or any(p.placed or p.rest for p in self.out.phrases)
            possessed = self.previous.kind in ("have", "do", "be") or self.previous.words in ("its", "their")
            if subject and possessed and self.out.predicate:
                self._flush()
                self.possessed = True
        elif self.previous.kind == "be" and (self.phrase.placed or self.out.phrases):
            self._flush()
            self.out.denied = True

    def _mark_felt(self, token: Token, following: Token) -> None:
        self._colour(token, following)

    def _face(self, token: Token, following: Token) -> None:
        if token.value == "away":
            if token.words == "sideways":
                self.out.faces_sideways = True
            if self.out.facing or self.out.colour or self.out.phrases or self.phrase:
                self._flush()
                self.out.outward = True
                self.out.facing = True
            return
        if self.previous.kind in ("noun", "pron") and following.kind in ("", "mark"):
            return
        if self.previous.kind in ("", "mark"):
            self.viewing = token.words == "looking"
            return
        self._flush()
        self.out.facing = True

    def _facedir(self, token: Token, following: Token) -> None:
        if token.value == "U":
            self._up()
            return
        if token.value == "D":
            return
        if self.previous.kind in ("noun", "pron") and self.previous.value not in ("sticker", "stickers") and not (
            self.previous.words in ("they", "them", "it", "those", "these")
        ):
            self._dir(Token("dir", token.value, token.words), following)
            return
        self._flush()
        self.out.facing = True
        self.out.faces.append(token.value)

    def _shape(self, token: Token, following: Token) -> None:
        if self.negated or self.out.denied or self.phrase.none:
            self.phrase.none = False
            if self.out.shape is None:
                self.out.shape = token.value
                self.out.shape_denied = True
            self.negated = False
            self.out.denied = False
            return
        if self.out.shape is None or self.out.shape == "figure" or self.out.shape_denied:
            self.out.shape = token.value
            self.out.shape_denied = False
        if not self.phrase.placed and token.value != "figure":
            self.phrase = Phrase()

    def _linedir(self, token: Token, following: Token) -> None:
        if not (self.previous.kind == "neg"):
            self.out.line = token.value

    def _unsure(self, token: Token, following: Token) -> None:
        if token.value == "whether":
            self.out.unsure = True
        else:
            self.out.more = True

    def _or(self, token: Token, following: Token) -> None:
        self.negated = self.negated or self.phrase.none
        none, self.negated = self.negated, self.negated and not self.phrase.none
        self._flush()
        self.negated = none
        if not (self.negated or self.out.denied):
            self.out.unsure = True
        self.joined = True

    def _same(self, token: Token, following: Token) -> None:
        self._flush()
        self.out.same = True

    def _void(self, token: Token, following: Token) -> None:
        self.void = True

    def _motion(self, token: Token, following: Token) -> None:
        self.out.motion = True
