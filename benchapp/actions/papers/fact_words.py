"""Facts of a unit in the few words that a tag or a column of a record has room for."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from benchapp.quantities.dimensions import Kind
    from benchapp.sequences.history.unit_state import UnitState

FUSE_FACT = "fuse fitted"


def fact_words(name: str, value: object) -> str:
    """A fact with its unit: "1.8 m", "0.75 mm²", "yes"."""
    from benchapp.quantities.display import show

    if isinstance(value, bool):
        return "yes" if value else "no"
    kind = _kind_of(name)
    if kind is not None and isinstance(value, int | float):
        return show(float(value), kind)
    return str(value)


def _kind_of(name: str) -> "Kind | None":
    from benchapp.quantities.dimensions import Kind
    from benchapp.sequences.planning.facts import MEASURED, TEMPERATURES

    if name == FUSE_FACT:
        return Kind.current
    if name in TEMPERATURES:
        return Kind.temperature
    return MEASURED[name][0] if name in MEASURED else None


def fuse_words(state: "UnitState") -> str:
    """The fuse fitted, where the record says it and the plug that it sat in was not destroyed."""
    fuse = state.facts.get(FUSE_FACT)
    return "" if fuse is None or state.destroyed else fact_words(FUSE_FACT, fuse)
