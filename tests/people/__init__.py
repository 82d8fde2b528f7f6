"""Learners of another make: they know what a person can know, the coach's lines and the cube in their hands."""
