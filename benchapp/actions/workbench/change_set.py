"""What an action changed, so that each screen can tell whether it is concerned."""

from collections.abc import Mapping
from dataclasses import dataclass, field
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
    renamed: Mapping[str, str] = field(default_factory=dict)
    """what units are called now, by what they were called before"""
