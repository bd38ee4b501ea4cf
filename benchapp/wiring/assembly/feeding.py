"""The resistance between the supply and each iron core, which all outputs of that core share.

One primary, two in series or in parallel, a tap, the fuse and the cord before them: as the circuit usually stands, it
is the resistance of the supply's own side between the supply's two terminals.
"""

import math
from dataclasses import replace

from benchapp.wiring.assembly.ratings import Winding, is_primary
from benchapp.wiring.model.circuit import Branch, Circuit, State
from benchapp.wiring.model.equipment import Equipment
from benchapp.wiring.network.solve import Corner, dead_network


def feeding(circuit: Circuit, equipment: Equipment) -> dict[str, float]:
    """Resistance (ohm) that feeds each core, by its name; a core that nothing feeds is left out."""
    if circuit.supply is None:
        return {}
    primaries = [p for p in equipment.circuit if isinstance(p, Winding) and is_primary(p)]
    found = {}
    for core in dict.fromkeys(part.core for part in primaries):
        own = {part.id for part in primaries if part.core == core}
        ohms = _between(circuit, own, in_series=True)
        ohms = _between(circuit, own, in_series=False) if math.isinf(ohms) else ohms
        if math.isfinite(ohms):
            found[core] = ohms
    return found


def _between(circuit: Circuit, primaries: set[str], *, in_series: bool) -> float:
    """Ohm between the supply's terminals through these windings; `in_series` leaves out what may lie beside them."""
    assert circuit.supply is not None

    def counts(branch: Branch) -> bool:
        return branch.kind.carries_voltage_on or not (in_series or branch.kind.couples)

    kept = tuple(branch for branch in circuit.branches if branch.part in primaries or counts(branch))
    network = dead_network(replace(circuit, branches=kept), State(), Corner.nominal)
    return network.resistance(circuit.supply.live, circuit.supply.neutral)
