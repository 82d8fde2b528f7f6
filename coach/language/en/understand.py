"""The meaning of an answer in everyday English: the learned reader, and rules for names and wishes about the lesson."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cached_property, lru_cache
from typing import Any, Final

from coach.language.commands import Trait, has
from coach.language.en.asides import asides
from coach.language.en.besides import broken, of_sequence, one_mark, opposites, subjects
from coach.language.en.besides.presence import only_here, only_okay
from coach.language.en.besides.stops import stops
from coach.language.en.besides.which import chosen, of_another
from coach.language.en.besides.wishes import asks_steps, asks_where, wish
from coach.language.en.by_heart import solved, timed
from coach.language.en.by_heart.halfway import asks_on, unfinished
from coach.language.en.by_heart.holding import held
from coach.language.en.by_heart.parts import spelled_out
from coach.language.en.counts import attendance, heard, room
from coach.language.en.counts import reading as hands
from coach.language.en.naming import own_word, words_by_side
from coach.language.en.reader.claims import Weighted
from coach.language.en.reader.network import Network
from coach.language.en.reader.normalise import HARD, SOFT, normalise
from coach.language.en.reader.reader import added, named_step, readings
from coach.language.en.reader.thresholds import thresholds
from coach.language.en.rows import corrections
from coach.language.en.rows.counts import counted
from coach.language.en.rows.elsewhere import DOUBT, of_something_else
from coach.language.en.slips import denials, falls
from coach.language.meaning import Meaning, Question, Reading, Scene
from coach.language.questions import BETWEEN, STEP_SUBJECTS, asks_whether_so

_SURE: Final = 0.99
_KEPT: Final = 4096
"""Cache this many answers with their possible meanings, about 1 kB each: those of dozens of lessons."""
_STICKERS: Final[Mapping[Question, int]] = {"row": 3, "face": 9}
_AFTER_A_LOOK: Final = ("ready", "turn", "claim", "continue")
_DENIALS: Final = frozenset({"no", "not", "nope", "wrong", "mistake"})
_SIDES: Final = {"back": "U1", "left": "U3", "right": "U5", "front": "U7"}
_IS_NOT: Final = re.compile(r"^no .*\b(?:it|that|this|one) is not\b")
_WHERE: Final = frozenset({"top", "middle", "bottom", "back", "front", "left", "right", "upper", "lower", "but", "yes"})
_OF_THEMSELVES: Final = frozenset({"i", "my", "me", "there"})
_BETWEEN: Final = frozenset({"and", "the", "one", "ones", "edge", "edges", HARD, SOFT})
_ALONE: Final = frozenset({"only", "just"})
_ON_THEIR_OWN: Final = frozenset({"right", "begun"})
_BESIDES: Final = frozenset({
    "call-it", "hint", "whole-sequence", "stop", "wait", "pain", "read", "explain", "where", "repeat",
})  # fmt: skip
"""What somebody may want who tells how far they are."""


class Understanding:
    """Reads answers: holds the network and a cache of recent readings. One serves many lessons and threads."""

    def __init__(self, network: Network | None = None) -> None:
        self._given = network
        # The same words in the same moment are read only once, whoever said them.
        self._kept = lru_cache(maxsize=_KEPT)(self._told)

    @cached_property
    def network(self) -> Network:
        """The network, loaded when an answer is first read."""
        return self._given or Network()

    def settled(self, writings: Sequence[tuple[str, float]], asked: Question, scene: Scene) -> Reading:
        """The likeliest joint meaning of several writings of an answer, each with its share."""
        each = [(share, self.told(text, asked, scene)) for text, share in writings]
        mixed = [(meaning, share * chance) for share, told in each for meaning, chance in told]
        best, chance = max(added(mixed), key=lambda each: each[1], default=(None, 0.0))
        act, ask = thresholds(asked, best, len(writings))
        acts = best is not None and (heard.surely(best, chance, each) if asked == "hands" else chance) >= act
        return Reading(best, min(chance, 1.0), acts, acts or (best is not None and chance >= ask))

    def told(self, text: str, asked: Question, scene: Scene) -> Weighted:
        """The possible meanings of `text`, with probabilities."""
        colours, claim, seen = (tuple(each.items()) for each in (scene.colours, scene.claim, scene.seen))
        key = (
            colours, scene.piece, scene.about, claim, scene.claimed, seen, scene.others, scene.taught, scene.size,
            scene.rest, scene.parts, scene.looked,
        )  # fmt: skip
        return list(self._kept(text, asked, key))

    def _told(self, text: str, asked: Question, scene: tuple[Any, ...]) -> tuple[tuple[Meaning | None, float], ...]:
        colours, piece, about, claim, claimed, seen, *more = scene
        whole = Scene(dict(colours), piece, about, dict(claim), claimed, dict(seen), *more)
        return tuple(_told(self.network, text, asked, whole))


def _of_a_part(network: Network, text: str, asked: Question, scene: Scene) -> Meaning:
    """What somebody on their own says who has done a part only."""
    said = readings(network, text, asked, scene)[0][0]
    if said and said.command in _BESIDES:
        return said
    if scene.about == "begun":
        return Meaning(command="yes")
    return Meaning(command="hint" if asks_on(text) else "no")


def _look_put_right(
    network: Network, text: str, asked: Question, scene: Scene
) -> tuple[Meaning, float] | None:
    """What the top looks like after all, for who takes back what they said of it: "sorry, it's the front one"."""
    marks = asides().read(text, asked, scene).marks
    if scene.looked is None or not ("corrects-answer" in marks or ("corrects" in marks and asked == "ready")):
        return None
    look, chance = readings(network, text, scene.looked, scene)[0]
    return (replace(look, command="correct"), chance) if look and look.look and not look.command else None


def _told(network: Network, text: str, asked: Question, scene: Scene) -> Weighted:
    text = spelled_out(text, scene) if asked == "recite" else text
    words = normalise(text)
    if not words:
        return [(None, 1.0)]
    if room.is_led(asked, scene) and (led := room.settles(words)):
        return [(Meaning(command=led[0]) if led[0] else None, _SURE)]
    if asked == "hands" and (count := hands.plainly(text, scene)):
        return [count]
    if asked != "hands" and room.is_led(asked, scene):
        text = room.as_one(attendance.leaving_out(text))
        words = normalise(text)
        if not words:
            return [(None, _SURE)]
    change = wish(network, words, asked, scene)
    if change and change.hand and scene.size is not None and not _OF_THEMSELVES & set(words):  # of some pupils
        return hands.told(network, text, scene) if asked == "hands" else [(None, _SURE)]
    if change and not (change.step and scene.about in STEP_SUBJECTS):
        return [(Meaning(change=change), _SURE)]
    if (asked == "do" or scene.about in _ON_THEIR_OWN) and unfinished(text):
        return [(_of_a_part(network, text, asked, scene), _SURE)]
    if plainly := opposites.settles(words, asked, scene.about):
        return [(plainly[0], _SURE)]
    if wished := stops(words):
        return [(Meaning(command=wished[0]) if wished[0] else None, _SURE)]
    if more := of_sequence.settles(words, busy=asked in ("turn", "ready", "do"), reciting=asked == "recite"):
        return [(more[0], _SURE)]
    if asked not in BETWEEN and "back" not in words and only_here(words):  # whoever is back wants to go on
        return [(None, _SURE)]
    if asks_whether_so(asked, scene.about) and only_okay(words):  # it may only mean that the question was heard
        return [(None, _SURE)]
    if scene.about == "step" and words == ["no"]:
        return [(None, _SURE)]
    if asked == "claim" and words == ["yes"]:  # also as "ya" or "yea"
        return [(Meaning(command="yes"), _SURE)]
    if asked == "turn" and set(words) <= {word for name in scene.names for word in normalise(name)}:
        return [(None, _SURE)]  # a colour alone is no answer to a call
    if asked == "piece" and scene.about == "placed":
        if _denies_place(words) or (denials.denies(words) and not _tells_of_another(network, text, asked, scene)):
            return [(Meaning(command="no"), _SURE)]
        if broken.is_placed(words):
            return [(Meaning(command="yes"), _SURE)]
    if asked in ("piece", "turn", "ready") and scene.others and (said := of_another(network, text, asked, scene)):
        return [(said, _SURE)]
    if scene.about == "which" and (piece := chosen(text, scene)):
        return [(Meaning(piece=piece), _SURE)]
    if meant := timed.settles(words, scene.about):
        return [(meant, _SURE)]
    if scene.about == "fell" and (meant := falls.whether_turned(words)):
        return [(meant, _SURE)]
    if asked == "other" and solved.only_asks(words, scene.about):
        return [(None, _SURE)]
    if asked == "other" and (so := solved.settles(words, scene.about)):
        return [(so, _SURE)]
    if broken.only_goes_on(words, asked, scene):
        return [(None, _SURE)]
    if asked == "turn" and "?" not in text and broken.has_done(words):
        return [(Meaning(command="next"), _SURE)]
    if asks_steps(words):
        return [(Meaning(command="explain"), _SURE)]
    if asks_where(words):
        return [(Meaning(command="where"), _SURE)]
    if asked == "look-top-edges" and (sides := _sides_alone(words)):
        return [(Meaning(look=sides), _SURE)]
    if asked == "hold":
        return held(network, text, words, scene)
    if asked == "other" and scene.about in ("colour", "colours") and (named := words_by_side(words)):
        return [(Meaning(colours=tuple(named.values())), _SURE)]
    if asked == "other" and scene.about in ("front", "colour"):
        return _name(network, words, text, scene)
    if marked := one_mark.settles(words, asked, scene):
        return [(marked[0], _SURE)]
    if scene.looked and asked in _AFTER_A_LOOK and (look := _look_put_right(network, text, asked, scene)):
        return [look]
    if corrections.takes_back(text, scene):
        return [(Meaning(command="correct"), _SURE)]
    if asked == "row" and (told := corrections.answered(text, scene)):
        return [(Meaning(colours=told), _SURE)]
    if asked == "face" and (told := counted(text, scene)):
        return [(Meaning(colours=told), _SURE)]
    size = _STICKERS.get(asked)
    if size and (told := corrections.put_right_in_itself(text, scene, size)):
        return [(Meaning(colours=told), _SURE)]
    if asked == "hands":
        return hands.told(network, text, scene)
    plain = asides().without_name_of_row(text) if asked == "row" else text
    found = readings(network, plain, asked, scene)
    found = [(of_sequence.plainly_asked(words, meaning), chance) for meaning, chance in found]
    found = [(opposites.wants_called(words, meaning), chance) for meaning, chance in found]
    best = found[0][0]
    if size and best and best.colours and corrections.takes_back_itself(text, scene, best.colours):
        return [(None, _SURE)]
    if asked == "piece" and of_something_else(text, scene):
        return [(meaning, min(chance, DOUBT)) for meaning, chance in found]
    if found[0][0] == Meaning(command="explain") and scene.about in STEP_SUBJECTS:
        return [(Meaning(command="explain", step=named_step(network, text, scene)), found[0][1])]
    if broken.offers_no_reading(words, found[0][0]) or broken.is_whole(words, found[0][0]):
        return [(None, _SURE)]
    if asked == "claim" and words[0] == "yes":  # "yes, I said that" takes nothing back
        return [(Meaning(command="yes") if _corrects(meaning) else meaning, chance) for meaning, chance in found]
    if asked in ("claim", "other") and subjects.of_somebody_else(words, scene):
        return [(None if meaning and has(meaning.command, Trait.YES) else meaning, chance) for meaning, chance in found]
    if asked in BETWEEN:
        return [(broken.with_care(words, asked, meaning), chance) for meaning, chance in found]
    return found


def _sides_alone(words: Sequence[str]) -> dict[str, bool]:
    """The edges on top if one or three are named and nothing else is said; {} for any other answer.

    The network knows which tops are possible, so it makes one or three edges into more or fewer. But that number does
    occur while the lower layers are unfinished, and later it reveals a slip.
    """
    said = set(words) - _BETWEEN
    named = {_SIDES[word] for word in said & _SIDES.keys()}
    if len(named) % 2 == 0 or not said - _ALONE <= _SIDES.keys():
        return {}
    others = dict.fromkeys(_SIDES.values(), False) if said & _ALONE else {}
    return others | dict.fromkeys(named, True)


def _corrects(meaning: Meaning | None) -> bool:
    return meaning is not None and meaning.command == "correct"


def _tells_of_another(network: Network, text: str, asked: Question, scene: Scene) -> bool:
    """Whether it tells where another piece is that it names by all its colours: with one colour only it may as well be
    about a sticker."""
    said = of_another(network, text, asked, scene) if scene.others else None
    return said is not None and len(said.piece) > 1 and bool(said.place or said.shows)


def _denies_place(words: Sequence[str]) -> bool:
    """Whether it says that a piece is not in its place, without saying where it is instead."""
    said = set(words)
    denied = ("place" in said and bool(_DENIALS & said)) or bool(_IS_NOT.search(" ".join(words)))
    return denied and not _WHERE & said


def _name(network: Network, words: Sequence[str], text: str, scene: Scene) -> Weighted:
    """An answer about which colour faces the learner, or what they call one; anything else must be clear."""
    beside, chance = readings(network, text, "other", scene)[0]
    command = beside.command if beside else None
    answers = has(command, Trait.PLAIN | Trait.DONE)  # these do not ask about a name
    if command and not answers and chance >= _SURE:
        return [(beside, chance)]
    if scene.about == "front":
        plain = {word for word in words if word not in (HARD, SOFT)}
        said = [name for name in scene.names if all({word, f"{word}s"} & plain for word in normalise(name))]
        said = subjects.of_front(words, said) if len(said) > 1 else said
        name = said[0] if len(said) == 1 else ""
    else:
        name = own_word(words) or ""
        if _DENIALS & set(words):
            return [(Meaning(command="no"), _SURE)]
    if name:
        return [(Meaning(colours=(name,)), _SURE)]
    return [(None if answers else beside, chance)]
