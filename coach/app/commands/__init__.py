"""What each command does; `cli` reads the arguments."""
