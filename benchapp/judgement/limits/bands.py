"""The band that a region's limits give this unit: earth path from the cord, insulation from the class, mains, and more.

Published safety limits are applied as published (simple acceptance) by a meter that is capable of them.
"""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from math import ceil
from typing import TYPE_CHECKING, TypeVar

from benchapp.judgement.limits.cords import LimitFacts, conductor_figure, conductor_resistance, exact
from benchapp.judgement.limits.sources import cited_together
from benchapp.judgement.statements.band import Band, DerivationStep
from benchapp.judgement.statements.problems import LimitProblem
from benchapp.judgement.statements.sentences import limits_in_words
from benchapp.judgement.statements.statements import Rule
from benchapp.quantities.display import show
from benchapp.words import say

if TYPE_CHECKING:
    from benchapp.judgement.limits.figures import Figure, Sourced
    from benchapp.judgement.limits.profiles import Currents, EarthContinuity, HeatingCurrent, LimitProfile, LongerCords

_HUNDRED = Decimal(100)
_KILOWATT = Decimal(1000)
Part = TypeVar("Part")


def limit_names() -> tuple[str, ...]:
    """The names that an accept expression may give after “limit”."""
    return tuple(_LIMITS)


def limit_band(profile: LimitProfile, name: str, facts: LimitFacts) -> Band:
    """The band of one limit; raises LimitProblem where the region lacks it, or a fact of the unit is missing."""
    found = _LIMITS.get(name.strip().replace(" ", "-"))
    if found is None:
        raise LimitProblem(say("There is no limit “{name}”; there are {listed}.", name=name, listed=", ".join(_LIMITS)))
    return found(profile, facts)


def _mains_voltage(profile: LimitProfile, _facts: LimitFacts) -> Band:
    return mains_band(profile)


def mains_band(profile: LimitProfile) -> Band:
    """The legal supply range: both ends belong to it. It judges the supply, not the unit."""
    mains = profile.mains
    nominal = mains.nominal.exact
    lower = nominal * (1 - mains.below.value / _HUNDRED)
    upper = nominal * (1 + mains.above.value / _HUNDRED)
    words = limits_in_words(float(lower), float(upper), mains.nominal.kind, mains.nominal.unit)
    return Band(
        kind=mains.nominal.kind,
        unit=mains.nominal.unit,
        lower=float(lower),
        upper=float(upper),
        rule=Rule.simple,
        safety=False,
        expected=float(nominal),
        derivation=(
            _derivation_step(f"nominal supply, {mains.title}", mains.nominal),
            DerivationStep(
                what="tolerance",
                value=f"+{mains.above.value} % −{mains.below.value} %: {words}",
                source=cited_together(mains.above, mains.below),
            ),
        ),
        cautions=_uncertain(mains.nominal, mains.below, mains.above),
    )


def _earth_continuity(profile: LimitProfile, facts: LimitFacts) -> Band:
    earth = _stated(profile, profile.earth_continuity, "earth continuity")
    if facts.equipment_class != "I":
        raise LimitProblem(
            say(
                "Earth continuity is for class I equipment; this is class {equipment_class}.",
                equipment_class=facts.equipment_class or "unknown",
            )
        )
    if earth.conductor == "added":
        return _earth_with_conductor(profile, earth, facts)
    return _earth_in_steps(profile, earth, facts)


def _earth_with_conductor(profile: LimitProfile, earth: EarthContinuity, facts: LimitFacts) -> Band:
    area, length = _cord(facts)
    own, line = conductor_resistance(
        profile, area, length, temperature=facts.conductor_temperature, tinned=facts.tinned
    )
    limit = earth.base.exact + own
    return _safety_band(
        profile,
        earth.base,
        upper=limit,
        expected=own,
        lines=(
            _derivation_step("base limit", earth.base),
            line,
            DerivationStep(
                what="limit", value=f"at most {limit.normalize():f} ohm", source="sum of the two lines above"
            ),
        ),
        also=(conductor_figure(profile, area, tinned=facts.tinned),),
    )


