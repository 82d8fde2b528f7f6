"""What the learner asks of the coach: concepts that come together in a sentence, and who is spoken to."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from functools import lru_cache
from importlib.resources import files
from itertools import groupby

from coach.language.en.normalise import HARD, SOFT
from coach.language.meaning import Question

MARKS = (HARD, SOFT)


class Commands:
    """The command words of the language."""

    def __init__(self, data: Mapping[str, object]) -> None:
        concepts: dict[str, list[str]] = data["concepts"]  # type: ignore[assignment]
        others: dict[str, list[str]] = data["others"]  # type: ignore[assignment]
        self.rules: list[list[str]] = data["rules"]  # type: ignore[assignment]
        fillers: dict[str, list[str]] = data["fillers"]  # type: ignore[assignment]
        self.fillers = frozenset(fillers["fillers"])
        self._phrases: dict[str, dict[tuple[str, ...], set[str]]] = {}
        for name, phrases in (*concepts.items(), *others.items()):
            for phrase in phrases:
                words = tuple(phrase.split())
                self._phrases.setdefault(words[0], {}).setdefault(words, set()).add(name)
        self.known = {word for phrases in concepts.values() for phrase in phrases for word in phrase.split()}

    def concepts(self, words: Sequence[str]) -> dict[str, list[tuple[int, int]]]:
        """Every concept in the words, with where it stands (start, end); marks are not crossed."""
        found: dict[str, list[tuple[int, int]]] = {}
        for at, word in enumerate(words):
            for phrase, names in self._phrases.get(word, {}).items():
                if tuple(words[at : at + len(phrase)]) == phrase:
                    for name in names:
                        found.setdefault(name, []).append((at, at + len(phrase)))
        return found

    def strange(self, words: Sequence[str]) -> int:
        """How many words of the clause belong neither to a command nor to the usual padding."""
        return sum(1 for w in words if w not in MARKS and w not in self.fillers and w not in self.known)


@lru_cache(maxsize=1)
def commands() -> Commands:
    """The command words, read once."""
    return Commands(tomllib.loads(files(__package__).joinpath("commands.toml").read_text("utf-8")))


def _parts(words: Sequence[str], marks: tuple[str, ...]) -> list[list[str]]:
    return [list(part) for cut, part in groupby(words, key=lambda w: w in marks) if not cut]


def _matches(rule: Sequence[str], found: Mapping[str, object], asked: Question) -> bool:
    for need in rule[1:]:
        if need.startswith("?"):
            if not asked.startswith(need[1:]):
                return False
        elif need.startswith("!"):
            if asked.startswith(need[1:]):
                return False
        elif need.startswith("-"):
            if need[1:] in found:
                return False
        elif need not in found:
            return False
    return True


def particular(words: Sequence[str], asked: Question) -> str | None:
    """A command that its own words give away, whatever was asked; None if there is none.

    Of the rules that match, the one whose concepts cover most words counts; of equals, the first.
    """
    sentences = _parts(words, (HARD,))
    best = max((_best(sentence, asked) for sentence in sentences), key=lambda found: found[1], default=(None, 0))
    if best[0] is None and len(sentences) > 1:
        best = _best(words, asked)
    return best[0]


def _best(sentence: Sequence[str], asked: Question) -> tuple[str | None, int]:
    """The command of a sentence, and how many of its words say so."""
    book = commands()
    plain = [word for word in sentence if word not in MARKS]
    found = book.concepts(plain)
    if "home" in found and not {"louder", "softer", "not_heard", "repeat", "again", "lost"} & found.keys():
        return None, 0
    best, most = None, 0
    for rule in book.rules:
        if _matches(rule, found, asked):
            covered = _covered(rule, found)
            needs = sum(need[0] not in "-?!" for need in rule[1:])
            if covered >= needs and covered > most and book.strange(plain) <= covered + 1:
                best, most = rule[0], covered
    return best, most


def _covered(rule: Sequence[str], found: Mapping[str, list[tuple[int, int]]]) -> int:
    """How many words the concepts of the rule cover."""
    places: set[int] = set()
    for need in rule[1:]:
        if need[0] not in "-?!":
            for start, end in found[need]:
                places.update(range(start, end))
    return len(places)


_TRAILING = ("so", "and", "but", "well", "anyway", "then")
_WHAT = ("what", "huh", "sorry", "eh", "pardon", "hm what", "sorry what", "what sorry")
_SHORT = (
    "stop", "wait", "resume", "next", "weak_next", "ready", "yes", "affirm", "no", "back_again", "mishap", "tired",
    "today",
)  # fmt: skip


def _cues(part: Sequence[str]) -> set[str]:
    """The short cues of a clause; one inside a longer one ("not" in "why not", "end" in "far end") does not count."""
    found = commands().concepts(part)
    spans = [span for name in (*_SHORT, "unsure", "later", "an_end") for span in found.get(name, [])]

    def inside(span: tuple[int, int]) -> bool:
        return any(o != span and o[0] <= span[0] and span[1] <= o[1] for o in spans)

    cues = {name for name in _SHORT if any(not inside(span) for span in found.get(name, []))}
    return cues | {"affirm"} if _is_so(part, found) else cues


def _is_so(part: Sequence[str], found: Mapping[str, list[tuple[int, int]]]) -> bool:
    """A clause that says that it is so ("it is", "they are now"), and not what else it is ("it is green")."""
    so_words = {part[start] for start, _ in found.get("so_word", [])}
    return any(so_words.issuperset(part[end:]) for _, end in found.get("be_so", []))


def _called(parts: Sequence[Sequence[str]]) -> bool:
    """Somebody is called by name: a clause of a single unknown word.

    One that opens the line counts only when the rest is not about the lesson.
    """
    book = commands()
    unknown = [
        at
        for at, part in enumerate(parts)
        if len(part) == 1 and len(part[0]) > 2 and part[0] not in book.known and part[0] not in book.fillers
    ]
    if len(parts) < 2 or not unknown:
        return False
    opens = unknown == [0] and not any(book.strange(part) for part in parts[1:])
    return not opens


def ordinary(words: Sequence[str], asked: Question) -> str | None:
    """Stop, wait, resume, next, ready, yes and no: short words that other talk holds too."""
    parts = _parts(words, MARKS)
    plain = [word for word in words if word not in MARKS]
    found = _short_cues(parts)
    if _not_for_coach(plain, found, asked):
        return None
    if "affirm" in found:
        affirmed = found.pop("affirm")
        if asked in ("claim", "other", "continue"):
            found["yes"] = min(affirmed, found.get("yes", affirmed))
    if asked in ("claim", "other"):
        return _claim(found)
    if asked == "continue":
        return _go_on(found)
    if _called(parts) and not ({"wait", "mishap"} & found.keys() and "you" not in plain):
        return None
    if asked == "turn" and unsure(words):
        return None
    if plain[-1] in _TRAILING and len(plain) < 4 and "stop" not in found:
        return None
    return _short(found, asked, len(plain))


def _short_cues(parts: Sequence[Sequence[str]]) -> dict[str, int]:
    """The short cues of an answer, each with the clause it first stands in.

    A clause that is mostly about something else gives none, and takes back those that it shares with others
    ("stop hitting your brother, stop it").
    """
    book = commands()
    found: dict[str, int] = {}
    asides: set[str] = set()
    for at, part in enumerate(parts):
        cues = _cues(part)
        aside = bool({"home", "address"} & book.concepts(part).keys())
        strange = book.strange(part) > (1 if len(part) < 5 else 2)
        if aside:
            asides |= cues & {"stop", "next", "ready", "yes"}
        called = "address" in book.concepts(part)
        if book.strange(part):
            cues -= {"weak_next"}
        if not (strange or aside) or ({"wait", "tired", "back_again"} & cues and not called):
            for name in cues:
                found.setdefault(name, at)
    found = {name: at for name, at in found.items() if name not in asides}
    if "weak_next" in found:
        found.setdefault("next", found.pop("weak_next"))
    return found


def _not_for_coach(plain: Sequence[str], found: Mapping[str, int], asked: Question) -> bool:
    """Somebody else is spoken to, or the learner thinks aloud, and nothing outweighs it."""
    whole = commands().concepts(plain)
    going = {"wait", "tired", "today"}
    if "address" in whole and not going & found.keys():
        return True
    if "home" in whole and not (going | {"resume", "stop", "back_again", "next"}) & found.keys():
        return True
    musing = "muse" in whole and len(plain) > 2 and not (going | {"stop", "resume"}) & found.keys()
    return musing and not ("next" in found and asked in ("turn", "ready"))


def _go_on(found: Mapping[str, int]) -> str | None:
    if found.keys() & {"tired", "stop", "today"}:
        return "no" if "no" in found else "stop"
    if "no" in found and found["no"] <= found.get("yes", 99):
        return "no"
    if "wait" in found:
        return "wait"
    if "back_again" in found:
        return "resume"
    return "yes" if found.keys() & {"yes", "next", "resume", "ready"} else None


def _short(found: Mapping[str, int], asked: Question, length: int) -> str | None:
    if "stop" in found or ("tired" in found and "today" in found):
        return "stop"
    if "back_again" in found:
        return "resume"
    if "wait" in found or "mishap" in found:
        return "wait"
    if "resume" in found and asked not in ("turn", "ready"):
        return "resume"
    going = bool(found.keys() & {"next", "yes", "ready", "resume"})
    if asked in ("turn", "ready"):
        if "no" in found:
            return "no" if length < 4 else None
        return ("next" if asked == "turn" else "ready") if going else None
    if "no" in found and length < 4:
        return "no"
    if "next" in found and length < 4:
        return "next"
    return "yes" if "yes" in found and length < 4 else None


def _claim(found: Mapping[str, int]) -> str | None:
    if "no" in found and found["no"] <= found.get("yes", 99):
        return "no"
    if "yes" in found:
        return "yes"
    if "wait" in found:
        return "wait"
    if found.keys() & {"resume", "back_again"}:
        return "resume"
    return "stop" if "stop" in found else None


def explains(words: Sequence[str]) -> bool:
    """A word of the coach's own is asked about ("what is an edge?")."""
    for sentence in _parts(words, (HARD,)):
        found = commands().concepts([word for word in sentence if word not in MARKS])
        if "term" in found and {"explain", "asks_what"} & found.keys():
            return True
    return False


