"""What goes wrong with a method file."""

from __future__ import annotations


class MethodError(ValueError):
    """A method file that cannot be read, or that does not do what it says."""
