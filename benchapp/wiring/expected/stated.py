"""What an author's stated outputs say of the voltage between two terminals.

The solution of the network knows no diodes: behind one, only what somebody states is expected. Stated DC voltages that
follow on each other add up (Kirchhoff's voltage law, elementary); AC ones would need their phases.
"""

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass

from benchapp.judgement.statements.band import Band, DerivationStep
from benchapp.quantities.dimensions import Kind
from benchapp.quantities.display import show
from benchapp.wiring.model.circuit import Circuit, Output, Problem, State
from benchapp.wiring.model.groups import carries_voltage_on, groups_of
from benchapp.wiring.network.rectified import Rectified


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
        result = DerivationStep(what="so the reading should be", value=words, source="the stated outputs together")
        cancels = self.low <= 0.0 <= self.high
        return _band(0.0 if cancels else low, abs(self.likely), high, (*map(_reason, self.outputs), result))


def stated_voltage(circuit: Circuit, a: str, b: str) -> Band | None:
    """The band (V) that the stated outputs give between two terminals; None where they say nothing of these two."""
    direct = next((output for output in circuit.outputs if {output.a, output.b} == {a, b}), None)
    if direct is not None:
        return _band(direct.volts.low, direct.volts.nominal, direct.volts.high, (_reason(direct),))
    total = _added_up(circuit, groups_of(circuit, carries_voltage_on), a, b) if circuit.outputs else None
    return total.band() if total is not None and total.outputs else None


def positive_end(circuit: Circuit, a: str, b: str) -> str:
    """The terminal of the two that takes the red probe, by the stated DC outputs; empty where nothing tells it.

    A file writes the positive pin of an output first.
    """
    direct = next((output for output in circuit.outputs if {output.a, output.b} == {a, b}), None)
    if direct is not None:
        return "" if direct.alternating else direct.a
    total = _added_up(circuit, groups_of(circuit, carries_voltage_on), a, b) if circuit.outputs else None
    if total is None or not total.outputs or total.low <= 0.0 <= total.high:
        return ""
    return a if total.likely > 0.0 else b


def red_on_positive(circuit: Circuit, a: str, b: str) -> tuple[str, str]:
    """The two terminals as the probes go, black on the first and red on the second: red on the positive one."""
    return (b, a) if positive_end(circuit, a, b) == a else (a, b)


def is_steady(circuit: Circuit, a: str, b: str) -> bool:
    """Whether the voltage between two terminals is read as DC: stated so, or put there by a diode."""
    direct = next((output for output in circuit.outputs if {output.a, output.b} == {a, b}), None)
    if direct is not None:
        return not direct.alternating
    return stated_voltage(circuit, a, b) is not None or Rectified(circuit, State()).between(a, b)


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


def _reason(output: Output) -> DerivationStep:
    return DerivationStep(what=f"output {output.id}", value=output.volts.stated, source=output.source)


def _band(low: float, likely: float, high: float, reasons: tuple[DerivationStep, ...]) -> Band:
    return Band(
        kind=Kind.voltage, unit="V", lower=low if low else None, upper=high, expected=likely, derivation=reasons
    )


def check_polarity(circuit: Circuit) -> Iterator[Problem]:
    """Stated DC outputs whose positive pin takes current in from a rectifier, or whose negative one gives it out."""
    wire = groups_of(circuit, carries_voltage_on)
    plain = groups_of(circuit, lambda branch: branch.kind.conducts and not branch.kind.one_way)
    wound = {plain[branch.a] for branch in circuit.branches if branch.kind.couples}
    diodes = [branch for branch in circuit.branches if branch.kind.one_way]
    gives = {wire[diode.b] for diode in diodes if plain[diode.a] in wound}  # a cathode, fed from a winding
    takes = {wire[diode.a] for diode in diodes if plain[diode.b] in wound}
    for number, output in enumerate(circuit.outputs):
        if not output.alternating and output.volts.high < 0.0:
            yield Problem(
                key=("outputs", number, "volts"),
                what=f"the output '{output.id}' is stated below nothing",
                expected=f"the positive pin first, [{output.b}, {output.a}], and volts above nothing",
            )
            continue
        positive, negative = wire[output.a], wire[output.b]
        wrong = positive in takes - gives or negative in gives - takes
        if not output.alternating and wrong:
            yield Problem(
                key=("outputs", number, "between"),
                what=f"the rectifier makes '{output.b}' positive against '{output.a}'",
                expected=f"the positive pin first: [{output.b}, {output.a}]",
            )
