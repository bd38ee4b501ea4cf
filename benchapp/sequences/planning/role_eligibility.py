"""May this step show that role? A role counts only where the step is fit to show it, whatever its author wrote.

So no author can remove a condition of the interlock: an earth path is shown by an earth continuity reading against the
published limit, insulation by an insulation reading in the set-up that makes it mean something, and so on. The same
question is asked when a file is checked and when a plan is made.
"""

import re
from collections.abc import Callable, Set

from benchapp.errors import BenchError
from benchapp.judgement.meters.corrections import LARGEST_LEADS
from benchapp.judgement.meters.functions import OHMS, Function
from benchapp.quantities.entry import seconds_of
from benchapp.sequences.language.models import (
    AskStep,
    InspectStep,
    MeasureStep,
    SequenceFile,
    Step,
    WaitStep,
    WorkStep,
)
from benchapp.sequences.language.vocabulary import Role, Supply
from benchapp.sequences.planning.terminals import INSULATION_SET_UP
from benchapp.wiring.assembly.lead import LEAD_OFF

DRAWN = frozenset({Function.ac_current, Function.power})
"""Functions that show what a unit draws."""
FROM_WIRING = "from wiring"
SUPPLY_PINS = frozenset({"supply.L", "supply.N", "supply.E"})
ISOLATION_AT_LEAST = 1.0
"""Mohm that a dead reading between supply pins must ask for where its author gives the limit (common practice)"""
LEADS_AT_MOST = LARGEST_LEADS
"""Ohm that a check of the leads may accept at most."""
DISCHARGE_AT_LEAST = 10.0
"""Seconds of a wait that lets stored charge go (common practice, no source); the voltage is proved low after it."""

_AT_LEAST_MEGOHM = re.compile(r"at least ([0-9.]+) Mohm")
_AT_MOST_OHM = re.compile(r"at most ([0-9.]+) ohm")


def why_not(sequence: SequenceFile, step: Step, role: Role) -> str:
    """Why the step cannot show the role; empty when it can."""
    dead = sequence.supply is Supply.none
    if role is Role.limited_power:
        return _limited_power(sequence, step)
    if role is not Role.mains and not dead:
        return f"“{role}” is shown without power"
    return _RULES[role](step)


def _by_hand(step: Step) -> str:
    if not isinstance(step, InspectStep | WorkStep | AskStep):
        return "it is shown by an inspect, work or ask step"
    if isinstance(step, InspectStep) and any(point.grave == "note" for point in step.checkpoints):
        return "what is bad there is more than a note"
    return _asked(step) if isinstance(step, AskStep) else ""


def _asked(step: AskStep) -> str:
    """A question shows something only when one of its answers keeps mains away."""
    if step.value:
        loose = "" if step.accept else "what is typed there is held against something: accept"
        return "what is wrong there is more than a note" if step.grave == "note" else loose
    bad = [answer for answer in step.answers if answer.judgement == "fail"]
    if not bad:
        return "none of its answers fails"
    return "an answer that fails is more than a note" if any(answer.grave == "note" for answer in bad) else ""


def _waited(step: Step) -> str:
    if isinstance(step, WaitStep) and not _is_long(step.time):
        return f"it waits {DISCHARGE_AT_LEAST:g} s at least"
    return "" if isinstance(step, WaitStep | WorkStep | AskStep) else "it is shown by a work, ask or wait step"


def _is_long(time: str) -> bool:
    try:
        return seconds_of(time) >= DISCHARGE_AT_LEAST
    except BenchError:
        return False  # the text itself is complained about beside this


def _looked(step: Step) -> str:
    return "" if isinstance(step, InspectStep) else "it is shown by an inspect step"


def _polarity(step: Step) -> str:
    wrong = _measured(step, OHMS, None)
    if wrong or not isinstance(step, MeasureStep):
        return wrong
    if LEAD_OFF in step.set_up:
        return "its set-up takes the lead off: nothing of the unit is read then"
    if step.accept != FROM_WIRING and not _is_isolation(step.accept):
        return f"it is accepted “{FROM_WIRING}” or by “at least 1 Mohm” or more"
    good = step.at is not None and set(step.at) <= SUPPLY_PINS and step.at[0] != step.at[1]
    return "" if good else "it is read between two of supply.L, supply.N and supply.E"


