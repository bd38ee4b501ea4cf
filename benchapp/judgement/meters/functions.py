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
OL_NEEDS_LEADS = THROUGH_LEADS | {Function.insulation}
"""Functions on which a broken lead reads like a good “OL”: it counts only with leads that were proved."""
OHMS = frozenset({Function.resistance, Function.continuity})
"""Functions by which a hand meter reads resistance; leads are proved on either."""
VOLTAGES = frozenset(_VOLTAGES)
"""Functions that read a voltage."""
PROBED_VOLTAGES = frozenset({Function.ac_voltage, Function.dc_voltage})
"""Voltages that are read with two probes; that of the mains is read at a plug-in meter."""
LOADED = VOLTAGES
"""Functions whose reading the meter's own input impedance lowers."""
CURRENTS = frozenset({Function.ac_current, Function.dc_current})
"""Functions that read a current through the meter."""
ALTERNATING = frozenset({Function.ac_voltage, Function.mains_voltage, Function.ac_current})
"""Functions for which it is no matter which probe goes where."""
WITH_POLARITY = OHMS | {Function.dc_voltage, Function.dc_current}
"""Functions for which the colour of a probe says which way round it goes: by a diode it decides an ohmmeter too."""
OF_THE_MAINS = frozenset(
    {
        Function.mains_voltage,
        Function.ac_current,
        Function.dc_current,
        Function.power,
        Function.frequency,
        Function.protective_conductor_current,
        Function.touch_current,
    }
)
"""Functions that show something only while the unit is fed: a current and a frequency of its own are no dead test."""
OF_LEAKAGE = frozenset({Function.protective_conductor_current, Function.touch_current})
"""Functions that few workshops have a meter for; a test that asks for one is named as not done without it."""
DEAD_METERS = OHMS | {Function.earth_continuity, Function.insulation, Function.capacitance}
"""Functions by which the meter itself feeds the circuit: mains would destroy it and hurt who holds it."""
BARE_UNITS = {
    Function.insulation: "Mohm",
    Function.resistance: "ohm",
    Function.continuity: "ohm",
    Function.earth_continuity: "ohm",
    Function.ac_voltage: "V",
    Function.dc_voltage: "V",
    Function.mains_voltage: "V",
    Function.ac_current: "A",
    Function.dc_current: "A",
    Function.protective_conductor_current: "mA",
    Function.touch_current: "mA",
    Function.power: "W",
    Function.frequency: "Hz",
    Function.capacitance: "µF",
    Function.temperature: "°C",
}
"""What a number typed without a unit means on each function: what the meter's face shows there."""


@cache
def kind_of(function: Function) -> Kind:
    """The kind of value that this function gives."""
    if function in _RESISTANCES:
        return Kind("resistance")
    if function in _VOLTAGES:
        return Kind("voltage")
    return Kind(_SINGLE.get(function, "current"))
