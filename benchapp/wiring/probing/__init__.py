"""The probe plan: fewest probes that show every fault a circuit can show, in an order for the hand."""
