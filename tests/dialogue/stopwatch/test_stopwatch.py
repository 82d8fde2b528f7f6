"""Timed solves in conversation: the clock is the shell's, and what is early or late follows the WCA Regulations."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import pytest

from coach.cube import Turn, parse, write
from coach.dialogue import Act, Ask, CallTurn, Event, Heard, Listen, Silence, Tell, Timed, When
from coach.dialogue.lesson import Settings
from coach.dialogue.stopwatch import Stopwatch
from coach.language.meaning import Change, Meaning
from coach.learning.times import Result
from coach.method import default_method
from tests.loaded import load

ENGLISH = load()
TURNS = parse("R U' F2 L D")


def _scrambles() -> Iterator[tuple[Turn, ...]]:
    while True:
        yield TURNS


def test_ready_said_while_it_waits_begins_the_inspection() -> None:
    for unready in (("no",), ("cabbage", "cabbage", "cabbage")):
        solver = Solver()
        solver.say("it's scrambled already")
        assert solver.texts[-1] == ENGLISH.sentences.say("stopwatch.ready")
        for text in unready:
            solver.say(text)
        solver.say("ready")
        assert solver.about == "inspection"


class Solver:
    """Talks to a stopwatch. `clock` is the time now; what is said begins now unless it began so many seconds ago."""

    def __init__(self, results: Sequence[Result] = (), settings: Settings | None = None) -> None:
        self.watch = Stopwatch(default_method(), ENGLISH.sentences, _scrambles(), results, settings, ENGLISH.offers)
        self.acts: list[Act] = []
        self.clock = self.listening = 100.0
        self._take(self.watch.start())

    def _take(self, acts: list[Act]) -> None:
        self.acts += acts
        self.clock += 0.7 * sum(isinstance(act, Ask | Tell) for act in acts)  # the coach takes time to speak
        self.listening = self.clock

    @property
    def listen(self) -> Listen:
        last = self.acts[-1]
        assert isinstance(last, Listen)
        return last

    @property
    def about(self) -> str:
        return self.listen.scene.about

    @property
    def texts(self) -> list[str]:
        return [act.text for act in self.acts if isinstance(act, Ask | Tell)]

    @property
    def timed(self) -> list[Timed]:
        return [act for act in self.acts if isinstance(act, Timed)]

    def say(self, text: str, after: float = 1.0, guesses: tuple[Heard, ...] = (), understood: float = 0.6) -> None:
        """Say it so many seconds after the coach has begun to listen; it is understood a moment later."""
        asked, scene = self.listen.asked, self.listen.scene
        at = self.listening + after
        self.clock = at + understood
        meaning = None if guesses else ENGLISH.understand(text, asked, scene)
        heard = Heard(text, meaning, guesses=guesses, when=self._when(at))
        self._answer(heard.with_asides(lambda said: ENGLISH.aside(said, asked, scene)))

    def wait(self) -> None:
        """Say nothing until the pause has run out."""
        listen = self.listen
        self.clock = self.listening + listen.seconds if listen.until is None else max(listen.until, self.clock)
        self._answer(Silence(listen.seconds, self._when(self.clock)))

    def _when(self, at: float) -> When | None:
        return When(self.listening, at) if self.listen.timed else None

    def _answer(self, event: Event) -> None:
        self._take(self.watch.handle(event))

    def scrambled(self) -> None:
        """Until the inspection has begun, with a cube that is scrambled already."""
        self.say("I've scrambled it")
        self.say("ready")
        assert self.about == "inspection"

    def solved_in(self, seconds: float) -> None:
        """A whole attempt of that time."""
        self.scrambled()
        self.say("start", 3.0)
        self._stop(seconds)

    def _stop(self, seconds: float) -> None:
        started = self.clock - 0.7 - 0.6  # the coach's "Go" was said once "start" was understood
        self.say("stop", started + seconds - self.listening)

    def started(self, after: float = 3.0) -> None:
        self.scrambled()
        self.say("start", after)
        assert self.about == "solve"


def test_the_time_is_from_the_beginning_of_start_to_the_beginning_of_stop() -> None:
    solver = Solver()
    solver.solved_in(41.329)
    assert solver.timed == [Timed(4132, "", "")]  # 9f1: truncated
    assert "41.32 seconds." in solver.texts
    assert solver.texts[-1] == "Another one?"


def test_a_scramble_that_was_called_and_done_is_kept_with_the_time() -> None:
    solver = Solver()
    solver.say("ready")
    while solver.listen.asked == "turn":
        solver.wait()
    solver.say("I'm ready")
    solver.say("start")
    solver.say("stop", 30.0)
    assert [str(act.turn) for act in solver.acts if isinstance(act, CallTurn)] == write(TURNS).split()
    assert solver.timed[0].scramble == write(TURNS)


def test_a3d2_and_a3d3_eight_and_twelve_seconds_are_called_when_they_have_elapsed() -> None:
    solver = Solver()
    solver.scrambled()
    begun = solver.listening
    solver.wait()
    assert solver.texts[-1] == "8 seconds." and solver.clock - 0.7 == pytest.approx(begun + 8)
    solver.wait()
    assert solver.texts[-1] == "12 seconds." and solver.clock - 0.7 == pytest.approx(begun + 12)


def test_talk_in_the_inspection_neither_starts_the_clock_nor_shifts_the_calls() -> None:
    solver = Solver()
    solver.scrambled()
    begun = solver.listening
    for said in ("hm, the white one", "yes", "achoo"):
        solver.say(said, 0.5)
        assert solver.about == "inspection"
    solver.wait()
    assert solver.texts[-1] == "8 seconds." and solver.clock - 0.7 == pytest.approx(begun + 8)


@pytest.mark.parametrize(
    ("inspected", "penalty", "told"),
    [(14.9, "", "20.00 seconds."), (15.1, "+2", "that makes 22.00 seconds."), (16.9, "+2", "22.00 seconds")],
)
def test_a4d1_a_start_after_fifteen_seconds_costs_two(inspected: float, penalty: str, told: str) -> None:
    solver = Solver()
    solver.scrambled()
    begun = solver.listening
    solver.wait()
    solver.wait()
    solver.say("start", begun + inspected - solver.listening)
    solver._stop(20.0)
    assert solver.timed[0] == Timed(2000, penalty, "")  # type: ignore[arg-type]
    assert any(told in text for text in solver.texts[-2:])


def test_a4d2_without_a_start_in_seventeen_seconds_it_is_a_dnf() -> None:
    solver = Solver()
    solver.scrambled()
    begun = solver.listening
    for _ in range(3):
        solver.wait()
    assert solver.clock - 1.4 == pytest.approx(begun + 17)
    assert solver.timed == [Timed(0, "DNF", "")]
    assert "DNF" in solver.texts[-2]


def test_a_start_that_begins_in_time_counts_although_it_is_understood_later() -> None:
    solver = Solver()
    solver.scrambled()
    solver.wait()
    solver.wait()
    begun = solver.clock - 0.7 - 12
    solver.say("start", begun + 14.9 - solver.listening, understood=1.5)
    solver.say("stop", 10.0)
    assert solver.timed[0].penalty == ""


def test_typed_an_empty_line_lets_the_time_run_out() -> None:
    """Typing waits for nothing, so that its clock stands nearly still."""
    solver = Solver()
    solver.scrambled()
    for _ in range(2):
        solver._answer(Silence(8.0, When(solver.listening, solver.listening)))
    assert solver.texts[-2:] == ["8 seconds.", "12 seconds."]
    solver._answer(Silence(5.0, When(solver.listening, solver.listening)))
    assert solver.timed == [Timed(0, "DNF", "")]


# Stopping


@pytest.mark.parametrize("said", ["achoo", "oh no, where is that edge", "help", "slower", "yes", "wait"])
def test_nothing_but_a_stop_stops_the_clock(said: str) -> None:
    solver = Solver()
    solver.started()
    told = len(solver.texts)
    solver.say(said, 10.0)
    assert solver.about == "solve" and not solver.timed and len(solver.texts) == told
    solver.say("stop", 5.0)
    assert len(solver.timed) == 1


@pytest.mark.parametrize("said", ["stop", "Stop!", "stop now", "done", "I'm done", "it's solved", "time"])
def test_whoever_has_solved_it_says_so_in_a_word(said: str) -> None:
    solver = Solver()
    solver.started()
    solver.say(said, 10.0)
    assert len(solver.timed) == 1


def test_a_stop_that_was_not_surely_heard_is_asked_about_and_counts_from_when_it_was_said() -> None:
    solver = Solver()
    solver.started()
    started = solver.clock - 0.7 - 0.6
    stop = Heard("stop", Meaning(command="stop"), 0.4)
    for answer, timed in (("no", []), ("yes", [Timed(2000, "", "")])):
        solver.say("", started + (20.0 if timed else 8.0) - solver.listening, (stop,))
        assert solver.texts[-1] == "Did you say stop?"
        solver.say(answer, 2.0)
        assert solver.timed == timed


def test_a_word_taken_for_stop_in_the_inspection_was_a_start_if_the_learner_wants_to_go_on() -> None:
    solver = Solver()
    solver.scrambled()
    solver.say("stop", 5.0)
    assert solver.texts[-1] == "Do you want to stop for today?"
    started = solver.clock - 0.7 - 0.6
    solver.say("no", 1.0)
    assert solver.about == "solve"
    solver.say("stop", started + 30.0 - solver.listening)
    assert solver.timed == [Timed(3000, "", "")]


def test_whoever_gives_up_did_not_finish() -> None:
    solver = Solver()
    solver.started()
    solver.say("I give up", 50.0)
    assert solver.timed[0].penalty == "DNF"  # 9f4


def test_whoever_is_silent_for_half_an_hour_is_no_longer_there() -> None:
    solver = Solver()
    solver.started()
    for _ in range(2):
        solver.wait()
        assert "still timing" in solver.texts[-1]
    solver.wait()
    assert solver.watch.ended


# Afterwards


def test_9f8_the_average_of_five_is_told_after_five_and_on_asking() -> None:
    solver = Solver()
    for number, seconds in enumerate((10.0, 11.0, 12.01, 13.0, 90.0), 1):
        solver.solved_in(seconds)
        if number < 5:
            solver.say("how am I doing")
            assert "Your best is 10.00 seconds. For an average I need five." in solver.texts
            solver.say("yes, another one")
    assert "The average of your last five is 12.00 seconds." in solver.texts
    solver.say("what's my average")
    assert "Your best is 10.00 seconds. The average of your last five is 12.00 seconds." in solver.texts


def test_earlier_sessions_count_when_somebody_asks_how_they_are_doing() -> None:
    solver = Solver([900, 1000, 1100, None])
    solver.solved_in(12.0)
    solver.say("how am I doing")
    assert "Your best is 9.00 seconds. The average of your last five is 11.00 seconds." in solver.texts  # 9f9


@pytest.mark.parametrize(
    ("said", "penalty", "told"),
    [("it isn't solved", "DNF", "a DNF"), ("one turn short, so plus two", "+2", "22.00 seconds")],
)
def test_the_learner_judges_whether_it_is_solved(said: str, penalty: str, told: str) -> None:
    """10e3 and 10e4: one turn short costs two seconds, more are a DNF."""
    solver = Solver()
    solver.solved_in(20.0)
    solver.say(said)
    assert solver.timed[-1] == Timed(2000, penalty, judged=True)  # type: ignore[arg-type]
    assert f"All right, then it's {told}." in solver.texts
    solver.say("sorry, no penalty, it was solved")
    assert solver.timed[-1] == Timed(2000, "", judged=True)
    solver.say("no thanks")
    assert solver.watch.ended


def test_a_minute_and_more_is_told_in_minutes() -> None:
    solver = Solver()
    solver.solved_in(65.2)
    assert "1 minute and 5.20 seconds." in solver.texts
    solver.say("again")
    solver.solved_in(725.5)
    assert "12 minutes and 6 seconds." in solver.texts  # 9f2


def test_a_learner_may_have_the_calls_changed_and_is_sent_to_a_lesson_for_the_rest() -> None:
    solver = Solver()
    solver._answer(Heard("letters", Meaning(change=Change(style="letters"))))
    solver._answer(Heard("top cross", Meaning(change=Change(step="top-cross"))))
    assert "For that we need a lesson. Here we only take the time." in solver.texts
    solver.say("ready")
    assert "R." in [act.text for act in solver.acts if isinstance(act, CallTurn)]


def test_stopping_between_two_ends_in_good_order_and_leaves_the_lesson_where_it_was() -> None:
    solver = Solver()
    solver.solved_in(20.0)
    solver.say("stop")
    assert solver.watch.ended and solver.watch.choices.last_time is None


def test_why_another_one_is_no_question_about_a_step() -> None:
    solver = Solver()
    solver.solved_in(20.0)
    assert solver.about == "another"
    solver.say("why")
    assert ENGLISH.sentences.say("stopwatch.why") in solver.texts
    assert solver.about == "another"
