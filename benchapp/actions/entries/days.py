"""The day at the bench: opening, closing, and the workshop's settings."""

from collections.abc import Sequence
from functools import partial

from benchapp.actions.exchange.exporting import write_at_closing
from benchapp.actions.workbench.bench import Bench
from benchapp.actions.workbench.change_set import ChangeSet
from benchapp.actions.workbench.plans import workshop_from, workshop_text
from benchapp.actions.workbench.problems import Refused
from benchapp.actions.workbench.text_bounds import refuse_long
from benchapp.actions.workbench.unit_summary import as_recorded, summary_after
from benchapp.judgement.meters.corrections import refuse_leads
from benchapp.sequences.planning.bench_day import refuse_opening
from benchapp.sequences.planning.chain_contents import MeterProof, OpeningContent
from benchapp.sequences.planning.entries import Entry
from benchapp.sequences.planning.meter_proofs import refuse_proof
from benchapp.sequences.planning.planned import Workshop
from benchapp.sequences.planning.workshop_rules import refuse_change, refuse_workshop
from benchapp.words import say


def open_bench(
    bench: Bench,
    *,
    by: str,
    meters: Sequence[MeterProof],
    source: str,
    rcd_button_tested: bool = False,
    rcd_rating: float | None = None,
    rcd_reset: bool = False,
    room: str = "",
    note: str = "",
) -> ChangeSet:
    """The check at the start of a day: meters proved on a known source, lead resistance, the RCD, who else is there.

    `rcd_rating` in A as printed on it (None: not read), `rcd_reset` that it is on again after its button tripped it.

    The board is brought up to the day: dead tests of unfinished units may have grown old since.
    """
    _refuse_nobody(by)
    refuse_long(note=note, name=room)
    _refuse_proofs(meters)
    if complaint := refuse_opening(meters, source, room, by):
        raise Refused(complaint)
    content = OpeningContent(
        meters=tuple(meters),
        rcd_button_tested=rcd_button_tested,
        rcd_rating=rcd_rating,
        rcd_reset=rcd_reset,
        source=source,
        room=room.strip(),
        note=note,
    )
    opening = bench.write(partial(bench.workbook.add_opening, content, at=bench.clock(), by=by))
    aged = bench.write(partial(_bring_up, bench, opening))
    proved = sum(proof.proved for proof in meters)
    words = say("The bench is open; {proved} of {count} meters are proved.", proved=proved, count=len(meters))
    if aged:
        words += say(" {listed}: tests have grown old.", listed=", ".join((mark for mark, _ in aged)))
    return ChangeSet(lots=frozenset(lot for _, lot in aged), units=frozenset(mark for mark, _ in aged), words=words)


def _bring_up(bench: Bench, moment: Entry, *, every: bool = False) -> list[tuple[str, str]]:
    """(shelf mark, lot) of the units that stand otherwise than the workbook shows, now put right in it.

    They are shown as at the opening or the settings' entry, under the settings that it cites or says: so anybody can
    work out again what is shown. Only those are looked at that time may have moved, or (after other settings) `every`
    one that is worked on.
    """
    from benchapp.sequences.interlock.due import AT_REST
    from benchapp.sequences.interlock.fold import fold
    from benchapp.sequences.planning.entry_times import seconds_between

    now, workshop = moment.at, workshop_from(bench.workbook.settings_of(moment))
    aged = []
    for unit in bench.units() if every else bench.workbook.units_moved(now):
        if (every and (not unit.last_entry or unit.disposition in AT_REST)) or seconds_between(unit.last_at, now) < 0:
            continue
        kept, history = bench.workbook.stages_of(unit.mark), bench.history(unit.mark)
        state = fold(as_recorded(bench.plan_of(history, workshop)), history.entries, at=now)
        summary = summary_after(unit.mark, state, history.entries)
        if bench.workbook.keep_summary(unit.mark, unit.last_entry, summary, at=now) and summary.stages != kept:
            aged.append((unit.mark, unit.lot))
    return aged


def close_bench(bench: Bench, *, by: str, meters: Sequence[MeterProof] = (), note: str = "") -> ChangeSet:
    """The check at the end of a day; anchors its records, and writes its day file where backups go.

    A meter found wanting is named in the answer.
    """
    _refuse_nobody(by)
    _refuse_proofs(meters)
    refuse_long(note=note)
    opening = bench.opening()
    if opening is None:
        raise Refused(say("The bench is not open today, so it cannot be closed. Open it first."))
    close = partial(bench.workbook.add_closing, opening, at=bench.clock(), by=by, meters=tuple(meters), note=note)
    bench.write(close)
    written = write_at_closing(bench)
    wanting = [proof.meter for proof in meters if not proof.proved]
    if not wanting:
        return ChangeSet(words=say("The bench is closed. {written}", written=written).rstrip(), bench_closed=True)
    names = ", ".join(wanting)
    words = say(
        "The bench is closed. {names} failed its proof: look at today's readings taken with it. {written}",
        names=names,
        written=written,
    )
    return ChangeSet(words=words.rstrip(), bench_closed=True)


LONGEST_NAME = 40
"""letters of a bench's name: it stands in a line with others (own choice)"""


def name_bench(bench: Bench, name: str, *, by: str) -> ChangeSet:
    """Call this bench by another name; what was recorded at it stays."""
    _refuse_nobody(by)
    said = " ".join(name.split())
    if not said or len(said) > LONGEST_NAME or not said.isprintable():
        raise Refused(
            say(
                "A bench's name has one to {LONGEST_NAME} letters. Give one that people use.", LONGEST_NAME=LONGEST_NAME
            )
        )
    if said == bench.workbook.bench_name():
        return ChangeSet()
    bench.write(partial(bench.workbook.name_bench, said, at=bench.clock(), by=by))
    return ChangeSet(words=say("This bench is called {said}.", said=said))


def change_workshop(bench: Bench, workshop: Workshop, *, by: str, reason: str = "") -> ChangeSet:
    """Keep new workshop settings; every window works by them from here on (what judges stays as each run pinned it).

    Where they ask for less than before, a supervisor makes them and says why (`refuse_change`).
    """
    _refuse_nobody(by)
    refuse_long(note=reason)
    for row in workshop.people:
        refuse_long(name=row.name, initials=row.initials)
    at = bench.clock()
    complaint = refuse_workshop(workshop) or refuse_change(bench.workshop, workshop, by=by, at=at, reason=reason)
    if complaint:
        raise Refused(complaint)
    keep = partial(bench.workbook.keep_workshop, workshop_text(workshop), at=at, by=by, reason=reason.strip())
    settled = bench.write(keep)
    bench.write(partial(_bring_up, bench, settled, every=True))
    return ChangeSet(lots=frozenset(lot.name for lot in bench.lots()), words=say("The workshop's settings are kept."))


def _refuse_proofs(meters: Sequence[MeterProof]) -> None:
    for proof in meters:
        leads = refuse_leads(proof.meter, proof.lead_resistance, nulled=proof.nulled)
        if complaint := leads or refuse_proof(proof):
            raise Refused(complaint)


def _refuse_nobody(by: str) -> None:
    if not by.strip():
        raise Refused(say("Nobody's initials are given. Enter yours, then record it again."))
    refuse_long(initials=by)
