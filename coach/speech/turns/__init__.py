"""Whose turn it is to speak: blocks of sound go in, what was said comes out."""
