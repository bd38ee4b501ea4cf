"""Meter records: functions, ranges, accuracy, and how well one of their readings is known."""
