"""Qt: windows, pages, widgets; nothing else imports Qt.

`start.run` opens the window. A person's act goes through `tasks` to one of `benchapp.actions`; what it changed
comes back as `ChangeSet`, goes out as one signal of the `ChangeSignals`, and each screen re-reads what concerns it. No
screen decides anything: the engine says what is due, the pages show it.
"""
