"""What is stored: the log of a session, each learner's choices (`profile`), and what they have practised.

Only raw results of practice are stored (`store`, one SQLite file): the level of help (`levels`), the next review of an
item (`schedule`) and all of `progress` are computed from them by pure functions that are passed the date. A lesson uses
`keeping`, which carries on without records if they are unusable.

To store more, add a step to `MIGRATIONS` in `schema`, with a test that takes a file of the previous version; never
change a released step. For another schedule implement `Schedule` over the raw results; nothing else knows fsrs.
"""
