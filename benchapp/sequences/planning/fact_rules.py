"""Facts that may be said of one unit against its design: they may ask for more care, never for less.

Of the design's fact and the unit's own the stricter one counts: class II claimed on a class I design keeps its earth
test, a selector that the design has is confirmed. A variant that truly asks for less is described as equipment of its
own, by somebody who sees its circuit. Two facts are free, with their reasons. A cord has the cores that it has: three
of them hold only with an earth path that was measured. A plug may be moulded where the design's is rewirable once two
people say so: no dead test shows crossed cores behind a transformer, so leaving out the look inside rests on two pairs
of eyes. The ranges here are common practice, no source; areas and ratings are the region's tables.
"""

from collections.abc import Callable, Mapping
from math import isfinite

from benchapp.errors import BenchError
from benchapp.files.spelling import nearest
from benchapp.judgement.limits.fuses import choose_fuse
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.entry import read_quantity
from benchapp.sequences.language.vocabulary import FactValue
from benchapp.sequences.planning.facts import MEASURED, TEMPERATURES, WHOLE, YES_NO, fact_value
from benchapp.sequences.planning.limiters import LAMP_WATTS, LIMITER_VOLTS, refuse_lamp, refuse_volts
from benchapp.sequences.planning.planned import Plan
from benchapp.wiring.assembly.unit import SELECTOR, positions_of, selector_position
from benchapp.wiring.model.assumptions import LONGEST_CORD
from benchapp.words import say

CLASSES = ("II", "I", "unknown", "III", "0")
"""Classes of IEC 61140, the one that shuts most last."""
PLUGS = ("rewirable", "moulded", "another", "none")
CORES = (2, 3)
CORD_LENGTH = (0.1, LONGEST_CORD)
"""metres of a cord that is sold with an item"""
STRICT_WHEN_TRUE = frozenset({"plug fuse", "voltage selector", "internal fuse", "live chassis", "bare metal"})
"""Yes asks for more steps, or shuts more, than no."""
STRICT_WHEN_FALSE = frozenset({"surge suppressor", "heating"})
"""Yes lowers the insulation's test voltage or its limit; a design that does not say so has none."""
STRICT_WHEN_LOW = frozenset({"plug fuse rating", "power"})
MOULDED, REWIRABLE = "moulded", "rewirable"
MOST_POWER = 15e3
"""watt of what is fed through a plug"""
WARMTHS = {"room temperature": (-20.0, 50.0), "winding temperature": (-20.0, 180.0)}
"""°C; 180 °C is the hottest class of insulation that a winding of this kind has (IEC 60085 class 180, from memory)"""
OF_THE_DESIGN = frozenset({"design", "design known", "mains fed", "kind of load", "holds charge"})
"""What the design alone says."""
OWN_EQUIPMENT = "If this variant is really so, describe it as its own equipment."


def stricter_facts(
    design: Mapping[str, FactValue],
    own: Mapping[str, FactValue],
    *,
    agreed: frozenset[str] = frozenset(),
    plug_gone: bool = False,
) -> dict[str, FactValue]:
    """The design's facts with the unit's own over them, as far as these do not ask for less.

    `agreed` names the facts that two people stated. With its plug cut off and destroyed a unit may say that it takes
    no mains any more.
    """
    known = {**design, **own}
    for name, said in own.items():
        if (name == "mains fed" and plug_gone) or (name == "plug" and name in agreed):
            continue
        stated = _designed(design, name)
        if stated is not None:
            known[name] = stricter(name, stated, said)
    return known


def _designed(design: Mapping[str, FactValue], name: str) -> FactValue | None:
    """What the design says of it; no suppressor and no heating element where it says nothing."""
    return design.get(name, False if name in STRICT_WHEN_FALSE else None)


