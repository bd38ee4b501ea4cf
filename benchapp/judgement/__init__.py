"""Meter records and limits, uncertainty, bands, the decision."""
