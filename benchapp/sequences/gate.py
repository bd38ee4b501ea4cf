"""May this be recorded? The one gate that every entry passes before it is recorded, whatever the files say.

What has happened is never refused: an event, a hazard, a fault, a remark. What would be done against the rules is, with
a sentence that says what to do instead.
"""

from collections.abc import Callable, Sequence
from datetime import date

from benchapp.quantities import Kind, show
from benchapp.sequences.dispositions import why_not
from benchapp.sequences.due import Circumstances, caution_words, is_set_up, missing_for, too_early
from benchapp.sequences.entries import Disposition, Entry, EntryKind, Event, Hazard, Opening, person
from benchapp.sequences.fact_rules import refuse_asked, refuse_facts
from benchapp.sequences.folding import look
from benchapp.sequences.free_probes import PROBED, is_live, is_on_full_mains, live_step, refuse_probe
from benchapp.sequences.instruments import trouble_with_step
from benchapp.sequences.interlock import acknowledged, cautions_of, testers
from benchapp.sequences.language import WaitStep
from benchapp.sequences.leads import refuse_leads
from benchapp.sequences.moments import is_moment, seconds_between
from benchapp.sequences.planned import Plan, PlannedStep, Role, Supply
from benchapp.sequences.spans import seconds_of
from benchapp.sequences.standing import THROUGH_LEADS, Standing, is_open_reading, proofs, proved_before
from benchapp.sequences.state import FaultStatus, StepStatus, UnitState
from benchapp.sequences.tester_settings import INSULATION, set_up_of, voltage_needed
from benchapp.sequences.troubles import fault_status
from benchapp.sequences.way_back import is_energised, must_go_back_first

GO_BACK = "Go the way back first: plug out and in sight, discharged, voltage proved low."

CLOCKS_AGREE = 0.1
"""seconds by which a page's clock and the entries' may differ: a page shows tenths"""


def refuse(plan: Plan, entries: Sequence[Entry], entry: Entry) -> str | None:
    """The sentence with which the prospective entry is refused, or None when it may be recorded."""
    return _ask(look(plan, entries, at=entry.at), entry)


def refuse_in(plan: Plan, state: UnitState, entry: Entry) -> str | None:  # noqa: ARG001 - the state knows its plan
    """The same where the history was folded before, at the entry's own time."""
    return _ask(state.about, entry)


def _ask(about: Circumstances, entry: Entry) -> str | None:
    rule = _RULES.get(entry.kind)
    return rule(about, entry) if rule else None


# Answers --------------------------------------------------------------------------------------------------------------


def _refuse_answer(about: Circumstances, entry: Entry) -> str | None:
    standing = about.standing
    step = standing.plan.by_address.get(entry.address)
    if step is None:
        return f"This run has no step “{entry.address}”."
    state = standing.steps[step.address]
    if state.status is StepStatus.skipped:
        return f"This step is not for this unit: {state.why}."
    if must_go_back_first(standing, step):
        return f"{_since(standing)} {GO_BACK}"
    if step.way_back:
        return (
            _refuse_way_back(standing, step)
            or _refuse_meter(standing, step, entry)
            or _refuse_wait(standing, step, entry)
            or refuse_asked(standing.plan, standing.facts, entry.content.get("facts", {}))
        )
    return (
        _refuse_shut(about, step)
        or _refuse_early(about, step)
        or _refuse_unprepared(about, step)
        or _refuse_meter(standing, step, entry)
        or _refuse_reading(standing, step, entry)
        or _refuse_wait(standing, step, entry)
        or refuse_asked(standing.plan, standing.facts, entry.content.get("facts", {}))
    )


def _since(standing: Standing) -> str:
    number = standing.ledger.energised
    entry = standing.ledger.by_number.get(number)
    return f"Entry {number} ({entry.address or entry.kind}) had it energised." if entry else "It may be energised."


