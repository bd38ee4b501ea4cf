"""What may be recorded and what is due: live conditions, the way back, the gate, the fold of a history."""
