"""What of a design hangs together with the mains and can be touched: metal or an output that is live by its wiring.

A capacitor from mains to metal, as a mains filter has it, passes a little. Only what passes more than a hand or an
earth core may carry counts as a join.
"""

from collections.abc import Collection
from math import tau

from benchapp.wiring.model.circuit import Branch, Circuit, Supply
from benchapp.wiring.model.groups import groups_of

TOUCH_CURRENT = 0.5e-3  # A AC, steady: IEC 61140, 5.2.7
EARTHED_CURRENT = 3.5e-3  # A AC in the earth core of class I that is not held in the hand: EN 50678, EN 50699
RISE = 1.1  # of the rated supply: EN 50160 lets mains stand 10 % above its nominal


def on_the_mains(circuit: Circuit) -> str:
    """The first terminal that can be touched and hangs together with live or neutral; empty when none does."""
    if circuit.supply is None:
        return ""
    outputs = [terminal for plug in circuit.output_connectors for terminal in plug.terminals]
    touched = (*outputs, *circuit.exposed)
    return next((one for one in touched if _is_joined(circuit, circuit.supply, one)), "")


def _is_joined(circuit: Circuit, supply: Supply, terminal: str) -> bool:
    """Whether there is a way from mains to the terminal through more than capacitors that pass little."""
    group, wired = groups_of(circuit), groups_of(circuit, lambda branch: branch.farads is None)
    mains, by_wire = ({one[supply.live], one[supply.neutral]} for one in (group, wired))
    if group.get(terminal) not in mains:
        return False
    if wired[terminal] in by_wire:
        return True
    metal = {node for node, number in wired.items() if number == wired[terminal]}
    largest = EARTHED_CURRENT if _is_earthed(circuit, metal) else TOUCH_CURRENT
    return _amperes_into(circuit, supply, metal) > largest


def _is_earthed(circuit: Circuit, metal: Collection[str]) -> bool:
    """Whether a protective conductor ends at the metal."""
    return any(branch.kind.protects and {branch.a, branch.b} & set(metal) for branch in circuit.branches)


def _amperes_into(circuit: Circuit, supply: Supply, metal: Collection[str]) -> float:
    """What all capacitors at the metal pass together with the highest mains across each: more than can be."""
    into = [branch for branch in circuit.branches if _leads_into(branch, metal)]
    return sum(tau * supply.frequency * supply.voltage * RISE * _farads(branch) for branch in into)


def _leads_into(branch: Branch, metal: Collection[str]) -> bool:
    return branch.farads is not None and (branch.a in metal) != (branch.b in metal)


def _farads(branch: Branch) -> float:
    """The most that the capacitor can be within its tolerance."""
    # an end of a tolerance is kept as what the impedance becomes: nominal through actual capacitance
    ends = [end.ohms for moves in branch.tolerance_ranges for end in moves]
    return (branch.farads or 0.0) / min([1.0, *ends])
