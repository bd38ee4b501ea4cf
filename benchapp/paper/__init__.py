"""Printed matter (reportlab): tags, record sheets, pin card."""
