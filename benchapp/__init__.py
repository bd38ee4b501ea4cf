"""A desktop repair-bench workbook with guided test sequences."""

__version__ = "0.1.0"
