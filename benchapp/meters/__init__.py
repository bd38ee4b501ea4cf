"""Readings straight from an instrument, and the capture of a steady one."""
