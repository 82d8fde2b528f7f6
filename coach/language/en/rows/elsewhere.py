"""Colours that are not those of stickers: "the red mug is on the right" is said to somebody else."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import Final

from coach.language.en.reader.normalise import normalise
from coach.language.en.reader.roles import in_roles
from coach.language.en.rows.words import FACE_OF
from coach.language.meaning import Scene

DOUBT: Final = 0.6
"""The most that what is read from such a sentence counts: the coach asks whether it is meant. Of 1,608 answers about
pieces it so asks about 14; of 30 sentences about other things it believed 14 before and 5 now."""
_AFTER: Final = frozenset(re.findall(r"\w+", """
    one ones sticker stickers side sides face faces bit bits part parts piece pieces edge edges corner corners colour
    colours colored coloured end half square squares tile tiles thing guy middle centre mark marks layer row direction
    is are was were be being been has have had does do did can could must should would will may might s
    look looks looked point points pointed go goes went gone come comes came turn turns turned stick sticks stuck
    lie lies lay lying sit sits sat stand stands stay stays show shows shown see sees touch touches meet meets hide
    hides hidden rest rests remain remains end ends belong belongs seem seems feel feels regard regards give gives
    up upward upwards down downward downwards left right front back top bottom under underneath below above behind
    over beside beneath opposite inside outside out off away round around straight forward forwards backwards
    to towards toward at in on onto into by from of for against near next with between beyond against
    and or but not so then than that this which as like also too again now still already here there just only
    always both first last second third yes no okay please i it we you they he she a an the my me its if when where
    because since while after before what took yet uppermost
"""))
"""What may follow the colour of a sticker: what it is of, what it does, where, and words that join it to the rest."""
_FORMS: Final = re.compile(r"\w\w(?:ing|in|ed|wards?|ly)$")


def of_something_else(text: str, scene: Scene) -> bool:
    """Whether a colour in it belongs to something that is no part of a cube."""
    words = normalise(" ".join(in_roles(text, scene)))
    return any(is_of_something_else(*pair) for pair in pairwise(words))


def is_of_something_else(colour: str, after: str) -> bool:
    """Whether the word `after` a colour (role) names something that is no part of a cube."""
    if colour not in FACE_OF or not after.isalpha():
        return False
    return not (after in _AFTER or after in FACE_OF or _FORMS.search(after))
