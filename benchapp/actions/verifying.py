"""Whether a workbook is what it says: integrity, hash chains, anchors, and every judgement computed again."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from benchapp.workbook.values import Difference


def verify_workbook(
    path: Path,
    *,
    progress: Callable[[int, int], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> "tuple[Difference, ...]":
    """Differences found, the first first; nothing when the workbook holds. Changes nothing."""
