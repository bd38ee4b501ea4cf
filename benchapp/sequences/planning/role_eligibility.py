"""Which roles a step may show. A role counts only where the step is fit to show it, whatever its author wrote.

So no author can remove a condition of the interlock: an earth path is shown by an earth continuity reading against the
published limit, insulation by an insulation reading in the set-up that makes it mean something, and so on. The same
holds when a file is checked and when a plan is made. What no reading shows stands with the kind of step that shows it.
"""

import re
from collections.abc import Callable, Mapping, Set

from benchapp.judgement.meters.corrections import LARGEST_LEADS
from benchapp.judgement.meters.functions import OHMS, Function
from benchapp.sequences.language.models import SequenceFile, Step
from benchapp.sequences.language.step_kind import Written, known_kinds
from benchapp.sequences.language.vocabulary import Role, Supply
from benchapp.sequences.planning.paths import FROM_WIRING, Path
from benchapp.sequences.planning.planned_kind import PlannedKind
from benchapp.sequences.planning.terminals import INSULATION_SET_UP
from benchapp.wiring.assembly.lead import LEAD_OFF

BY_HAND = (Role.plug, Role.selector, Role.internal_fuse, Role.plug_out, Role.dry)
"""Roles that are shown by looking, doing or answering."""
DRAWN = frozenset({Function.ac_current, Function.power})
"""Functions that show what a unit draws."""
SUPPLY_PINS = frozenset({"supply.L", "supply.N", "supply.E"})
ISOLATION_AT_LEAST = 1.0
"""Mohm that a dead reading between supply pins must ask for where its author gives the limit (common practice)"""
CHARGE_SET_UP = frozenset({"switch on", "fuse in"})
"""Without these the pins of the plug show nothing of what the unit holds."""
LEADS_AT_MOST = LARGEST_LEADS
"""Ohm that a check of the leads may accept at most."""

_AT_LEAST_MEGOHM = re.compile(r"at least ([0-9.]+) Mohm")
_AT_MOST_OHM = re.compile(r"at most ([0-9.]+) ohm")


def why_not(sequence: SequenceFile, step: Step, role: Role) -> str:
    """Why the step cannot show the role; empty when it can."""
    if role is Role.limited_power and sequence.supply is not Supply.limited:
        return "that is shown on limited supply"
    if role not in (Role.mains, Role.limited_power) and sequence.supply is not Supply.none:
        return f"“{role}” is shown without power"
    rule = PlannedKind.of(step).shows.get(role)
    return _by_which_kinds(role) if rule is None else rule(step)


def _by_which_kinds(role: Role) -> str:
    *others, last = [name for name in known_kinds() if role in PlannedKind.named(name).shows]
    names = f"{', '.join(others)} or {last}" if others else last
    return f"that is shown by {'an' if names[0] in 'aeiou' else 'a'} {names} step"


def _polarity(step: Written) -> str:
    if LEAD_OFF in step.set_up:
        return "its set-up takes the lead off: nothing of the unit is read then"
    if step.accept != FROM_WIRING and not _is_isolation(step.accept):
        return f"what it accepts has to be “{FROM_WIRING}”, or “at least 1 Mohm” or more"
    good = step.at is not None and set(step.at) <= SUPPLY_PINS and step.at[0] != step.at[1]
    return "" if good else "it has to be read between two of supply.L, supply.N and supply.E"


def _is_isolation(accept: str) -> bool:
    found = _AT_LEAST_MEGOHM.fullmatch(accept)
    return found is not None and float(found[1]) >= ISOLATION_AT_LEAST


def _earth(step: Written) -> str:
    good = step.at is not None and step.at[0] == "supply.E" and step.at[1] not in SUPPLY_PINS
    return "" if good or step.path == Path.earth_to_metal else "it has to be read from supply.E to what can be touched"


def _primary(step: Written) -> str:
    if step.accept != FROM_WIRING:
        return f"what it accepts has to be “{FROM_WIRING}”: anything else may take an open primary for a whole one"
    if _is_open(step.set_up) or not {"switch on", "fuse in"} <= set(step.set_up):
        return "its set-up has to be switch on, fuse in"
    good = step.at is not None and set(step.at) == {"supply.L", "supply.N"}
    return "" if good else "it has to be read at supply.L and supply.N"


def _is_open(set_up: tuple[str, ...]) -> bool:
    """Whether the set-up opens the path that it should test."""
    return any(words.endswith((" off", " out")) for words in set_up)


def _insulation(step: Written) -> str:
    missing = [words for words in INSULATION_SET_UP if words not in step.set_up]
    if missing:
        return f"its set-up must say {', '.join(missing)}"
    if _is_open(step.set_up):
        return "its set-up opens what it should test"
    if step.path in (Path.mains_to_metal, Path.mains_to_outputs):
        return ""
    ends = set(step.at or ())
    good = len(ends & {"supply.L", "supply.N"}) == 1 and len(ends - SUPPLY_PINS) == 1
    return "" if good else "it has to be read from supply.L or supply.N to what can be touched"


def _leads(step: Written) -> str:
    found = _AT_MOST_OHM.fullmatch(step.accept)
    good = found is not None and float(found[1]) <= LEADS_AT_MOST
    return "" if good else f"it has to accept “at most … ohm”, no more than {LEADS_AT_MOST:g} ohm"


def _voltage_low(step: Written) -> str:
    if _is_open(step.set_up) or not set(step.set_up) >= CHARGE_SET_UP:
        set_up = ", ".join(sorted(CHARGE_SET_UP, reverse=True))
        return f"its set-up has to be {set_up}: behind an open switch it reads nothing"
    if step.also != Function.ac_voltage:
        return f"it has to be read on AC as well, also: {Function.ac_voltage}"
    good = step.at is not None and set(step.at) == {"supply.L", "supply.N"}
    return "" if good else "it has to be read at supply.L and supply.N"


def _limited_power(step: Written) -> str:
    return (
        ""
        if step.accept == FROM_WIRING
        else f"what it accepts has to be “{FROM_WIRING}”, what this design may draw and no more"
    )


def _read(
    functions: Set[Function], *, accept: str = "", then: Callable[[Written], str] = lambda _step: ""
) -> Callable[[Written], str]:
    """Why a reading cannot show a role that is read on these functions: what it accepts, and what `then` says."""

    def why(step: Written) -> str:
        if step.function not in functions:
            return f"that is shown with the function {' or '.join(one for one in Function if one in functions)}"
        if accept and step.accept != accept:
            return f"what it accepts has to be “{accept}”"
        return then(step) if step.accept else "it needs something to accept"

    return why


BY_METER: Mapping[Role, Callable[[Written], str]] = {
    Role.polarity: _read(OHMS, then=_polarity),
    Role.earth: _read({Function.earth_continuity}, accept="limit earth-continuity", then=_earth),
    Role.primary: _read(OHMS, then=_primary),
    Role.insulation: _read({Function.insulation}, accept="limit insulation", then=_insulation),
    Role.leads: _read(OHMS, then=_leads),
    Role.limited_power: _read(DRAWN, then=_limited_power),
    Role.voltage_low: _read({Function.dc_voltage}, accept="limit voltage-low", then=_voltage_low),
    Role.mains: _read({Function.mains_voltage}, accept="limit mains-voltage"),
}
"""Roles that a reading shows, each with why a step cannot (empty: it can)."""
