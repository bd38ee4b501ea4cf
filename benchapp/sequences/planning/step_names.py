"""A step in the few words that a tag, a column of a record or a list of what was left out has room for."""

from typing import TYPE_CHECKING

from benchapp.sequences.language.vocabulary import Role
from benchapp.sequences.planning.planned import PlannedStep

if TYPE_CHECKING:
    from benchapp.wiring.model.circuit import Circuit

NAMES_BY_ROLE = {
    Role.earth: "Earth continuity",
    Role.limited_power: "Current at first power",
    Role.mains: "Mains at the time",
}


def step_name(step: PlannedStep) -> str:
    """A step in a few words: what it shows, or its own name; a probe by the terminals touched."""
    for role, name in NAMES_BY_ROLE.items():
        if role in step.shows:
            return name
    if step.way_back and step.function:
        return _voltage_left(step)
    if "/" in step.address:
        return terminals_words(step.terminals)
    name = step.address.split(".", 1)[1].split("/")[0].replace("-", " ")
    if Role.insulation in step.shows:
        return f"Insulation, {name}"
    return name[:1].upper() + name[1:]


def _voltage_left(step: PlannedStep) -> str:
    """A reading of the way back: what is left, and where."""
    name = step.address.split(".", 1)[1].replace("-", " ").removeprefix("low").strip()
    where = terminals_words(step.terminals) if "/" in step.address or not name else name
    return f"Voltage left, {where[:1].lower()}{where[1:]}"


def reading_name(circuit: "Circuit", step: PlannedStep) -> str:
    """The same for a reading on paper; of a DC output with its positive pin first: "Output outer + to inner −"."""
    from benchapp.judgement.meters.functions import Function
    from benchapp.wiring.expected.stated import positive_end

    if step.function is not Function.dc_voltage or "/" not in step.address or step.way_back:
        return step_name(step)
    positive = positive_end(circuit, *step.terminals)
    if not positive:
        return step_name(step)
    negative = next(one for one in step.terminals if one != positive)
    return terminals_words((f"{positive} +", f"{negative} −"))


def name_within(step: PlannedStep) -> str:
    """The same inside a sentence: "earth continuity"."""
    name = step_name(step)
    return name[:1].lower() + name[1:]


def terminals_words(terminals: tuple[str, ...]) -> str:
    """ "Outlet 1 to 2", "Outlet 1 to plug L", "Outlet 1 to case"."""
    first, *others = (terminal.partition(".") for terminal in terminals)
    words = f"{first[0]} {first[2]}".strip()
    for connector, _, pin in others:
        words += f" to {pin}" if connector == first[0] and pin else f" to {f'{connector} {pin}'.strip()}"
    return words[:1].upper() + words[1:]
