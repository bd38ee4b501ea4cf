"""Conductors, in-service limits, plug fuses, mains and meter loading against published tables and worked values.

Sources: IEC 60228:2004 (maker tables agree; tinned 0.5 and 0.75 mm² in one only); IET Code of Practice for In-service
Inspection and Testing (training pages); EN 50678/50699 (trade press and makers); BS 1362 and BS 1363-1 Table 2 (forum
quoting the table, training convention); ESQCR 2002. Sums on their figures are calculated.
"""

from decimal import Decimal
from math import pi, sqrt

import pytest

from benchapp.files.models import build_model
from benchapp.files.reader import read_document
from benchapp.files.shipped import shipped_folder
from benchapp.judgement.decision.decision import decide
from benchapp.judgement.limits.bands import limit_band
from benchapp.judgement.limits.cords import LimitFacts, conductor_resistance
from benchapp.judgement.limits.fuses import choose_fuse
from benchapp.judgement.limits.profiles import LimitProfile
from benchapp.judgement.meters.corrections import Waveform, average_responding_factor, corrected
from benchapp.judgement.meters.functions import Function
from benchapp.judgement.meters.records import MeterRecord
from benchapp.judgement.statements.problems import LimitProblem
from benchapp.judgement.uncertainty.budget import plain_uncertainty
from benchapp.quantities.quantity import Bound
from benchapp.wiring.model.assumptions import CORD_HIGH


def profile(name: str) -> LimitProfile:
    return build_model(read_document(shipped_folder("resources") / "limits" / f"{name}.yaml"), LimitProfile)


def meter(name: str) -> MeterRecord:
    return build_model(read_document(shipped_folder("resources") / "meters" / f"{name}.yaml"), MeterRecord)


GB, EU, US, AU, NZ = profile("gb"), profile("eu"), profile("us"), profile("au"), profile("nz")


def class_i(area_mm2: float, length: float, **more) -> LimitFacts:
    return LimitFacts(equipment_class="I", cord_area=area_mm2 * 1e-6, cord_length=length, **more)


def judge(value: float, band, standard: float = 1e-9) -> str:
    uncertainty = plain_uncertainty(standard)
    return decide(value=value, bound=Bound.exact, band=band, uncertainty=uncertainty).judgement


# IEC 60228:2004, class 5, largest resistance at 20 °C in ohm/km: maker tables
@pytest.mark.parametrize(
    ("area", "plain", "tinned"),
    [
        (0.5, "39.0", "40.1"),
        (0.75, "26.0", "26.7"),
        (1.0, "19.5", "20.0"),
        (1.5, "13.3", "13.7"),
        (2.5, "7.98", "8.21"),
        (4.0, "4.95", "5.09"),
    ],
)
def test_class_5_conductors_have_the_resistance_of_iec_60228(area, plain, tinned):
    assert conductor_resistance(GB, area * 1e-6, 1000.0)[0] == Decimal(plain)
    assert conductor_resistance(GB, area * 1e-6, 1000.0, tinned=True)[0] == Decimal(tinned)


# IEC 60228 Annex B: R(t) = R20 (1 + 0.00393 (t − 20)); a national adoption of the text
def test_resistance_follows_temperature_as_in_annex_b():
    warm, _ = conductor_resistance(GB, 0.75e-6, 1000.0, temperature=30.0)
    assert float(warm) == pytest.approx(27.02, abs=0.005)


@pytest.mark.parametrize(("celsius", "factor"), [(5, 1.063), (10, 1.041), (25, 0.981), (40, 0.927)])
def test_factors_to_refer_a_reading_to_20_degrees(celsius, factor):
    there, _ = conductor_resistance(GB, 0.75e-6, 1000.0, temperature=float(celsius))
    assert float(Decimal(26) / there) == pytest.approx(factor, abs=0.0006)


# IET Code of Practice: 0.1 ohm and the cord's protective conductor (training pages); sums calculated
@pytest.mark.parametrize(
    ("facts", "limit"),
    [
        (class_i(0.75, 2.0), 0.152),
        (class_i(1.0, 3.0), 0.1585),
        (class_i(0.5, 2.0), 0.178),
        (class_i(1.5, 5.0), 0.1665),
        (class_i(0.75, 2.0, tinned=True), 0.1534),
    ],
)
def test_earth_continuity_limit_in_great_britain(facts, limit):
    assert limit_band(GB, "earth-continuity", facts).upper == limit