def names_term(words: Sequence[str]) -> bool:
    """A word of the coach's own is repeated in a few words ("edge?")."""
    return len(words) < 7 and "term" in commands().concepts(words)


def _once_more(part: Sequence[str]) -> bool:
    """A clause that says nothing but "again"."""
    rest = {"please", "and", "that", "it", "sorry", "love", "just", "okay", "one", "once", "more", "time", "another"}
    return "again_only" in commands().concepts(part) and set(part) <= rest | {"again"}


def command(words: Sequence[str], asked: Question) -> str | None:
    """What is asked of the coach, in an answer that answers nothing else."""
    if done_top(words):
        return "done-top"
    if " ".join(word for word in words if word not in (*MARKS, "oh", "ooh")) in _WHAT:
        return "repeat"
    found = particular(words, asked) or ordinary(words, asked)
    if found is None and any(map(_once_more, _parts(words, MARKS))):
        return "repeat"
    if found is None and asked == "continue" and particular(words, "turn") == "pain":
        return "pain"  # "no, my hands hurt" is a no first of all
    if found is None and unsure(words) and len(words) < 8:
        return "unsure"
    return found


def done_top(words: Sequence[str]) -> bool:
    """The whole top shows one colour."""
    plain = [word for word in words if word not in MARKS]
    found = commands().concepts(plain)
    return {"whole_top", "one_colour", "entire"} <= found.keys() and not {"no", "broken"} & found.keys()


