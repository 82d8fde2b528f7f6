"""What the coach knows during a lesson, carried through every turn that it calls."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, field

from coach.belief.evidence import Answered, Facts, Observation, stickers_meant
from coach.belief.reading.stickers import UNKNOWN, KnownStickers
from coach.belief.slips.trail import Trail
from coach.belief.top import Belief
from coach.belief.whereabouts import certain, only_centres, possible_tops, with_home
from coach.cube import FACES, PLACE_NAMES, Turn
from coach.language.meaning import USUAL_COLOURS
from coach.method import TURNS_ABOUT_UP
from coach.method.last_layer import LOWER

LOWER_PIECES = (
    "DF", "DR", "DB", "DL", "DFR", "DBR", "DBL", "DFL", "FR", "BR", "BL", "FL",
)  # fmt: skip
"""The pieces of the two lower layers by their home positions, in the order of the steps."""

_REMEMBERED = 60
"""Look at least this many calls back for a slip, even if a question since has been answered as it should be."""


@dataclass
class Knowledge:
    """The known stickers of the cube in the present hold and, once the two lower layers are done, the patterns
    that the top may still have. The `trail` is how this came about, in case it turns out to be wrong."""

    reading: KnownStickers
    colours: dict[str, str] = field(default_factory=lambda: dict(USUAL_COLOURS))
    top: Belief = field(default_factory=lambda: Belief(frozenset()))
    trail: Trail = field(init=False)
    confuse: set[str] = field(default_factory=set)
    """The words for colours that the learner cannot tell apart; the conversation adds to them."""
    hold_known: bool = False
    """Whether an answer has told which side faces the learner; until then the hold they were told is assumed."""
    confirmed: bool = True
    """Whether the learner has confirmed since the last face turn that everything placed is at home."""

    _forgotten: Trail | None = None
    """The trail when everything was forgotten last."""

    def __post_init__(self) -> None:
        self.trail = Trail(())
        self.begin_trail()

    def begin_trail(self) -> None:
        """Start a new trail here, taking what is known now as right."""
        origins = sorted(self.top.patterns) if self.top else [self.reading.pattern]
        self.trail = Trail(tuple(origins), not_up=bool(self.top), begun=self.trail.begun)

    @property
    def past(self) -> Trail:
        """The trail that the last runs are on: that until everything was forgotten, if no run has begun since."""
        return self._forgotten if self._forgotten and not self.trail.runs else self.trail

    def shorten_trail(self) -> None:
        """Take what was called long ago as done."""
        self.trail = self.trail.recent(_REMEMBERED)

    def begin_run(self) -> None:
        """Note that a run begins with the next turn."""
        self.trail = self.trail.beginning_run()

    def hear(self, said: Observation) -> None:
        """Note what the learner has said about the cube."""
        self.trail = self.trail.hearing(said)

    def hear_whether(self, facts: Facts, yes: bool, sticker: tuple[str, str] | None = None) -> None:
        """Note whether the learner says that all of `facts` hold and, with a no, the sticker that shows it: the side it
        is on, and their word for its colour."""
        facts = self.told(facts)
        side, face = (sticker[0], self.face_of(sticker[1])) if sticker and not yes else ("", None)
        because = stickers_meant(facts, side, face) if face and face not in self.alike else ()
        self.hear(Answered(facts, yes, because))

    def believe(self, patterns: Collection[str]) -> None:
        """Take the cube to look like one of `patterns`, according to everything said."""
        self.reading = KnownStickers("".join(_common(letters) for letters in zip(*patterns, strict=True)))
        if self.trail.not_up:
            self.top = Belief(frozenset(patterns))

    def move(self, turns: Iterable[Turn]) -> None:
        """Follow `turns` that the learner has done."""
        turns = tuple(turns)
        self.confirmed = self.confirmed and all(turn.whole for turn in turns)
        self.trail = self.trail.calling(turns)
        self.reading = self.reading.after(turns)
        self.top = self.top.after(turns)

    @property
    def known(self) -> KnownStickers:
        """All known stickers, including those that are the same in all patterns of the top."""
        return certain(self.reading, self.top) if self.top else self.reading

    def shows(self, facts: Facts) -> bool:
        """Whether the stickers are known to be as in `facts`."""
        pattern = self.known.pattern
        return all(pattern[place] == face for place, face in facts)

    @property
    def complete(self) -> bool:
        """Whether every sticker is known."""
        return UNKNOWN not in self.reading.pattern

    @property
    def solved(self) -> bool:
        """Whether every sticker is known to be at home."""
        return self.known.pattern == "".join(centre * 9 for centre in self.reading.centres)

    def forget_top(self, ordered: bool = False) -> None:
        """Forget everything except the hold and the two lower layers, which are taken to be done."""
        self.reading = with_home(only_centres(self.reading), LOWER_PIECES)
        self.top = possible_tops(self.reading, ordered)
        self.begin_trail()

    def know_only(self, pieces: Collection[str]) -> None:
        """Forget everything except the hold and that `pieces` are at home."""
        self.reading = with_home(only_centres(self.reading), pieces)
        self.begin_trail()

    def forget_all(self) -> None:
        """Forget everything except the hold."""
        self._forgotten = self.past
        self.reading = only_centres(self.reading)
        self.top = Belief(frozenset())
        self.begin_trail()

    def take_as_solved(self) -> None:
        """Take every sticker to be at home in the present hold."""
        self.reading = KnownStickers("".join(centre * 9 for centre in self.reading.centres))
        self.top = Belief(frozenset())
        self.hold_known = True
        self.begin_trail()

    def open_top(self, ordered: bool) -> None:
        """Start to think in patterns of the top: all that agree with the known stickers."""
        first = not self.top
        if self.top:
            self.reading = certain(self.reading, self.top)
        fresh = not self.top or ordered != _ordered(self.top)
        if fresh:
            self.top = possible_tops(self.reading, ordered)
        if first:
            self.begin_trail()
        elif fresh:
            self.trail = self.trail.leading_to(self.top.patterns)

    def close_top(self) -> None:
        """Go back to thinking in stickers, because the two lower layers are not done."""
        self.reading = self.known
        self.top = Belief(frozenset())
        self.trail = self.trail.of_stickers()

    def colour(self, face: str) -> str:
        """The word for the colour of the face `face` on the solved cube."""
        return self.colours[face]

    def face_of(self, colour: str) -> str | None:
        """The face whose colour the learner calls `colour`; None if there is none."""
        return next((face for face, name in self.colours.items() if name == colour), None)

    @property
    def lower_broken(self) -> bool:
        """Whether a known sticker of the two lower layers is not as it should be."""
        pattern, centres = self.reading.pattern, self.reading.centres
        return any(pattern[place] not in (UNKNOWN, centres[place // 9]) for place in LOWER)

    def any_top(self) -> Belief:
        """Everything that the top may be in this hold if the lower layers are done."""
        return possible_tops(with_home(only_centres(self.reading), LOWER_PIECES), ordered=False)

    @property
    def alike(self) -> frozenset[str]:
        """The faces whose colours the learner cannot tell apart."""
        return frozenset(face for face, word in self.colours.items() if word in self.confuse)

    def hold(self, front: str) -> None:
        """Note that the side of `front` has faced the learner from the beginning: everything was seen in that hold."""
        self.hold_known = True
        named = only_centres(self.reading)
        held = next(after for turns in TURNS_ABOUT_UP if (after := named.after(turns)).centre("F") == front)
        letters = str.maketrans(named.centres, held.centres)
        self.reading = KnownStickers(self.reading.pattern.translate(letters))
        self.top = Belief(frozenset(pattern.translate(letters) for pattern in self.top.patterns))
        self.begin_trail()

    @property
    def readable(self) -> str:
        """The pattern of the known stickers, without those whose colours the learner cannot tell apart."""
        return "".join(UNKNOWN if face in self.alike else face for face in self.known.pattern)

    def told(self, facts: Facts) -> Facts:
        """Those of `facts` whose colours the learner can tell from all others."""
        return tuple((place, face) for place, face in facts if face not in self.alike)

    @property
    def held(self) -> dict[str, str]:
        """The learner's words for the faces as the cube is held now, by face."""
        return {face: self.colours[centre] for face, centre in zip(FACES, self.reading.centres, strict=True)}

    @property
    def seen(self) -> dict[str, str]:
        """The learner's words for the known stickers, by place, except those they may have confused."""
        known = zip(PLACE_NAMES, self.known.pattern, strict=True)
        return {place: self.colours[face] for place, face in known if face not in (UNKNOWN, *self.alike)}


def _ordered(top: Belief) -> bool:
    return all(UNKNOWN not in pattern for pattern in top.patterns)


def _common(letters: tuple[str, ...]) -> str:
    """The letter if all are the same, otherwise UNKNOWN."""
    return letters[0] if len(set(letters)) == 1 else UNKNOWN
