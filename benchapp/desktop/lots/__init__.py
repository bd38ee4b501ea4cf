"""The lots: the board of a lot, units down and stages across, and the taking in of a new one."""
