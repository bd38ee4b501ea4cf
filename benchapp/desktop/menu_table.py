"""Which rows of the table of keys stand in which menu, in the order in which they are shown.

A row that means the same as others elsewhere stands for all of them: the one whose place is on the screen is taken.
"""

LINE = ""
"""a parting line"""
RECENT = "recent"
THEMES = "themes"
"""menus of their own inside a menu"""

MENUS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (
        "&File",
        (
            *("new workbook", "open workbook", RECENT, "close", LINE),
            *("backups", "back up now", "copy", "check record", "day file in", "day file out", LINE),
            *("print", "export", "sheet", "pins", LINE, "quit"),
        ),
    ),
    ("&Edit", ("withdraw", LINE, "cut", "copy text", "paste", "select all", LINE, "find unit")),
    (
        "&View",
        (
            *("lots", "bench", "sale", "backups", LINE),
            *("text larger", "text smaller", "text as usual", THEMES, LINE, "initials"),
        ),
    ),
    (
        "&Bench",
        (
            *("opening", "new lot", "lot units", "unit photos", "lot designs", "lot in one look", "sweep", LINE),
            *("next", "again", "outcome", "destroyed", "mark anew", "event", "search", LINE),
            *("meter", "range", "budget", "choose photos", "facts", "record", "pins", LINE),
            *("back", "hazard"),
        ),
    ),
    ("&Sale", ("sale", LINE, "print", "export", "sheet")),
    ("&Trainer", ("workshop", "people", "meters", "wires")),
    ("&Help", ("help", "all keys", "about program")),
)

THEME_ROWS = ("theme of the system", "light theme", "dark theme", "strong contrast")

WITHOUT_WORKBOOK = frozenset(
    (
        *("new workbook", "open workbook", "close", "quit", "text larger", "text smaller", "text as usual"),
        *THEME_ROWS,
        *("initials", "help", "all keys", "about program"),
    )
)
"""Of the window's rows, those that need no workbook."""
EDITS = {"cut": "cut", "copy text": "copy", "paste": "paste", "select all": "selectAll"}
"""By row, what the field at hand is asked to do."""
