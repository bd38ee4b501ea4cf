"""The sale table: what is ready, what waits and why, the tag behind each unit."""
