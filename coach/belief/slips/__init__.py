"""What went wrong since the cube was last known, and the ways back.

A `Trail` keeps what was called and what was said since the cube was last known for certain. When a check-in is denied,
a look or a piece is impossible, or the learner reports a slip, every explanation is weighed: a call left out or done
differently, the whole cube turned before a call, a run in a wrong hold, two of these, or a wrong answer. A fall
of the cube is on the trail, too: a side or two may have turned with it, however surely the learner says that none did.

**One slip** is one permutation before all others (`explanations`), so no turns need be replayed after it: a thousand
explanations are one array, and what was said is weighed in by Bayes' rule (`suspicion`, `evidence`). **Two slips**: if
no single slip explains it, all pairs on the trail are tried. First slips that contradict what was said before the
second one are dropped. For each sticker told of after that, a bit string says which of the others agree (`pairs`), so
millions of pairs take ten or twenty milliseconds. **Second thoughts** come last: `Trail.doubted` is the trail as it was
before the last slip was found on it. A wrong answer about a piece, although it fitted when it was given, is one more
explanation; if that may be the cause (`Verdict.misled`), the cube is put right and nobody is told of a wrong turn.

Explanations that make the cube look alike, as far as it is known, form a group. Until one group has 75% of the weight,
and "nothing went wrong" at most 1% unless it is that group, the coach asks the question with the most information for
its time (`inquiry`). `repairs` finds the ways back: to where the run was, to its end, or to the pieces that must be at
home; `legs` brings those home a few at a time if that is too far for one search. The trail then holds what was really
done, so a wrong explanation is only one more slip. What the coach has only worked out is not put on the trail, because
it does not hold if something went wrong before.
"""
