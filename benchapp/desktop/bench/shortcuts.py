"""The keys that work on every page of the bench, and the hints that each page shows beside its own."""

from collections.abc import Callable, Mapping, Sequence
from functools import partial

from PySide6.QtWidgets import QWidget

from benchapp.desktop.keys import add_action
from benchapp.desktop.widgets.hints import Hint, hint
from benchapp.desktop.words import tr

WAYS = (
    *("again", "next", "outcome", "event", "search", "facts", "record", "back"),
    *("print", "export", "sheet", "pins"),
)
"""Keys named as the way that they go."""


def add_shortcuts(bench: QWidget, go: Callable[[str], object], others: Mapping[str, Callable[[], object]]) -> None:
    """Make the bench's keys work: `go` is told the way of each, `others` do something of their own."""
    for way in WAYS:
        add_action(bench, way, partial(go, way))
    for one, work in others.items():
        add_action(bench, one, work)


def with_common(own: Sequence[Hint], *, cramped: bool, live: bool = False) -> tuple[Hint, ...]:
    """A page's own keys first, then those of every page that it does not use itself; fewer where text is large."""
    back = tr("stop here, make it safe") if live else tr("lots")
    others = (hint("withdraw"), hint("event"), hint("back", back), hint("all keys"))
    known = {one.key for one in own}
    if cramped:
        own = [one for one in own if not one.minor]
    return (*own, *(one for one in (others[-1:] if cramped else others) if one.key not in known))
