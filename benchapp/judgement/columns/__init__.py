"""Very many readings judged at once, by the same rules as one."""
