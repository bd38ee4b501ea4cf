"""What resistance lies between the supply and each iron core? It is shared by all outputs of that core.

One primary, two in series or in parallel, a tap, the fuse and the cord before them: as the circuit usually stands, it
is the resistance of the supply's own side between the supply's two terminals.
"""

import math
from dataclasses import replace

from benchapp.wiring.assembly.ratings import is_primary
from benchapp.wiring.model.circuit import Circuit, PartKind, State
from benchapp.wiring.model.equipment import Equipment, WindingPart
from benchapp.wiring.network.solve import Corner, dead_network

BESIDE = frozenset({PartKind.resistor, PartKind.diode})  # what may lie across the supply rather than in series


def feeding(circuit: Circuit, equipment: Equipment) -> dict[str, float]:
    """Resistance (ohm) that feeds each core, by its name; a core that nothing feeds is left out."""
    if circuit.supply is None:
        return {}
    primaries = [p for p in equipment.circuit if isinstance(p, WindingPart) and is_primary(p)]
    found = {}
    for core in dict.fromkeys(part.core for part in primaries):
        own = {part.id for part in primaries if part.core == core}
        ohms = _between(circuit, own, BESIDE)
        ohms = _between(circuit, own, frozenset()) if math.isinf(ohms) else ohms
        if math.isfinite(ohms):
            found[core] = ohms
    return found


def _between(circuit: Circuit, primaries: set[str], without: frozenset[PartKind]) -> float:
    """Ohm between the supply's terminals through these windings."""
    assert circuit.supply is not None
    kept = tuple(
        branch
        for branch in circuit.branches
        if branch.part in primaries or branch.kind not in without | {PartKind.winding}
    )
    network = dead_network(replace(circuit, branches=kept), State(), Corner.nominal)
    return network.resistance(circuit.supply.live, circuit.supply.neutral)
