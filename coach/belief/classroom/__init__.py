"""What the coach knows of a class: how many stand at which case, and what went wrong with those who are not there."""
