"""From the sound of an utterance to what was said.

**While the learner speaks** the first pass streams: its partial results tell what it may be and whether anything can
follow. At the first gap of 40 ms the second pass begins in a thread of its own, on the sound so far, while blocks keep
coming; if it gets loud again, its result is thrown away. Once it has been quiet for as long as what was heard demands
(60 ms where nothing can follow, 0.4 s where it may go on), the answer is acted on. The first pass is asked as well
where the second is in doubt (`fusion.in_doubt`): finishing takes it as long as the second pass takes in all, so a sure
first pass that stands alone would save nothing. Without a second pass the first one decides in the same way, at the
gaps.

**An answer in the learner's own words** is written down by Whisper fitted to lessons (`adapted`; among phrases the
model as it came decides) in several ways, each in the lesson's spelling. Every writing is read with its chances, and
every meaning has the sum of the shares of all writings that may mean it. Where none has nine tenths, the sound is
written down again, lowered and cleaned, and by Whisper as it came, and all of it counts. Looks, pieces, rows and the
step are heard this way from the start; at every other moment a phrase is looked for first, and a sentence only where
the utterance took longer than any phrase that was found.
"""
