"""What the learner may say besides answering a question: that they are there, that a row was told wrongly, how many
rows are still to come, that the cube fell, to go back to the edges, what the sequence at hand is called, not to do it
again, that they want another kind of session; and to be told another sequence."""

from __future__ import annotations

from typing import Final

from coach.dialogue import taught
from coach.dialogue.acts import Event, Heard, Tell
from coach.dialogue.doubt import ask_aside
from coach.dialogue.moment import Moment
from coach.dialogue.pupils import Pupils
from coach.dialogue.replies import command_of
from coach.dialogue.saying import Talking
from coach.dialogue.signals import Interrupt
from coach.language.aside import Attendance, Remark, RowPutRight
from coach.language.meaning import Question
from coach.language.questions import QUESTIONS

_BETWEEN_ROWS: Final = ("row", "face", "ready", "continue")
"""Accept corrections of a row at these questions only; an answer to a claim is about that claim."""
_ROW: Final = 3
"""The number of stickers in a row."""
_OF_SEQUENCE: Final = ("not-again", "reminds", "its-name", "its-hand", "just-undo", "what-next")
_DOING: Final = ("turn", "do")
_IN_WORDS: Final = ("recite", "hold", "hands")
"""Questions to which what a sequence is called may be the answer."""
_SESSIONS: Final = ("to-practice", "to-lesson")
_NOT_YET: Final = ("step", "return", "colour")
"""Questions that come before anything has been said about the cube."""


def beside(talk: Moment, heard: Heard, asked: Question) -> Talking[bool]:
    """Answer a remark besides the question, and tell whether there was one. Raises Interrupt if it changes more."""
    if heard.says("asks-here") or (heard.says("only-here") and QUESTIONS[asked].busy):
        talk.count_presence(asked)
        if heard.says("asks-here"):
            yield from talk.aside("reply.here", int(asked == "continue"))
        return True
    method = talk.method()
    if method and heard.aside.asks_for:
        talk.count_useless(asked)
        yield from taught.tell(talk, method, heard.aside.asks_for)
        return True
    if row := _row_put_right(talk, heard, asked):
        talk.count_useless(asked)
        raise Interrupt("correct", heard, row)
    held = heard.says("held-wrong") or (talk.searching and heard.says("misfit"))
    if (talk.rows or talk.searching) and asked in ("row", "face") and held and _told(heard) < _ROW:
        talk.count_useless(asked)
        raise talk.interrupt("held", heard)
    if talk.pupils and heard.aside.attendance and talk.scene.about != "size":
        yield from _attendance(talk, talk.pupils, heard.aside.attendance)
        return True
    if talk.pupils and heard.says("spares") and asked in ("turn", "ready"):
        talk.count_useless(asked)
        raise talk.interrupt("nobody", heard)
    remark = heard.aside.remark
    if remark in _SESSIONS:
        talk.count_useless(asked)
        practises = remark == "to-practice" and talk.attempts.learned.origin == "practice"
        yield from talk.aside("switch.practises" if practises else f"switch.{remark}")
        return True
    if remark is None or talk.scene.about in _NOT_YET:
        return False
    if remark in _OF_SEQUENCE:
        return (yield from _of_sequence(talk, heard, asked))
    if remark.startswith("rows") and _told(heard):
        return False
    if remark.startswith("rows") and talk.rows is None and not (talk.searching and remark == "rows-left"):
        return False
    talk.count_useless(asked)
    if remark == "edges-again":
        raise talk.interrupt(remark, heard)
    if remark == "fell":
        yield from _fell(talk, heard)
    else:
        yield Tell(_of_rows(talk, remark))
        if asked == "ready":
            yield Tell(talk.hold())
    return True


def _attendance(talk: Moment, pupils: Pupils, told: Attendance) -> Talking[None]:
    """Take notice of who has come into the class, or left it."""
    change = pupils.hear(told)
    if change is None:
        yield from talk.aside("class.how-many-come")
    elif change > 0:
        yield from talk.aside("class.come", int(change > 1), n=change)
    else:
        yield from talk.aside("class.so-many", n=(pupils.size or 0) + pupils.late)


