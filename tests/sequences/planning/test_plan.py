"""What a plan is made of."""

import pytest

from benchapp.sequences.language.vocabulary import Role, Supply
from benchapp.sequences.planning.catalogue import catalogue_from_texts
from benchapp.sequences.planning.plan import make_plan
from tests.people import staffed
from tests.sequences.bench import catalogue, plan_of


def test_every_step_has_one_address_and_its_place():
    plan = plan_of()
    assert len({step.address for step in plan.steps}) == len(plan.steps)
    assert [step.position for step in plan.steps] == sorted(step.position for step in plan.steps)
    assert all(plan.step(step.address) is step for step in plan.steps)


def test_probes_come_from_the_circuit_with_their_bands():
    probes = [step for step in plan_of().steps if step.kind == "probe" and step.supply is Supply.none]
    assert probes
    assert all(step.band is not None and step.probe is not None and step.terminals for step in probes)


def test_insulation_and_live_steps_energise_and_dead_ones_do_not():
    plan = plan_of()
    energising = {step.address for step in plan.steps if step.energises}
    live = {step.address for step in plan.steps if step.supply is not Supply.none}
    assert energising - live == {"insulation.live-to-case", "insulation.live-to-outputs", "insulation.outputs-to-metal"}
    assert not any(step.energises for step in plan.way_back)


def test_supply_side_is_what_hangs_on_mains_and_every_earth():
    parts = plan_of().supply_parts
    assert {"plug-fuse", "cord-live", "cord-neutral", "primary", "cord-earth", "case-bond", "mains-to-earth"} <= parts
    assert not parts & {"low", "high", "low-a", "low-a-twin", "common-wire", "high-b"}


def test_reading_that_only_mains_can_give_is_live_whatever_its_file_says():
    texts = dict(catalogue().texts)
    texts["sequences/live-voltage.yaml"] = texts["sequences/live-voltage.yaml"].replace("supply: full", "supply: none")
    plan = make_plan(catalogue_from_texts(texts), "mains-unit", "tb-mu1", staffed())
    assert plan.step("live-voltage.mains").supply is Supply.full
    assert plan.step("live-voltage.outputs/outlet.1-2").supply is Supply.full


def test_role_that_a_step_is_not_fit_to_show_is_not_planned():
    texts = dict(catalogue().texts)
    loose = texts["sequences/continuity.yaml"].replace("accept: limit earth-continuity", "accept: at most 5 ohm")
    texts["sequences/continuity.yaml"] = loose
    plan = make_plan(catalogue_from_texts(texts), "mains-unit", "tb-mu1", staffed())
    assert Role.earth not in plan.step("continuity.earth").shows


def test_workshop_can_shorten_how_long_a_mains_reading_serves_but_no_file_can_lengthen_it():
    assert plan_of().step("live-voltage.mains").fresh_for == 600.0
    assert plan_of(workshop=staffed(mains_fresh_for=120.0)).step("live-voltage.mains").fresh_for == 120.0


@pytest.mark.parametrize("name", ["load", "soak"])
def test_sequences_outside_the_shipped_routes_can_be_put_into_one(name):
    texts = dict(catalogue().texts)
    path = "sequences/routes/mains-unit.yaml"
    texts[path] = texts[path].replace("live-voltage, clean]", f"live-voltage, {name}, clean]")
    plan = make_plan(catalogue_from_texts(texts), "mains-unit", "tb-mu1", staffed())
    assert plan.stage(name).steps
