"""Does each step of a sequence fit a design: its terminals, connectors, switches, loads, and the band from its wiring?

A sequence written for many designs is held against every one that it meets: on a route, by its `fits`, in its worked
cases. A complaint stands in the sequence's file and names the step and the design.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from benchapp.errors import BenchError
from benchapp.files.document import Document
from benchapp.files.locations import Complaint, Key
from benchapp.files.spelling import nearest
from benchapp.judgement.meters.functions import VOLTAGES, Function
from benchapp.quantities.display import show
from benchapp.quantities.entry import read_quantity
from benchapp.sequences.checks.live import PROVED_LOW
from benchapp.sequences.language.models import MeasureStep, ProbeStep, SequenceFile, Step, id_of
from benchapp.sequences.language.vocabulary import FactValue
from benchapp.sequences.planning.applying import applies
from benchapp.sequences.planning.role_eligibility import FROM_WIRING
from benchapp.sequences.planning.terminals import (
    TerminalProblem,
    load_terminals,
    named_switch,
    selector_wanted,
    terminal_of,
)
from benchapp.wiring.assembly.unit import positions_of, selector_position
from benchapp.wiring.expected.first_power import expected_current
from benchapp.wiring.model.circuit import Circuit, WiringProblem

_ROLES = {
    "supply.L": "a 'supply' and a mains connector",
    "supply.N": "a 'supply' and a mains connector",
    "supply.E": "a mains connector with a pin E",
    "case": "points: {case: bare metal of the case}, and an 'earth' part that ends there",
    "outputs": "a connector that is not the mains, or where nothing comes out of it "
    "points: {outside: foil round the outside} and a 'barrier' between mains and outside",
}
BY_ROLE = tuple(_ROLES)
"""Terminals that a sequence for many designs names."""
CURRENTS = frozenset({Function.ac_current, Function.dc_current})


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """A design that a sequence meets: its circuit, the file that describes it, and what is known of every unit."""

    circuit: Circuit
    document: Document
    facts: Mapping[str, FactValue]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """One step held against one design."""

    design: Design
    document: Document
    sequence: SequenceFile
    step: Step
    key: Key

    def lacking(self, key: Key, below: Key, what: str, expected: str = "") -> Complaint:
        """A step for many designs needs what this one has not: said in the file that somebody wrote last.

        A shipped sequence fits all that is shipped, so a new design must give what it needs (under `key` of the
        design's file); a new sequence must leave out the designs that have not (under `below` of its step).
        """
        if not is_shipped(self.document):
            return self.complain(below, f"{self.design.circuit.equipment}: {what}", "a 'when' that leaves it out")
        step = f"{self.sequence.sequence}.{id_of(self.step)}"
        location = self.design.document.location(key)
        return Complaint(location=location, what=f"the step “{step}” cannot be done on it: {what}", expected=expected)

    def complain(self, key: Key, what: str, expected: str = "", near: str | None = None) -> Complaint:
        """A complaint at that place below the step."""
        location = self.document.location((*self.key, *key))
        expected = "" if near else expected
        return Complaint(
            location=location, what=f"step “{id_of(self.step)}”: {what}", expected=expected, nearest=near or ""
        )


def is_shipped(document: Document) -> bool:
    """Whether the text came with the program: it is known by its place below the shipped folders."""
    return document.source.startswith(("sequences/", "resources/"))


def check_fit(sequence: SequenceFile, document: Document, design: Design) -> Iterator[Complaint]:
    """Complaints about the steps that do not fit a design, though they are to be done on its units."""
    for number, step in enumerate(sequence.steps):
        wanted = {**sequence.fits, **step.when}
        if applies(sequence.fits, design.facts)[0] is False or applies(wanted, design.facts)[0] is False:
            continue
        fit = Fit(design=design, document=document, sequence=sequence, step=step, key=("steps", number))
        yield from _check_set_up(fit)
        if isinstance(step, MeasureStep):
            yield from _check_measure(fit, step)
        elif isinstance(step, ProbeStep):
            yield from _check_probe(fit, step)


def check_anywhere(sequence: SequenceFile, document: Document, designs: Iterable[Design]) -> Iterator[Complaint]:
    """Complaints about terminals and connectors that no design has, for a sequence that meets none yet."""
    known = list(designs)
    terminals = {*BY_ROLE, *(name for one in known for name in one.circuit.terminals)}
    connectors = {"outputs", *(name for one in known for name in one.circuit.connectors)}
    for number, step in enumerate(sequence.steps):
        loads = [(("set up", at), word) for at, words in enumerate(step.set_up) for word in load_terminals(words)]
        ends = [(("at", end), word) for end, word in enumerate(getattr(step, "at", None) or ())]
        plugs = [(("connector",), step.connector)] if isinstance(step, ProbeStep) else []
        for what, words, names in (("terminal", [*ends, *loads], terminals), ("connector", plugs, connectors)):
            for key, word in words:
                if word not in names:
                    location = document.location(("steps", number, *key))
                    near = nearest(word, names) or ""
                    said = f"step “{id_of(step)}”: no equipment has a {what} “{word}”"
                    yield Complaint(location=location, what=said, nearest=near)


def _check_measure(fit: Fit, step: MeasureStep) -> Iterator[Complaint]:
    circuit = fit.design.circuit
    found = []
    for end, word in enumerate(step.at or ()):
        try:
            found.append(terminal_of(circuit, word))
        except TerminalProblem:
            yield _no_terminal(fit, ("at", end), word)
    if len(found) == 2:
        yield from _check_pair(fit, step, found[0], found[1])
    if step.accept == FROM_WIRING and step.function in CURRENTS:
        yield from _check_current(fit, step)


def _no_terminal(fit: Fit, key: Key, word: str) -> Complaint:
    circuit = fit.design.circuit
    if word in BY_ROLE:
        return fit.lacking(("circuit",), key, f"it has no terminal “{word}”", _ROLES[word])
    known = list(dict.fromkeys((*circuit.terminals, *(role for role in BY_ROLE if _has(circuit, role)))))
    what = f"{circuit.equipment} has no terminal “{word}”"
    same = [name for name in known if name.partition(".")[0] == word.partition(".")[0]]
    return fit.complain(key, what, "one of " + ", ".join(same or known), None if same else nearest(word, known))


def _has(circuit: Circuit, role: str) -> bool:
    try:
        terminal_of(circuit, role)
    except TerminalProblem:
        return False
    return True


def _check_pair(fit: Fit, step: MeasureStep, a: str, b: str) -> Iterator[Complaint]:
    circuit, written = fit.design.circuit, step.at or ("", "")
    if a == b and written[0] != written[1]:
        what = f"“{written[0]}” and “{written[1]}” are one terminal of {circuit.equipment}"
        yield fit.complain(("at",), what, "two terminals that differ")
    supply = circuit.supply
    bare = supply is not None and {supply.live, supply.neutral} & {a, b} and step.function in VOLTAGES
    if bare and not any(word.startswith("supply.") for word in written) and step.accept != PROVED_LOW:
        what = f"this takes bare probes to the mains of {circuit.equipment}"
        yield fit.complain(("at",), what, "function: mains voltage at a plug-in meter, without “at”")


def _check_current(fit: Fit, step: MeasureStep) -> Iterator[Complaint]:
    circuit = fit.design.circuit
    try:
        band = expected_current(circuit)
    except WiringProblem as problem:
        found = problem.problems[0]
        yield fit.lacking(found.key, ("accept",), found.what, found.expected)
        return
    try:
        stop = read_quantity(step.stop_above).si if step.stop_above else None
    except BenchError:
        return  # said elsewhere, at its own place
    if stop is not None and band.upper is not None and stop < band.upper:
        what = f"“stop above: {step.stop_above}” lies inside what {circuit.equipment} may draw"
        yield fit.complain(("stop above",), what, f"{show(band.upper, band.kind)} or more")


def _check_probe(fit: Fit, step: ProbeStep) -> Iterator[Complaint]:
    circuit = fit.design.circuit
    if step.connector == "outputs":
        return
    if step.connector not in circuit.connectors:
        known = ("outputs", *circuit.connectors)
        what = f"{circuit.equipment} has no connector “{step.connector}”"
        yield fit.complain(("connector",), what, "one of " + ", ".join(known), nearest(step.connector, known))
    elif circuit.connectors[step.connector].mains and "voltage" in step.what:
        what = f"this takes bare probes to the mains of {circuit.equipment}"
        yield fit.complain(("connector",), what, "an output; mains is read at a plug-in meter")


def _check_set_up(fit: Fit) -> Iterator[Complaint]:
    circuit = fit.design.circuit
    for number, words in enumerate(fit.step.set_up):
        key: Key = ("set up", number)
        for word in load_terminals(words):
            try:
                terminal_of(circuit, word)
            except TerminalProblem:
                yield _no_terminal(fit, key, word)
        named, wanted = named_switch(words), selector_wanted(words)
        if named is not None:
            yield from _check_switch(fit, key, *named)
        elif wanted and positions_of(circuit) and selector_position(circuit, wanted) is None:
            known = positions_of(circuit)
            what = f"the selector of {circuit.equipment} has no position “{wanted}”"
            yield fit.complain(key, what, "one of " + ", ".join(known), nearest(wanted, known))


def _check_switch(fit: Fit, key: Key, name: str, position: str) -> Iterator[Complaint]:
    circuit = fit.design.circuit
    if name not in circuit.switches:
        what = f"{circuit.equipment} has no switch “{name}”"
        yield fit.complain(key, what, "one of " + ", ".join(circuit.switches), nearest(name, circuit.switches))
    elif position not in circuit.switches[name].positions:
        known = circuit.switches[name].positions
        what = f"the switch “{name}” of {circuit.equipment} has no position “{position}”"
        yield fit.complain(key, what, "one of " + ", ".join(known), nearest(position, known))
