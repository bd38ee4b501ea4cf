"""Entries in their chains, and the tables that are made from them."""
