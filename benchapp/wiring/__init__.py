"""Equipment circuits: expected readings, probe plan, fault location, which parts move which reading.

The public names are fetched when first used, so that importing the package loads neither numpy nor pydantic.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from benchapp.wiring.circuit import Branch, Circuit, Load, State, WiringProblem
    from benchapp.wiring.clues import Clue, ClueProblem, read_clue
    from benchapp.wiring.compile import compile_circuit
    from benchapp.wiring.connectors import Connector
    from benchapp.wiring.coverage import hidden_defects
    from benchapp.wiring.equipment import Equipment
    from benchapp.wiring.expected_dead import expected_resistance
    from benchapp.wiring.expected_live import expected_voltage
    from benchapp.wiring.faces import Face, face
    from benchapp.wiring.faults import FaultModes, Repaired, shipped_fault_modes
    from benchapp.wiring.first_power import expected_current
    from benchapp.wiring.influence import parts_behind
    from benchapp.wiring.locate import Findings, Locator, Suspect
    from benchapp.wiring.meter_load import source_resistance
    from benchapp.wiring.next_probe import NextProbe
    from benchapp.wiring.probes import Probe, ProbeKind, probe_plan
    from benchapp.wiring.unit import UnitSettings, circuit_of_unit, parts_set_by, settings_of

_HOME = {
    "Branch": "circuit",
    "Clue": "clues",
    "ClueProblem": "clues",
    "FaultModes": "faults",
    "Findings": "locate",
    "Load": "circuit",
    "Locator": "locate",
    "NextProbe": "next_probe",
    "Repaired": "faults",
    "Suspect": "locate",
    "hidden_defects": "coverage",
    "read_clue": "clues",
    "shipped_fault_modes": "faults",
    "Circuit": "circuit",
    "Connector": "connectors",
    "Equipment": "equipment",
    "Face": "faces",
    "Probe": "probes",
    "ProbeKind": "probes",
    "State": "circuit",
    "WiringProblem": "circuit",
    "UnitSettings": "unit",
    "circuit_of_unit": "unit",
    "compile_circuit": "compile",
    "expected_current": "first_power",
    "expected_resistance": "expected_dead",
    "expected_voltage": "expected_live",
    "face": "faces",
    "parts_behind": "influence",
    "parts_set_by": "unit",
    "probe_plan": "probes",
    "settings_of": "unit",
    "source_resistance": "meter_load",
}

__all__ = [
    "Branch",
    "Circuit",
    "Clue",
    "ClueProblem",
    "Connector",
    "Equipment",
    "Face",
    "FaultModes",
    "Findings",
    "Load",
    "Locator",
    "NextProbe",
    "Probe",
    "ProbeKind",
    "Repaired",
    "State",
    "Suspect",
    "UnitSettings",
    "WiringProblem",
    "circuit_of_unit",
    "compile_circuit",
    "expected_current",
    "expected_resistance",
    "expected_voltage",
    "face",
    "hidden_defects",
    "parts_behind",
    "parts_set_by",
    "probe_plan",
    "read_clue",
    "settings_of",
    "shipped_fault_modes",
    "source_resistance",
]


def __getattr__(name: str) -> Any:  # noqa: ANN401  the type of a public name is its module's
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
