"""How likely each fault is before anything is read: starting weights from a file, and the workshop's own repairs.

The weights are the parameters of a Dirichlet distribution: a confirmed repair adds one to its part and mode, and the
chance of a fault is its share of the sum.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import Annotated, Self

from pydantic import AfterValidator, Field, model_validator

from benchapp.files.locations import Mistake
from benchapp.files.models import FileModel, read_model
from benchapp.files.shipped import shipped_folder
from benchapp.quantities.dimensions import Kind
from benchapp.wiring.faults.fault_modes import FaultMode, fault_modes_of
from benchapp.wiring.model.circuit import Circuit
from benchapp.wiring.model.modes import Mode, Range
from benchapp.wiring.model.registry import KindName, part_kinds
from benchapp.wiring.model.values import read_factor, read_value

RATIOS = frozenset({Mode.shorted_turns, Mode.drifted})


def _in_order(written: Mapping[Mode, tuple[str, ...]]) -> Mapping[Mode, tuple[str, ...]]:
    for mode, edges in written.items():
        values = [_edge(mode, edge) for edge in edges]
        if len(values) < 2 or any(low >= high for low, high in pairwise(values)):
            raise ValueError(f"the sizes of '{mode}' are the edges of ranges: two or more, each above the last")
    return written


def _edge(mode: Mode, written: str) -> float:
    return read_factor(written) if mode in RATIOS else read_value(written, Kind.resistance)


class FaultWeights(FileModel):
    """How each kind of part fails and how often, and the ranges of size that one hypothesis each stands for."""

    faults: str
    title: str
    source: str
    status: str
    counts_for: float = Field(gt=0)
    parts: Mapping[KindName, Mapping[Mode, Annotated[float, Field(ge=0)]]]
    cord_cores: Mapping[Mode, Annotated[float, Field(ge=0)]] = {}
    """of the cores of a cord that is bent every day, with their ends; other modes as their kind has them"""
    pins: Mapping[Mode, Annotated[float, Field(ge=0)]]
    mains_pins: Mapping[Mode, Annotated[float, Field(ge=0)]] = {}
    """of a mains plug or inlet, where they differ from other pins'"""
    sizes: Annotated[Mapping[Mode, tuple[str, ...]], AfterValidator(_in_order)]

    @model_validator(mode="after")
    def _weighs_every_kind(self) -> Self:
        """A mode without a weight would never be suspected."""
        for name, kind in part_kinds().items():
            unweighed = [mode.value for mode in kind.fault_modes if mode not in self.parts.get(name, {})]
            if unweighed:
                raise Mistake(f"a {name} may be {unweighed[0]}, and no weight says how often", key=("parts",))
        return self

    def ranges(self) -> dict[Mode, tuple[Range, ...]]:
        """The ranges of size of every mode that has a size, SI."""
        edges = {mode: [_edge(mode, edge) for edge in written] for mode, written in self.sizes.items()}
        return {mode: tuple(Range(low=a, high=b) for a, b in pairwise(values)) for mode, values in edges.items()}

    def weight(self, circuit: Circuit, fault_mode: FaultMode) -> float:
        """The starting weight of a fault of this kind, before it is shared among sizes and branches."""
        if fault_mode.mode in (Mode.crossed, Mode.bridged):
            plug = circuit.connectors.get(fault_mode.a.partition(".")[0])
            own = self.mains_pins if plug is not None and plug.mains else {}
            return float(own.get(fault_mode.mode, self.pins.get(fault_mode.mode, 0.0)))
        usual = self.parts.get(circuit.parts[fault_mode.part].name, {}).get(fault_mode.mode, 0.0)
        is_core = fault_mode.branch >= 0 and circuit.branches[fault_mode.branch].cord_core
        return float(self.cord_cores.get(fault_mode.mode, usual) if is_core else usual)


@cache
def shipped_fault_weights() -> FaultWeights:
    """The starting weights that come with the program."""
    return read_model(shipped_folder("resources") / "faults" / "starting-weights.yaml", FaultWeights)


@dataclass(frozen=True, slots=True, kw_only=True)
class Repaired:
    """A fault that a repair confirmed, on a unit of the same equipment."""

    part: str
    mode: Mode


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighted:
    """Every single fault of a circuit with its chance before any reading; the chances add up to one."""

    fault_modes: tuple[FaultMode, ...]
    chances: tuple[float, ...]


def weigh(circuit: Circuit, modes: FaultWeights, history: Iterable[Repaired] = ()) -> Weighted:
    """Share the weights among all single faults and add the confirmed repairs."""
    fault_modes = fault_modes_of(circuit, modes.ranges(), everywhere=True)
    starting = [modes.weight(circuit, fault_mode) for fault_mode in fault_modes]
    ways = Counter((fault_mode.part, fault_mode.mode) for fault_mode in fault_modes)
    starting = [weight / ways[one.part, one.mode] for weight, one in zip(starting, fault_modes, strict=True)]
    scale = modes.counts_for / sum(starting)
    seen = Counter((repaired.part, repaired.mode) for repaired in history)
    weights = [
        scale * weight + seen[one.part, one.mode] / ways[one.part, one.mode] * (weight > 0)
        for weight, one in zip(starting, fault_modes, strict=True)
    ]
    kept = [(fault_mode, weight) for fault_mode, weight in zip(fault_modes, weights, strict=True) if weight > 0]
    total = sum(weight for _, weight in kept)
    return Weighted(fault_modes=tuple(one for one, _ in kept), chances=tuple(weight / total for _, weight in kept))


def history_words(circuit: Circuit, part: str, history: Sequence[Repaired]) -> str:
    """ "4 of your last 6 were the cord entry"; empty when this part was never the fault."""
    times = sum(repaired.part == part for repaired in history)
    if not times:
        return ""
    name = circuit.part_names.get(part, part)
    if len(history) == 1:
        return f"your last fault on this design was {name}"
    return f"{times} of your last {len(history)} faults on this design {'was' if times == 1 else 'were'} {name}"
