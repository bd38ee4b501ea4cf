"""One step held against one design, and what is said of a terminal that the design does not have."""

from collections.abc import Mapping
from dataclasses import dataclass

from benchapp.files.document import Document
from benchapp.files.locations import Complaint, Key
from benchapp.files.spelling import nearest
from benchapp.sequences.language.models import SequenceFile, Step, id_of
from benchapp.sequences.language.vocabulary import FactValue
from benchapp.sequences.planning.terminals import TerminalProblem, terminal_of
from benchapp.wiring.model.circuit import Circuit

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
        return self.design.document.complaint(key, f"the step “{step}” cannot be done on it: {what}", expected)

    def complain(self, key: Key, what: str, expected: str = "", near: str | None = None) -> Complaint:
        """A complaint at that place below the step."""
        said = f"step “{id_of(self.step)}”: {what}"
        return self.document.complaint((*self.key, *key), said, "" if near else expected, near or "")


def is_shipped(document: Document) -> bool:
    """Whether the text came with the program: it is known by its place below the shipped folders."""
    return document.source.startswith(("sequences/", "resources/"))


def no_terminal(fit: Fit, key: Key, word: str) -> Complaint:
    """The complaint about a terminal that the design has not."""
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
