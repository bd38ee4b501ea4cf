"""The keys that every page of the bench has, beside its own."""

from collections.abc import Sequence

from benchapp.desktop.widgets.hints import Hint
from benchapp.desktop.words import tr


def with_common(own: Sequence[Hint], *, cramped: bool) -> tuple[Hint, ...]:
    """A page's own keys first, then those of every page that it does not use itself; fewer where text is large."""
    others = (
        Hint(key="Ctrl+Z", words=tr("take back the last answer")),
        Hint(key="F9", words=tr("it fell, got damp")),
        Hint(key="Esc", words=tr("lots")),
        Hint(key="F1", words=tr("all keys")),
    )
    known = {hint.key for hint in own}
    if cramped:
        own = [hint for hint in own if not hint.minor]
    return (*own, *(hint for hint in (others[-1:] if cramped else others) if hint.key not in known))
