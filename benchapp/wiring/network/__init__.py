"""Solvers: the dead network, diodes in it, and the live network in phasors."""
