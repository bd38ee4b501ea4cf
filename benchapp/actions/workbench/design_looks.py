"""A design looked at before any unit of it is on the bench: its circuit, and the readings that its route plans."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from benchapp.actions.workbench.bench import Bench
from benchapp.errors import BenchError

if TYPE_CHECKING:
    from benchapp.judgement.statements.band import Band
    from benchapp.sequences.history.unit_state import UnitState
    from benchapp.sequences.planning.planned import Plan, PlannedStep
    from benchapp.wiring.model.circuit import Circuit


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedReading:
    """A reading of the route: its stage, its name, its terminals, what it may read.

    `band` is None where that follows from what is read before it, or where it is recorded alone.
    """

    stage: str
    name: str
    terminals: tuple[str, ...]
    band: "Band | None"
    judged: bool
    live: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignLook:
    """A design on a route."""

    title: str
    route: str
    circuit: "Circuit"
    readings: tuple[PlannedReading, ...]


def look_at_design(bench: Bench, equipment: str, route: str) -> DesignLook:
    """The design and the route as their texts stand now; raises what the route has against the design."""
    from benchapp.sequences.planning.plan import make_plan

    return _look(make_plan(bench.catalogue, route, equipment, bench.workshop), bench.clock())


def look_at_unit_design(bench: Bench, mark: str) -> DesignLook:
    """The same of the design of a unit, as its run pinned it."""
    return _look(bench.plan(mark), bench.clock())


def _look(plan: "Plan", at: str) -> DesignLook:
    from benchapp.sequences.interlock.fold import fold
    from benchapp.sequences.language.vocabulary import Supply
    from benchapp.sequences.planning.step_names import reading_name

    state = fold(plan, (), at=at)
    skipped = {address for address, one in state.steps.items() if str(one.status) == "skipped"}
    readings = tuple(
        PlannedReading(
            stage=stage.title,
            name=reading_name(plan.circuit, step),
            terminals=step.terminals,
            band=_band(plan, state, step),
            judged=bool(step.accept),
            live=step.supply is not Supply.none,
        )
        for stage in plan.stages
        for step in stage.steps
        if step.function is not None and step.address not in skipped
    )
    return DesignLook(title=plan.equipment.title, route=plan.title, circuit=plan.circuit, readings=readings)


def _band(plan: "Plan", state: "UnitState", step: "PlannedStep") -> "Band | None":
    from benchapp.judgement.meters.functions import kind_of
    from benchapp.sequences.answering.bands import band_for

    try:
        return band_for(plan, state, step, kind_of(step.read_on), state.at)
    except BenchError:
        return None  # it follows from what is read or asked before it
