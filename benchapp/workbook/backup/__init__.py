"""Backups: written, checked, kept on a ladder of ages."""
