"""The cube in the learner's hands: what is known of it, reading it, calling runs, mending slips.

`Knowledge` is shared by all parts of a lesson. Where a check is denied though nothing went wrong, it is made once
more; `Mending` takes the way back that costs least with what is left to do. Once something has gone wrong the learner
is asked more often: after each piece all that a slip may have broken, and after some turns without a claim the row
that would tell most of a slip in them; the more often somebody slips, the fewer turns.

What the learner says of a slip makes that kind of slip likelier ("I skipped one"), and where they tell how it went
wrong ("I turned the bottom instead of the top") just those slips are tried first: mostly it is then put right without
a question, and a row is confirmed. Told plainly it counts as a slip also where it sounds like going on.
"""
