"""Whether each step of a sequence fits a design: its set-up, and what its kind asks of the design.

A sequence written for many designs is held against every one that it meets: on a route, by its `fits`, in its worked
cases. A complaint stands in the sequence's file and names the step and the design.
"""

from collections.abc import Iterable, Iterator

from benchapp.files.document import Document
from benchapp.files.locations import Complaint, Key
from benchapp.files.spelling import nearest
from benchapp.sequences.checks.checked_kind import CheckedKind
from benchapp.sequences.checks.fit import BY_ROLE, Design, Fit, no_terminal
from benchapp.sequences.language.models import SequenceFile, id_of
from benchapp.sequences.planning.applying import applies
from benchapp.sequences.planning.terminals import (
    TerminalProblem,
    load_terminals,
    named_switch,
    selector_wanted,
    terminal_of,
)
from benchapp.wiring.assembly.unit import positions_of, selector_position


def check_fit(sequence: SequenceFile, document: Document, design: Design) -> Iterator[Complaint]:
    """Complaints about the steps that do not fit a design, though they are to be done on its units."""
    for number, step in enumerate(sequence.steps):
        wanted = {**sequence.fits, **step.when}
        if applies(sequence.fits, design.facts)[0] is False or applies(wanted, design.facts)[0] is False:
            continue
        fit = Fit(design=design, document=document, sequence=sequence, step=step, key=("steps", number))
        yield from _check_set_up(fit)
        yield from CheckedKind.of(step).check_fit(fit, step)


def check_anywhere(sequence: SequenceFile, document: Document, designs: Iterable[Design]) -> Iterator[Complaint]:
    """Complaints about terminals and connectors that no design has, for a sequence that meets none yet."""
    known = list(designs)
    names = {
        "terminal": {*BY_ROLE, *(name for one in known for name in one.circuit.terminals)},
        "connector": {"outputs", *(name for one in known for name in one.circuit.connectors)},
    }
    for number, step in enumerate(sequence.steps):
        loads = (
            ("terminal", ("set up", at), word) for at, words in enumerate(step.set_up) for word in load_terminals(words)
        )
        for what, key, word in (*CheckedKind.of(step).places(step), *loads):
            if word not in names[what]:
                said = f"step “{id_of(step)}”: no equipment has a {what} “{word}”"
                near = nearest(word, names[what]) or ""
                yield document.complaint(("steps", number, *key), said, nearest=near)


def _check_set_up(fit: Fit) -> Iterator[Complaint]:
    circuit = fit.design.circuit
    for number, words in enumerate(fit.step.set_up):
        key: Key = ("set up", number)
        for word in load_terminals(words):
            try:
                terminal_of(circuit, word)
            except TerminalProblem:
                yield no_terminal(fit, key, word)
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
