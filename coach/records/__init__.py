"""What is kept: the log of a session, each learner's choices (`profile`), and what they have practised.

Of what they practise only raw results are kept (`store`, one SQLite file): the level of help (`levels`), when an item
comes next (`schedule`) and all of `progress` are worked out from them, by pure functions to which the clock is handed
in. A lesson goes through `keeping`, which goes on without records where they cannot be used.

To keep more, add a step to `MIGRATIONS` in `schema`, with a test that takes a file of the version before; never change
a step that is out. For another schedule implement `Schedule` over the raw results; nothing else knows the package fsrs.
"""
