"""Lessons in browsers: what goes over a socket (`protocol`), one learner's end of it (`line`), who is in (`lessons`),
and the server of the pages.

A lesson runs in a thread of its own and knows nothing of sockets: `LearnerLine` has the two ports of `speech/turns`.
The socket's task only carries: what arrives goes into the line, and what the line sends goes into a bounded outbox.

Sound is held in memory while it is listened to, and no words that were said are written anywhere. What was meant is
kept until the lesson is over (`records/unfinished`), so that it outlasts a killed server (`rebuilding`).
"""
