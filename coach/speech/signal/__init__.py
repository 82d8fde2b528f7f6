"""Samples, rates and levels."""
