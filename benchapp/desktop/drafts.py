"""What was typed and not yet recorded, kept per unit and page, so that moving away loses nothing; Qt-free."""

from collections.abc import Mapping
from typing import Any


class Drafts:
    """Drafts by (unit, page address); a recorded answer clears its draft."""

    def __init__(self) -> None:
        self._kept: dict[tuple[str, str], dict[str, Any]] = {}

    def keep(self, unit: str, address: str, draft: Mapping[str, Any]) -> None:
        """Keep what stands on a page; an empty draft is none."""
        if any(draft.values()):
            self._kept[unit, address] = dict(draft)
        else:
            self._kept.pop((unit, address), None)

    def take(self, unit: str, address: str) -> Mapping[str, Any]:
        """What was typed there before; empty when nothing was."""
        return self._kept.get((unit, address), {})

    def clear(self, unit: str, address: str) -> None:
        """Forget it: it has been recorded."""
        self._kept.pop((unit, address), None)
