"""Readings straight from an instrument: links, dialects, the capture of a steady reading, stored readings.

Instruments are asked in the open standards' own words (IEEE 488.2, SCPI-1999). A reading comes in by the same door as
a typed one (`quantities`), and is judged by the same rules.
"""
