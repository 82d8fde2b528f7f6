"""How a person solves the cube: steps, cases, holds and sequences, as data with a proof."""

from coach.method.loading import default_method, load, read
from coach.method.model import TURNS_ABOUT_UP, Case, Method, MethodError, Step
from coach.method.proof import CaseProof, StepProof, describe, prove

__all__ = [
    "TURNS_ABOUT_UP", "Case", "CaseProof", "Method", "MethodError", "Step", "StepProof",
    "default_method", "describe", "load", "prove", "read",
]  # fmt: skip
