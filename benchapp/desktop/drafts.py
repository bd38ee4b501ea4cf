"""What was typed and not yet recorded, kept per unit and page, so that moving away loses nothing; Qt-free."""

import json
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

    def to_text(self) -> str:
        """All drafts as JSON, to be kept while the window is closed; empty when there is none."""
        rows = [[unit, address, draft] for (unit, address), draft in self._kept.items()]
        return json.dumps(rows, default=list) if rows else ""

    def add_text(self, text: str) -> None:
        """Take back what `to_text` gave; a text that is none of ours is passed over."""
        try:
            rows = json.loads(text) if text else []
            self._kept.update({(str(unit), str(address)): dict(draft) for unit, address, draft in rows})
        except (TypeError, ValueError):
            return

    def clear(self, unit: str, address: str) -> None:
        """Forget it: it has been recorded."""
        self._kept.pop((unit, address), None)
