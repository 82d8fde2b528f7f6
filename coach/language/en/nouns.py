"""Noun phrases of a description, token by token: numbers, quantities, places, nouns and pronouns."""

from __future__ import annotations

from collections.abc import Sequence

from coach.language.en.lexicon import Token
from coach.language.en.phrase import AXIS, Clause, Phrase

NOTHING = Token("", "", "")
_PAGE = {"pageB": "B", "pageF": "F"}
_ONES = ("ones", "the ones", "those", "these", "them", "they", "those ones", "these ones")
_WHOLE = ("whole", "entire", "full", "completely", "complete", "entirely", "fully")
_PIECES = {"edge": "edge", "edges": "edge", "corner": "corner", "corners": "corner"}


class NounReader:
    """Builds the phrases of a clause; one method for each kind of token, named after it."""

    def __init__(self, clause: Sequence[Token], up: str) -> None:
        self.tokens = clause
        self.up = up
        self.out = Clause()
        self.phrase = Phrase()
        self.previous = NOTHING
        self.ahead: Sequence[Token] = ()
        self.negated = False
        self.joined = False
        self.possessed = False  # "has its yellow": the next direction is where it faces
        self.viewing = False  # "looking at": the next direction is a side
        self.owner = False  # "on the front of the ...": the next direction is whose
        self.excepting = False
        self.listing = False
        self.voided = False
        self.led = False  # the clause begins with a preposition

    def read(self) -> Clause:
        """The clause that the tokens make."""
        lead = next((t for t in self.tokens if t.kind not in ("mark", "word", "conj")), NOTHING)
        self.led = lead.kind == "prep"
        self.out.topic = self.led and lead.words.startswith("of")
        for at, token in enumerate(self.tokens):
            self.ahead = self.tokens[at + 1 : at + 3]
            handler = getattr(self, f"read_{token.kind}", None)
            if handler:
                handler(token, self.ahead[0] if self.ahead else NOTHING)
            if token.words not in ("a", "an"):
                self.previous = token
        self.flush()
        return self.out

    def flush(self, joined: bool = False) -> None:
        """End the phrase and begin the next."""
        if self.phrase:
            self.phrase.down = self.negated
            self.phrase.listed = self.joined
            self.phrase.excepted = self.phrase.excepted or self.excepting
            self.out.phrases.append(self.phrase)
        self.phrase = Phrase()
        self.joined = joined

    # --- places

    def read_dir(self, token: Token, following: Token) -> None:
        value = _PAGE.get(token.value, token.value)
        if value == "U":
            self.affirm()
        elif value == "D" or self.voided:
            return
        elif self.viewing:
            self.out.view, self.viewing = value[0], False
        else:
            self.out.facing = self.out.facing or self.possessed
            if self.out.facing and not self.owner:
                self.out.faces.extend(value)
            else:
                self._place(token, value)

    def _place(self, token: Token, value: str) -> None:
        phrase = self.phrase
        headed = phrase.pronoun or phrase.kind
        if self.previous.kind == "prep" and len(phrase.dirs) == 2 and headed and len(value) == 1:
            self.out.tail.append(value)
            return
        self.out.span.append(value)
        counted = phrase.number is not None and self.out.predicate and self.previous.words == "the"
        if (phrase.dirs or counted) and self.previous.kind == "det":
            self.flush(joined=True)
        if not self.phrase.dirs:
            self.phrase.bare = self.previous.kind == "conj"
        self.phrase.plural = self.phrase.plural or token.words in ("lefts", "rights", "fronts", "backs")
        for direction in value:
            self._direct(direction)

    def _direct(self, direction: str) -> None:
        """One more direction: of the same place, or, on the same axis or in a list, of the next."""
        if direction in self.phrase.dirs:
            return
        held = [AXIS[d] for d in self.phrase.dirs]
        follows = self.previous.kind == "dir"
        if held and self.listing and follows:
            self.flush()
        elif AXIS[direction] in held:
            self.listing = len(held) == 1 and follows
            kind = self.phrase.kind if self.phrase.plural or self.phrase.side else None
            self.flush(joined=True)
            self.phrase.kind = kind
        self.phrase.dirs.append(direction)

    def affirm(self) -> None:
        """It shows the top colour on top."""
        self.out.affirmed = True
        self.possessed = False
        if not self.out.faces:
            self.out.facing = False

    def read_hand(self, token: Token, following: Token) -> None:
        if not {"L", "R"} & set(self.phrase.dirs):
            self.phrase.hand = token.value

    def read_part(self, token: Token, following: Token) -> None:
        self.flush()
        self.phrase.part = token.value

    def read_void(self, token: Token, following: Token) -> None:
        self.voided = True

    def read_prep(self, token: Token, following: Token) -> None:
        """"The yellow is on the front of the near left one": the owner stands after the face."""
        owned = token.words.startswith("of") and any(ahead.kind in ("dir", "hand") for ahead in self.ahead)
        if owned and self.out.colour and len(self.phrase.dirs) == 1 and not self.phrase.named:
            self.out.facing = self.owner = True
            self.out.faces.extend(self.phrase.dirs)
            self.phrase = Phrase()

    def read_det(self, token: Token, following: Token) -> None:
        if not self.phrase:
            self.phrase.definite = token.words == "the"

    # --- nouns and pronouns

    def read_noun(self, token: Token, following: Token) -> None:
        value, phrase = token.value, self.phrase
        if value in _PIECES:
            if phrase.kind and phrase.placed:
                self.flush()
            self.phrase.kind, self.phrase.plural = _PIECES[value], value in ("edges", "corners")
        elif value in ("sticker", "stickers"):
            phrase.sticker, phrase.plural = True, value == "stickers"
            phrase.square = token.words == "square"
        elif value == "side":
            phrase.side = phrase.dirs[-1] if phrase.dirs else phrase.side
        elif value == "sides":
            self._sides()
        elif value == "centre":
            self._centre()
        elif value in ("rowB", "rowF"):
            phrase.row = "row"
            phrase.dirs.append(value[-1])
        elif value in ("row", "row2", "column2"):
            phrase.row = value
        else:
            self.out.has_ends = self.out.has_ends or value == "ends"
            setattr(phrase, value, True)

    def _sides(self) -> None:
        """"On the sides", or "the back and right sides", which are places."""
        if self.phrase.dirs:
            self.phrase.side = self.phrase.dirs[-1]
            return
        self.out.sideways = True
        if self.phrase.number:
            self.flush()

    def _centre(self) -> None:
        """"The middle", or "the back middle", which is an edge."""
        if self.phrase.dirs and self.previous.kind in ("dir", "conj", "prep", "det") and not self.joined:
            self.phrase.kind = self.phrase.kind or "edge"
        else:
            self.phrase.centre = True

    def read_pron(self, token: Token, following: Token) -> None:
        words, phrase = token.words, self.phrase
        if words == "that side":
            self.phrase = Phrase()
            return
        if words in _ONES:
            phrase.plural = True
        elif token.value == "another":
            self.out.another = True
            if phrase.placed:
                self.flush()
        elif words == "one of them":
            self.flush()
            self.phrase.number = 1
        elif token.value == "the_one" and phrase.placed and (phrase.pronoun or phrase.kind):
            self.flush()
        if words == "the one" and self.out.only and self.phrase.number is None:
            self.phrase.number = 1
        self.phrase.pronoun = True

    # --- numbers and quantities

    def read_num(self, token: Token, following: Token) -> None:
        number, phrase = int(token.value), self.phrase
        if number == 4 and self.previous.words in ("of", "of the", "out of", "out of the"):
            return
        if token.words == "one" and self._stands_for():
            return
        if number > 1 and self.previous.kind == "dir" and phrase.number is None and not phrase.kind:
            phrase.number, phrase.plural = number, True
            return
        if self.led and phrase.side and len(phrase.dirs) == 1 and not phrase.named and not self.out.phrases:
            self.out.view, self.phrase = phrase.side, Phrase()
        elif phrase.number is not None or phrase.placed or (phrase.kind and not phrase.rest):
            if self.out.facing and phrase.number is not None:
                return
            kind = phrase.kind if self.previous.kind != "conj" else None
            self.flush()
            self.phrase.kind = kind
        self.phrase.number, self.phrase.plural = number, number > 1

    def _stands_for(self) -> bool:
        """"One" as a pronoun ("the left one"), not a number."""
        before, phrase = self.previous, self.phrase
        after_place = before.kind in ("dir", "hand", "quant") and before.value not in ("only", "nothing_else", "U")
        if after_place and (phrase.number or 0) < 2:
            phrase.pronoun = True
            return True
        if before.kind in ("det", "colour", "rel") or before.words.endswith(" the") or before.value == "centre":
            phrase.pronoun = True
            phrase.number = 1 if before.kind == "det" else phrase.number
            return True
        return False

    def read_quant(self, token: Token, following: Token) -> None:
        value, phrase = token.value, self.phrase
        if value == "nothing_else":
            self.out.closes = True
        elif value in ("all", "both", "each"):
            self._universal(token, following)
        elif value == "none" and phrase.placed:
            self.out.denied = True
        elif token.words == "any" and (self.negated or self.out.denied):
            self.flush()
            self.negated = self.out.denied = False
            self.phrase.none = True
        elif value == "rest":
            if phrase.placed or phrase.number is not None:
                self.flush()
            self.phrase.rest = True
        else:
            self.flush()
            if value == "only":
                self.negated, self.out.only = False, True
            elif value == "except":
                self.excepting = True
            else:
                setattr(self.phrase, value, True)

    def _universal(self, token: Token, following: Token) -> None:
        """"All", "both", "whole": of what follows, or, after a place, of what stands before."""
        phrase = self.phrase
        if phrase.placed or phrase.kind:
            if self.out.facing:
                return
            if phrase.placed and following.kind in ("", "colour", "top", "face", "facedir", "neg", "be"):
                phrase.every = phrase.whole = True
                return
            if self.out.predicate and not phrase.dirs:
                phrase.every = True
                return
            self.flush()
        if token.words in _WHOLE:
            self.phrase.whole = True
            if token.words.endswith("ly"):
                for earlier in self.out.phrases:
                    earlier.whole = True
        else:
            self.phrase.every = True
        alone = token.words.endswith("them") or following.kind in ("", "mark")
        self.phrase.pronoun = self.phrase.pronoun or alone
        self.phrase.plural = True
        if token.value == "both":
            self.phrase.number = 2
