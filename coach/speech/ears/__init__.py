"""From the sound of an utterance to what was said."""
