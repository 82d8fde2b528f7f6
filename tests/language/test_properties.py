"""What holds of any text whatever."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from coach.language import QUESTIONS, Meaning, Scene, load
from coach.language.en.lexicon import read_toml
from coach.language.en.normalise import LONGEST, normalise

settings.register_profile("no deadline", deadline=None)
settings.load_profile("no deadline")
LANGUAGE = load()
WORDS = sorted(
    {
        phrase
        for table in read_toml("lexicon.toml").values()
        for phrases in table.values()
        for phrase in phrases
    }
)
JOINTS = [" ", ", ", ". ", "... ", " and ", " but ", " no wait ", " isn't ", " the ", " is ", "; "]
LINES = st.lists(st.tuples(st.sampled_from(WORDS), st.sampled_from(JOINTS)), max_size=14).map(
    lambda parts: "".join(word + joint for word, joint in parts)
)
STICKERS = {f"{face}{place}" for face in "UFRBL" for place in range(9)}


def check(meaning: Meaning | None) -> None:
    """A meaning is one that the design knows of."""
    if meaning is None:
        return
    assert meaning
    assert set(meaning.look) <= STICKERS
    assert meaning.shape in (None, "dot", "corner", "line", "cross")
    assert meaning.edges is None or 0 <= meaning.edges <= 4
    assert meaning.corners is None or 0 <= meaning.corners <= 4
    assert meaning.place is None or all(face in meaning.place for face in meaning.shows.values())


@given(st.text(max_size=300), st.sampled_from(QUESTIONS))
def test_any_text_has_a_meaning_or_none(text: str, asked: str) -> None:
    check(LANGUAGE.understand(text, asked))


@given(LINES, st.sampled_from(QUESTIONS))
def test_any_words_of_the_lexicon_have_a_meaning_or_none(text: str, asked: str) -> None:
    check(LANGUAGE.understand(text, asked, Scene(piece=("white", "green"))))


@given(LINES, st.sampled_from(QUESTIONS))
def test_case_and_typographic_apostrophes_make_no_difference(text: str, asked: str) -> None:
    plain = LANGUAGE.understand(text, asked)
    assert LANGUAGE.understand(text.upper().replace("'", "\u2019"), asked) == plain


@given(st.sampled_from(["ab ", "left, no wait ", "((", "'s ", ". ", "one two "]), st.sampled_from(QUESTIONS))
def test_a_very_long_line_is_read_up_to_a_limit(part: str, asked: str) -> None:
    line = part * (10_000 // len(part))
    assert sum(map(len, normalise(line))) <= 4 * LONGEST
    check(LANGUAGE.understand(line, asked))


@given(st.binary(max_size=200), st.sampled_from(QUESTIONS))
def test_binary_input_is_harmless(data: bytes, asked: str) -> None:
    check(LANGUAGE.understand(data.decode("utf-8", "surrogateescape"), asked))
    check(LANGUAGE.understand(data.decode("latin-1"), asked))
