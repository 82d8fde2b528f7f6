"""What is kept: the log of a session, each learner's choices, and what they have practised."""
