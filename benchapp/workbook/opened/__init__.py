"""A workbook opened or made."""
