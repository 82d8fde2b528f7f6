"""How a person solves the cube: steps, cases, holds and sequences, as data with a proof."""

from coach.method.loading import default_method, load, read
from coach.method.method import Method
from coach.method.model import TURNS_ABOUT_UP, Case, Condition, MethodError, PlannedStep, Step
from coach.method.placing import Move, PlacingCase, PlacingStep
from coach.method.placing_proof import PlacingProof, prove_placing
from coach.method.proof import CaseProof, StepProof, describe, prove

__all__ = [
    "TURNS_ABOUT_UP", "Case", "CaseProof", "Condition", "Method", "MethodError", "Move", "PlacingCase",
    "PlacingProof", "PlacingStep", "PlannedStep", "Step", "StepProof", "default_method", "describe", "load",
    "prove", "prove_placing", "read",
]  # fmt: skip
