"""What runs lessons here: the typed and the voice shell, and the commands."""
