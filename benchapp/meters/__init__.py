"""Readings straight from an instrument, and the capture of a steady one.

Instruments are asked in the open standards' own words (IEEE 488.2, SCPI-1999) over a network socket. A reading comes
in by the same door as a typed one (`quantities`), and is only offered: the technician records it.
"""
