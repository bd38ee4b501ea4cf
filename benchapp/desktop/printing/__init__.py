"""Printing: the dialog, the printers of this computer, and how a page comes onto one."""
