"""Is the pin that a stated DC output calls positive the one that its rectifier makes positive?"""

from collections.abc import Iterator

from benchapp.wiring.circuit import Circuit, PartKind, Problem
from benchapp.wiring.groups import groups_of
from benchapp.wiring.stated import WIRES

PASSING = frozenset(PartKind) - {PartKind.diode, PartKind.capacitor, PartKind.barrier}


def check_polarity(circuit: Circuit) -> Iterator[Problem]:
    """Stated DC outputs whose positive pin takes current in from a rectifier, or whose negative one gives it out."""
    wire, plain = groups_of(circuit, WIRES), groups_of(circuit, PASSING)
    wound = {plain[branch.a] for branch in circuit.branches if branch.kind is PartKind.winding}
    diodes = [branch for branch in circuit.branches if branch.kind is PartKind.diode]
    gives = {wire[diode.b] for diode in diodes if plain[diode.a] in wound}  # a cathode, fed from a winding
    takes = {wire[diode.a] for diode in diodes if plain[diode.b] in wound}
    for number, output in enumerate(circuit.outputs):
        positive, negative = wire[output.a], wire[output.b]
        wrong = positive in takes - gives or negative in gives - takes
        if not output.alternating and wrong:
            yield Problem(
                key=("outputs", number, "between"),
                what=f"the rectifier makes '{output.b}' positive against '{output.a}'",
                expected=f"the positive pin first: [{output.b}, {output.a}]",
            )
