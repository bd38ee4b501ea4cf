"""What a trainer may write: models of sequences, routes, cautions, worked cases and repair lists, and their words."""
