"""Turncaller: a hands-free voice coach for the 3x3x3 puzzle cube."""

__version__ = "0.1.0"