def _is_isolation(accept: str) -> bool:
    found = _AT_LEAST_MEGOHM.fullmatch(accept)
    return found is not None and float(found[1]) >= ISOLATION_AT_LEAST


def _earth(step: Step) -> str:
    wrong = _measured(step, {Function.earth_continuity}, "limit earth-continuity")
    if wrong or not isinstance(step, MeasureStep):
        return wrong
    good = step.at is not None and step.at[0] == "supply.E" and step.at[1] not in SUPPLY_PINS
    return "" if good else "it is read from supply.E to what can be touched"


def _primary(step: Step) -> str:
    wrong = _measured(step, OHMS, None)
    if wrong or not isinstance(step, MeasureStep):
        return wrong
    if step.accept != FROM_WIRING:
        return f"it is accepted “{FROM_WIRING}”: anything else may take an open primary for a whole one"
    if _is_open(step.set_up) or not {"switch on", "fuse in"} <= set(step.set_up):
        return "its set-up is switch on, fuse in"
    good = step.at is not None and set(step.at) == {"supply.L", "supply.N"}
    return "" if good else "it is read at supply.L and supply.N"


def _is_open(set_up: tuple[str, ...]) -> bool:
    """Whether the set-up opens the path that it should test."""
    return any(words.endswith((" off", " out")) for words in set_up)


def _insulation(step: Step) -> str:
    missing = [words for words in INSULATION_SET_UP if words not in step.set_up]
    if missing:
        return f"its set-up must say {', '.join(missing)}"
    if _is_open(step.set_up):
        return "its set-up opens what it should test"
    wrong = _measured(step, {Function.insulation}, "limit insulation")
    if wrong or not isinstance(step, MeasureStep):
        return wrong
    ends = set(step.at or ())
    good = len(ends & {"supply.L", "supply.N"}) == 1 and len(ends - SUPPLY_PINS) == 1
    return "" if good else "it is read from supply.L or supply.N to what can be touched"


def _leads(step: Step) -> str:
    wrong = _measured(step, OHMS, None)
    found = _AT_MOST_OHM.fullmatch(step.accept) if isinstance(step, MeasureStep) else None
    if wrong:
        return wrong
    good = found is not None and float(found[1]) <= LEADS_AT_MOST
    return "" if good else f"it accepts “at most … ohm”, no more than {LEADS_AT_MOST:g} ohm"


def _voltage_low(step: Step) -> str:
    wrong = _measured(step, {Function.dc_voltage}, "limit voltage-low")
    if wrong or not isinstance(step, MeasureStep):
        return wrong
    good = step.at is not None and set(step.at) == {"supply.L", "supply.N"}
    return "" if good else "it is read at supply.L and supply.N"


def _mains(step: Step) -> str:
    return _measured(step, {Function.mains_voltage}, "limit mains-voltage")


def _limited_power(sequence: SequenceFile, step: Step) -> str:
    if sequence.supply is not Supply.limited:
        return "it is shown on limited supply"
    wrong = _measured(step, DRAWN, None)
    if not wrong and isinstance(step, MeasureStep) and step.accept != FROM_WIRING:
        return f"it is accepted “{FROM_WIRING}”: what this design may draw, and no more"
    return wrong


def _measured(step: Step, functions: Set[Function], accept: str | None) -> str:
    if not isinstance(step, MeasureStep):
        return "it is shown by a measure step"
    if step.function not in functions:
        return f"it is shown with the function {' or '.join(one for one in Function if one in functions)}"
    if accept is not None and step.accept != accept:
        return f"it is accepted by “{accept}”"
    return "" if step.accept else "it needs something to accept"


_RULES: dict[Role, Callable[[Step], str]] = {
    Role.visual: _looked,
    Role.plug: _by_hand,
    Role.polarity: _polarity,
    Role.earth: _earth,
    Role.primary: _primary,
    Role.insulation: _insulation,
    Role.selector: _by_hand,
    Role.internal_fuse: _by_hand,
    Role.leads: _leads,
    Role.plug_out: _by_hand,
    Role.discharged: _waited,
    Role.voltage_low: _voltage_low,
    Role.mains: _mains,
    Role.dry: _by_hand,
}
