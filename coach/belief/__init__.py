"""What the coach knows about the learner's cube: the top, a cube being read, what went wrong."""
