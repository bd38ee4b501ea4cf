"""The scope of a repair on generated equipment with the shipped sequences: no step stands that the part could move.

The continuity, insulation and live steps take their readings from the wiring. Each part is changed in every way that a
repair could change it, the circuit is solved anew in the set-up of each step, and what reads otherwise must be stale.
"""

import random
from collections.abc import Iterator

import pytest

from benchapp.sequences.history.retest import scope_of
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.catalogue import catalogue_from_texts
from benchapp.sequences.planning.plan import make_plan
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.wiring.model.circuit import Circuit, State
from tests.people import staffed
from tests.sequences.loaded import load_catalogue
from tests.wiring.expected.test_retest_of_generated import (
    changed,
    dead,
    live,
    reads_otherwise_dead,
    reads_otherwise_live,
)
from tests.wiring.made_up_equipment import equipment_text


def plan_for(seed: int) -> Plan:
    """The whole check of a mains unit, on an equipment file made up from this seed."""
    shipped = load_catalogue()
    texts = dict(shipped.texts)
    texts["resources/equipment/made-up.yaml"] = equipment_text(random.Random(seed))
    route = next(name for name, text in texts.items() if "route: mains-unit" in text)
    texts[route] = texts[route].replace("[tb-mu1, tb-mu2]", "[tb-mu1, tb-mu2, made-up]")
    return make_plan(catalogue_from_texts(texts), "mains-unit", "made-up", staffed())


def from_wiring(plan: Plan) -> list[PlannedStep]:
    """Steps with two terminals whose reading the wiring expects, or that insulation holds apart."""
    return [step for step in plan.steps if len(step.terminals) == 2 and step.function]


def moved_by(plan: Plan, part: str, steps: list[PlannedStep]) -> Iterator[str]:
    """Addresses of the steps that read otherwise with the part changed, by solving the whole circuit again."""
    for other in changed(plan.circuit, part):
        for step in steps:
            state = step.circuit_state or State()
            a, b = step.terminals
            if reads_otherwise(plan.circuit, other, state, a, b, on=step.supply is not Supply.none):
                yield step.address


def reads_otherwise(sound: Circuit, other: Circuit, state: State, a: str, b: str, *, on: bool) -> bool:
    if on:
        return reads_otherwise_live(live(sound, state), live(other, state), a, b)
    return reads_otherwise_dead(dead(sound, state), dead(other, state), a, b)


@pytest.mark.parametrize("seed", range(12))
def test_a_repair_of_any_part_leaves_no_step_standing_that_it_could_have_changed(seed: int) -> None:
    plan = plan_for(seed)
    steps = from_wiring(plan)
    assert any(step.probe is not None for step in steps)
    moved = 0
    for part in plan.circuit.parts:
        scope = set(scope_of(plan, part, ()))
        for address in set(moved_by(plan, part, steps)):
            moved += 1
            assert address in scope, (seed, part, address)
    assert moved > len(steps)  # the judge does see readings that move
