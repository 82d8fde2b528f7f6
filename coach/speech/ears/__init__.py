"""From the sound of an utterance to what was said, by two-pass recognition.

**While the learner speaks** the first pass streams: its partial results show what is being said and whether anything
can follow. At the first gap of 40 ms the second pass starts in its own thread on the sound so far, while blocks keep
coming; if speech resumes, its result is discarded. After enough silence for what was heard (60 ms if nothing can
follow, 0.4 s if it may go on), the answer is acted on. The first pass is consulted only when the second is in doubt
(`fusion.in_doubt`): finishing takes it as long as the whole second pass, so acting on a sure first pass alone would
save nothing. Without a second pass the first one decides in the same way, at the gaps.

**An answer in the learner's own words** is transcribed by Whisper fitted to lessons (`adapted`; for phrases the
original model decides) in several ways, each in the lesson's spelling. Every writing is read with its probabilities,
and a meaning gets the sum of the shares of all writings that may mean it. If none reaches nine tenths, the sound is
transcribed again, lowered, cleaned, and by the original Whisper, and all of that counts. Where answers are made of few
words, as turns are, they are transcribed by these alone if that is nearly as likely. Looks, pieces, rows and the
step are heard this way from the start; at any other moment a phrase is tried first, and a sentence only if the
utterance took longer than any phrase found.
"""
