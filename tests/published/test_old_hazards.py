"""The shipped hazards of old equipment against what regulators, laws and conservators say, kind by kind.

| kind | source |
| --- | --- |
| asbestos | CPSC 1979 and 1980; HSE; REACH Annex XVII entry 6 |
| PCB | US EPA fact sheet 2020; Scottish Executive 2002/7; 96/59/EC |
| mercury | states of Indiana and Vermont; 2017/852 Annex II |
| radium | NetRegs; S.I. 1985/1048 |
| the others | conservation, trading standards and restorers' pages, as each file says |
"""

import pytest

from benchapp.sequences.language.hazards import Shut
from tests.sequences.loaded import load_catalogue

SHIPPED = load_catalogue().hazards
KINDS = {
    # id: (last year in question, shuts, sale in Great Britain)
    "asbestos": (1999, "work", "no"),
    "selenium-rectifier": (1975, "mains", "after repair"),
    "pcb-capacitor": (1986, "opening mains", "no"),
    "cracked-filter-capacitor": (1999, "mains", "after repair"),
    "mercury": (2020, "work", "ask"),
    "radioluminous-paint": (1985, "work", "ask"),
    "leaked-battery": (None, "mains", "after repair"),
    "picture-tube": (None, "opening mains", "ask"),
    "perished-cord": (1980, "mains", "after repair"),
    "live-chassis": (1989, "opening mains", "no"),
    "series-resistor-cord": (1965, "work", "no"),
    "thermal-link": (None, "mains", "after repair"),
    "beryllium-oxide": (None, "", "yes"),
    "lead-solder": (2006, "", "yes"),
    "old-solvents": (None, "", "yes"),
    "lead-paint": (1980, "", "yes"),
    "mineral-oil": (None, "opening mains", "no"),
    "stored-charge": (None, "", "yes"),
    "heat-glass-springs": (None, "", "yes"),
    "not-for-this-bench": (None, "work", "no"),
}


def test_the_twenty_kinds_are_there_and_no_other():
    assert set(SHIPPED) == set(KINDS)


@pytest.mark.parametrize("name", KINDS)
def test_a_kind_is_asked_to_its_last_year_shuts_what_it_must_and_is_sold_no_sooner(name):
    until, shuts, sale = KINDS[name]
    hazard = SHIPPED[name]
    assert hazard.found_in.until == until
    assert {one.value for one in hazard.shuts} == set(shuts.split())
    assert hazard.sale_in("gb").may == sale


def test_the_law_on_asbestos_and_mercury_differs_by_region():
    assert [SHIPPED["asbestos"].sale_in(region).may for region in ("gb", "eu", "us", "au", "nz")] == [
        "no",
        "ask",
        "ask",
        "no",
        "ask",
    ]
    assert "31 December 2020" in SHIPPED["mercury"].sale_in("eu").say
    assert "31 December 2020" not in SHIPPED["mercury"].sale_in("gb").say


@pytest.mark.parametrize("name", [name for name, (_, shuts, _) in KINDS.items() if "work" in shuts])
def test_what_shuts_all_work_is_never_mended_here(name):
    assert Shut.work in SHIPPED[name].shuts
    assert all(sale.may in ("no", "ask") for sale in SHIPPED[name].sale.values())


@pytest.mark.parametrize("name", ["picture-tube", "leaked-battery", "heat-glass-springs", "cracked-filter-capacitor"])
def test_eyes_are_protected_where_glass_springs_or_acid_is(name):
    assert SHIPPED[name].eyes
