"""What went wrong since the cube was last known, and the ways back."""
