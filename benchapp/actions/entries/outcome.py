"""What becomes of a unit: disposition, grade and price, the plug destroyed, a supervisor's opening."""

from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.problems import Refused
from benchapp.actions.workbench.recording import Composed, record
from benchapp.sequences.planning.entries import Disposition, EntryKind


def set_disposition(
    bench: Bench, unit: str, disposition: str, *, by: str, grade: str = "", price: str = "", note: str = ""
) -> ChangeSet:
    """Quarantine, for sale, spares or repair, scrap, keep or hold; raises Refused when the record forbids it."""
    if disposition not in set(Disposition):
        known = ", ".join(Disposition)
        raise Refused(f"{disposition!r} is not a disposition. Choose one of: {known}.")
    content = {"disposition": disposition, "grade": grade, "price": price, "note": note}
    said = Composed(kind=EntryKind.disposition, content=content, words=f"{unit}: {disposition}.")
    return record(bench, unit, lambda _: said, by=by)


def destroy_plug(bench: Bench, unit: str, *, by: str, note: str = "") -> ChangeSet:
    """The mains plug has been cut off and destroyed; only then is "spares or repair" open."""
    words = f"{unit}: the mains plug is cut off and destroyed."
    said = Composed(kind=EntryKind.plug_destroyed, content={"note": note}, words=words)
    return record(bench, unit, lambda _: said, by=by)


def open_supervised(bench: Bench, unit: str, *, supervisor: str, reason: str) -> ChangeSet:
    """A named supervisor opens limited-supply work where the workshop has no insulation tester."""
    if not reason.strip():
        raise Refused("A supervisor's opening needs its reason in words. Write it, then record it again.")
    words = f"{supervisor} opens limited-supply work on {unit}."
    said = Composed(kind=EntryKind.supervisor_opening, content={"reason": reason.strip()}, words=words)
    return record(bench, unit, lambda _: said, by=supervisor)
