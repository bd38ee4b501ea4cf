"""What scanners and meters type at once, told from fingers, and where it goes."""
