"""Whether the file holds what was recorded."""