def _earth_in_steps(profile: LimitProfile, earth: EarthContinuity, facts: LimitFacts) -> Band:
    longer = earth.longer_cords
    if longer is None:
        return _safety_band(profile, earth.base, upper=earth.base.exact, lines=(_derivation_step("limit", earth.base),))
    area, length = _cord(facts)
    if exact(area) > longer.largest_area.exact:
        return _earth_of_thick_cord(profile, earth, longer, facts)
    steps = max(0, ceil((exact(length) - longer.up_to.exact) / longer.each_further.exact))
    limit = min(earth.base.exact + steps * longer.adds.exact, longer.at_most.exact)
    lines = [_derivation_step(f"base limit up to {longer.up_to.words}", earth.base)]
    if steps:
        words = f"{steps} × {longer.adds.words}, at most {longer.at_most.words} in all"
        lines.append(
            DerivationStep(
                what=f"each further {longer.each_further.words} begun",
                value=words,
                source=cited_together(longer.adds, longer.at_most),
            )
        )
    return _safety_band(profile, earth.base, upper=limit, lines=tuple(lines), also=(longer.adds, longer.at_most))


def _earth_of_thick_cord(profile: LimitProfile, earth: EarthContinuity, longer: LongerCords, facts: LimitFacts) -> Band:
    area, length = _cord(facts)
    own, line = conductor_resistance(
        profile, area, length, temperature=facts.conductor_temperature, tinned=facts.tinned
    )
    limit = max(own, longer.smallest.exact)
    return _safety_band(
        profile,
        earth.base,
        upper=limit,
        expected=own,
        lines=(line, _derivation_step("smallest limit of a thicker cord", longer.smallest)),
        also=(conductor_figure(profile, area, tinned=facts.tinned), longer.smallest),
    )


def _insulation(profile: LimitProfile, facts: LimitFacts) -> Band:
    insulation = _stated(profile, profile.insulation, "insulation")
    by_class = {str(name): figure for name, figure in insulation.minimum.items()}
    figure, what = _by_class(by_class, facts), f"smallest insulation resistance, class {facts.equipment_class}"
    heating, starts = insulation.heating, None
    if heating and facts.heating and facts.equipment_class == "I":
        starts = heating.from_power
        if starts is None or (facts.power is not None and exact(facts.power) >= starts.exact):
            figure, what = heating.minimum, "smallest insulation resistance, class I with heating elements"
    voltage = insulation.test_voltage
    if facts.surge_suppressor and insulation.test_voltage_with_suppressor:
        voltage = insulation.test_voltage_with_suppressor
    lines = [_derivation_step(what, figure), _derivation_step("test voltage, DC", voltage)]
    if starts is not None:
        lines.append(_derivation_step("rated power from which heating elements have a limit of their own", starts))
    also = () if starts is None else (starts,)
    return _safety_band(profile, figure, lower=figure.exact, lines=tuple(lines), also=also)


def _voltage_low(profile: LimitProfile, _facts: LimitFacts) -> Band:
    """Either way round: a charge left behind has no sign that anybody knows beforehand."""
    figure = profile.voltage_low
    lines = (_derivation_step("low enough for hands and ohms, either way round", figure),)
    return _safety_band(profile, figure, lower=-figure.exact, upper=figure.exact, lines=lines)


def _plug_pins(profile: LimitProfile, _facts: LimitFacts) -> Band:
    figure = _stated(profile, profile.plug_pins, "voltage between plug pins after unplugging")
    lines = (_derivation_step("plug pins 1 s after unplugging, either way round", figure),)
    return _safety_band(profile, figure, lower=-figure.exact, upper=figure.exact, lines=lines)


def _protective_conductor_current(profile: LimitProfile, facts: LimitFacts) -> Band:
    return _current(profile, profile.protective_conductor_current, "protective conductor current", facts)


def _touch_current(profile: LimitProfile, facts: LimitFacts) -> Band:
    return _current(profile, profile.touch_current, "touch current", facts)


def _current(profile: LimitProfile, currents: Currents | None, what: str, facts: LimitFacts) -> Band:
    currents = _stated(profile, currents, what)
    by_class = {str(name): figure for name, figure in currents.by_class.items()}
    figure = _by_class(by_class, facts)
    if facts.equipment_class == "I" and facts.hand_held and currents.hand_held:
        figure = currents.hand_held
    elif facts.equipment_class == "I" and facts.heating and currents.heating:
        return _heating_current(profile, currents.heating, figure, what, facts)
    return _safety_band(profile, figure, upper=figure.exact, lines=(_derivation_step(f"largest {what}", figure),))