def _refuse_early(about: Circumstances, step: PlannedStep) -> str | None:
    standing = about.standing
    state = standing.steps[step.address]
    if state.status is StepStatus.shut and not missing_for(about.rows, step):
        return f"This step {state.why}."
    early = too_early(standing, step)
    return early.why if early is not None else None


def _refuse_shut(about: Circumstances, step: PlannedStep) -> str | None:
    missing = missing_for(about.rows, step)
    if missing:
        reasons = "; ".join(f"{row.words}: {row.why}" if row.why else row.words for row in missing)
        return f"Mains stays away from this unit until {reasons}."
    if step.function == "insulation" and Role.insulation in step.shows:
        row = next(row for row in about.rows[Supply.limited] if row.id == Role.primary)
        if not row.holds:
            return f"Show first that the primary is whole ({row.why}): an open primary reads like perfect insulation."
    return None


def _refuse_unprepared(about: Circumstances, step: PlannedStep) -> str | None:
    standing = about.standing
    for caution in cautions_of(standing.plan.stage(step.stage).cautions, step.supply):
        if not acknowledged(standing, caution, step.supply):
            return f"Read and acknowledge the caution first. {caution_words(standing.plan, caution)}"
    rows = about.rows.get(step.supply, ())
    meter = next((row for row in rows if row.id == "meter" and not row.holds), None)
    if meter is not None:
        return f"Take the meters in hand before mains comes on: {meter.why}."
    if not is_set_up(standing, step):
        asked = set_up_of(standing.plan, standing.facts, step)
        return f"Make and confirm the set-up first: {', '.join(asked)}."
    return None


def _refuse_way_back(standing: Standing, step: PlannedStep) -> str | None:
    ledger = standing.ledger
    floor = ledger.energised
    for before in standing.plan.way_back:
        if before.address == step.address:
            return None
        latest = ledger.latest(before.address)
        if latest is None or latest.number < floor or not ledger.good(latest):
            return f"First {before.address}: {before.say}"
    return None


def _refuse_meter(standing: Standing, step: PlannedStep, entry: Entry) -> str | None:
    if not step.function:
        return None
    meter = str(entry.content.get("meter", ""))
    if not meter:
        return f"Say which meter took this reading ({step.function})."
    trouble = trouble_with_step(standing, meter, step)
    return f"This reading cannot be taken: {trouble}." if trouble else None


def _refuse_reading(standing: Standing, step: PlannedStep, entry: Entry) -> str | None:
    """An "OL" needs leads that were proved before it; a check of the leads is no reading of the unit."""
    volts = voltage_needed(standing.plan, standing.facts) if step.function == INSULATION else 0.0
    if volts and entry.content.get("test_voltage") != volts:
        return f"This unit's insulation is tested at {volts:g} V: set the tester to it, confirm it, and read again."
    if not is_open_reading(entry) or step.function not in THROUGH_LEADS or Role.leads in step.shows:
        return None
    stage = standing.plan.stage(step.stage)
    meter = str(entry.content.get("meter", ""))
    if proved_before(standing.ledger, proofs(standing.ledger, stage, meter), entry.number, entry.at):
        return None
    return f"Prove the leads of {meter} first (tips together): a broken lead reads “OL” too."


def _refuse_wait(standing: Standing, step: PlannedStep, entry: Entry) -> str | None:
    """A wait is over when the entries say so, whatever a clock on a page showed."""
    if not isinstance(step.model, WaitStep):
        return None
    began = standing.ledger.worked_before(step.address)
    if began is None:
        return "Nothing is on record from which this wait could run. Note that it begins, and wait from there."
    passed = seconds_between(began.at, entry.at)
    claimed = max(seconds_of(step.model.time), float(entry.content.get("seconds", 0.0)))
    if passed + CLOCKS_AGREE >= claimed:
        return None
    said = f"Entry {began.number} ({began.address or began.kind}) was {show(max(passed, 0.0), Kind.time)} ago"
    return f"{said}: {show(claimed, Kind.time)} cannot have been waited since. Wait on, then record it."


