"""What should be read, dead and live, with its derivation, and which parts move which reading."""
