"""The circuit of the unit at hand as a picture: with suspects of a search, a failed part, two points to touch."""

from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from benchapp.desktop.bench.unit_view import UnitView
from benchapp.desktop.pictures.circuit_picture import CircuitPicture
from benchapp.desktop.words import tr

if TYPE_CHECKING:
    from benchapp.sequences.planning.planned import Plan
    from benchapp.wiring.model.circuit import Circuit
    from benchapp.wiring.model.diagram import Diagram

_MARKED = 5
"""suspects that are marked; more would mark everything"""


def circuit_picture(
    view: UnitView, suspects: Sequence[tuple[str, str]] = (), points: Sequence[str] = (), *, alternating: bool = False
) -> CircuitPicture:
    """The circuit of this unit's design with these parts marked, each with its words, and these terminals lit."""
    return drawn_circuit(
        view.plan.circuit, view.title, suspects, points, alternating=alternating, drawn=_diagram(view.plan)
    )


def drawn_circuit(
    circuit: "Circuit",
    title: str,
    suspects: Sequence[tuple[str, str]] = (),
    points: Sequence[str] = (),
    *,
    alternating: bool = False,
    drawn: "Diagram | None" = None,
) -> CircuitPicture:
    """The circuit of a design that no unit is at hand of; `drawn` is its layout, where it was worked out before."""
    from benchapp.wiring.model.diagram import diagram
    from benchapp.wiring.model.probe_words import are_coloured

    drawn = drawn or diagram(circuit)
    marked = {part: words for part, words in suspects if part in circuit.parts}
    said = [tr("Circuit of {title}.").format(title=title)]
    if marked:
        names = ", ".join(f"{circuit.part_names.get(one, one)} {words}".strip() for one, words in marked.items())
        said.append(tr("Marked: {parts}.").format(parts=names))
    if points:
        said.append(tr("To touch: {points}.").format(points=", ".join(circuit.say(one) for one in points)))
    return CircuitPicture(
        words=" ".join(said),
        title=title,
        diagram=drawn,
        labels=tuple((node, node.rpartition(".")[2]) for node in drawn.places),
        spoken=tuple((node, circuit.say(node)) for node in drawn.terminals),
        suspects=tuple((part, words or "!") for part, words in list(marked.items())[:_MARKED]),
        points=tuple(one for one in points if one in drawn.places),
        coloured=are_coloured(circuit, *points, alternating=alternating),
    )


@lru_cache(maxsize=8)
def _laid_out(plan: "_ById") -> "Diagram":
    from benchapp.wiring.model.diagram import diagram

    return diagram(plan.plan.circuit)


class _ById:
    """A plan by its identity: two units of a lot share one."""

    def __init__(self, plan: "Plan") -> None:
        self.plan = plan

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _ById) and other.plan is self.plan

    def __hash__(self) -> int:
        return id(self.plan)


def _diagram(plan: "Plan") -> "Diagram":
    return _laid_out(_ById(plan))
