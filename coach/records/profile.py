"""What the coach remembers about a learner between lessons: these choices, and where the last lesson ended."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, fields, replace
from pathlib import Path
from typing import Any, Final, get_args
from urllib.parse import quote

from platformdirs import user_config_path

from coach.cube import FACE_PLACES, FACES, WHOLE_TURNS
from coach.language.meaning import USUAL_COLOURS
from coach.method import Hand
from coach.method.model import STEP_IDS
from coach.records.nickname import plain

FACE_WORDS: Final[Mapping[str, str]] = {
    "F": "front", "B": "back", "R": "right", "L": "left", "U": "top", "D": "bottom",
}  # fmt: skip
"""The faces in the order of the WCA Regulations (Article 12a1), which the options and the file use."""
_FORMER_ORDER: Final = "URFDLB"
"""The order of the six colours in old profiles, which store them as a list."""


class ProfileError(ValueError):
    """An invalid choice, explained in words for the learner."""


@dataclass(frozen=True)
class Profile:
    """The learner's choices. `colours` maps the faces of the solved cube to the words for their colours (or marks); any
    words will do, and `up` and `front` choose how it is held. `hand` is the one that turns most. `touch` is None if it
    follows from the words, `headphones` is None until asked. `confuse` holds words that the learner cannot tell apart.
    `step` is the step at which the last lesson ended (None: none is remembered), `unread` is set if it ended in the
    middle of something, so that the cube has to be read."""

    colours: Mapping[str, str] = field(default_factory=lambda: dict(USUAL_COLOURS))
    up: str = USUAL_COLOURS["U"]
    front: str = USUAL_COLOURS["F"]
    touch: bool | None = None
    confuse: tuple[str, ...] = ()
    style: str = "plain"
    manner: str = "teach"
    hand: Hand = "right"
    pause: float = 2.5
    on_my_word: bool = False
    voice: str = "en-us"
    rate: int = 135
    pitch: int = 50
    volume: float = 0.9
    headphones: bool | None = None
    step: str | None = None
    unread: bool = False

    def held(self) -> Mapping[str, str]:
        """The colour names by face as the cube is held at the start: `up` on top, `front` towards the learner.

        Raises ProfileError if there is no such hold.
        """
        names = list(self.colours.values())
        if len(set(names)) != 6:
            raise ProfileError(f"A cube needs six different words for its colours, but these are {', '.join(names)}.")
        for word in (self.up, self.front, *self.confuse):
            if word not in names:
                raise ProfileError(f"{word!r} is none of this cube's six words, which are {', '.join(names)}.")
        for hold in WHOLE_TURNS:
            held = {face: self.colours[FACES[hold[places[4]] // 9]] for face, places in FACE_PLACES.items()}
            if (held["U"], held["F"]) == (self.up, self.front):
                return held
        raise ProfileError(f"{self.front} cannot face you with {self.up} on top: they are on opposite sides.")

    def named(self, words: Mapping[str, str]) -> Profile:
        """A copy with other words for the six faces, held as they say."""
        confuse = self.confuse if set(self.confuse) <= set(words.values()) else ()
        return replace(self, colours=dict(words), up=words["U"], front=words["F"], confuse=confuse)


def default_path() -> Path:
    """Where the profile is stored: in the user's configuration folder."""
    return user_config_path("turncaller") / "profile.json"


def learner_path(name: str) -> Path:
    """Where the profile of the learner with that nickname is stored. Raises ProfileError for an invalid name."""
    try:
        return user_config_path("turncaller") / "learners" / f"{quote(plain(name), safe='')}.json"
    except ValueError as error:
        raise ProfileError(str(error)) from None


def load(path: Path, otherwise: Profile | None = None) -> Profile:
    """The profile in the file; `otherwise`, or the defaults, if there is no file. Raises ProfileError for a broken
    one."""
    try:
        data = json.loads(path.read_text("utf-8"))
    except FileNotFoundError:
        return otherwise or Profile()
    except (OSError, ValueError) as error:
        raise ProfileError(f"The profile {path} cannot be read ({error}). Mend it or delete it.") from None
    try:
        return _profile(data)
    except (TypeError, ValueError) as error:
        raise ProfileError(f"The profile {path} has something in it that cannot be: {error}") from None


def _profile(data: Any) -> Profile:
    if not isinstance(data, dict):
        raise ProfileError("it is not a set of choices.")
    usual = asdict(Profile())
    chosen = {entry.name: _value(entry.name, data.get(entry.name, usual[entry.name])) for entry in fields(Profile)}
    profile = Profile(**chosen)
    profile.held()
    return profile


def _value(name: str, value: Any) -> Any:
    """A value of the file in the form used in a Profile. Raises ProfileError for a wrong type."""
    if name == "colours":
        return _colours(value)
    kinds: dict[str, tuple[type, ...]] = {
        "headphones": (bool, type(None)), "touch": (bool, type(None)), "step": (str, type(None)),
        "confuse": (list, tuple), "pause": (int, float), "volume": (int, float),
    }  # fmt: skip
    fitting = isinstance(value, kinds.get(name, (type(getattr(Profile(), name)),)))
    few = {"step": (None, *STEP_IDS), "hand": get_args(Hand)}.get(name)
    if not fitting or (few and value not in few):
        raise ProfileError(f"{name} is {value!r}.")
    return tuple(map(str, value)) if name == "confuse" else value


def _colours(value: Any) -> dict[str, str]:
    if isinstance(value, list | tuple) and len(value) == 6:
        return dict(zip(_FORMER_ORDER, map(str, value), strict=True))
    by_word = {word: face for face, word in FACE_WORDS.items()} | {face: face for face in FACE_WORDS}
    if not isinstance(value, Mapping) or {by_word.get(key) for key in value} != set(FACE_WORDS):
        raise ProfileError(f"colours need a word for each of {', '.join(FACE_WORDS.values())}, but are {value!r}.")
    return {by_word[key]: str(word) for key, word in value.items()}


def save(profile: Profile, path: Path) -> None:
    """Store the profile by writing aside and renaming, so that a full disk leaves the old one. Raises OSError."""
    path.parent.mkdir(parents=True, exist_ok=True)
    data = asdict(profile) | {"colours": {word: profile.colours[face] for face, word in FACE_WORDS.items()}}
    aside = path.with_suffix(".new")
    aside.touch(mode=0o600)  # private to the user, like the records
    aside.write_text(json.dumps(data, indent=2) + "\n", "utf-8")
    aside.replace(path)
