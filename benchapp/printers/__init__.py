"""Printers: what paper each takes, and the way of a finished document to one and back with what became of it.

Where CUPS is (Linux, macOS) it is handed the document itself, with the paper by name and no scaling.
"""
