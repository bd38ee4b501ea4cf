"""The folder into which a phone or camera puts its pictures: which it is on this computer, and what is new in it.

Nothing is attached from here: a picture is only told of once it is whole, and a person says where it goes.
"""

import os
from pathlib import Path

from PySide6.QtCore import QSettings

from benchapp.files.picture_size import size_of

_KEY = "photo-folder"
_ENDINGS = (".jpg", ".jpeg", ".png", ".webp")
_Stamp = tuple[int, int]
"""bytes, and when it was last changed in nanoseconds"""


class PhotoFolder:
    """Kept in the settings of this computer; without settings it is kept for as long as the window stands."""

    def __init__(self, settings: QSettings | None = None) -> None:
        self._settings = settings
        kept = str(settings.value(_KEY, "")) if settings is not None else ""
        self.path = Path(kept) if kept else None
        self._known = self._pictures()
        self._growing: dict[str, _Stamp] = {}

    def choose(self, path: Path) -> None:
        """From now on pictures that come into this folder are told of; those in it already are not."""
        self.path = path
        if self._settings is not None:
            self._settings.setValue(_KEY, str(path))
        self._known, self._growing = self._pictures(), {}

    def look(self) -> Path | None:
        """The first new picture that is whole: unchanged since the look before, with a header that states its size."""
        found = self._pictures()
        fresh = {name: stamp for name, stamp in found.items() if self._known.get(name) != stamp}
        same = [name for name, stamp in fresh.items() if self._growing.get(name) == stamp]
        self._growing = fresh
        if self.path is None:
            return None
        return next((self.path / name for name in sorted(same) if size_of(self.path / name) is not None), None)

    def pass_over(self, picture: Path) -> None:
        """It was attached, or is not wanted: it is not told of again."""
        stamp = self._growing.pop(picture.name, None)
        if stamp is not None:
            self._known[picture.name] = stamp

    def _pictures(self) -> dict[str, _Stamp]:
        if self.path is None:
            return {}
        try:
            with os.scandir(self.path) as entries:
                names = [one for one in entries if one.name.lower().endswith(_ENDINGS) and one.is_file()]
                return {one.name: (one.stat().st_size, one.stat().st_mtime_ns) for one in names}
        except OSError:  # a folder on another machine comes and goes
            return {}
