"""The four statements of ILAC-G8 and what they open, bands, and the sentences that people read."""
