"""What becomes of a unit: disposition, grade and price, the plug destroyed, a supervisor's opening, another mark."""

import re
from functools import partial

from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.problems import Refused
from benchapp.actions.workbench.recording import Composed, record
from benchapp.actions.workbench.text_bounds import refuse_long
from benchapp.sequences.planning.entries import Accepted, Disposition, EntryKind
from benchapp.sequences.planning.entry_contents import (
    AcceptanceContent,
    DispositionContent,
    PlugDestroyedContent,
    PlugKeptContent,
    SupervisorOpeningContent,
)
from benchapp.words import say


def set_disposition(
    bench: Bench,
    unit: str,
    disposition: str,
    *,
    by: str,
    grade: str = "",
    price: str = "",
    note: str = "",
    seen: int | None = None,
) -> ChangeSet:
    """Quarantine, for sale, spares or repair, scrap, keep or hold; raises Refused when the record forbids it.

    `seen` as for `record`.
    """
    if disposition not in set(Disposition):
        known = ", ".join(Disposition)
        raise Refused(
            say("{disposition!r} is not a disposition. Choose one of: {known}.", disposition=disposition, known=known)
        )
    if disposition == Disposition.for_sale and (fault := bench.record_fault(unit, anew=True)):
        raise Refused(say("{unit} is not for sale: its record does not hold. {fault}", unit=unit, fault=fault))
    price = price_in(bench.workshop.currency, price)
    content = DispositionContent(disposition=disposition, grade=grade, price=price, note=note)
    said = Composed(kind=EntryKind.disposition, content=content, words=f"{unit}: {disposition}.")
    return record(bench, unit, lambda _: said, by=by, seen=seen)


def price_in(currency: str, price: str) -> str:
    """The price in the workshop's currency where a bare number was typed, its decimals two or none; else as typed."""
    number = re.fullmatch(r"([0-9]+)(?:[.,]([0-9]{1,2}))?", price.strip())
    if number is None or not currency:
        return price
    whole, decimals = number.groups()
    mark = "," if "," in price else "."
    blank = "\u00a0" if currency.isalpha() and len(currency) > 1 else ""
    return f"{currency}{blank}{whole}" + (f"{mark}{decimals:0<2}" if decimals else "")


def destroy_plug(bench: Bench, unit: str, *, by: str, note: str = "") -> ChangeSet:
    """The mains plug has been cut off and destroyed; only then is "spares or repair" open."""
    words = say("{unit}: the mains plug is cut off and destroyed.", unit=unit)
    said = Composed(kind=EntryKind.plug_destroyed, content=PlugDestroyedContent(note=note), words=words)
    return record(bench, unit, lambda _: said, by=by)


def keep_plug(bench: Bench, unit: str, *, by: str, why: str) -> ChangeSet:
    """The entry that the plug was destroyed was wrong (the wrong unit, say): it is on after all."""
    words = say("{unit}: the mains plug is on after all.", unit=unit)
    said = Composed(kind=EntryKind.plug_kept, content=PlugKeptContent(why=why.strip()), words=words)
    return record(bench, unit, lambda _: said, by=by)


def open_supervised(bench: Bench, unit: str, *, supervisor: str, reason: str) -> ChangeSet:
    """A named supervisor opens limited-supply work where the workshop has no insulation tester."""
    if not reason.strip():
        raise Refused(say("A supervisor's opening needs its reason in words. Write it, then record it again."))
    words = say("{supervisor} opens limited-supply work on {unit}.", supervisor=supervisor, unit=unit)
    content = SupervisorOpeningContent(reason=reason.strip())
    said = Composed(kind=EntryKind.supervisor_opening, content=content, words=words)
    return record(bench, unit, lambda _: said, by=supervisor)


def accept(bench: Bench, unit: str, what: Accepted, *, supervisor: str, reason: str) -> ChangeSet:
    """A supervisor on the list accepts something of this unit that is otherwise refused, and says why."""
    words = f"{supervisor} accepts {what} of {unit}."
    content = AcceptanceContent(what=what.value, reason=reason.strip())
    said = Composed(kind=EntryKind.acceptance, content=content, words=words)
    return record(bench, unit, lambda _: said, by=supervisor)


def mark_anew(bench: Bench, unit: str, shelf_mark: str, *, by: str, why: str = "") -> ChangeSet:
    """Give a unit another shelf mark; the one thing recorded on a unit that is on hold for the mark that it bears.

    Raises Refused for none, TakenName for a mark that is taken, Held for a unit of which there are two records.
    """
    mark = " ".join(shelf_mark.split())
    if not by.strip():
        raise Refused(
            say("Nobody's initials are given. Every entry says who made it: enter yours, then record it again.")
        )
    if not mark or not mark.isprintable():
        raise Refused(say("There is no shelf mark. Type what you write on the unit's new tag."))
    refuse_long(initials=by, shelf_mark=mark, note=why)
    before = bench.unit(unit)
    at = bench.now(bench.history(unit))
    called = {one.uuid: one.mark for one in bench.units()}
    bench.write(partial(bench.workbook.mark_anew, unit, mark, at=at, by=by.strip(), why=why))
    bench.forget_all()
    now = {one.uuid: one for one in bench.units()}
    renamed = {was: now[uuid].mark for uuid, was in called.items() if uuid in now and now[uuid].mark != was}
    lots = frozenset({before.lot, *(now[uuid].lot for uuid, was in called.items() if was in renamed)})
    words = say("{unit} bears the shelf mark {mark} from here on. Print its tag anew.", unit=unit, mark=mark)
    return ChangeSet(lots=lots, units=frozenset({*renamed, *renamed.values()}), words=words, renamed=renamed)
