"""How many entries and units there are, each in the form of the word that goes with its count."""

from benchapp.words import say


def entries_words(count: int) -> str:
    """So many entries: "1 entry"."""
    return say("{count} entr(y|ies)", count=count)


def holds_words(entries: int, units: int) -> str:
    """What a file holds: "40 entries of 12 units"."""
    return say("{entries} of {count} unit(s)", entries=entries_words(entries), count=units)


def more_words(count: int) -> str:
    """How many units a list leaves out, after those that it names; empty for none."""
    return say(" and {count} more unit(s)", count=count) if count > 0 else ""