# EN 50678/50699: 0.3 ohm to 5 m, 0.1 ohm for each further 7.5 m begun, 1.0 ohm at most (trade press; maker's table)
@pytest.mark.parametrize(
    ("length", "limit"), [(5, 0.3), (5.1, 0.4), (12.5, 0.4), (12.6, 0.5), (20, 0.5), (50, 0.9), (60, 1.0), (500, 1.0)]
)
def test_earth_continuity_limit_in_the_european_union(length, limit):
    assert limit_band(EU, "earth-continuity", class_i(1.5, float(length))).upper == limit


# IET Code of Practice (training pages): 1.0, 2.0 and 0.25 Mohm; the limit itself is good
@pytest.mark.parametrize(
    ("equipment_class", "below", "at"), [("I", 0.99e6, 1.00e6), ("II", 1.99e6, 2.00e6), ("III", 0.24e6, 0.25e6)]
)
def test_insulation_by_class(equipment_class, below, at):
    for region in (GB, EU):
        band = limit_band(region, "insulation", LimitFacts(equipment_class=equipment_class))
        assert judge(below, band) == "fail"
        assert judge(at, band) == "pass"


# IET Code of Practice: 0.3 Mohm for class I heating of 3 kW or more; the threshold is from memory
def test_insulation_of_a_heater_depends_on_its_power():
    heater = {"equipment_class": "I", "heating": True}
    assert judge(0.4e6, limit_band(GB, "insulation", LimitFacts(power=3000.0, **heater))) == "pass"
    assert judge(0.4e6, limit_band(GB, "insulation", LimitFacts(power=2900.0, **heater))) == "fail"
    assert judge(0.4e6, limit_band(EU, "insulation", LimitFacts(power=500.0, **heater))) == "pass"


# ESQCR 2002; Electricity Supply Regulations 1988; ANSI C84.1-2020, utilization voltage, Range A; AS 60038;
# NZ Electricity (Safety) Regs 2010
@pytest.mark.parametrize(
    ("region", "lower", "upper"),
    [(GB, 216.2, 253.0), (EU, 207.0, 253.0), (US, 108.0, 126.0), (AU, 216.2, 253.0), (NZ, 216.2, 243.8)],
)
def test_mains_bands(region, lower, upper):
    band = limit_band(region, "mains-voltage", class_i(0.75, 2.0))
    assert (band.lower, band.upper) == (lower, upper)


def test_mains_bands_of_the_past_and_of_a_part_of_the_region():
    spans = {
        mains.title: tuple(
            float(mains.nominal.value * (1 + sign * part.value / 100))
            for sign, part in ((-1, mains.below), (1, mains.above))
        )
        for region in (GB, US)
        for mains in region.other_mains
    }
    assert spans == {
        "Great Britain before 1995": (225.6, 254.4),
        "United States, at the outlet, Range B": (104.4, 127.2),  # C84.1: 104 V to 127 V, in whole volts
    }


# "not exceeding" in the law: the ends belong to the range
@pytest.mark.parametrize(("volts", "judgement"), [(252.9, "pass"), (253.0, "pass"), (253.1, "fail"), (216.2, "pass")])
def test_mains_ends_belong_to_the_range(volts, judgement):
    assert judge(volts, limit_band(GB, "mains-voltage", class_i(0.75, 2.0)), 0.3) == judgement


# BS 1362 ratings; 700 W cut-over: training convention
@pytest.mark.parametrize(("watts", "ampere"), [(8.0, 3.0), (700.0, 3.0), (701.0, 13.0), (2900.0, 13.0)])
def test_fuse_by_rated_power(watts, ampere):
    assert choose_fuse(GB, watts, 1.25e-6).rating == ampere