def _of_sequence(talk: Moment, heard: Heard, asked: Question) -> Talking[bool]:
    """Answer a remark about the sequence at hand, and tell whether it was one."""
    attempts, remark = talk.attempts, heard.aside.remark
    if remark == "not-again":
        return (yield from _not_again(talk, heard, asked))
    if remark == "reminds":
        if not (attempts.again or attempts.repeats):
            return False
        yield from talk.aside("by-heart.again-yes")
        return True
    if remark == "what-next":
        if asked == "turn":
            raise talk.interrupt(remark, heard)
        return False
    if asked in _IN_WORDS or (remark == "just-undo" and asked not in _DOING):
        return False
    sequence = attempts.sequence if attempts.again or (attempts.now and not attempts.now.over) else None
    if remark == "just-undo":
        return (yield from _just_undo(talk, heard, asked))
    if sequence is None:
        yield from talk.aside("by-heart.no-sequence")
        return True
    yield from talk.aside("by-heart.name", name=sequence.say(talk.phrases.code, "name"))
    if remark == "its-hand":
        yield from talk.aside(f"by-heart.hand-{talk.hand}")
    return True


def _not_again(talk: Moment, heard: Heard, asked: Question) -> Talking[bool]:
    """Drop what was to be done once more; what has been taken back for it is done again."""
    attempts = talk.attempts
    if not attempts.again or talk.searching:
        return False
    attempts.again = False
    yield from talk.aside("by-heart.not-again")
    if attempts.taken_back and asked == "turn":
        raise talk.interrupt("not-again", heard)
    return True


def _just_undo(talk: Moment, heard: Heard, asked: Question) -> Talking[bool]:
    """Go back one turn for whoever asks whether they may, if they name no other side than that of the last call."""
    if asked != "turn":
        return False
    if heard.aside.telling.faces <= {turn.face for turn in talk.called}:
        raise talk.interrupt("back", heard)
    yield from talk.aside("turn.not-understood")
    return True


def _of_rows(talk: Moment, remark: Remark) -> str:
    """What is told about the rows that were read, or are to come."""
    if talk.rows is None:
        return talk.words("read.to-check")
    return talk.rows.so_far() if remark == "rows-told" else talk.rows.to_come()


def _row_put_right(talk: Moment, heard: Heard, asked: Question) -> RowPutRight | None:
    """How an earlier row is put right; an answer to the question for another row does not count, nor while the whole
    cube is read one that also answers."""
    right = heard.aside.row or (_row_before(heard) if talk.searching else None)
    told_any = talk.searching if talk.rows is None else talk.rows.any_told
    taken_back = asked == "claim" and heard.meaning and heard.meaning.command == "correct"
    if right is None or not told_any or not (asked in _BETWEEN_ROWS or taken_back):
        return None
    if asked not in ("row", "face") or _told(heard) < _ROW:
        return right
    of_another = len(right.colours) == _ROW or right.before or right.named
    return right if of_another and not (right.answers and talk.rows) else None


def _row_before(heard: Heard) -> RowPutRight | None:
    """The row that was told before, if three colours are plainly said of it."""
    named = heard.aside.row_named
    corrects = heard.says("past") or heard.says("corrects")
    before = heard.says("row-before") or (corrects and named and not named[0])
    if not before or heard.meaning is None or _told(heard) != _ROW:
        return None
    return RowPutRight(dict(enumerate(heard.meaning.colours)), named=named)


def _told(heard: Heard) -> int:
    """The number of colours told."""
    return sum(colour != "?" for colour in heard.meaning.colours) if heard.meaning else 0


def _fell(talk: Moment, heard: Heard) -> Talking[None]:
    """Go on as before if nothing turned when the cube fell; otherwise raise an Interrupt that has it looked into."""
    for form in talk.forms("ask.fell"):
        event = yield from ask_aside(talk, form, "fell")
        answer = _turned(event)
        if answer is False:
            talk.fell(answer)
            yield from talk.aside("reply.fell")
            yield from talk.tell_hold()
            return
        if answer or (isinstance(event, Heard) and command_of(event) == "unsure"):
            break
    if not talk.rows:
        talk.fell(answer)
        yield from talk.tell_hold()
        raise talk.interrupt("lost", heard)
    raise talk.interrupt("turned" if answer else "fell", heard)


def _turned(event: Event) -> bool | None:
    """Whether the learner says that a side turned with the fall; being ready to go on is no answer to that. Where the
    meaning is clear, the word that the answer opens with does not count ("no idea"); where the two differ, neither."""
    if not isinstance(event, Heard):
        return None
    denies = event.says("no-first") or event.says("not-done")
    match command_of(event):
        case "yes":
            return None if denies else True
        case "no":
            return None if event.says("yes-first") else False
        case "unsure":
            return None
    return False if denies else True if event.says("yes-first") else None
