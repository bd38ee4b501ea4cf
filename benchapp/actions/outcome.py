"""What becomes of a unit: disposition, grade and price, the plug destroyed, a supervisor's opening."""

from benchapp.actions.bench import Bench
from benchapp.actions.changes import Changes


def set_disposition(
    bench: Bench, unit: str, disposition: str, *, by: str, grade: str = "", price: str = "", note: str = ""
) -> Changes:
    """Quarantine, for sale, spares or repair, scrap, keep or hold; raises Refused when the record forbids it."""


def destroy_plug(bench: Bench, unit: str, *, by: str, note: str = "") -> Changes:
    """The mains plug has been cut off and destroyed; only then is "spares or repair" open."""


def open_supervised(bench: Bench, unit: str, *, supervisor: str, reason: str) -> Changes:
    """A named supervisor opens limited-supply work where the workshop has no insulation tester."""
