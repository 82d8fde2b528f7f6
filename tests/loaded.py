"""The language, loaded once for all tests: its reader takes 90 MB and a quarter of a second."""

from functools import cache

from coach.language import Language
from coach.language import load as load_anew


@cache
def load() -> Language:
    """English."""
    return load_anew()
