"""Limits of the regions: every figure sourced, every limit worked from the facts of the unit."""

from decimal import Decimal

import pytest

from benchapp.files.locations import FileProblems
from benchapp.files.models import build_model
from benchapp.files.reader import parse_document, read_document
from benchapp.files.shipped import shipped_folder
from benchapp.judgement.limits.bands import limit_band, limit_names
from benchapp.judgement.limits.cords import LimitFacts
from benchapp.judgement.limits.figures import Figure, Sourced, Table
from benchapp.judgement.limits.profiles import LimitProfile
from benchapp.judgement.statements.band import USUAL_CAPABILITY
from benchapp.judgement.statements.problems import LimitProblem
from benchapp.judgement.statements.statements import Rule

CLASS_I = LimitFacts(equipment_class="I", cord_area=0.75e-6, cord_length=1.8)


def test_five_regions_are_shipped(profiles):
    assert sorted(profiles) == ["au", "eu", "gb", "nz", "us"]


def test_every_figure_states_source_and_status(profiles):
    for profile in profiles.values():
        figures = list(profile.figures())
        assert len(figures) > 8
        for location, figure in figures:
            assert isinstance(figure, Sourced), location
            assert figure.source, location
            assert figure.words, location
            assert figure.status.startswith(("confirmed (", "from memory", "common practice, no source")), location
            if isinstance(figure, Figure | Table):
                assert figure.unit, location


@pytest.mark.parametrize("missing", ["source", "status", "unit", "value"])
def test_a_figure_without_one_of_them_is_refused_with_its_line(missing):
    path = shipped_folder("resources") / "limits" / "gb.yaml"
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
    start = next(i for i, line in enumerate(lines) if line.startswith("voltage low:"))
    gone = next(i for i in range(start, start + 6) if lines[i].lstrip().startswith(f"{missing}:"))
    text = "".join(lines[:gone] + lines[gone + 1 :])
    with pytest.raises(FileProblems) as caught:
        build_model(parse_document(text, "gb.yaml"), LimitProfile)
    assert any(missing in str(one) for one in caught.value.complaints)


def test_a_status_of_another_word_is_refused():
    path = shipped_folder("resources") / "limits" / "us.yaml"
    text = path.read_text(encoding="utf-8").replace("status: from memory", "status: surely", 1)
    with pytest.raises(FileProblems):
        build_model(parse_document(text, "us.yaml"), LimitProfile)


def test_a_table_in_a_unit_that_nobody_knows_is_refused_at_its_line():
    path = shipped_folder("resources") / "limits" / "gb.yaml"
    text = path.read_text(encoding="utf-8").replace("unit: ohm/km", "unit: zorkmid/km", 1)
    line = next(number for number, one in enumerate(text.splitlines(), 1) if "zorkmid" in one)
    with pytest.raises(FileProblems) as caught:
        build_model(parse_document(text, "gb.yaml"), LimitProfile)
    (complaint,) = caught.value.complaints
    assert (complaint.location.line, "zorkmid" in complaint.what) == (line, True)


def test_a_figure_that_is_not_certain_says_so_with_its_source(gb, profiles):
    assert "from memory; check the document" in gb.capability.cited
    assert "check" not in gb.insulation.minimum["I"].cited
    assert any("Check this figure" in words for words in limit_band(profiles["us"], "insulation", CLASS_I).cautions)


def test_the_usual_capability_is_the_one_that_the_limits_state(profiles):
    for profile in profiles.values():
        assert float(profile.capability.exact) == USUAL_CAPABILITY
        assert profile.capability.note


def test_all_regions_state_the_same_conductors(profiles, gb):
    for profile in profiles.values():
        if profile.conductors is not None:
            of_gauges = profile.conductors.plain.less_certain.keys() - {"1.25 mm²"}  # 18, 16 and 14 AWG
            metric = {area: ohms for area, ohms in profile.conductors.plain.values.items() if area not in of_gauges}
            assert metric.items() <= gb.conductors.plain.values.items()
            assert profile.conductors.tinned in (None, gb.conductors.tinned)


def test_a_figure_less_certain_than_its_table_says_so_alone(gb):
    thick = LimitFacts(equipment_class="I", cord_area=1.25e-6, cord_length=2.0)
    band = limit_band(gb, "earth-continuity", thick)
    assert band.upper == 0.1312
    assert "from memory; check the document" in band.derivation[1].source
    assert any("Check this figure: IEC 60228:2004" in words for words in band.cautions)
    assert not limit_band(gb, "earth-continuity", CLASS_I).cautions


def test_a_limits_file_of_the_first_edition_still_reads_for_the_runs_that_pinned_it(gb):
    path = shipped_folder("resources") / "limits" / "gb.yaml"
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
    start = lines.index("  test current:\n")
    lines[start : start + 4] = ["  test current: 25 A at most\n"]
    first = build_model(parse_document("".join(lines), "gb.yaml"), LimitProfile)
    assert limit_band(first, "earth-continuity", CLASS_I) == limit_band(gb, "earth-continuity", CLASS_I)


def test_a_status_for_an_area_that_the_table_lacks_is_refused():
    path = shipped_folder("resources") / "limits" / "gb.yaml"
    text = path.read_text(encoding="utf-8").replace("{1.25 mm²: from memory}", "{1.3 mm²: from memory}")
    with pytest.raises(FileProblems, match="said to be less certain"):
        build_model(parse_document(text, "gb.yaml"), LimitProfile)


