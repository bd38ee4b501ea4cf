"""Pages: record sheet and pin card."""
