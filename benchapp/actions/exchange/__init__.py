"""Records that go from one workbook to another: day files out and in, units lent, records that fork."""
