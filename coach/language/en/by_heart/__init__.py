"""What is said of sequences that are learned, and of doing them alone."""
