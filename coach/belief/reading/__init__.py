"""A cube that is being read aloud: what follows from the stickers known, and which row to read next."""
