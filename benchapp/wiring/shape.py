"""What is the network's shape, whatever its values? Every branch gets a conductance of its own.

A bridge that happens to be balanced still lies between the two terminals; with arbitrary conductances nothing balances.
"""

from benchapp.wiring.circuit import Circuit, PartKind, State
from benchapp.wiring.solve import JOINED, Network, Wire, is_closed

GOLDEN = 0.6180339887498949  # multiples of it, modulo one, repeat no simple ratio
MOVES = 1e-9  # a share of the current below this is rounding


def shape_of(circuit: Circuit, state: State, *, leave_out: frozenset[PartKind] = frozenset()) -> Network:
    """The network of everything that conducts, charges or transforms, but for the kinds of part left out."""
    number = {name: index for index, name in enumerate(circuit.nodes)}
    wires = [
        Wire(branch=index, part=branch.part, a=number[branch.a], b=number[branch.b], ohms=1 + (index * GOLDEN) % 1)
        for index, branch in enumerate(circuit.branches)
        if branch.kind not in leave_out and is_closed(branch, circuit, state)
    ]
    wires += [Wire(branch=-1, part="", a=number[a], b=number[b], ohms=JOINED) for a, b in state.joined]
    return Network(nodes=circuit.nodes, wires=tuple(wires))
