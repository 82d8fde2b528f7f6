"""What went wrong since the cube was last known, and the ways back.

A `Trail` keeps what was called and what was said since the cube was last known for certain. When a check-in is denied,
a look or a piece cannot be, or the learner says so, every explanation is weighed: each call left out, done otherwise,
the whole cube turned before it, a run in a wrong hold, two of these, or a wrong answer.

**One slip** is one permutation before all others (`explanations`), so the cube after it need not be turned through: a
thousand explanations are one array, and what was said weighs on each by Bayes' rule (`suspicion`, `evidence`). **Two
slips**: where no single one explains it, all pairs on the trail are tried. First slips that contradict what was said
before the second one are dropped, and for each sticker told of after it a string of bits holds which of the others
agree (`pairs`), so millions of pairs take ten or twenty milliseconds. **Second thoughts** come last: `Trail.doubted` is
the trail as it was before the last slip was found on it. That an answer about a piece was wrong, though it fitted when
it was given, is one more explanation; where it may be that (`Verdict.misled`), the cube is put right and nobody is told
of a wrong turn.

Explanations that make the cube look alike, as far as it is known, are one group. Until a group has 75% of the weight,
and "nothing went wrong" no more than 1% where that is not it, the question with the most information for its time is
asked (`inquiry`). `repairs` finds the ways back: to where the run was, to its end, to the pieces that must be at home;
`legs` brings those home a few at a time where that is too far for one search. The trail then holds what was really
done, so a wrong explanation is only one more slip. What the coach has only worked out is not put on the trail: if
something went wrong before, it is not so.
"""
