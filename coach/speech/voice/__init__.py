"""From text to sound."""
