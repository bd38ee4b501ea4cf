"""From an equipment file to a checked circuit, and every complaint on the way."""
