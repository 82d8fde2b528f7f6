"""What is said besides answering: wishes, remarks, what it is about."""
