"""What to fetch before a lot is begun."""

from benchapp.lots.kit import kit_list
from tests.sequences.bench import Unit, plan_of


def test_fresh_lot_needs_plugs_fuses_and_meters():
    plan = plan_of()
    states = [Unit(plan).state for _ in range(3)]
    kit = {line.what: line.units for line in kit_list(plan, states)}
    assert kit["plug"] == 3
    assert kit["plug fuse of 3 A"] == 3
    assert kit["meter for insulation"] == 3
    assert "RCD, and a lamp limiter or variable transformer" in kit


def test_finished_units_need_nothing():
    unit = Unit(plan_of())
    unit.finish()
    assert kit_list(unit.plan, [unit.state]) == ()


def test_loudspeakers_need_no_limiter():
    plan = plan_of("loudspeaker", "tb-ls1")
    assert [line.what for line in kit_list(plan, [Unit(plan).state])] == ["meter for resistance"]