def _heating_current(
    profile: LimitProfile, heating: HeatingCurrent, otherwise: Figure, what: str, facts: LimitFacts
) -> Band:
    """The limit by rated power; the smallest that could hold where the power is not known."""
    power, above = facts.power, heating.above_power
    if power is None or (above is not None and exact(power) <= above.exact):
        figure = heating.at_least if power is None and heating.at_least else otherwise
        return _safety_band(profile, figure, upper=figure.exact, lines=(_derivation_step(f"largest {what}", figure),))
    each, most, least = heating.each_kilowatt, heating.at_most, heating.at_least
    limit = min(each.exact * exact(power) / _KILOWATT, most.exact)
    ends = f"at most {most.words}"
    if least is not None:
        limit, ends = max(limit, least.exact), f"at least {least.words}, {ends}"
    words = f"{each.words} × {power / 1000:g} kW, {ends}: {show(float(limit), each.kind)}"
    source = cited_together(each, most, *((least,) if least is not None else ()))
    line = DerivationStep(what=f"largest {what}, heating elements", value=words, source=source)
    return _safety_band(profile, each, upper=limit, lines=(line,), also=(most,))


_LIMITS: dict[str, Callable[[LimitProfile, LimitFacts], Band]] = {
    "mains-voltage": _mains_voltage,
    "earth-continuity": _earth_continuity,
    "insulation": _insulation,
    "voltage-low": _voltage_low,
    "plug-pins": _plug_pins,
    "protective-conductor-current": _protective_conductor_current,
    "touch-current": _touch_current,
}


def _stated(profile: LimitProfile, part: Part | None, what: str) -> Part:
    if part is None:
        raise LimitProblem(
            say(
                "The limits of {title} state no {what}: nothing may be judged by it here until they do.",
                title=profile.title,
                what=what,
            )
        )
    return part


def _by_class(figures: dict[str, Figure], facts: LimitFacts) -> Figure:
    figure = figures.get(facts.equipment_class)
    if figure is None:
        raise LimitProblem(
            say(
                "No limit is stated for equipment of class {equipment_class}; there is one for class {listed}.",
                equipment_class=facts.equipment_class or "unknown",
                listed=", ".join(figures),
            )
        )
    return figure


def _cord(facts: LimitFacts) -> tuple[float, float]:
    """Area and length of the cord; both must be known."""
    if facts.cord_area is None or facts.cord_length is None:
        missing = "area" if facts.cord_area is None else "length"
        raise LimitProblem(
            say("The {missing} of this unit's cord is not known: record it, the limit depends on it.", missing=missing)
        )
    if not (0 < facts.cord_length < 1000 and 0 < facts.cord_area < 1):
        raise LimitProblem(
            say(
                "A cord of {cord_length:g} m and {value:g} mm² is not possible.",
                cord_length=facts.cord_length,
                value=facts.cord_area * 1e6,
            )
        )
    return facts.cord_area, facts.cord_length


def _safety_band(
    profile: LimitProfile,
    figure: Figure,
    *,
    lines: tuple[DerivationStep, ...],
    lower: Decimal | None = None,
    upper: Decimal | None = None,
    expected: Decimal | None = None,
    also: tuple[Figure, ...] = (),
) -> Band:
    """A published limit, with what it asks of the meter; `also` are figures beside `figure` that it rests on."""
    share = profile.capability
    asked = DerivationStep(
        what="largest uncertainty of a meter here", value=f"{share.words} of the limit", source=share.cited
    )
    return Band(
        kind=figure.kind,
        unit=figure.unit,
        lower=None if lower is None else float(lower),
        upper=None if upper is None else float(upper),
        rule=Rule.simple,
        safety=True,
        expected=None if expected is None else float(expected),
        derivation=(*lines, asked),
        cautions=_uncertain(figure, *also),
        capability=float(profile.capability.exact),
    )


def _derivation_step(what: str, figure: Figure) -> DerivationStep:
    return DerivationStep(what=what, value=figure.words, source=figure.cited)


def _uncertain(*figures: Sourced) -> tuple[str, ...]:
    """A caution for each figure that no public page confirmed."""
    return tuple(dict.fromkeys(figure.doubt for figure in figures if figure.doubt))
