"""Parts that nobody can see through: a capacitor in the path, a coil that nobody rated (a motor, a tape head)."""

from dataclasses import replace

from benchapp.wiring.assembly.coils import is_unknown_coil
from benchapp.wiring.expected.live_tolerance import LiveQuestion
from benchapp.wiring.model.circuit import Branch, Circuit

STAYS = 0.9  # share of the voltage that is left without the part, where it lies beside the path alone; own choice


def unknown_part(circuit: Circuit, asked: LiveQuestion, mains: float) -> str | None:
    """The id of a part in the path of the voltage that is asked for, whose share of it is not known; else None.

    Without it nothing would be read there, or something else. A capacitor beside the path divides with what is known.
    """
    if asked.cautions():
        return None  # a diode lies here, and its own caution says so
    with_all = asked.at(mains)
    for part, branches in _unknown(circuit).items():
        left = replace(circuit, branches=tuple(b for b in circuit.branches if id(b) not in branches))
        without = LiveQuestion(left, asked.supply, asked.a, asked.b, asked.state, asked.loads).at(mains)
        if with_all is None or (without is not None and _stays(with_all, without)):
            continue
        coil = any(is_unknown_coil(b) for b in circuit.branches if id(b) in branches)
        if coil or without is None or without < (1 - STAYS) * with_all:
            return part
    return None


def _stays(with_part: float, without: float) -> bool:
    return STAYS * with_part <= without <= with_part / STAYS + ROUNDING


def _unknown(circuit: Circuit) -> dict[str, set[int]]:
    """Branches by identity, for each part."""
    found: dict[str, set[int]] = {}
    for branch in circuit.branches:
        if branch.kind.charges or _coil_of_a_fed_design(circuit, branch):
            found.setdefault(branch.part, set()).add(id(branch))
    return found


def _coil_of_a_fed_design(circuit: Circuit, branch: Branch) -> bool:
    return circuit.supply is not None and is_unknown_coil(branch)


ROUNDING = 1e-6  # V