# BS 1363-1 Table 2: forum quoting the table; test-house reply
def test_largest_fuse_for_a_cord():
    assert choose_fuse(GB, 8.0, 0.5e-6).largest == 3.0
    assert choose_fuse(GB, 8.0, 0.5e-6, inrush=True).largest == 5.0
    assert [choose_fuse(GB, 8.0, area * 1e-6).largest for area in (0.75, 1.0, 1.5)] == [13.0] * 3
    with pytest.raises(LimitProblem):
        choose_fuse(GB, 8.0, 0.5e-6, maker_rating=13.0)


# BS 7671 Table 4F3A (distributor's copy); BS 1363-1 Table 2 note for a short cord on a moulded plug
def test_cord_ratings():
    assert [GB.cords.by_area.at(area * 1e-6).words for area in (0.5, 0.75, 1.0, 1.25, 1.5)] == [
        "3 A",
        "6 A",
        "10 A",
        "13 A",
        "16 A",
    ]
    exception = GB.cords.short_moulded, GB.cords.short_length, GB.cords.short_area
    assert [figure.words for figure in exception] == ["10 A", "2 m", "0.75 mm²"]


# IET Code of Practice (training pages; class III from memory)
def test_protective_conductor_and_touch_current():
    held = LimitFacts(equipment_class="I", hand_held=True)
    assert limit_band(GB, "protective-conductor-current", held).upper == 0.00075
    assert limit_band(GB, "protective-conductor-current", class_i(0.75, 2.0)).upper == 0.0035
    assert limit_band(GB, "touch-current", LimitFacts(equipment_class="II")).upper == 0.00025


# IEC 60335-1, 22.5 (number from memory): 34 V one second after unplugging; V = V0 e^(−t/RC)
def test_plug_pins_after_one_second():
    from math import exp

    band = limit_band(GB, "plug-pins", class_i(0.75, 2.0))
    small, large = (325 * exp(-1 / (1e6 * farad)) for farad in (0.22e-6, 0.47e-6))
    assert small == pytest.approx(3.45, abs=0.005)
    assert large == pytest.approx(38.7, abs=0.05)
    assert judge(small, band) == "pass"
    assert judge(large, band) == "fail"


# electricians' handbook: R = R_read − R_leads
def test_leads_are_taken_off():
    assert corrected(0.35, meter("tb-m1"), Function.resistance, lead_resistance=0.20).value == pytest.approx(0.15)


# textbooks: V = Vx Rm/(Rx + Rm); the published example has 24 V over two 250 Mohm with a 10 Mohm meter on one
def test_the_load_of_the_meter():
    ten_megohm = meter("tb-m1")
    lower_arm = 250 * 10 / 260
    assert lower_arm == pytest.approx(9.615, abs=0.001)
    shown = 24 * lower_arm / (250 + lower_arm)
    assert shown == pytest.approx(0.889, abs=0.0005)
    assert corrected(shown, ten_megohm, Function.dc_voltage, source_resistance=125e6).value == pytest.approx(12.0)
    assert corrected(10.909090909, ten_megohm, Function.dc_voltage, source_resistance=1e6).value == pytest.approx(12.0)
    assert corrected(4.9975012, ten_megohm, Function.dc_voltage, source_resistance=5e3).value == pytest.approx(5.0)


# lecture slides (+11 %) and a maker's table (1.110, 0.960, rounded): form factors of sine, square and triangle
def test_an_average_responding_meter():
    assert average_responding_factor(Waveform.sine) == 1.0
    assert average_responding_factor(Waveform.square) == pytest.approx(1.1107, abs=5e-5)
    assert average_responding_factor(Waveform.triangle) == pytest.approx(0.9619, abs=5e-5)
    assert pi / (2 * sqrt(2)) == pytest.approx(1.11072, abs=5e-6)


# IEC 60228 class 5, largest ohm/km at 20 °C, over 1 / (58 MS/m × area): 1.131 to 1.157 plain, up to 1.192 tinned
def test_a_sound_core_of_any_size_lies_within_what_is_taken_of_a_cord():
    shares = [
        float(ohms) / 1000 * 58e6 * float(area.split()[0]) * 1e-6
        for table in (GB.conductors.plain, GB.conductors.tinned)
        for area, ohms in table.values.items()
    ]
    assert max(shares) == pytest.approx(1.192, abs=5e-4)
    assert max(shares) <= CORD_HIGH
