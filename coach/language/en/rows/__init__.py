"""What corrects a row or tells one otherwise than by its three colours."""
