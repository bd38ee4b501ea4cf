"""Complaints about files: each sequence by itself, files against each other and against designs, worked cases."""
