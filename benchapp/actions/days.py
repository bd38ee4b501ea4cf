"""The day at the bench: opening, closing, and the workshop's settings."""

from collections.abc import Sequence
from functools import partial
from uuid import uuid4

from benchapp.actions.bench import Bench
from benchapp.actions.changes import Changes
from benchapp.actions.plans import workshop_text
from benchapp.actions.problems import Refused
from benchapp.sequences.planned import Workshop
from benchapp.workbook.values import BenchOpening, MeterProof


def open_bench(
    bench: Bench,
    *,
    by: str,
    meters: Sequence[MeterProof],
    rcd_button_tested: bool = False,
    note: str = "",
) -> Changes:
    """The check at the start of a day: meters proved, lead resistance, RCD button."""
    _refuse_nobody(by)
    opening = BenchOpening(
        uuid=str(uuid4()),
        at=bench.clock(),
        by=by,
        meters=tuple(meters),
        rcd_button_tested=rcd_button_tested,
        note=note,
    )
    bench.write(partial(bench.workbook.add_opening, opening))
    proved = sum(proof.proved for proof in meters)
    return Changes(words=f"The bench is open; {proved} of {len(meters)} meters are proved.")


def close_bench(bench: Bench, *, by: str, meters: Sequence[MeterProof] = (), note: str = "") -> Changes:
    """The check at the end of a day; anchors the day's records. A meter found wanting is named in the answer."""
    _refuse_nobody(by)
    opening = bench.opening()
    if opening is None:
        raise Refused("The bench is not open today, so it cannot be closed. Open it first.")
    close = partial(bench.workbook.add_closing, opening.uuid, at=bench.clock(), by=by, meters=tuple(meters), note=note)
    bench.write(close)
    wanting = [proof.meter for proof in meters if not proof.proved]
    if not wanting:
        return Changes(words="The bench is closed.")
    names = ", ".join(wanting)
    return Changes(words=f"The bench is closed. {names} failed its proof: look at today's readings taken with it.")


def change_workshop(bench: Bench, workshop: Workshop, *, by: str) -> Changes:
    """Keep new workshop settings; plans are made by them from here on (what judges stays as each run pinned it)."""
    _refuse_nobody(by)
    bench.write(partial(bench.workbook.keep_workshop, workshop_text(workshop)))
    bench.forget_workshop()
    return Changes(lots=frozenset(lot.name for lot in bench.lots()), words="The workshop's settings are kept.")


def _refuse_nobody(by: str) -> None:
    if not by.strip():
        raise Refused("Nobody's initials are given. Enter yours, then record it again.")
