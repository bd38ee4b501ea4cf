"""What each kind of entry changes in a unit's ledger, which takes them one by one, oldest first.

A withdrawal removes the good that an answer did, never its danger: a withdrawn live answer has energised the unit all
the same, and a withdrawn leads check that failed still doubts the readings before it.
"""

from collections.abc import Callable, Iterable

from benchapp.judgement.statements.statements import completes_step
from benchapp.sequences.history.ledger import Fault, Ledger, Setting
from benchapp.sequences.history.retest import event_scope, fact_scope, opened_by, planned_opening_scope, scope_of
from benchapp.sequences.language.vocabulary import FactValue, Role, Supply
from benchapp.sequences.planning.entries import Entry, EntryKind, Event, person
from benchapp.sequences.planning.facts import fact_or_unknown
from benchapp.sequences.planning.planned import Plan
from benchapp.sequences.planning.step_digest import has_changed
from benchapp.wiring.assembly.lead import LEAD_OFF


def take_entry(ledger: Ledger, plan: Plan, entry: Entry) -> None:
    """Enter the next entry of the unit's history."""
    _TAKE.get(entry.kind, _take_nothing)(ledger, plan, entry)
    ledger.by_number[entry.number] = entry
    ledger.last = entry


def _take_answer(ledger: Ledger, plan: Plan, entry: Entry) -> None:
    ledger.answers.setdefault(entry.address, []).append(entry)
    ledger.touched.add(entry.address)
    ledger.note_reading(entry)
    _take_energising(ledger, plan, entry)
    step = plan.by_address.get(entry.address)
    if step is not None and has_changed(step, entry.content):
        ledger.outdated.add(entry.number)
    if step is not None and step.way_back and Role.plug_out in step.shows:
        ledger.set_up, ledger.set_up_stage = (), ""
    for name, value in entry.content.get("facts", {}).items():
        _set_fact(ledger, plan, name, value, entry)
    for fault in entry.content.get("faults", ()):
        ledger.faults.append(_fault(entry, fault, by_answer=True))
    if step is not None and step.opens:
        ledger.mark_stale(planned_opening_scope(plan, step), entry.number, f"{', '.join(step.opens)} was opened")
        ledger.openings += 1


def _take_energising(ledger: Ledger, plan: Plan, entry: Entry) -> None:
    step = plan.by_address.get(entry.address)
    # The entry says what was done; a file edited since cannot make it undone.
    supply = str(entry.content.get("supply", Supply.none))
    live = supply != Supply.none or (step is not None and step.supply is not Supply.none)
    on_the_way_back = step is not None and step.way_back and bool(step.function)
    still_charged = on_the_way_back and not completes_step(entry.content.get("judgement"))
    if still_charged:
        ledger.read_high = entry.number
    if live:
        ledger.energised_live = entry.number
    elif entry.content.get("energises") or (step is not None and step.energises):
        ledger.charged = entry.number
    if live or still_charged or entry.content.get("energises") or (step is not None and step.energises):
        ledger.energised = entry.number


def _take_withdrawal(ledger: Ledger, plan: Plan, entry: Entry) -> None:
    number = entry.content.get("number")
    target = ledger.by_number.get(number) if isinstance(number, int) else None
    if target is None or target.kind is not EntryKind.answer:
        return
    ledger.withdrawn.add(target.number)
    ledger.touched.add(target.address)
    if ledger.latest(target.address) is target:
        ledger.readings.pop(target.address, None)
    ledger.faults = [one for one in ledger.faults if one.lasting or not (one.by_answer and one.entry == target.number)]
    for name in target.content.get("facts", {}):
        before = ledger.facts(plan).get(name)
        ledger.settings[name] = [one for one in ledger.settings.get(name, []) if one.number != target.number]
        ledger.known_facts = None
        if ledger.facts(plan).get(name) != before:
            ledger.mark_stale(fact_scope(plan, name), entry.number, f"{name} was taken back")