# What else can be recorded --------------------------------------------------------------------------------------------


def _refuse_withdrawal(about: Circumstances, entry: Entry) -> str | None:
    ledger = about.standing.ledger
    number = entry.content.get("number")
    target = ledger.by_number.get(number) if isinstance(number, int) else None
    if target is None:
        return f"This unit has no entry {number}."
    if target.kind is not EntryKind.answer:
        return f"Entry {number} is no answer but a {target.kind}: what happened stays on record."
    return f"Entry {number} was withdrawn before." if target.number in ledger.withdrawn else None


def _refuse_meter_entry(about: Circumstances, entry: Entry) -> str | None:
    meter = str(entry.content.get("meter", ""))
    record = about.standing.plan.meters.get(meter)
    if record is None:
        return f"There is no record of a meter “{meter}”."
    if not is_moment(str(entry.content.get("proved", ""))):
        return f"“{entry.content['proved']}” is no time at which {meter} was proved."
    leads = refuse_leads(meter, entry.content.get("lead_resistance"), nulled=bool(entry.content.get("nulled")))
    if leads:
        return leads
    if record.is_overdue(date.fromisoformat(entry.at[:10])) and not entry.content.get("overdue_accepted"):
        return f"The calibration of {meter} was due on {record.due}: choose another, or accept it knowingly."
    return None


def _refuse_caution(about: Circumstances, entry: Entry) -> str | None:
    caution = str(entry.content.get("caution", ""))
    plan = about.standing.plan
    known = {name for stage in plan.stages for name in cautions_of(stage.cautions, stage.supply)} | set(plan.cautions)
    return None if caution in known else f"There is no caution “{caution}”."


def _refuse_set_up(about: Circumstances, entry: Entry) -> str | None:
    standing = about.standing
    step = standing.plan.by_address.get(entry.address)
    if step is None:
        return f"This run has no step “{entry.address}”."
    asked = set_up_of(standing.plan, standing.facts, step)
    left = [item for item in asked if item not in entry.content.get("items", ())]
    if left:
        return f"Still to set up: {', '.join(left)}."
    strange = [str(item) for item in entry.content.get("items", ()) if item not in asked]
    if strange:
        return f"This step is not set up with {', '.join(strange)}."
    if must_go_back_first(standing, step):
        return f"{_since(standing)} {GO_BACK}"
    return _refuse_shut(about, step) or _refuse_early(about, step)


def _refuse_repair(about: Circumstances, entry: Entry) -> str | None:
    standing = about.standing
    if is_energised(standing):
        return f"{_since(standing)} {GO_BACK}"
    fault = entry.content.get("fault")
    numbers = {t.entry for t in standing.ledger.troubles if fault_status(standing, t) is FaultStatus.open}
    if isinstance(fault, int) and fault not in numbers:
        return f"Entry {fault} is no open fault of this unit."
    if not str(entry.content.get("part", "")).strip() or not str(entry.content.get("done", "")).strip():
        return "Say which part was mended and what was done: the retest follows from it."
    return _refuse_openings(entry)


def _refuse_openings(entry: Entry) -> str | None:
    known = {one.value for one in Opening}
    wrong = [str(one) for one in entry.content.get("opened", ()) if one not in known]
    return f"“{wrong[0]}” cannot be opened; it is one of {', '.join(sorted(known))}." if wrong else None


def _refuse_opened(about: Circumstances, entry: Entry) -> str | None:
    if is_energised(about.standing):
        return f"{_since(about.standing)} {GO_BACK}"
    if not entry.content.get("opened"):
        return "Say what was opened: cord, plug or enclosure."
    return _refuse_openings(entry)


def _refuse_fault(_about: Circumstances, entry: Entry) -> str | None:
    named = str(entry.content.get("part", "")).strip() or str(entry.content.get("words", "")).strip()
    return None if named else "Say what is wrong: the part, or a few words."


def _refuse_event(_about: Circumstances, entry: Entry) -> str | None:
    return _one_of(entry, "event", [one.value for one in Event])


