"""How a person solves the cube: steps, cases, holds and sequences, as data with a proof."""

from coach.method.errors import MethodError
from coach.method.loading import default_method, load, other_hand, read
from coach.method.method import Hand, Method, cases_of
from coach.method.mirror import mirrored_method
from coach.method.model import TURNS_ABOUT_UP, Case, Condition, Step, last_turn
from coach.method.placing import Move, PlacingCase, PlacingStep, PlannedStep
from coach.method.placing_proof import PlacingProof, prove_placing
from coach.method.proof import CaseProof, PlannedProof, StepProof, describe, prove
from coach.method.sequences import Group, NamedSequence

__all__ = [
    "TURNS_ABOUT_UP", "Case", "CaseProof", "Condition", "Group", "Hand", "Method", "MethodError", "Move",
    "NamedSequence", "PlacingCase", "PlacingProof", "PlacingStep", "PlannedProof", "PlannedStep", "Step",
    "StepProof", "cases_of", "default_method", "describe", "last_turn", "load", "mirrored_method", "other_hand",
    "prove", "prove_placing", "read",
]  # fmt: skip
