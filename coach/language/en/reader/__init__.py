"""The learned reader: what an answer tells, with how sure that is. It knows the words and the moment, never the cube.

The learner's own words become roles (`roles`), so that any colours, marks and arrangement read alike, and the network
(`network`) gives the chances of all that an answer can tell (`heads`) at the moment that it is told of (`contexts`).
What follows from uncertain statements together is worked out apart: for the top (`tops`), a piece (`places`), rows and
turns (`lists`). Several writings of one utterance are read one by one, and what it means is what their mixture says.

How sure a reading must be depends on what it would do (`thresholds`). What the coach takes the cube to show
(`Scene.seen`) chooses between readings of a look and of a piece, by a fixed share, so that a slip is not explained
away. An answer to a claim is compared with the claim (`claims`): "left to right" may be a yes or a no.
"""