def stricter(name: str, design: FactValue, own: FactValue) -> FactValue:
    """The one of the two that asks for more care; where neither does, the unit's own."""
    if name == "class":
        return _stricter_class(str(design), str(own))
    if name in OF_THE_DESIGN:
        return design
    if name in STRICT_WHEN_TRUE:
        return not (design is False and own is False)
    if name in STRICT_WHEN_FALSE:
        return design is True and own is True
    if name == "plug":
        return design if _leaves_out_the_inside(design, own) else own
    if name in STRICT_WHEN_LOW:
        return min(design, own) if _is_number(design) and _is_number(own) and own > 0 else design  # type: ignore[operator]
    if name in MEASURED and not _is_number(own):
        return design
    return own


def _leaves_out_the_inside(design: FactValue, own: FactValue) -> bool:
    return str(design).casefold() == REWIRABLE and str(own).casefold() == MOULDED


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


def refuse_facts(
    plan: Plan, now: Mapping[str, FactValue], said: Mapping[str, object], *, plug_gone: bool = False
) -> str | None:
    """The sentence with which facts of a unit are refused; None where they may be recorded. `now` are those known."""
    known = known_facts(plan)
    for name, value in said.items():
        if name not in known:
            near = nearest(str(name), sorted(known))
            return say("No step and no rule asks for a fact “{name}”. ", name=name) + (
                f"Did you mean {near}?" if near else ""
            )
        reason = _impossible(plan, now, said, name) or _asks_less(plan, name, value, plug_gone=plug_gone)
        if reason:
            return reason
    return None


def refuse_asked(plan: Plan, now: Mapping[str, FactValue], said: Mapping[str, object]) -> str | None:
    """The same for facts that a step asked for: what cannot be is refused, what asks for less just does not count."""
    return next((reason for name in said if (reason := _impossible(plan, now, said, name))), None)


def doubts_about(plan: Plan, said: Mapping[str, FactValue]) -> tuple[str, ...]:
    """What to say to whoever answers otherwise than the design says, where the answer asks for less."""
    return tuple(doubt for name, value in said.items() if (doubt := _doubt(plan, name, value)))


def _doubt(plan: Plan, name: str, value: FactValue) -> str:
    stated = _designed(plan.facts, name)
    if stated is None or stricter(name, stated, value) == value:
        return ""
    said = say("The design says {name}: {words}, and that counts.", name=name, words=_words(stated))
    if name != "plug":
        return f"{said} {OWN_EQUIPMENT}"
    return say(
        "{said} If this one is moulded, a second person looks and says so too, among the facts "
        "of the unit; or cut it off, destroy it, and fit a rewirable one.",
        said=said,
    )


def known_facts(plan: Plan) -> frozenset[str]:
    """Every fact that the rules or the files of this plan know."""
    steps = (*plan.steps, *plan.way_back)
    said = {name for step in steps for name in (*step.waits_for, step.settles)} - {""}
    return frozenset({"class", "plug", *MEASURED, *TEMPERATURES, *WHOLE, *YES_NO, *_CHECKS, *plan.facts, *said})


def _impossible(plan: Plan, now: Mapping[str, FactValue], said: Mapping[str, object], name: str) -> str | None:
    """Why the fact can be of no unit; None when it can."""
    value = said[name]
    if not isinstance(value, str | int | float | bool) or (isinstance(value, str) and not value.strip()):
        return say("Say what the fact “{name}” is: “{value}” is nothing that can be used.", name=name, value=value)
    try:
        read = fact_value(name, value)
        if name == "plug fuse rating":
            return _check_fuse(plan, read, _cord_area({**now, **said}))
        check = _CHECKS.get(name)
        return check(plan, read) if check else _wrong_kind(name, read)
    except BenchError as problem:
        return problem.sentence


def _asks_less(plan: Plan, name: str, said: object, *, plug_gone: bool) -> str | None:
    stated, value = _designed(plan.facts, name), fact_value(name, said)  # type: ignore[arg-type]
    one_of_two = name == "plug"  # the first of two people who say it is moulded
    if stated is None or one_of_two or (name == "mains fed" and plug_gone) or stricter(name, stated, value) == value:
        return None
    return say(
        "The design says {name}: {words}; “{words_2}” would ask for less. {own_equipment}",
        name=name,
        words=_words(stated),
        words_2=_words(value),
        own_equipment=OWN_EQUIPMENT,
    )


def _words(value: FactValue) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:g}" if isinstance(value, int | float) else value


