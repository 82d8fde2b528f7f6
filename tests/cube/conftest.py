"""How Hypothesis runs here: no test is about time, and tables are built in the first example that asks."""

from hypothesis import settings

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")
