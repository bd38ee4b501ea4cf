"""Backups of a workbook: where they go, when they are made, what they hold, and the way back from one."""
