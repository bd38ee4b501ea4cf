"""Steps and facts of a unit in the few words that a tag or a column of a record has room for."""

from typing import TYPE_CHECKING

from benchapp.sequences.planned import PlannedStep, Role, StepKind

if TYPE_CHECKING:
    from benchapp.quantities import Kind
    from benchapp.sequences import UnitState

NAMES_BY_ROLE = {
    Role.earth: "Earth continuity",
    Role.limited_power: "Current at first power",
    Role.mains: "Mains at the time",
}
FUSE_FACT = "fuse fitted"


def step_name(step: PlannedStep) -> str:
    """A step in a few words: what it shows, or its own name; a probe by the terminals touched."""
    for role, name in NAMES_BY_ROLE.items():
        if role in step.shows:
            return name
    if step.kind is StepKind.probe and step.terminals:
        return terminals_words(step.terminals)
    name = step.address.split(".", 1)[1].split("/")[0].replace("-", " ")
    if Role.insulation in step.shows:
        return f"Insulation, {name}"
    return name[:1].upper() + name[1:]


def terminals_words(terminals: tuple[str, ...]) -> str:
    """ "Outlet 1 to 2", "Outlet 1 to plug L", "Outlet 1 to case"."""
    first, *others = (terminal.partition(".") for terminal in terminals)
    words = f"{first[0]} {first[2]}".strip()
    for connector, _, pin in others:
        words += f" to {pin}" if connector == first[0] and pin else f" to {f'{connector} {pin}'.strip()}"
    return words[:1].upper() + words[1:]


def fact_words(name: str, value: object) -> str:
    """A fact with its unit: "1.8 m", "0.75 mm²", "yes"."""
    from benchapp.quantities import show

    if isinstance(value, bool):
        return "yes" if value else "no"
    kind = _kind_of(name)
    if kind is not None and isinstance(value, int | float):
        return show(float(value), kind)
    return str(value)


def _kind_of(name: str) -> "Kind | None":
    from benchapp.quantities import Kind
    from benchapp.sequences.facts import MEASURED, TEMPERATURES

    if name == FUSE_FACT:
        return Kind.current
    if name in TEMPERATURES:
        return Kind.temperature
    return MEASURED[name][0] if name in MEASURED else None


def fuse_words(state: "UnitState") -> str:
    """The fuse fitted, where the record says it."""
    fuse = state.facts.get(FUSE_FACT)
    return "" if fuse is None else fact_words(FUSE_FACT, fuse)
