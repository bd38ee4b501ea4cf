"""What the shipped steps judge, against the published limits, from the typed text to the judgement.

Sources, with their status as in the project's reference values:
- IET Code of Practice for In-service Inspection and Testing: insulation 1.0, 2.0 Mohm (confirmed (training)); earth
  path 0.1 ohm and the cord's own core (confirmed (training: 3 pages, possibly one origin)).
- IEC 60228:2004, class 5: 26.0 ohm/km at 0.75 mm² (confirmed (maker tables)).
- ESQCR 2002 (S.I. 2002/2665): 230 V +10 % −6 %, ends included (confirmed (law for the S.I.; trade note for figures)).
- BS 1363-1 Table 2: 3 A at most on 0.5 mm² (confirmed (forum quoting the table; test-house reply)).
- IEC 61140 family, 25 V AC in a damp place, taken for "voltage low" (confirmed (encyclopedia)).
"""

import pytest

from benchapp.sequences.answering.evaluate import evaluate
from benchapp.sequences.answering.readings import ReadingAnswer
from benchapp.sequences.kinds.ask import AskAnswer
from tests.sequences.bench import Unit, plan_of

MAINS_UNIT, DOUBLE_INSULATED = "tb-mu1", "tb-mu2"


def judged(equipment: str, address: str, text: str, meter: str) -> str:
    unit = Unit(plan_of(equipment=equipment))
    unit.hold(meter)
    given = ReadingAnswer(typed=text, meter=meter)
    return evaluate(unit.plan, unit.state, address, given, at=unit.at).judgement


@pytest.mark.parametrize(
    ("equipment", "address", "text", "judgement"),
    [
        (MAINS_UNIT, "insulation.live-to-case", "1.00 Mohm", "pass"),
        (MAINS_UNIT, "insulation.live-to-case", "0.99 Mohm", "fail"),
        (DOUBLE_INSULATED, "insulation.live-to-outputs", "2.00 Mohm", "pass"),
        (DOUBLE_INSULATED, "insulation.live-to-outputs", "1.99 Mohm", "fail"),
    ],
)
def test_insulation_limits_of_the_classes(equipment, address, text, judgement):
    assert judged(equipment, address, text, "tb-it1") == judgement


def test_earth_path_limit_is_the_base_and_the_cords_own_core():
    """1.8 m of 0.75 mm²: 0.1 + 1.8 × 0.0260 = 0.1468 ohm."""
    unit = Unit(plan_of())
    unit.hold("tb-it1")
    given = ReadingAnswer(typed="0.10 ohm", meter="tb-it1")
    found = evaluate(unit.plan, unit.state, "continuity.earth", given, at=unit.at)
    assert found.band.upper == pytest.approx(0.1 + 1.8 * 0.0260, abs=1e-12)
    assert judged(MAINS_UNIT, "continuity.earth", "0.15 ohm", "tb-it1") == "fail"


@pytest.mark.parametrize(("volts", "judgement"), [("216.2 V", "pass"), ("253.0 V", "pass"), ("253.1 V", "fail")])
def test_supply_range_has_its_ends(volts, judgement):
    assert judged(MAINS_UNIT, "live-voltage.mains", volts, "tb-pm1") == judgement


@pytest.mark.parametrize(("fuse", "judgement"), [("3 A", "pass"), ("13 A", "fail"), ("5 A", "fail")])
def test_fuse_of_a_thin_cord(fuse, judgement):
    unit = Unit(plan_of(equipment=DOUBLE_INSULATED))
    found = evaluate(unit.plan, unit.state, "plug-rewire.fuse-rating", AskAnswer(answer=fuse), at=unit.at)
    assert found.judgement == judgement


@pytest.mark.parametrize(("volts", "judgement"), [("25.0 V", "pass"), ("25.1 V", "fail")])
def test_voltage_low_enough_for_hands(volts, judgement):
    assert judged(MAINS_UNIT, "make-safe.low", volts, "tb-m1") == judgement
