"""Where a figure comes from, as screen and paper print it: a source stands only beside the value that it gives."""

from typing import Protocol

OWN_STATUS = "common practice, no source"
OWN_FIGURE = "this workshop's own figure"
"""What a figure prints as its source that no published document gives."""


def own_source(file: str) -> str:
    """The source of a workshop's own figure, with the name of its file."""
    return f"{OWN_FIGURE} ({file})"


class Cited(Protocol):
    """A figure, as far as its source is concerned."""

    @property
    def own(self) -> bool:
        """Whether it is a workshop's own."""

    @property
    def cited(self) -> str:
        """Its source as it is printed."""

    @property
    def words(self) -> str:
        """The figure with its unit."""


def cited_together(main: Cited, *others: Cited) -> str:
    """The source of a line that several figures make: each by itself where a workshop's own is among them."""
    apart = [one for one in others if (one.own or main.own) and one.cited != main.cited]
    return "; ".join(f"{one.words}: {one.cited}" for one in (main, *apart)) if apart else main.cited
