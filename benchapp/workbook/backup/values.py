"""Plain values of backups: what a receipt says, and how a backup stands."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

SOUND, UNSOUND, UNCHECKED = "sound", "not sound", "not checked"
"""how a backup stands"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Receipt:
    """What a backup was found to hold when it was checked; times are ISO 8601 in UTC, faults are sentences."""

    workbook: str
    """UUID of the workbook that it is of"""
    source: str
    """path of the workbook file when it was made"""
    made: str
    checked: str
    bytes: int
    sha256: str
    entries: int
    units: int
    last_at: str
    recorded: str
    """`Holdings.recorded`: by it a workbook is told to hold the same"""
    faults: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Backup:
    """A backup file of the folder and how it stands; `words` says why, where it is not sound."""

    path: Path
    at: datetime
    state: str
    receipt: Receipt | None = None
    words: str = ""

    @property
    def sound(self) -> bool:
        """Whether it was verified and still is what was verified."""
        return self.state == SOUND
