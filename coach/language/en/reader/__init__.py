"""The learned reader: what an answer says, and how surely. It knows the words and the moment, never the cube.

The learner's own words become roles (`roles`), so that any colours, marks and arrangement read alike, and the network
(`network`) gives the probabilities of everything an answer can say (`heads`) in its moment (`contexts`). What follows
from several uncertain statements is deduced separately: for the top (`tops`), a piece (`places`), rows and turns
(`lists`). Turns that are said plainly need no learning (`turns`). Several writings of one utterance are read one by
one, and their mixture gives the meaning.

How sure a reading must be depends on its effect (`thresholds`). What the coach believes the cube shows (`Scene.seen`)
is a prior, with a fixed weight, for the readings of a look and of a piece, so that a slip is not explained away. An
answer to a claim is compared with the claim (`claims`): "left to right" may be a yes or a no.
"""
