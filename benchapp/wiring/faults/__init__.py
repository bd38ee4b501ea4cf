"""Fault modes of each part, what they would read, and how likely they are before anything is read."""
