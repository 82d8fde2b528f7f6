"""What is kept of lessons: the log, and each learner's choices."""
