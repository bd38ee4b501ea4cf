"""A technician who does whatever is due, with readings in the middle of each band."""

from benchapp.actions.entries.answers import record_answer
from benchapp.actions.entries.conditions import record_caution, record_meter, record_set_up
from benchapp.quantities.display import show
from benchapp.sequences.answering.evaluate import evaluate
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.kinds.ask import AskAnswer
from benchapp.sequences.kinds.compute import ComputeAnswer
from benchapp.sequences.kinds.inspect import InspectAnswer, checkpoints_for
from benchapp.sequences.kinds.photo import PhotoAnswer
from benchapp.sequences.kinds.wait import WaitAnswer
from benchapp.sequences.kinds.work import WorkAnswer
from benchapp.sequences.planning.state import DueKind
from benchapp.workbook.record.photos import keep_photo
from tests.photos import tiny_photo

READY = {DueKind.step, DueKind.way_back}


def do_what_is_due(bench, unit, *, by="AB", until=None, answers=None):
    """Go on until nothing more is due, or until the step `until` is; returns what is due then."""
    for _ in range(500):
        state = bench.state(unit, by=by)
        due = state.due
        if due.address == until and due.kind in READY:
            return due
        if due.kind is DueKind.caution:
            record_caution(bench, unit, due.subject, by=by)
        elif due.kind is DueKind.meter:
            record_meter(bench, unit, next(meter for meter, trouble in due.meters if not trouble), by=by)
        elif due.kind is DueKind.set_up:
            record_set_up(bench, unit, due.address, due.items, by=by)
        elif due.kind in READY:
            given = (answers or {}).get(due.address) or good_answer(bench, unit, due.address, state)
            record_answer(bench, unit, due.address, given, by=by)
        else:
            return due
    raise AssertionError(f"{unit} is never done; due is {due}")


def good_answer(bench, unit, address, state=None):
    """What a sound unit would have answered; its state, where it is known, is not worked out again."""
    state = state or bench.state(unit)
    step = bench.plan(unit).step(address)
    bench.clock()  # looking takes its time
    match step.kind:
        case "inspect":
            return InspectAnswer(marks={point.check: "good" for point in checkpoints_for(step.model, state.facts)})
        case "work":
            return WorkAnswer(done=step.model.do)
        case "ask":
            if step.model.value:
                return AskAnswer(answer=_value_within(bench, unit, step, state))
            return AskAnswer(answer=next(one.answer for one in step.model.answers if one.judgement == "pass"))
        case "wait":
            return WaitAnswer(seconds=step.lasts)
        case "compute":
            return ComputeAnswer()
        case "photo":
            return PhotoAnswer(photos=keep_photos(bench, step.model.at_least))
    return _reading(bench, unit, step, state)


def keep_photos(bench, count):
    """So many tiny photos kept in the workbook, by their hashes."""
    return tuple(keep_photo(bench.workbook.store, tiny_photo(number), "image/png") for number in range(count))


def _tried(bench, plan, state, step, given):
    """What an answer would be worth, as a page tries it on what it shows."""
    return evaluate(plan, state, step.address, given, at=max(bench.clock(), state.at))


def _reading(bench, unit, step, state):
    """With the first meter that can judge it, taken in hand if it is not."""
    plan, held = bench.plan(unit), state.meters
    latest = sorted(held, key=lambda name: -held[name].number)
    meters = [name for name in (*latest, *sorted(plan.meters)) if step.function in plan.meters[name].functions]
    given = None
    for meter in meters:
        band = _tried(bench, plan, state, step, ReadingAnswer(typed=f"1 {step.unit}", meter=meter)).band
        given = ReadingAnswer(typed=_middle(band) if band else f"1 {step.unit}", meter=meter)
        if band is None or _tried(bench, plan, state, step, given).judgement == "pass":
            break
    if given.meter not in held:
        record_meter(bench, unit, given.meter, by="AB")
    return given


def _value_within(bench, unit, step, state):
    tried = _tried(bench, bench.plan(unit), state, step, AskAnswer(answer=f"1 {step.model.value}"))
    return _middle(tried.band) if tried.band else f"1 {step.model.value}"


def _middle(band):
    if band.expected is not None:
        value = band.expected
    elif band.lower is None or band.upper is None:
        value = band.upper / 3 if band.lower is None else band.lower * 10
    else:
        value = (band.lower + band.upper) / 2
    return show(value, band.kind)
