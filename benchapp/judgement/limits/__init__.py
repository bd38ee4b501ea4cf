"""Limit profiles of regions, and the bands, fuses and cords that follow from them."""
