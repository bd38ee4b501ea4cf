"""A made-up lot, a simulated bench, and the one command that shows it all."""
