"""Bringing a known cube into a case that is to be practised, from wherever it is now.

If the cube offers the case already, nothing is turned. Otherwise the pieces that the steps before have placed are
brought home, if they are not, and turns made up of the method's own sequences, forwards or backwards, lead into it.
"""

from __future__ import annotations

from typing import Final

from coach.cube import Cube, Turn
from coach.cube.last_layer_plan import as_held, last_layer_plan
from coach.dialogue.practice.lower_routes import Lower, away, next_move, pieces_until, routes
from coach.dialogue.practice.top_routes import TopRoutes
from coach.dialogue.solving.knowledge import LOWER_PIECES
from coach.method import Case, Method, PlacingCase, Step
from coach.method.brief import next_leg

Turns = tuple[Turn, ...]

_MOST: Final = 2
"""Keep the ways of so many methods: one for each hand. Their tables take some 30 MB each."""
_kept: list[Setups] = []


def setups(method: Method) -> Setups:
    """The ways into the cases of a method, shared by all sessions that practise it."""
    found = next((each for each in _kept if each.method == method), None) or Setups(method)
    _kept[:] = [found, *(each for each in _kept if each is not found)][:_MOST]
    return found


class Setups:
    """The ways into the cases of a method. What was worked out once is kept."""

    def __init__(self, method: Method) -> None:
        self.method = method
        self.top = TopRoutes(method)
        self._lower: dict[str, dict[str, Turns]] = {}

    def turns(self, cube: Cube, step_id: str, case: Case | PlacingCase) -> Turns | None:
        """The turns from `cube`, held with its bottom down, into the case; None if there is no way."""
        step, held = self.method.step(step_id), as_held(cube)
        if isinstance(step, Step):
            assert isinstance(case, Case)
            return self._into_top(held, step, case)
        return self._into_lower(held, step, case.id)

    def offers(self, cube: Cube, step_id: str, case: Case | PlacingCase) -> bool:
        """Whether the cube is in the case already."""
        return self.turns(cube, step_id, case) == ()

    def _into_top(self, cube: Cube, step: Step, case: Case) -> Turns | None:
        before = _home(cube, LOWER_PIECES)
        cube = as_held(cube.do(before))
        turns = self.top.turns(cube, step, case)
        if turns is None:  # perhaps there is one from the solved cube
            before += tuple(turn for run in last_layer_plan(cube) for turn in run)
            turns = self.top.turns(Cube(), step, case)
        return None if turns is None else before + turns

    def _into_lower(self, cube: Cube, step: Lower, case_id: str) -> Turns | None:
        there = next_move(self.method, step, cube)
        if there and there[1].case.id == case_id:
            return ()
        if step.id not in self._lower:
            self._lower[step.id] = routes(self.method, step)
        turns = self._lower[step.id].get(case_id)
        return None if turns is None else _home(cube, pieces_until(self.method, step)) + turns


def _home(cube: Cube, pieces: tuple[str, ...]) -> Turns:
    """The turns that bring `pieces` home on a cube held upright, and perhaps others with them."""
    turns: Turns = ()
    while away(as_held(cube), pieces) and (leg := next_leg(cube)):
        turns += leg.turns
        cube = cube.do(leg.turns)
    return turns