def _set_fact(ledger: Ledger, plan: Plan, name: str, said: FactValue, entry: Entry) -> None:
    setting = Setting(number=entry.number, value=fact_or_unknown(name, said), by=person(entry.by))
    before = ledger.facts(plan).get(name)
    ledger.settings.setdefault(name, []).append(setting)
    ledger.known_facts = None
    now = ledger.facts(plan).get(name)
    if before != now:
        was = "" if before is None else f", not {before}"
        ledger.mark_stale(fact_scope(plan, name), entry.number, f"{name} is {now}{was}")


def _take_fact(ledger: Ledger, plan: Plan, entry: Entry) -> None:
    for name, value in entry.content.get("facts", {}).items():
        _set_fact(ledger, plan, name, value, entry)


def _take_meter(ledger: Ledger, _plan: Plan, entry: Entry) -> None:
    ledger.meters[str(entry.content.get("meter", ""))] = entry


def _take_caution(ledger: Ledger, _plan: Plan, entry: Entry) -> None:
    ledger.cautions[str(entry.content.get("caution", ""))] = entry


def _take_set_up(ledger: Ledger, plan: Plan, entry: Entry) -> None:
    step = plan.by_address.get(entry.address)
    ledger.set_up = tuple(str(item) for item in entry.content.get("items", ()))
    ledger.set_up_stage = step.stage if step is not None else ""
    supply = str(entry.content.get("supply", Supply.none))
    if supply != Supply.none or (step is not None and step.supply is not Supply.none):
        ledger.energised = ledger.energised_live = entry.number
    _take_lead_off(ledger, plan, entry, ledger.set_up)


def _take_lead_off(ledger: Ledger, plan: Plan, entry: Entry, set_up: Iterable[str]) -> None:
    """Off is off, whether or not a step reads anything of it then."""
    step = plan.by_address.get(entry.address)
    if step is not None and LEAD_OFF in set_up:
        ledger.mark_stale(planned_opening_scope(plan, step), entry.number, "the lead was taken off")


def _take_fault(ledger: Ledger, _plan: Plan, entry: Entry) -> None:
    ledger.faults.append(_fault(entry, entry.content))


def _fault(entry: Entry, fault: object, *, by_answer: bool = False) -> Fault:
    said = fault if isinstance(fault, dict) else dict(fault)  # type: ignore[call-overload]
    return Fault(
        entry=entry.number,
        part=str(said.get("part", "")),
        mode=str(said.get("mode", "")),
        words=str(said.get("words", "")),
        severity=str(said.get("grave", "mend")),
        address=entry.address,
        by_answer=by_answer,
        lasting=by_answer and _was_noticed_live(entry, str(said.get("grave", "mend"))),
    )


def _was_noticed_live(entry: Entry, severity: str) -> bool:
    """Smoke, smell, hum or heat seen with mains on; a reading may be a slip, what eyes and nose found is not."""
    live = str(entry.content.get("supply", Supply.none)) != Supply.none
    return live and severity == "do not use" and "value" not in entry.content


def _take_repair(ledger: Ledger, plan: Plan, entry: Entry) -> None:
    part = str(entry.content.get("part", ""))
    mended = _mended(ledger, entry.content.get("fault"), part)
    for fault in mended:
        fault.repair = entry.number
    opened = tuple(str(one) for one in entry.content.get("opened", ()))
    scope = {*scope_of(plan, part, opened), *(fault.address for fault in mended if fault.address)}
    for fault in mended:
        # What was found there counts as touched too, whatever part the repair names.
        scope.update(scope_of(plan, fault.part, ()) if fault.part and fault.part != part else ())
    if any(fault.hazard for fault in mended):
        scope.update(step.address for step in plan.steps)
        ledger.hazard = entry.number
    _disturb(ledger, scope, entry.number, f"{part or 'something'} was repaired")
    ledger.openings += bool(opened_by(plan, part, opened))


