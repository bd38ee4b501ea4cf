"""The revisions of the workbook's tables, oldest first in `versions/`."""
