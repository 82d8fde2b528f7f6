"""Runs lessons: the typed shell, the voice shell and the commands."""
