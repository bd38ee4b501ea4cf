"""The one place that knows the program: readings are handed over as typed, the answer comes back."""

from dataclasses import dataclass
from functools import cache
from typing import Any

from benchapp.actions.standalone.circuits import locate_fault, read_circuit
from tests.judge.design import FOLDER


@dataclass(frozen=True, kw_only=True)
class Answer:
    """What the search says: the places that it would have probed next (black, red), what it names, and its sentence.

    `named` are the parts that it holds responsible, the likeliest first; empty where it ends with nothing wrong.
    `again` are places that it wants read again, because the readings disagree or because all rests on one.
    """

    probe: tuple[str, str] | None
    named: tuple[str, ...]
    again: tuple[tuple[str, str], ...]
    sentence: str


@cache
def _circuit(name: str) -> Any:
    own = FOLDER / "equipment" / f"{name}.yaml"
    return read_circuit(str(own) if own.exists() else name)


def places(name: str) -> frozenset[str]:
    """What the program lets probes go to."""
    return frozenset(_circuit(name).terminals)


def part_names(name: str) -> frozenset[str]:
    """The parts that the drawing has."""
    return frozenset(_circuit(name).parts)


@cache
def ask(name: str, readings: tuple[str, ...]) -> Answer:
    """Where the search stands with these readings, each as "a,b=1.2 ohm"."""
    found = locate_fault(_circuit(name), readings)
    order = {one.part: number for number, one in enumerate(found.suspects)}  # nothing wrong comes first, where found
    left = [*found.found, *found.ambiguity_group]
    ranked = sorted(dict.fromkeys(left), key=lambda part: order.get(part, len(order)))
    nothing = not ranked or ranked[0] == "" or (not left and found.suspects[0].part == "")
    probe, support = found.next_probe, found.single_support
    again = [(one.a, one.b) for one in found.inconsistent]
    return Answer(
        probe=None if probe is None else (probe.a, probe.b),
        named=() if nothing else tuple(part for part in ranked if part),
        again=(*again, *(((support.a, support.b),) if support is not None else ())),
        sentence=found.sentence,
    )
