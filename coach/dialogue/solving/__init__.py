"""The cube in the learner's hands: what is known of it, reading it, calling runs, mending slips.

`Knowledge` is shared by all parts of a lesson. A check that is denied although nothing went wrong is repeated.
`Mending` takes the way back that costs least, counting what is left to do. Once something has gone wrong, the learner
is asked more often: after each piece, about everything that a slip may have broken; and after some turns without a
claim, about the row that would tell most about a slip in them. The more often somebody slips, the fewer turns.

What the learner says about a slip ("I skipped one") makes that kind of slip likelier. If they say how it went wrong
("I turned the bottom instead of the top"), exactly those slips are tried first: usually it is then put right without
a question, and a row is confirmed. If said plainly, it counts as a slip even where it sounds like "go on".
"""
