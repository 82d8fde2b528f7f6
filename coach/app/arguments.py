"""Arguments that cannot be are told in a sentence, with what was perhaps meant."""

from __future__ import annotations

import argparse
import re
from difflib import get_close_matches
from typing import NoReturn

_CHOICE = re.compile(r"invalid choice: '(.*)' \(choose from (.*)\)")
_UNKNOWN = re.compile(r"unrecognized arguments: (\S+)")


class Parser(argparse.ArgumentParser):
    """An argument parser that says what is wrong in a sentence instead of showing how it is used."""

    def error(self, message: str) -> NoReturn:
        """End with exit code 2."""
        self.exit(2, f"{self._sentence(message)} See {self.prog} --help.\n")

    def _sentence(self, message: str) -> str:
        what, _, problem = message.removeprefix("argument ").partition(": ")
        if found := _CHOICE.search(message):
            choices = [choice.strip("' ") for choice in found[2].split(",")]
            wanted = "a command" if what == "COMMAND" else f"a choice for {what}"
            return f"{found[1]} is not {wanted}.{_perhaps(found[1], choices)} There are: {', '.join(choices)}."
        if found := _UNKNOWN.search(message):
            name = found[1].partition("=")[0]
            if commands := self._commands_with(name):
                return f"{name} is not known here. It belongs to: {', '.join(commands)}."
            return f"{name} is not known here.{_perhaps(name, [*self._option_string_actions])}"
        if message.startswith("argument "):
            return f"{what}: {problem}."
        return f"{message[:1].upper()}{message[1:]}."

    def _commands_with(self, option: str) -> list[str]:
        """The commands that know this option."""
        tables = [action.choices for action in self._actions if isinstance(action, argparse._SubParsersAction)]
        return [name for table in tables for name, each in table.items() if option in each._option_string_actions]


def _perhaps(said: str, choices: list[str]) -> str:
    close = get_close_matches(said, choices, 1)
    return f" Did you mean {close[0]}?" if close else ""
