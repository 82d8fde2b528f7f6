"""A cube that is being read aloud: what follows from the known stickers, and which row to read next."""
