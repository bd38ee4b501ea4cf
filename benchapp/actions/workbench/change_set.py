"""What an action changed, so that each screen can tell whether it is concerned."""

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeSet:
    """Names of the lots touched, shelf marks of the units, UUIDs of new entries, files written, and a sentence."""

    lots: frozenset[str] = frozenset()
    units: frozenset[str] = frozenset()
    entries: tuple[str, ...] = ()
    files: tuple[Path, ...] = ()
    words: str = ""
    bench_closed: bool = False
    """whether the bench was closed for the day"""
