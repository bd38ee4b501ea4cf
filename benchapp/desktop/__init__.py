"""Qt: windows, pages, widgets; nothing else imports Qt."""
