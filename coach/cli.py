"""The command line: arguments only. Each command is implemented in its own module."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final, get_args

from coach import __version__
from coach.app.arguments import Parser
from coach.app.commands import answers, checks, classroom, lesson, practise, progress, stopwatch
from coach.dialogue.lesson import ALL_STEPS
from coach.language import QUESTIONS
from coach.language.phrases import STYLES
from coach.method import Hand
from coach.simulation import commands as simulation
from coach.web import command as serving

if TYPE_CHECKING:
    Commands = argparse._SubParsersAction[Parser]

_ABOUT: Final = "A hands-free voice coach for the 3x3x3 puzzle cube. Without a command: a lesson by voice."


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command line; the exit code is 0 when all went well, 1 when not, 2 for wrong arguments."""
    parser = _parser()
    args = parser.parse_args(argv)
    try:
        code = int(args.run(args))
        if sys.stdout:
            sys.stdout.flush()
        return code
    except KeyboardInterrupt:
        return 130
    except OSError as error:
        if not isinstance(error, BrokenPipeError):
            print(f"turncaller cannot go on: {error}.", file=sys.stderr)
        # The reader of the output is gone or out of space; discard the rest.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1


def _parser() -> argparse.ArgumentParser:
    parser = Parser(prog="turncaller", description=_ABOUT)
    parser.add_argument("--version", action="version", version=f"turncaller {__version__}")
    _lesson_options(parser)
    parser.set_defaults(run=lesson.lesson)
    sub = parser.add_subparsers(title="commands", metavar="COMMAND")
    _add_lesson(sub)
    _add_practise(sub)
    _add_stopwatch(sub)
    _add_class(sub)
    _add_hear(sub)
    _add_understand(sub)
    _add_demo(sub)
    _add_progress(sub)
    _add_serve(sub)
    check = sub.add_parser(
        "soundcheck",
        help="devices, level, noise, models, voices: what works, what to do",
        description="What of the sound works on this machine, and what to do about the rest. It speaks a sentence and "
        "listens for three seconds. Exit code: 0 where a lesson by voice is possible; 1 where it is not, for want of "
        "a microphone, a loudspeaker, a synthesiser or a recogniser.",
    )
    check.set_defaults(run=checks.soundcheck)
    _add_method(sub)
    return parser


def _lesson_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--from",
        dest="step",
        choices=ALL_STEPS,
        metavar="STEP",
        help=f"the step to start from: {', '.join(ALL_STEPS)} (default: ask)",
    )
    parser.add_argument(
        "--scramble",
        action="store_true",
        help="begin with a solved cube: the coach calls a scramble, and so knows the cube without a question",
    )
    parser.add_argument(
        "--manner",
        choices=("teach", "brief"),
        help="teach: the method step by step (default); brief: you read the cube, the plans are short",
    )
    _teaching_options(parser)


def _teaching_options(parser: argparse.ArgumentParser) -> None:
    """What is taught, to whom, and what is kept."""
    _method_options(parser)
    parser.add_argument(
        "--learner",
        metavar="NAME",
        help="a nickname: go on where this learner was, with their choices, and remember both",
    )
    parser.add_argument(
        "--remember", action="store_true", help="keep these choices, and where the lesson ends, for the next one"
    )
    _talking_options(parser)


def _method_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--method", type=Path, metavar="FILE", help="use this method file, once it is proven")
    parser.add_argument(
        "--hand",
        choices=get_args(Hand),
        help="left: the method in the mirror, for who turns mostly with the left hand (default: right)",
    )


def _talking_options(parser: argparse.ArgumentParser) -> None:
    """How the learner and the coach talk, whatever it is about."""
    parser.add_argument("--typed", action="store_true", help="type instead of talking; an empty line is silence")
    parser.add_argument(
        "--headphones",
        choices=("yes", "no"),
        help="yes: you may speak while the coach speaks (default: as you have answered once)",
    )
    parser.add_argument("--log", type=Path, metavar="FILE", help="write the session log there (JSON Lines)")
    parser.add_argument("--up", metavar="COLOUR", help="the colour you hold on top (default: yellow)")
    parser.add_argument("--front", metavar="COLOUR", help="the colour you hold in front (default: green)")
    parser.add_argument(
        "--colours",
        type=_colours,
        metavar="SIX",
        help="your own words for the colours, or for marks to feel, of front, back, right, left, top, bottom with "
        "commas between (green,blue,orange,red,yellow,white), or 'ask' to be asked for them",
    )
    parser.add_argument(
        "--touch", action="store_true", default=None, help="you go by touch (default: if the six words name no colour)"
    )
    parser.add_argument("--sight", dest="touch", action="store_false", default=None, help="you go by sight")
    parser.add_argument(
        "--confuse", type=_words, metavar="WORDS", help="words of colours that you cannot tell apart (red,orange)"
    )
    parser.add_argument("--style", choices=STYLES, help="how turns are called (default: plain)")
    parser.add_argument(
        "--pause",
        type=_seconds,
        metavar="SECONDS",
        help="the pause after each call, 1 to 15 (default 2.5; for a class 4)",
    )
    parser.add_argument("--on-my-word", action="store_true", help='wait for "next" after every call')