def unsure(words: Sequence[str]) -> bool:
    """The learner cannot tell what is there."""
    found = commands().concepts([word for word in words if word not in MARKS])
    return "unsure" in found


def cannot_tell(words: Sequence[str]) -> bool:
    """As `unsure`, in any words, for an answer in which nothing else was understood."""
    found = commands().concepts([word for word in words if word not in MARKS])
    return "unsure" in found or {"not_word", "tell_word"} <= found.keys()


def contradicts_itself(words: Sequence[str]) -> bool:
    """A yes and a no in different clauses ("yes... ah, no")."""
    found = _short_cues(_parts(words, MARKS))
    return "yes" in found and "no" in found and found["yes"] != found["no"]


def finds_wrong(words: Sequence[str]) -> bool:
    """Something is said to be wrong ("that's wrong")."""
    found = commands().concepts([word for word in words if word not in MARKS])
    return bool({"bare_wrong", "looks_wrong"} & found.keys())


def answers(words: Sequence[str]) -> bool:
    """A plain yes or no is among the clauses."""
    return bool({"yes", "no"} & _short_cues(_parts(words, MARKS)).keys())


def corrects(words: Sequence[str]) -> bool:
    """The learner takes the last answer back."""
    return "correct" in commands().concepts([word for word in words if word not in MARKS])