def _wrong_kind(name: str, value: FactValue) -> str | None:
    if name in YES_NO and not isinstance(value, bool):
        return say("“{value}” is no answer to “{name}”: yes or no.", value=value, name=name)
    if name in WARMTHS:
        least, most = WARMTHS[name]
        good = _is_number(value) and least <= float(value) <= most
        return (
            None
            if good
            else say(
                "“{words}” is no {name} here: {least:g} °C to {most:g} °C.",
                words=_words(value),
                name=name,
                least=least,
                most=most,
            )
        )
    if name in MEASURED and not (_is_number(value) and float(value) > 0):
        return say("“{value}” is no {name}: it is a number above zero.", value=value, name=name)
    if name == "power" and float(value) > MOST_POWER:
        return say(
            "“{words} W” is no power of what has a plug: {most_power:g} W at most.",
            words=_words(value),
            most_power=MOST_POWER,
        )
    if isinstance(value, float) and not isfinite(value):
        return f"“{value}” is no {name}."
    return None


def _check_class(_plan: Plan, value: FactValue) -> str | None:
    return (
        None if value in CLASSES else say("“{value}” is no class: 0, I, II, III or unknown (IEC 61140).", value=value)
    )


def _check_plug(_plan: Plan, value: FactValue) -> str | None:
    return (
        None
        if str(value).casefold() in PLUGS
        else say("“{value}” is no kind of plug: rewirable, moulded or none.", value=value)
    )


def _check_cores(_plan: Plan, value: FactValue) -> str | None:
    good = not isinstance(value, bool) and value in CORES
    return (
        None
        if good
        else say(
            "“{words}” is no number of cord cores: 2 or 3. Without its cord a unit stays shut.", words=_words(value)
        )
    )


def _check_length(_plan: Plan, value: FactValue) -> str | None:
    least, most = CORD_LENGTH
    if _is_number(value) and least <= float(value) <= most:
        return None
    return say(
        "“{words}” is no length of a cord: {least:g} m to {most:g} m.", words=_words(value), least=least, most=most
    )


def _check_area(plan: Plan, value: FactValue) -> str | None:
    written = plan.profile.cords.by_area.values if plan.profile.cords is not None else ()
    areas = sorted(read_quantity(area, kind=Kind.area).si for area in written)
    if not _is_number(value) or float(value) <= 0:
        return say("“{words}” is no area of a cord's cores.", words=_words(value))
    if not areas or any(abs(area - float(value)) <= 1e-6 * area for area in areas):
        return None
    known = ", ".join(f"{area * 1e6:g}" for area in areas)
    return say("No cord of {value:g} mm² is in the table: {known} mm².", value=float(value) * 1e6, known=known)


def _cord_area(facts: Mapping[str, object]) -> float:
    """The area of the cord that this unit has, in m²; 0 where nobody knows."""
    area = facts.get("cord area", 0.0)
    read = fact_value("cord area", area) if isinstance(area, str | int | float) else 0.0
    return float(read) if _is_number(read) else 0.0


def _check_fuse(plan: Plan, value: FactValue, area: float) -> str | None:
    wrong = _wrong_kind("plug fuse rating", value)
    if wrong or plan.profile.fuses is None or not area > 0:
        return wrong
    try:
        choose_fuse(plan.profile, None, area, maker_rating=float(value))
    except BenchError as problem:
        return problem.sentence
    return None


def _check_selector(plan: Plan, value: FactValue) -> str | None:
    if selector_position(plan.circuit, str(value)) is not None:
        return None
    known = ", ".join(positions_of(plan.circuit))
    return say(
        "“{value}” is no position of this design's voltage selector: {known}.",
        value=value,
        known=known or "it has none",
    )


_CHECKS: Mapping[str, Callable[[Plan, FactValue], str | None]] = {
    "class": _check_class,
    "plug": _check_plug,
    "cord cores": _check_cores,
    "cord length": _check_length,
    "cord area": _check_area,
    SELECTOR: _check_selector,
    LAMP_WATTS: refuse_lamp,
    LIMITER_VOLTS: refuse_volts,
}
