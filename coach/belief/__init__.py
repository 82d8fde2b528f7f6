"""What the coach knows of the learner's cube: the top, a cube being read, what went wrong."""
