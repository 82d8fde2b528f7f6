"""What is said of turns that were not done as called, and of a cube that is not as thought."""
