"""Nodal analysis of small netlists in phasors or DC, with windings on common cores: numbers in, numbers out.

Modified nodal analysis (Ho, Ruehli and Brennan, 1975): a row for each node, one for each source, one for each winding
and one for each core. A core ties its windings: the volts of each are its turns times the volts of one turn, and the
ampere-turns of all together are what magnetising takes.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from tests.hazards.circuits.parts import Core, Part

STRAY = 1e-13
"""siemens from every node to earth, so that nothing floats; far below what any meter here shows"""
KNEE = 1.1
"""share of its rated flux at which iron begins to saturate (from memory)"""
MOST_ROUNDS = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """A voltage source from `minus` to `plus` behind `ohms`; a filament lamp of `lamp` watts may stand in its way."""

    plus: str
    minus: str
    volts: float
    ohms: float = 0.01
    lamp: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Solution:
    """Volts of every node against `earth`, amperes out of each source, volts across each winding's turns."""

    volts: dict[str, complex]
    amperes: tuple[complex, ...]

    def between(self, a: str, b: str) -> complex:
        """Volts from b to a; a node that the netlist does not have hangs in the air."""
        return self.volts.get(a, 0j) - self.volts.get(b, 0j)


def lamp_ohms(watts: float, rated: float, volts: float) -> float:
    """A tungsten lamp at `volts`: its current follows V^0.55 (from memory), a cold one has a tenth of its hot ohms."""
    hot = rated**2 / watts
    return hot * max(abs(volts) / rated, 0.006) ** 0.45


def solve(
    parts: Iterable[Part], sources: Sequence[Source], *, hertz: float = 0.0, cores: Sequence[Core] = ()
) -> Solution:
    """Volts and amperes at that frequency (0 for DC, as it stands when all has settled); iron and lamps by rounds."""
    chosen = list(parts)
    flux = {core.name: 1.0 for core in cores}
    lamps = [lamp_ohms(one.lamp, abs(one.volts), abs(one.volts) / 2) if one.lamp else 0.0 for one in sources]
    found = None
    for _ in range(MOST_ROUNDS):
        found, turn_volts, currents = _linear(chosen, sources, lamps, hertz, cores, flux)
        moved = 0.0
        for number, one in enumerate(sources):
            if one.lamp:
                wanted = lamp_ohms(one.lamp, abs(one.volts), abs(currents[number]) * lamps[number])
                moved = max(moved, abs(wanted - lamps[number]) / wanted)
                lamps[number] = (lamps[number] * wanted) ** 0.5
        for core in cores:
            share = abs(turn_volts[core.name]) * (core.hertz / hertz) if hertz else 0.0
            moved = max(moved, abs(share - flux[core.name]) / max(share, 0.05))
            flux[core.name] = (flux[core.name] + share) / 2
        if moved < 1e-4:
            break
    assert found is not None
    return found


def _linear(parts, sources, lamps, hertz, cores, flux):
    nodes = sorted({node for part in parts for node in part.ends} | {n for s in sources for n in (s.plus, s.minus)})
    nodes = [node for node in nodes if node != "earth"]
    index = {node: number for number, node in enumerate(nodes)}
    windings = [part for part in parts if part.kind == "winding" and hertz and part.core]
    size = len(nodes) + len(sources) + len(windings) + (len(cores) if hertz else 0)
    matrix, right = np.zeros((size, size), dtype=complex), np.zeros(size, dtype=complex)
    for number in range(len(nodes)):
        matrix[number, number] += STRAY
    for part in parts:
        if part not in windings:
            _stamp(matrix, index, part.ends, _siemens(part, hertz))
    row = len(nodes)
    for number, one in enumerate(sources):
        _branch(matrix, index, row, (one.plus, one.minus), -1)
        matrix[row, row] = one.ohms + lamps[number]
        right[row] = one.volts
        row += 1
    first_core = row + len(windings)
    core_rows = {core.name: first_core + number for number, core in enumerate(cores)}
    for part in windings:
        _branch(matrix, index, row, part.ends, 1)
        matrix[row, row] = -part.value
        matrix[row, core_rows[part.core]] = -part.turns
        matrix[core_rows[part.core], row] = part.turns
        row += 1
    for core in cores if hertz else ():
        matrix[core_rows[core.name], core_rows[core.name]] = -_iron(core, flux[core.name], hertz)
    solved = np.linalg.solve(matrix, right)
    volts = {node: complex(solved[number]) for node, number in index.items()} | {"earth": 0j}
    currents = [complex(solved[len(nodes) + number]) for number in range(len(sources))]
    turn_volts = (
        {core.name: complex(solved[core_rows[core.name]]) for core in cores} if hertz else {c.name: 0j for c in cores}
    )
    return Solution(volts=volts, amperes=tuple(currents)), turn_volts, currents


def _iron(core: Core, flux: float, hertz: float) -> complex:
    """Volt-amperes that the iron takes at that share of its flux, as a conductance on turns in rated volts.

    Beyond the knee the current rises steeply: twice the flux takes some thirty times the current (from memory).
    """
    over = max(flux - KNEE, 0.0)
    steep = 1 + 4 * over + 40 * over**2
    loss = core.watts
    reactive = max((core.volts * core.amperes) ** 2 - core.watts**2, 0.0) ** 0.5
    return complex(loss, -reactive * steep * core.hertz / hertz)


def _siemens(part: Part, hertz: float) -> complex:
    if part.kind == "capacitor":
        return 2j * np.pi * hertz * part.value
    return 0j if part.value == float("inf") else complex(1 / max(part.value, 1e-6))


def _stamp(matrix, index, ends, siemens) -> None:
    a, b = (index.get(node) for node in ends)
    for one, other in ((a, b), (b, a)):
        if one is not None:
            matrix[one, one] += siemens
            if other is not None:
                matrix[one, other] -= siemens


def _branch(matrix, index, row, ends, sign) -> None:
    """A current in at the first end and out at the second (sign 1: taken from the first), and the volts across it."""
    for node, way in zip(ends, (1, -1), strict=True):
        if (number := index.get(node)) is not None:
            matrix[number, row] += sign * way
            matrix[row, number] += way
