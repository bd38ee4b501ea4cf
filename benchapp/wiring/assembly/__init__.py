"""One unit's circuit: branches of each part, ratings, feeding, the mains lead, what the unit has of its own."""