def _refuse_hazard(_about: Circumstances, entry: Entry) -> str | None:
    return _one_of(entry, "hazard", [one.value for one in Hazard])


def _one_of(entry: Entry, key: str, known: list[str]) -> str | None:
    said = entry.content.get(key)
    return None if said in known else f"“{said}” is none of {', '.join(known)}."


def _refuse_supervised(about: Circumstances, entry: Entry) -> str | None:
    if about.standing.plan.workshop.insulation_tester:
        return "This workshop has an insulation tester: test the insulation instead."
    if not entry.by.strip() or not str(entry.content.get("reason", "")).strip():
        return "A supervisor opens it by name and with a reason."
    if person(entry.by) in testers(about.standing):
        return f"{entry.by} tested this unit: another person looks at it and opens it."
    return None


def _refuse_disposition(about: Circumstances, entry: Entry) -> str | None:
    word = str(entry.content.get("disposition", ""))
    wrong = _one_of(entry, "disposition", [one.value for one in Disposition])
    reason = wrong or why_not(about.standing, word)
    if wrong or not reason:
        return wrong
    return f"It cannot be marked “{word}”: {reason}."


def _refuse_destroyed(about: Circumstances, _entry: Entry) -> str | None:
    if is_energised(about.standing):
        return f"{_since(about.standing)} {GO_BACK}"
    return "Its plug was destroyed before." if about.standing.ledger.destroyed else None


def _refuse_fact(about: Circumstances, entry: Entry) -> str | None:
    facts = entry.content.get("facts")
    if not facts or not isinstance(facts, dict):
        return "Say which fact of this unit it is, and what it is."
    standing = about.standing
    return refuse_facts(standing.plan, standing.facts, facts, plug_gone=bool(standing.ledger.destroyed))


def _refuse_note(about: Circumstances, entry: Entry) -> str | None:
    if not str(entry.content.get("words", "")).strip():
        return "The note is empty."
    if PROBED not in entry.content:
        return None
    if is_live(entry):
        return why_no_live_probe(about) or refuse_probe(about.standing, entry)
    if is_energised(about.standing):
        return f"{_since(about.standing)} {GO_BACK}"
    return refuse_probe(about.standing, entry)


def why_no_live_probe(about: Circumstances) -> str | None:
    """Why no live reading can be taken beside the route now: what keeps the route's own voltages shut, or no mains yet.

    It is taken while the live stage is under way, never by plugging in for it alone.
    """
    standing = about.standing
    step = live_step(standing.plan)
    if step is None:
        return "This route takes no live voltage at an output: probe dead."
    reason = (
        _refuse_shut(about, step)
        or (f"{_since(standing)} {GO_BACK}" if must_go_back_first(standing, step) else None)
        or _refuse_early(about, step)
        or _refuse_unprepared(about, step)
    )
    if reason:
        return reason
    if not is_energised(standing) or not is_on_full_mains(standing):
        stage = standing.plan.stage(step.stage)
        return f"Mains is not on this unit, or was not read just now: first “{stage.title}” up to its mains reading."
    return None


_RULES: dict[EntryKind, Callable[[Circumstances, Entry], str | None]] = {
    EntryKind.answer: _refuse_answer,
    EntryKind.withdrawal: _refuse_withdrawal,
    EntryKind.meter: _refuse_meter_entry,
    EntryKind.caution: _refuse_caution,
    EntryKind.set_up: _refuse_set_up,
    EntryKind.repair: _refuse_repair,
    EntryKind.opened: _refuse_opened,
    EntryKind.fault: _refuse_fault,
    EntryKind.event: _refuse_event,
    EntryKind.hazard: _refuse_hazard,
    EntryKind.supervisor_opening: _refuse_supervised,
    EntryKind.disposition: _refuse_disposition,
    EntryKind.plug_destroyed: _refuse_destroyed,
    EntryKind.fact: _refuse_fact,
    EntryKind.note: _refuse_note,
}
