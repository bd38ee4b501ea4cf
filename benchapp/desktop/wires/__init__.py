"""Meters on a wire in the window: readings in a thread, the strip on the reading page, the dialog that finds them."""
