"""Whether the workbook's record holds: looked at while nobody waits, and told."""
