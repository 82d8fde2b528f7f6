"""Whose turn it is to speak: blocks of sound go in, what was said comes out.

Time here is what the blocks amount to; nothing owns a device or reads a clock. A place where lessons sound has two
ends (`ports`): a `Source` that pushes blocks, and a `Sink` that tells how much of what it plays has sounded.

A lesson in a thread of its own waits for its learner: `Driver(Turns(...), Inbox(source), sink)`. A loop that is called
for every block, as a socket's is, feeds `Turns.block` and `Turns.played` and acts on what they return: on `BargeIn` it
cuts the sink off, `Said` ends the coach's turn, `Utterance` and `Unanswered` the learner's.
"""
