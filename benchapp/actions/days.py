"""The day at the bench: opening, closing, and the workshop's settings."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from benchapp.actions.bench import Bench
from benchapp.actions.changes import Changes
from benchapp.workbook.values import MeterProof

if TYPE_CHECKING:
    from benchapp.sequences import Workshop


def open_bench(
    bench: Bench,
    *,
    by: str,
    meters: Sequence[MeterProof],
    rcd_button_tested: bool = False,
    note: str = "",
) -> Changes:
    """The check at the start of a day: meters proved, lead resistance, RCD button."""


def close_bench(bench: Bench, *, by: str, meters: Sequence[MeterProof] = (), note: str = "") -> Changes:
    """The check at the end of a day; anchors the day's records."""


def change_workshop(bench: Bench, workshop: "Workshop", *, by: str) -> Changes:
    """Keep new workshop settings; plans are made by them from here on."""
