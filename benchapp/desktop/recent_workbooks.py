"""Which workbooks were opened last on this computer, the newest first."""

from pathlib import Path

from PySide6.QtCore import QSettings

MOST = 8
"""so many are kept (own choice)"""
_KEY = "recent-workbooks"


class RecentWorkbooks:
    """The list in the settings of this computer; without settings nothing is kept."""

    def __init__(self, settings: QSettings | None = None) -> None:
        self._settings = settings

    @property
    def settings(self) -> QSettings | None:
        """The settings of this computer, for what else is kept beside the list."""
        return self._settings

    def paths(self) -> tuple[Path, ...]:
        """Those whose file is still there."""
        return tuple(path for path in self._kept() if path.is_file())

    def remember(self, path: Path) -> None:
        """It was opened now."""
        if self._settings is None:
            return
        newest = path.resolve()
        kept = [newest, *(other for other in self._kept() if other != newest)][:MOST]
        self._settings.setValue(_KEY, [str(one) for one in kept])

    def _kept(self) -> list[Path]:
        found = self._settings.value(_KEY) if self._settings is not None else None
        if isinstance(found, str):  # Qt keeps a list of one as the one
            found = [found]
        return [Path(one) for one in found if isinstance(one, str)] if isinstance(found, list) else []
