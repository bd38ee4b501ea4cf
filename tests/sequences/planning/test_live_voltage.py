"""A voltage is live whatever its file says, and above extra-low voltage it is not read with bare probes."""

import pytest

from benchapp.files.locations import FileProblems
from benchapp.sequences.interlock.free_probes import live_step, live_terminals
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.catalogue import catalogue_from_texts
from benchapp.sequences.planning.plan import make_plan
from tests.people import staffed
from tests.sequences.bench import Refused, Unit, catalogue, plan_of
from tests.sequences.interlock.walking import FULL, place_of, ready, take
from tests.sequences.loaded import load_catalogue

SEQUENCE = """
sequence: quick
title: Quick look
fits: {{mains fed: false}}
steps:
  - measure: out
    say: Plug it in and read.
    function: {function}
    at: [input.red, input.black]
    accept: {accept}
"""
ROUTE = "route: quick\ntitle: Quick\nequipment: [tb-ls1]\nsequences: [quick]\n"


def planned(function, accept):
    texts = {**catalogue().texts, "sequences/quick.yaml": SEQUENCE.format(function=function, accept=accept)}
    texts["sequences/routes/quick.yaml"] = ROUTE
    return make_plan(catalogue_from_texts(texts), "quick", "tb-ls1", staffed())


@pytest.mark.parametrize(
    ("function", "accept", "supply"),
    [
        ("AC voltage", "240 V ± 10 %", Supply.full),
        ("AC voltage", "at most 1 V", Supply.full),
        ("DC voltage", "300 V ± 10 %", Supply.full),
        ("DC voltage", "between -30 V and 5 V", Supply.full),
        ("DC voltage", "at least 5 V", Supply.full),
        ("DC voltage", "9 V ± 10 %", Supply.none),
        ("AC voltage", "limit voltage-low", Supply.none),
    ],
)
def test_a_voltage_without_a_supply_in_its_file_is_live_all_the_same(function, accept, supply):
    assert planned(function, accept).step("quick.out").supply is supply


def test_what_takes_no_mains_is_not_read_under_power():
    unit = Unit(plan=planned("AC voltage", "240 V ± 10 %"))
    unit.hold("tb-m1")
    with pytest.raises(Refused, match="it takes no mains"):
        unit.reads("quick.out", "240 V")


def test_the_check_tells_its_author(tmp_path):
    text = SEQUENCE.format(function="AC voltage", accept="240 V ± 10 %")
    (tmp_path / "quick.yaml").write_text(text, encoding="utf-8")
    (tmp_path / "route.yaml").write_text(ROUTE, encoding="utf-8")
    with pytest.raises(FileProblems, match="takes no mains, and AC voltage is read on a live unit"):
        load_catalogue(tmp_path)


OUTPUT = "live-voltage.outputs/output.red-black"


def test_an_output_above_extra_low_voltage_is_read_through_shrouded_leads():
    unit = ready("isolating", FULL)
    unit.go_to(OUTPUT)
    assert "shrouded leads" in unit.state.set_up[-1]
    assert "hands off while it is on" in unit.plan.step(OUTPUT).say


def test_without_them_it_is_not_read():
    unit = ready("isolating", FULL)
    for address in (FULL, "live-voltage.mains"):
        take(unit, address)
    with pytest.raises(Refused, match="shrouded leads"):
        unit.reads(OUTPUT, "120 V")


def test_nor_is_it_offered_to_a_search():
    plan = place_of("isolating").plan
    assert live_step(plan) is None
    assert live_terminals(plan) == ()


def test_outputs_of_the_shipped_units_stay_extra_low():
    for equipment in ("tb-mu1", "tb-mu2"):
        plan = plan_of(equipment=equipment)
        assert live_step(plan) is not None
        assert not [step.address for step in plan.steps if step.supply is Supply.full and step.set_up]
