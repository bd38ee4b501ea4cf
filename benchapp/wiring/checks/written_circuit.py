"""The circuit of an equipment's file, its contradictions each at their place in the file."""

from collections.abc import Iterable, Mapping

from benchapp.files.document import Document
from benchapp.files.locations import FileProblems
from benchapp.files.spelling import nearest
from benchapp.wiring.checks.compile import compile_circuit
from benchapp.wiring.model.circuit import Circuit, Problem, WiringProblem
from benchapp.wiring.model.connectors import Connector
from benchapp.wiring.model.equipment import Equipment


def compile_written(
    equipment: Equipment, document: Document, connectors: Mapping[str, Connector], *, known: Iterable[str] = ()
) -> Circuit:
    """The circuit of an equipment as its document describes it; raises FileProblems with the place of each complaint.

    `known` are the ids of all connectors that there are, where `connectors` holds no more than those it uses.
    """
    missing = {name: kind for name, kind in equipment.connectors.items() if kind not in connectors}
    problems = [_no_connector(name, kind, {*connectors, *known}) for name, kind in missing.items()]
    try:
        if not problems:
            return compile_circuit(equipment, connectors)
    except WiringProblem as found:
        problems = list(found.problems)
    raise FileProblems(document.complaint(one.key, one.what, one.expected, one.nearest) for one in problems)


def _no_connector(name: str, kind: str, known: set[str]) -> Problem:
    near = nearest(kind, known) or ""
    what = f"there is no connector “{kind}”, here or among those shipped"
    return Problem(
        key=("connectors", name), what=what, expected="" if near else "one of " + ", ".join(sorted(known)), nearest=near
    )
