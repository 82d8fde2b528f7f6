"""The cube in the learner's hands: what is known of it, reading it, calling runs, mending slips."""
