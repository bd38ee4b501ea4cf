"""What may be said of one unit against its design? A fact may ask for more care, never for less.

Of the design's fact and the unit's own the stricter one counts: class II claimed on a class I design keeps its earth
test, a selector that the design has is confirmed. A variant that truly asks for less is described as equipment of its
own, by somebody who sees its circuit. The ranges here are common practice, no source; areas and ratings are the
region's tables.
"""

from collections.abc import Callable, Mapping
from math import isfinite

from benchapp.errors import BenchError
from benchapp.judgement import choose_fuse
from benchapp.quantities import Kind, read_quantity
from benchapp.sequences.facts import ABSOLUTE_ZERO, HOTTEST, MEASURED, TEMPERATURES, YES_NO, fact_value
from benchapp.sequences.planned import FactValue, Plan

CLASSES = ("II", "I", "unknown", "III", "0")
"""Classes of IEC 61140, the one that shuts most last."""
PLUGS = ("rewirable", "moulded", "none")
CORES = (2, 3)
CORD_LENGTH = (0.1, 25.0)
"""metres of a cord that is sold with an item"""
STRICT_WHEN_TRUE = frozenset({"plug fuse", "voltage selector", "internal fuse", "live chassis", "bare metal"})
"""Yes asks for more steps, or shuts more, than no."""
STRICT_WHEN_LOW = frozenset({"plug fuse rating", "cord cores"})
OF_THE_DESIGN = frozenset({"design", "mains fed"})
"""What the design alone says."""
OWN_EQUIPMENT = "If this variant is really so, describe it as its own equipment."


def stricter_facts(
    design: Mapping[str, FactValue], own: Mapping[str, FactValue], *, plug_gone: bool = False
) -> dict[str, FactValue]:
    """The design's facts with the unit's own over them, as far as these do not ask for less.

    With its plug cut off and destroyed a unit may say that it takes no mains any more.
    """
    known = {**design, **own}
    for name in own:
        if name == "mains fed" and plug_gone:
            continue
        if name in design:
            known[name] = stricter(name, design[name], own[name])
    return known


def stricter(name: str, design: FactValue, own: FactValue) -> FactValue:
    """The one of the two that asks for more care; where neither does, the unit's own."""
    if name == "class":
        return _stricter_class(str(design), str(own))
    if name in OF_THE_DESIGN:
        return design
    if name in STRICT_WHEN_TRUE:
        return not (design is False and own is False)
    if name in STRICT_WHEN_LOW:
        return min(design, own) if _is_number(design) and _is_number(own) and own > 0 else design  # type: ignore[operator]
    if name in MEASURED and not _is_number(own):
        return design
    return own


def _stricter_class(design: str, own: str) -> str:
    """A class that nobody knew may be found on the plate; one that is known is never exchanged for a milder one."""
    if design not in CLASSES:
        return design
    if own not in CLASSES:
        return "unknown"
    if design == "unknown":
        return own
    return max(design, own, key=CLASSES.index)


def _is_number(value: FactValue) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and isfinite(value)


def refuse_facts(plan: Plan, said: Mapping[str, object], *, plug_gone: bool = False) -> str | None:
    """The sentence with which facts of a unit are refused; None where they may be recorded."""
    for name, value in said.items():
        reason = _refuse(plan, str(name), value, plug_gone=plug_gone)
        if reason:
            return reason
    return None


def _refuse(plan: Plan, name: str, said: object, *, plug_gone: bool) -> str | None:
    if not isinstance(said, str | int | float | bool) or (isinstance(said, str) and not said.strip()):
        return f"Say what the fact “{name}” is: “{said}” is nothing that can be used."
    try:
        value = fact_value(name, said)
    except BenchError as problem:
        return problem.sentence
    check = _CHECKS.get(name)
    wrong = check(plan, value) if check else _wrong_kind(name, value)
    if wrong or (name == "mains fed" and plug_gone) or name not in plan.facts:
        return wrong
    if stricter(name, plan.facts[name], value) != value:
        stated = f"The design says {name}: {_words(plan.facts[name])}"
        return f"{stated}; “{_words(value)}” would ask for less. {OWN_EQUIPMENT}"
    return None


def _words(value: FactValue) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:g}" if isinstance(value, int | float) else value


def _wrong_kind(name: str, value: FactValue) -> str | None:
    if name in YES_NO and not isinstance(value, bool):
        return f"“{value}” is no answer to “{name}”: yes or no."
    if name in TEMPERATURES and not (_is_number(value) and ABSOLUTE_ZERO < float(value) < HOTTEST):
        return f"“{value}” is no {name}."
    if name in MEASURED and not (_is_number(value) and float(value) > 0):
        return f"“{value}” is no {name}: it is a number above zero."
    if isinstance(value, float) and not isfinite(value):
        return f"“{value}” is no {name}."
    return None


def _check_class(_plan: Plan, value: FactValue) -> str | None:
    return None if value in CLASSES else f"“{value}” is no class: 0, I, II, III or unknown (IEC 61140)."


def _check_plug(_plan: Plan, value: FactValue) -> str | None:
    return None if str(value).casefold() in PLUGS else f"“{value}” is no kind of plug: rewirable, moulded or none."


def _check_cores(_plan: Plan, value: FactValue) -> str | None:
    good = not isinstance(value, bool) and value in CORES
    return (
        None if good else f"“{_words(value)}” is no number of cord cores: 2 or 3. Without its cord a unit stays shut."
    )


def _check_length(_plan: Plan, value: FactValue) -> str | None:
    least, most = CORD_LENGTH
    if _is_number(value) and least <= float(value) <= most:
        return None
    return f"“{_words(value)}” is no length of a cord: {least:g} m to {most:g} m."


def _check_area(plan: Plan, value: FactValue) -> str | None:
    written = plan.profile.cords.by_area.values if plan.profile.cords is not None else ()
    areas = sorted(read_quantity(area, kind=Kind.area).si for area in written)
    if not _is_number(value) or float(value) <= 0:
        return f"“{_words(value)}” is no area of a cord's cores."
    if not areas or any(abs(area - float(value)) <= 1e-6 * area for area in areas):
        return None
    known = ", ".join(f"{area * 1e6:g}" for area in areas)
    return f"No cord of {float(value) * 1e6:g} mm² is in the table: {known} mm²."


def _check_fuse(plan: Plan, value: FactValue) -> str | None:
    wrong = _wrong_kind("plug fuse rating", value)
    area = plan.facts.get("cord area")
    if wrong or plan.profile.fuses is None or not _is_number(area or 0.0) or not area:
        return wrong
    try:
        choose_fuse(plan.profile, None, float(area), maker_rating=float(value))
    except BenchError as problem:
        return problem.sentence
    return None


_CHECKS: Mapping[str, Callable[[Plan, FactValue], str | None]] = {
    "class": _check_class,
    "plug": _check_plug,
    "cord cores": _check_cores,
    "cord length": _check_length,
    "cord area": _check_area,
    "plug fuse rating": _check_fuse,
}
