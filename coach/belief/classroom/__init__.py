"""What the coach knows of a class: how many stand at which case, and what went wrong with those who are not there.

**Counts.** `counts` knows a class by groups of pupils who raised the same hands: how likely each state is in a group,
and how likely it is that the groups have these and those sizes. Runs move the states, counts split the groups.

**Trouble.** One slip in a run always shows: the bottom is not all of one colour. After each run, or in the middle of a
long one, `mishaps` has all that one slip can have done in it, told in the hold of the run, and the fewest turns back.
A claim is put so that nobody's front need be known: turn the whole cube until you see it (`sights`). Questions split
those in trouble into groups, and a repair is done by whoever sees what it is for (`trouble`).
"""
