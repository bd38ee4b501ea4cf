"""The simulator's own arithmetic, held against figures that can be worked out by hand or were published."""

import ast
from math import exp
from pathlib import Path

import pytest

from tests.hazards.circuits.parts import Core, Part
from tests.hazards.circuits.solver import Source, solve
from tests.hazards.units.unit import Feed, make_unit

HAZARDS = Path(__file__).parent


def resistor(name, a, b, ohms):
    return Part(name=name, kind="resistor", ends=(a, b), value=ohms)


def test_a_divider_divides():
    found = solve(
        [resistor("top", "in", "out", 300), resistor("foot", "out", "earth", 100)],
        [Source(plus="in", minus="earth", volts=12, ohms=0)],
    )
    assert found.volts["out"].real == pytest.approx(3.0)
    assert found.amperes[0].real == pytest.approx(0.03)


def test_a_capacitor_passes_what_its_reactance_says():
    part = Part(name="c", kind="capacitor", ends=("in", "earth"), value=1e-6)
    found = solve([part], [Source(plus="in", minus="earth", volts=240, ohms=0.0)], hertz=50)
    assert abs(found.amperes[0]) == pytest.approx(240 * 2 * 3.14159265 * 50 * 1e-6)


@pytest.mark.parametrize(
    ("share", "current", "volts"),
    [(0.25, 0.23, 0.93), (0.5, 0.40, 0.81), (1, 0.60, 0.60), (2, 0.77, 0.38), (4, 0.87, 0.22)],
)
def test_a_lamp_limiter_shares_volts_with_a_resistive_item_as_worked_out_for_v_to_the_055(share, current, volts):
    item = resistor("item", "in", "earth", 240**2 / (60 * share))
    found = solve([item], [Source(plus="in", minus="earth", volts=240, ohms=0.0, lamp=60)], hertz=50)
    assert abs(found.amperes[0]) / (60 / 240) == pytest.approx(current, abs=0.04)
    assert abs(found.volts["in"]) / 240 == pytest.approx(volts, abs=0.04)


def test_a_shorted_output_passes_the_lamps_own_current():
    found = solve(
        [resistor("short", "in", "earth", 0.1)],
        [Source(plus="in", minus="earth", volts=240, ohms=0.0, lamp=60)],
        hertz=50,
    )
    assert abs(found.amperes[0]) == pytest.approx(0.25, rel=0.01)


def test_an_unloaded_transformer_takes_its_magnetising_current_and_gives_its_turns():
    unit = make_unit("tb-mu1")
    unit.plug_in(Feed(volts=240))
    assert unit.amperes() == pytest.approx(0.0138, rel=0.03)
    assert unit.ac_volts("outlet.1", "outlet.2") == pytest.approx(10.28, rel=0.02)


def test_shorted_turns_take_current_at_nearly_right_volts():
    turns = {"turns": {"winding": ["a", "b"], "value": 0.35, "core": "iron", "turns": 2}, "touch": {"wire": ["a", "b"]}}
    sound, bad = make_unit("tb-mu1"), make_unit("tb-mu1", {"with": turns})
    for unit in (sound, bad):
        unit.plug_in(Feed(volts=240))
    assert bad.amperes() > 3 * sound.amperes()
    assert bad.ac_volts("outlet.1", "outlet.2") > 0.85 * sound.ac_volts("outlet.1", "outlet.2")


def test_iron_for_120_v_on_240_v_saturates():
    core = Core(name="iron", volts=120, hertz=50, amperes=0.03, watts=1)
    winding = Part(name="w", kind="winding", ends=("in", "earth"), value=120, core="iron", turns=120)
    at = [
        abs(solve([winding], [Source(plus="in", minus="earth", volts=v)], hertz=50, cores=[core]).amperes[0])
        for v in (120, 240)
    ]
    assert at[1] > 8 * at[0]


def test_a_junction_passes_an_ohmmeter_one_way_alone():
    unit = make_unit("tb-rec1")
    assert unit.ohms("secondary.a", "rail") < 1e4
    assert unit.ohms("rail", "secondary.a") > unit.ohms("secondary.a", "rail")


def test_what_the_insulation_tester_leaves_runs_down_by_r_times_c():
    suppressor = {
        "suppressor": {"capacitor": ["mains.N", "case"], "value": 1e-6},
        "path": {"resistor": ["mains.N", "case"], "value": 2e7},
    }
    unit = make_unit("tb-mu1", {"with": suppressor})
    unit.joined = (("plug.L", "plug.N"),)
    unit.insulation(["plug.L"], ["case"], 500.0)
    first = unit.charges.highest(unit.clock)
    unit.pass_time(10.0)
    assert unit.charges.highest(unit.clock) / first == pytest.approx(exp(-10 / 20), rel=0.1)


def test_leads_left_on_take_away_what_the_tester_charged_and_nothing_else():
    filtered = {"filter": {"capacitor": ["mains.L", "mains.N"], "value": 1e-6}}
    unit = make_unit("tb-rec1", {"with": filtered, "without": ["bleeder"]})
    unit.switched["power"] = "on"
    unit.plug_in(Feed(volts=240))
    unit.plug_out()
    unit.discharge()
    assert unit.dc_volts("rail", "screen") > 20
    tested = make_unit("tb-mu1", {"with": {"suppressor": {"capacitor": ["mains.N", "case"], "value": 1e-6}}})
    tested.insulation(["plug.L"], ["case"], 500.0)
    tested.discharge()
    assert tested.charges.held == {}


def test_a_live_part_on_the_case_trips_the_rcd_and_a_short_blows_the_fuse():
    live_case = make_unit("tb-mu1", {"with": {"leak": {"leak": ["mains.L", "case"], "value": 1000}}})
    short = make_unit("tb-mu1", {"with": {"short": {"wire": ["mains.L", "mains.N"], "value": 0.5}}})
    for unit in (live_case, short):
        unit.plug_in(Feed(volts=240))
        assert unit.amperes() < 1e-6
    assert live_case.tripped
    assert short.blown == {"plug-fuse"}


def test_only_the_driver_knows_the_program():
    knows = {"driver.py"}
    for file in HAZARDS.rglob("*.py"):
        tree = ast.parse(file.read_text(encoding="utf-8"))
        modules = {node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
        modules |= {name.name for node in ast.walk(tree) if isinstance(node, ast.Import) for name in node.names}
        if file.name not in knows:
            assert not {name for name in modules if name.split(".")[0] == "benchapp"}, file.name


def test_neither_unit_nor_technician_knows_a_row():
    for name in ("technician.py", "units/bench.py", "units/unit.py", "senses.yaml", "truths.yaml", "driver.py"):
        words = (HAZARDS / name).read_text(encoding="utf-8")
        assert "rows" not in {word.strip(".,:") for word in words.replace("It knows no rows", "").split()}, name
