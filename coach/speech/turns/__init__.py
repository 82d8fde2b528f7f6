"""Whose turn it is to speak: blocks of sound go in, what was said comes out.

Time is counted in blocks; nothing owns a device or reads a clock. A place where lessons sound has two ends (`ports`): a
`Source` that pushes blocks, and a `Sink` that reports how much of its sound has been played.

A lesson in its own thread waits for its learner: `Driver(Turns(...), Inbox(source), sink)`. A loop that is called for
every block, such as a socket's, feeds `Turns.block` and `Turns.played` and acts on their results: `BargeIn` cuts the
sink off, `Said` ends the coach's turn, `Utterance` and `Unanswered` the learner's.
"""