def test_the_earth_limit_is_base_plus_cord_with_both_lines(gb):
    band = limit_band(gb, "earth-continuity", CLASS_I)
    assert band.upper == 0.1468
    assert band.expected == 0.0468
    assert band.safety
    assert band.rule is Rule.simple
    assert [line.value for line in band.derivation] == [
        "0.1 ohm",
        "1.8 m × 26.0 ohm/km = 0.0468 ohm",
        "at most 0.1468 ohm",
        "30 % of the limit",
    ]
    assert "Code of Practice" in band.derivation[0].source


def test_a_warm_cord_has_a_higher_limit(gb):
    warm = LimitFacts(equipment_class="I", cord_area=0.75e-6, cord_length=2.0, conductor_temperature=30.0)
    assert limit_band(gb, "earth-continuity", warm).upper == float(
        Decimal("0.1") + 2 * Decimal("0.026") * Decimal("1.0393")
    )


@pytest.mark.parametrize(
    ("facts", "part"),
    [
        (LimitFacts(equipment_class="I"), "area of this unit's cord"),
        (LimitFacts(equipment_class="I", cord_area=0.75e-6), "length of this unit's cord"),
        (LimitFacts(equipment_class="I", cord_area=0.6e-6, cord_length=2.0), "0.6 mm² is not in the table"),
        (LimitFacts(equipment_class="II", cord_area=0.75e-6, cord_length=2.0), "class II"),
        (LimitFacts(equipment_class="I", cord_area=0.75e-6, cord_length=-2.0), "not possible"),
    ],
)
def test_a_fact_that_is_missing_or_impossible_is_named(gb, facts, part):
    with pytest.raises(LimitProblem, match=part):
        limit_band(gb, "earth-continuity", facts)


def test_class_unknown_and_class_0_have_no_insulation_limit(gb):
    for equipment_class in ("", "0", "unknown"):
        with pytest.raises(LimitProblem, match="No limit is stated"):
            limit_band(gb, "insulation", LimitFacts(equipment_class=equipment_class))


def test_a_limit_that_the_region_lacks_is_not_made_up(profiles):
    with pytest.raises(LimitProblem, match="state no earth continuity"):
        limit_band(profiles["us"].model_copy(update={"earth_continuity": None}), "earth-continuity", CLASS_I)


def test_an_unknown_limit_names_those_there_are(gb):
    with pytest.raises(LimitProblem, match="mains-voltage"):
        limit_band(gb, "earthy", CLASS_I)
    assert "voltage-low" in limit_names()


def test_a_suppressor_lowers_the_test_voltage(gb):
    fitted = LimitFacts(equipment_class="I", surge_suppressor=True)
    assert limit_band(gb, "insulation", fitted).derivation[1].value == "250 V"
    assert limit_band(gb, "insulation", CLASS_I).derivation[1].value == "500 V"


def test_hand_held_equipment_has_its_own_current_limit(gb):
    held = LimitFacts(equipment_class="I", hand_held=True)
    assert limit_band(gb, "protective-conductor-current", held).upper == 0.00075
    assert limit_band(gb, "protective-conductor-current", CLASS_I).upper == 0.0035


@pytest.mark.parametrize(
    ("region", "power", "limit"),
    [
        ("gb", 400.0, 0.00075),  # 0.75 mA or 0.75 mA/kW, 5 mA at most: from memory
        ("gb", 2000.0, 0.0015),
        ("gb", 9000.0, 0.005),
        ("gb", None, 0.00075),
        ("eu", 3500.0, 0.0035),  # above 3.5 kW 1 mA/kW, 10 mA at most: confirmed (maker manuals; glossary)
        ("eu", 4000.0, 0.004),
        ("eu", 20000.0, 0.010),
        ("eu", None, 0.0035),
        ("au", 9000.0, 0.005),
    ],
)
def test_the_conductor_current_of_a_heater_grows_with_its_power(profiles, region, power, limit):
    heater = LimitFacts(equipment_class="I", heating=True, power=power)
    assert limit_band(profiles[region], "protective-conductor-current", heater).upper == limit


def test_a_heater_s_uncertain_figures_say_so(gb):
    heater = LimitFacts(equipment_class="I", heating=True, power=2000.0)
    current = limit_band(gb, "protective-conductor-current", heater)
    assert current.derivation[0].value == "0.75 mA × 2 kW, at least 0.75 mA, at most 5 mA: 1.5 mA"
    assert any("Check this figure" in words for words in current.cautions)
    insulation = limit_band(
        gb, "insulation", heater
    )  # the power from which heaters have their own limit is from memory
    assert any("Check this figure" in words for words in insulation.cautions)
    assert "3 kW" in [line.value for line in insulation.derivation]


def test_mains_judges_the_supply_and_is_no_safety_limit(gb):
    band = limit_band(gb, "mains-voltage", CLASS_I)
    assert (band.lower, band.upper, band.expected, band.safety) == (216.2, 253.0, 230.0, False)
    assert band.derivation[1].value == "+10 % −6 %: 216.2 V to 253 V"


def test_a_thick_cord_in_the_european_union_is_calculated(profiles):
    thick = LimitFacts(equipment_class="I", cord_area=2.5e-6, cord_length=40.0)
    assert limit_band(profiles["eu"], "earth-continuity", thick).upper == pytest.approx(40 * 7.98e-3)
    short = LimitFacts(equipment_class="I", cord_area=2.5e-6, cord_length=2.0)
    assert limit_band(profiles["eu"], "earth-continuity", short).upper == 0.1


def test_shipped_limits_read_without_a_complaint():
    for file in (shipped_folder("resources") / "limits").glob("*.yaml"):
        build_model(read_document(file), LimitProfile)
