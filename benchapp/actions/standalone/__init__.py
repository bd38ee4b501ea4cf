"""What needs no workbook: files checked, circuits asked, one reading judged."""
