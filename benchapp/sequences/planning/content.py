"""What an entry carries, whatever its kind: the class on which each kind's own content stands."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Content:
    """The content of one entry; `contents.py` reads and writes all of them."""
