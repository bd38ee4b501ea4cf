"""Tags and record sheets: content from the entries, pages from `paper`, files written whole or not at all."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from benchapp.actions.bench import Bench
from benchapp.actions.changes import Changes

if TYPE_CHECKING:
    from benchapp.paper import TagContent

Progress = Callable[[int, int], None]
Cancelled = Callable[[], bool]


def preview_tag(bench: Bench, unit: str) -> "TagContent":
    """What the unit's tag says as its record stands now."""


def export_tags(
    bench: Bench,
    *,
    out: Path,
    lot: str | None = None,
    units: Sequence[str] = (),
    sheet: str | None = None,
    start_at: int = 1,
    by: str = "",
    progress: Progress | None = None,
    cancelled: Cancelled | None = None,
) -> Changes:
    """A sheet of tags as PDF, for a lot or for units; `sheet` is a label sheet's id."""


def export_record_sheet(bench: Bench, unit: str, *, out: Path, page: str = "A4") -> Changes:
    """The printed proof behind a unit's tag, as PDF."""


def export_record_sheets(
    bench: Bench,
    *,
    lot: str,
    folder: Path,
    page: str = "A4",
    progress: Progress | None = None,
    cancelled: Cancelled | None = None,
) -> Changes:
    """One record sheet per unit of a lot, each named by its shelf mark, into a folder."""
