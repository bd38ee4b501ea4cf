"""Printed matter (reportlab): tags, record sheets, pin card. Plain values in, PDF bytes out."""
