"""What a learner knows by heart: exercises and what follows from them, pure. Imports nothing else of the package."""
