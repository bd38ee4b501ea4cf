"""Ways round way back and interlock by what is said of a unit: its class, its own lead; each is shut now."""

import pytest

from benchapp.sequences import EntryKind
from tests.sequences.bench import Refused, Unit, plan_of
from tests.sequences.weakened import plan_with

TO_CASE = "make-safe.low-to-case"


def do(unit: Unit, address: str) -> None:
    unit.answer(address, unit.good(unit.plan.step(address)))


class TestChargeThatAFactCannotTalkAway:
    @pytest.mark.parametrize("kind", ["unknown", "0", "III"])
    def test_a_class_said_after_the_insulation_test_leaves_the_case_to_be_measured(self, kind):
        unit = Unit(plan=plan_of())
        unit.go_to("insulation.live-to-outputs")
        unit.record(EntryKind.fact, facts={"class": kind})
        do(unit, "make-safe.unplug")
        do(unit, "make-safe.discharge")
        with pytest.raises(Refused, match=r"make-safe\.low-to-case"):
            do(unit, "make-safe.low")
        assert unit.due.address == TO_CASE
        do(unit, TO_CASE)
        do(unit, "make-safe.low")
        assert not unit.state.energised

    @pytest.mark.parametrize("kind", ["II", "unknown"])
    def test_nor_does_a_class_that_is_found_after_the_test_on_a_design_of_none(self, tmp_path, kind):
        edit = ("class: I ", "class: unknown ")
        unit = Unit(plan=plan_with(tmp_path, "resources/equipment/tb-mu1.yaml", edit))
        unit.record(EntryKind.fact, facts={"class": "I"})
        unit.go_to("insulation.live-to-outputs")
        unit.record(EntryKind.fact, facts={"class": kind})
        do(unit, "make-safe.unplug")
        do(unit, "make-safe.discharge")
        with pytest.raises(Refused, match=r"make-safe\.low-to-case"):
            do(unit, "make-safe.low")
