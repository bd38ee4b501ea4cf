"""Backups in the window: made while nobody waits, told on the board and at closing, and a page of them."""