def _mended(ledger: Ledger, fault: object, part: str) -> list[Fault]:
    """The faults that a repair answers: by the number of their entry, or by the part when no number is given."""
    if not isinstance(fault, int):
        return [one for one in ledger.faults if one.repair is None and part and one.part == part]
    same = [one for one in ledger.faults if one.entry == fault and one.repair is None]
    return [one for one in same if one.part == part] or (same if len(same) == 1 else [])


def _take_opened(ledger: Ledger, plan: Plan, entry: Entry) -> None:
    opened = tuple(str(one) for one in entry.content.get("opened", ()))
    roles = scope_of(plan, "enclosure", opened)
    _disturb(ledger, roles, entry.number, f"{', '.join(opened) or 'it'} was opened")
    ledger.openings += 1


def _take_event(ledger: Ledger, plan: Plan, entry: Entry) -> None:
    event = str(entry.content.get("event", ""))
    if event != Event.fall:
        ledger.damp = entry.number
    _disturb(ledger, event_scope(plan), entry.number, f"{event} since")


def _take_hazard(ledger: Ledger, plan: Plan, entry: Entry) -> None:
    hazard = str(entry.content.get("hazard", ""))
    everything = [step.address for step in plan.steps]
    _disturb(ledger, everything, entry.number, f"{hazard} was noticed")
    ledger.hazard = entry.number
    if plan.mains_fed:
        # Whoever pressed the key had the unit on: it is not touched before the way back.
        ledger.energised = ledger.energised_live = entry.number
    words = f"{hazard} while it was on" if not entry.content.get("note") else str(entry.content["note"])
    ledger.faults.append(
        Fault(entry=entry.number, part="", mode=hazard, words=words, severity="do not use", hazard=True)
    )


def _disturb(ledger: Ledger, addresses: Iterable[str], number: int, why: str) -> None:
    ledger.mark_stale(addresses, number, why)
    ledger.disturbed = number
    ledger.set_up, ledger.set_up_stage = (), ""


def _take_supervised(ledger: Ledger, _plan: Plan, entry: Entry) -> None:
    ledger.supervised = entry


def _take_disposition(ledger: Ledger, _plan: Plan, entry: Entry) -> None:
    ledger.disposition = entry


def _take_destroyed(ledger: Ledger, _plan: Plan, entry: Entry) -> None:
    ledger.destroyed, ledger.known_facts = entry.number, None


def _take_note(ledger: Ledger, plan: Plan, entry: Entry) -> None:
    """A note changes nothing, unless it keeps a reading that was taken with mains on, or with the lead off."""
    probed = entry.content.get("probed")
    if not isinstance(probed, dict):
        return
    if str(probed.get("supply", Supply.none)) != Supply.none:
        ledger.energised = ledger.energised_live = entry.number
    _take_lead_off(ledger, plan, entry, probed.get("set_up", ()))


def _take_nothing(_ledger: Ledger, _plan: Plan, _entry: Entry) -> None:
    """A kind of entry that changes nothing."""


_TAKE: dict[EntryKind, Callable[[Ledger, Plan, Entry], None]] = {
    EntryKind.answer: _take_answer,
    EntryKind.withdrawal: _take_withdrawal,
    EntryKind.meter: _take_meter,
    EntryKind.caution: _take_caution,
    EntryKind.set_up: _take_set_up,
    EntryKind.fault: _take_fault,
    EntryKind.repair: _take_repair,
    EntryKind.opened: _take_opened,
    EntryKind.event: _take_event,
    EntryKind.hazard: _take_hazard,
    EntryKind.fact: _take_fact,
    EntryKind.supervisor_opening: _take_supervised,
    EntryKind.disposition: _take_disposition,
    EntryKind.plug_destroyed: _take_destroyed,
    EntryKind.note: _take_note,
}
