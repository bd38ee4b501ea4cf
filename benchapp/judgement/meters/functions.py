"""What a meter can be set to measure, and what kind of value each function gives."""

from enum import StrEnum
from functools import cache

from benchapp.quantities.dimensions import Kind


class Function(StrEnum):
    """The functions that a step may ask for and a meter record may state."""

    resistance = "resistance"
    continuity = "continuity"
    earth_continuity = "earth continuity"
    insulation = "insulation"
    ac_voltage = "AC voltage"
    dc_voltage = "DC voltage"
    mains_voltage = "mains voltage"
    ac_current = "AC current"
    dc_current = "DC current"
    protective_conductor_current = "protective conductor current"
    touch_current = "touch current"
    power = "power"
    frequency = "frequency"
    capacitance = "capacitance"
    temperature = "temperature"


class Responds(StrEnum):
    """How a meter's AC functions form their reading."""

    true_rms = "true RMS"
    average = "average"


_RESISTANCES = (Function.resistance, Function.continuity, Function.earth_continuity, Function.insulation)
_VOLTAGES = (Function.ac_voltage, Function.dc_voltage, Function.mains_voltage)
_SINGLE = {
    Function.power: "power",
    Function.frequency: "frequency",
    Function.capacitance: "capacitance",
    Function.temperature: "temperature",
}
THROUGH_LEADS = frozenset({Function.resistance, Function.continuity, Function.earth_continuity})
"""Functions whose reading holds the resistance of the test leads."""
LOADED = frozenset(_VOLTAGES)
"""Functions whose reading the meter's own input impedance lowers."""


@cache
def kind_of(function: Function) -> Kind:
    """The kind of value that this function gives."""
    if function in _RESISTANCES:
        return Kind("resistance")
    if function in _VOLTAGES:
        return Kind("voltage")
    return Kind(_SINGLE.get(function, "current"))