def _seconds(text: str) -> float:
    return _number(text, "seconds", 15, "the pause is from 1 to 15 seconds")


def _number(text: str, unit: str, most: float, otherwise: str) -> float:
    """A number from 1 to `most`."""
    try:
        value = float(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is no number of {unit}") from None
    if not 1 <= value <= most:
        raise argparse.ArgumentTypeError(otherwise)
    return value


def _colours(text: str) -> tuple[str, ...]:
    return ("ask",) if text.strip().lower() == "ask" else _six(text)


def _six(text: str) -> tuple[str, ...]:
    names = _words(text)
    if len(set(names)) != 6 or len(names) != 6:
        raise argparse.ArgumentTypeError(
            "six different words with commas between are needed: for front, back, right, left, top, bottom"
        )
    return names


def _words(text: str) -> tuple[str, ...]:
    names = tuple(" ".join(name.split()).lower() for name in text.split(","))
    if len(names) < 2 or not all(names):
        raise argparse.ArgumentTypeError("words with commas between are needed")
    return names


def _add_lesson(sub: Commands) -> None:
    # An option may also stand before the command; its absence after the command must not undo that.
    parser = sub.add_parser("lesson", help="a guided solve from a step on", argument_default=argparse.SUPPRESS)
    _lesson_options(parser)
    parser.set_defaults(run=lesson.lesson)


def _add_practise(sub: Commands) -> None:
    parser = sub.add_parser(
        "practise",
        help="a session by heart: sequences to do and to say, cases to tell apart",
        description="Practice by heart: what is due for review, then something new, until it needs no help. Begin with "
        "a solved cube, or solve it with the coach first.",
        argument_default=argparse.SUPPRESS,
    )
    parser.add_argument(
        "--minutes", type=_minutes, default=10.0, metavar="N", help="how long, 1 to 120 minutes (default: 10)"
    )
    _teaching_options(parser)
    parser.set_defaults(run=practise.practise)


def _minutes(text: str) -> float:
    return _number(text, "minutes", 120, "a session lasts 1 to 120 minutes")
def _add_stopwatch(sub: Commands) -> None:
    parser = sub.add_parser(
        "stopwatch",
        argument_default=argparse.SUPPRESS,
        help="timed solves: a scramble, the inspection, from your start to your stop",
        description="Timed solves by the WCA Regulations (Articles A3, A4 and 9f): the coach calls a scramble, gives "
        'you 15 seconds of inspection, and takes the time from the beginning of your "start" to that of your "stop".',
    )
    parser.add_argument("--learner", metavar="NAME", help="a nickname: keep the times, and use this learner's choices")
    _talking_options(parser)
    parser.set_defaults(run=stopwatch.stopwatch)


def _add_class(sub: Commands) -> None:
    parser = sub.add_parser(
        "class",
        argument_default=argparse.SUPPRESS,
        help="one loudspeaker leads a class: hands are counted, and all turn in unison",
        description="One coach leads many cubes at once. It asks for a show of hands, is told how many are up, and "
        "calls turns for all who need them while the others rest. The teacher, or a pupil, answers for the class.",
    )
    parser.add_argument(
        "--from",
        dest="step",
        choices=ALL_STEPS,
        metavar="STEP",
        help="the step to start from, one of those on top (default: top-cross)",
    )
    parser.add_argument(
        "--scramble",
        action="store_true",
        help="begin with solved cubes: all do the same scramble, and the whole solve is done in unison",
    )
    _method_options(parser)
    _talking_options(parser)
    parser.set_defaults(run=classroom.classroom)


def _add_hear(sub: Commands) -> None:
    parser = sub.add_parser("hear", help="what was heard in recordings, and what it means")
    parser.add_argument("files", nargs="+", type=Path, metavar="FILE.wav")
    parser.add_argument(
        "--asked",
        choices=QUESTIONS,
        metavar="QUESTION",
        default="turn",
        help=f"what was asked: {', '.join(QUESTIONS)} (default: turn)",
    )
    parser.add_argument("--phrases", type=Path, metavar="FILE", help="only the phrases in this file, one a line")
    parser.add_argument(
        "--engine",
        metavar="NAME",
        help="one recogniser alone: pocketsphinx, vosk or whisper-tiny.en (default: all that are here)",
    )
    parser.set_defaults(run=answers.hear)


def _add_understand(sub: Commands) -> None:
    parser = sub.add_parser("understand", help="the meaning of typed answers, a JSON line each")
    parser.add_argument(
        "--asked",
        choices=QUESTIONS,
        metavar="QUESTION",
        help=f"what was asked: {', '.join(QUESTIONS)}; needed without --json",
    )
    parser.add_argument(
        "--colours", type=_six, metavar="SIX", help="the learner's words for front, back, right, left, top, bottom"
    )
    parser.add_argument(
        "--json",
        action="store_true",
        help="read JSON objects (said, asked and, where known, piece, claim, about, colours, size) and tell also how "
        "sure the reading is: meaning (acted on, else null), confidence, best (the likeliest, acted on or not)",
    )
    parser.set_defaults(run=answers.understand)


def _add_method(sub: Commands) -> None:
    parser = sub.add_parser("method", help="prove a method file and show its cases, or make a page of it to take away")
    parser.add_argument("file", nargs="?", type=Path, metavar="FILE", help="default: the coach's own method")
    parser.add_argument(
        "--hand",
        choices=get_args(Hand),
        help="left: the method in the mirror, for who turns mostly with the left hand (default: right; on a page, as "
        "remembered)",
    )
    parser.add_argument(
        "--sheet",
        type=Path,
        metavar="FILE.html",
        help="write steps, cases and sequences there as a page in large print, fit for a screen reader",
    )
    parser.add_argument(
        "--from",
        dest="step",
        choices=ALL_STEPS,
        metavar="STEP",
        help=f"the step that the page begins with: {', '.join(ALL_STEPS)} (default: all of it)",
    )
    parser.add_argument("--style", choices=STYLES, help="how the page calls turns (default: plain, or as remembered)")
    parser.add_argument(
        "--learner", metavar="NAME", help="a nickname: the page has this learner's words for the faces and their style"
    )
    parser.set_defaults(run=checks.method)


def _add_demo(sub: Commands) -> None:
    parser = sub.add_parser("demo", help="a whole lesson between the coach and a simulated learner, both heard")
    parser.add_argument(
        "--out",
        type=Path,
        metavar="FILE.wav",
        help="where the recording goes; the transcript goes beside it (default: demo.wav)",
    )
    parser.add_argument("--from", dest="step", choices=ALL_STEPS, metavar="STEP", default="top-cross")
    parser.add_argument("--seed", type=int, default=1, help="which cube the learner holds, and its words")
    parser.add_argument(
        "--live",
        action="store_true",
        help="instead of a recording: both talk in real time over a virtual sound card, until the top is one colour",
    )
    parser.add_argument(
        "--pause", type=_seconds, metavar="SECONDS", help="the pause after each call (default: 2.5; live 1)"
    )
    parser.add_argument("--noise", type=Path, metavar="FILE.wav", help="live: noise at the coach's microphone")
    parser.add_argument("--snr", type=float, metavar="DB", help="live: so much softer than the learner (default 15)")
    parser.set_defaults(run=simulation.demo)


def _add_progress(sub: Commands) -> None:
    parser = sub.add_parser(
        "progress",
        help="what each learner knows by heart, and what is to be reviewed",
        description="What has been practised: a line for each learner; with --learner, a line for each thing to know. "
        "Timed solves are told as well, and --csv writes them into a second file beside the first.",
    )
    whose = parser.add_mutually_exclusive_group()
    whose.add_argument("--learner", metavar="NAME", help="this learner alone, in detail")
    whose.add_argument("--forget", metavar="NAME", help="remove all that is kept of this learner, and nothing else")
    parser.add_argument("--csv", type=Path, metavar="FILE", help="write all exercises there as comma-separated values")
    parser.add_argument("--picture", type=_picture, metavar="FILE", help="draw it into FILE.png or FILE.svg")
    parser.set_defaults(run=progress.progress)


def _add_serve(sub: Commands) -> None:
    parser = sub.add_parser(
        "serve",
        help="lessons in browsers: prints the address and the join code",
        description="Serves a page on which each learner has a lesson, by voice or typed. Sound is never kept, and "
        "what was said neither. A learner who gives a nickname goes on where they were, as with --learner.",
    )
    parser.add_argument(
        "--host", default="127.0.0.1", help="the address to listen on (default: 127.0.0.1, this machine only)"
    )
    parser.add_argument("--port", type=_port, default=8440, help="the port (default: 8440; 0: any that is free)")
    parser.add_argument("--method", type=Path, metavar="FILE", help="use this method file, once it is proven")
    parser.set_defaults(run=serving.serve)


def _port(text: str) -> int:
    if not text.isdecimal() or int(text) > 65535:
        raise argparse.ArgumentTypeError("a port is a number from 0 to 65535")
    return int(text)


def _picture(text: str) -> Path:
    if not text.lower().endswith((".png", ".svg")):
        raise argparse.ArgumentTypeError("a picture is a .png or a .svg")
    return Path(text)


if __name__ == "__main__":
    sys.exit(main())
