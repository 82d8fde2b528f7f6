"""Practice by heart: exercises until what was led is known."""
