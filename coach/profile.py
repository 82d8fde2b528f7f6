"""What the coach remembers of a learner from one lesson to the next: nothing but these choices."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields
from pathlib import Path
from typing import Any

from platformdirs import user_config_path

from coach.cube import FACES, WHOLE_TURNS
from coach.dialogue.knowledge import DEFAULT_COLOURS


class ProfileError(ValueError):
    """A choice that cannot be, in words for the learner."""


@dataclass(frozen=True)
class Profile:
    """The learner's choices. `colours` are the names of the six faces' colours (or marks) for up, right,
    front, down, left and back of the solved cube; any words will do. `headphones` is None until asked."""

    colours: tuple[str, ...] = tuple(DEFAULT_COLOURS[face] for face in FACES)
    up: str = DEFAULT_COLOURS["U"]
    front: str = DEFAULT_COLOURS["F"]
    style: str = "plain"
    manner: str = "teach"
    pause: float = 2.5
    on_my_word: bool = False
    voice: str = "en-us"
    rate: int = 135
    pitch: int = 50
    volume: float = 0.9
    headphones: bool | None = None

    def held(self) -> Mapping[str, str]:
        """The colour names by face as the cube is held at the start: `up` on top, `front` towards the learner.

        Raises ProfileError where there is no such hold.
        """
        if len(set(self.colours)) != 6:
            raise ProfileError(f"A cube has six different colours, but these are {', '.join(self.colours)}.")
        for colour in (self.up, self.front):
            if colour not in self.colours:
                raise ProfileError(f"There is no {colour} on this cube; its colours are {', '.join(self.colours)}.")
        for hold in WHOLE_TURNS:
            names = [self.colours[place // 9] for place in hold[4::9]]
            if names[0] == self.up and names[2] == self.front:
                return dict(zip(FACES, names, strict=True))
        raise ProfileError(f"{self.front} cannot face you with {self.up} on top: they are on opposite sides.")


def default_path() -> Path:
    """Where the profile is kept: in the user's own configuration folder."""
    return user_config_path("turncaller") / "profile.json"


def load(path: Path) -> Profile:
    """The profile in the file; the usual choices where there is no file. Raises ProfileError for a broken one."""
    try:
        data = json.loads(path.read_text("utf-8"))
    except FileNotFoundError:
        return Profile()
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
    chosen: dict[str, Any] = {}
    for field in fields(Profile):
        value = data.get(field.name, usual[field.name])
        value = tuple(value) if field.name == "colours" else value
        kinds = (bool, type(None)) if field.name == "headphones" else type(usual[field.name])
        if not isinstance(value, kinds) and not (isinstance(value, int) and kinds is float):
            raise ProfileError(f"{field.name} is {value!r}.")
        chosen[field.name] = value
    profile = Profile(**chosen)
    profile.held()
    return profile


def save(profile: Profile, path: Path) -> None:
    """Keep the profile; written aside and renamed, so that a full disk leaves the old one. Raises OSError."""
    path.parent.mkdir(parents=True, exist_ok=True)
    aside = path.with_suffix(".new")
    aside.write_text(json.dumps(asdict(profile), indent=2) + "\n", "utf-8")
    aside.replace(path)
