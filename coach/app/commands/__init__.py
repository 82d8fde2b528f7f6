"""The implementation of each command; `cli` parses the arguments."""
