"""The opened workbook: plans, unit states, the one writer, and the one way to record."""
