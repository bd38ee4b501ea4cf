"""What the workbook hands out, what can be wrong with it, and its tables."""
