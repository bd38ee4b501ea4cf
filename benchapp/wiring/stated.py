"""What do an author's stated outputs say of a voltage, and which pins does a diode feed, so that nothing else can?

The solution of the network knows no diodes: behind one, only what somebody states is expected. Stated DC voltages that
follow on each other add up (Kirchhoff's voltage law, elementary); AC ones would need their phases.
"""

from collections import deque
from dataclasses import dataclass

from benchapp.judgement import Band, Because, Rule
from benchapp.quantities import Kind, show
from benchapp.wiring.circuit import Circuit, Output, PartKind
from benchapp.wiring.groups import groups_of

WIRES = frozenset({PartKind.link, PartKind.fuse, PartKind.earth})
"""Parts that carry a voltage on to the next node unchanged."""
PASSING = frozenset(PartKind) - {PartKind.diode, PartKind.capacitor, PartKind.barrier}


@dataclass(frozen=True, slots=True)
class _Sum:
    """Lowest, likely and highest V from the first node to this one, and the outputs that were gone through."""

    low: float
    likely: float
    high: float
    outputs: tuple[Output, ...] = ()

    def past(self, output: Output, sign: int) -> "_Sum":
        volts = output.volts
        ends = sorted((sign * volts.low, sign * volts.high))
        likely = self.likely + sign * volts.nominal
        return _Sum(self.low + ends[0], likely, self.high + ends[1], (*self.outputs, output))

    def band(self) -> Band:
        """As a voltmeter's size of it; where the outputs may cancel there is no lower limit."""
        low, high = sorted((abs(self.low), abs(self.high)))
        words = f"{show(abs(self.likely), Kind.voltage)}: outputs in series"
        result = Because(what="so the reading should be", value=words, source="the stated outputs together")
        cancels = self.low <= 0.0 <= self.high
        return _band(0.0 if cancels else low, abs(self.likely), high, (*map(_reason, self.outputs), result))


def stated_voltage(circuit: Circuit, a: str, b: str) -> Band | None:
    """The band (V) that the stated outputs give between two terminals; None where the network itself tells.

    Behind a diode, where nothing is stated, the band has no limits and says why.
    """
    direct = next((output for output in circuit.outputs if {output.a, output.b} == {a, b}), None)
    if direct is not None:
        return _band(direct.volts.low, direct.volts.nominal, direct.volts.high, (_reason(direct),))
    if not circuit.outputs and all(branch.kind is not PartKind.diode for branch in circuit.branches):
        return None
    wire = groups_of(circuit, WIRES)
    total = _added_up(circuit, wire, a, b)
    if total is not None and total.outputs:
        return total.band()
    fed = [terminal for terminal in (a, b) if wire[terminal] in _rectified(circuit, wire)]
    return _not_stated(circuit, fed[0]) if fed and wire[a] != wire[b] else None


def is_steady(circuit: Circuit, a: str, b: str) -> bool:
    """Whether the voltage between two terminals is read as DC: stated so, or behind a diode with nothing stated."""
    direct = next((output for output in circuit.outputs if {output.a, output.b} == {a, b}), None)
    return not direct.alternating if direct is not None else stated_voltage(circuit, a, b) is not None


def fed_by_diode(circuit: Circuit) -> tuple[str, ...]:
    """The terminals that only a diode feeds, in the order of the circuit."""
    wire = groups_of(circuit, WIRES)
    rectified = _rectified(circuit, wire)
    return tuple(terminal for terminal in circuit.terminals if wire[terminal] in rectified)


def _rectified(circuit: Circuit, wire: dict[str, int]) -> set[int]:
    """Groups of wires that a diode ends at, but no winding or supply, and what else hangs on them and on neither."""
    plain = groups_of(circuit, PASSING)
    diodes = [node for branch in circuit.branches if branch.kind is PartKind.diode for node in (branch.a, branch.b)]
    driven = [node for branch in circuit.branches if branch.kind is PartKind.winding for node in (branch.a, branch.b)]
    driven += [] if circuit.supply is None else [circuit.supply.live, circuit.supply.neutral]
    behind = {plain[node] for node in diodes} - {plain[node] for node in driven}
    return ({wire[node] for node in diodes} - {wire[node] for node in driven}) | {
        wire[node] for node in circuit.nodes if plain[node] in behind
    }


def _added_up(circuit: Circuit, wire: dict[str, int], a: str, b: str) -> _Sum | None:
    """V of `a` over `b` by the fewest stated DC outputs that lead from one to the other."""
    steady = [output for output in circuit.outputs if not output.alternating]
    reached, waiting = {wire[b]: _Sum(0.0, 0.0, 0.0)}, deque([wire[b]])
    while waiting:
        here = waiting.popleft()
        for output in steady:
            for start, end, sign in ((output.b, output.a, 1), (output.a, output.b, -1)):
                if wire[start] == here and wire[end] not in reached:
                    reached[wire[end]] = reached[here].past(output, sign)
                    waiting.append(wire[end])
    return reached.get(wire[a])


def _reason(output: Output) -> Because:
    return Because(what=f"output {output.id}", value=output.volts.stated, source=output.source)


def _band(low: float, likely: float, high: float, reasons: tuple[Because, ...]) -> Band:
    return Band(
        kind=Kind.voltage,
        unit="V",
        lower=low if low else None,
        upper=high,
        rule=Rule.guarded,
        expected=likely,
        derivation=reasons,
    )


def _not_stated(circuit: Circuit, fed: str) -> Band:
    nothing = f"a diode feeds {circuit.say(fed)}, and no output is stated between these two"
    caution = (
        "A diode feeds this, and the file states no voltage here: not judged. It may be as high as its whole supply."
    )
    return Band(
        kind=Kind.voltage,
        unit="V",
        lower=None,
        upper=None,
        rule=Rule.guarded,
        derivation=(Because(what="behind a diode", value=nothing, source="the circuit"),),
        cautions=(caution,),
    )
