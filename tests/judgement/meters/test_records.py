"""Meter records: the shipped ones, connection, calibration, and files that contradict themselves."""

from datetime import date

import pytest
from hypothesis import strategies as st

from benchapp.files.locations import FileProblems
from benchapp.files.models import build_model, json_schema
from benchapp.files.reader import parse_document
from benchapp.judgement.meters.functions import Function
from benchapp.judgement.meters.records import MeterRecord
from benchapp.judgement.statements.problems import MeterProblem
from tests.any_text import AWKWARD, hold, mixed, taken_at_once

RECORD = """\
meter: tb-x1
title: Trial meter
kind: hand meter
category: [CAT II 300 V]
calibrated: 2026-01-10
due: 2027-01-10
functions:
  DC voltage:
    ranges:
      - {to: 6 V, resolution: 0.001 V, accuracy: 0.3 % + 2 counts}
      - {to: 60 V, resolution: 0.01 V, accuracy: 0.3 % + 2 counts}
"""


def read(text: str) -> MeterRecord:
    return build_model(parse_document(text, "trial.yaml"), MeterRecord)


def test_four_meters_are_shipped_and_one_is_overdue_in_2026(meters):
    assert sorted(meters) == ["tb-it1", "tb-m1", "tb-m2", "tb-pm1"]
    assert [name for name, meter in meters.items() if meter.due.year == 2026] == ["tb-m2"]


def test_only_the_tester_measures_insulation_and_states_its_test_voltages(meters):
    assert [name for name, meter in meters.items() if Function.insulation in meter.functions] == ["tb-it1"]
    assert [volts.si for volts in meters["tb-it1"].function(Function.insulation).test_voltages] == [250.0, 500.0]


def test_a_higher_category_covers_a_lower_one_up_to_its_voltage(meters):
    assert meters["tb-m1"].is_rated_for(2, 1000)
    assert meters["tb-m1"].is_rated_for(3, 600)
    assert meters["tb-m1"].is_rated_for(2, 240)
    assert not meters["tb-m1"].is_rated_for(3, 1000)
    assert not meters["tb-m2"].is_rated_for(3, 240)


def test_a_calibration_runs_out_after_its_due_date_and_every_record_says_so(meters):
    meter = meters["tb-m2"]
    assert not meter.is_overdue(meter.due)
    assert meter.is_overdue(date(2026, 6, 11))
    assert "overdue since 2026-06-10" in meter.calibration_words(date(2026, 11, 25))
    assert "due 2027-04-14" in meters["tb-m1"].calibration_words(date(2026, 11, 25))


def test_what_must_be_said_beside_a_reading(meters):
    today = date(2026, 11, 25)
    overdue, average = meters["tb-m2"].cautions(Function.ac_voltage, today)
    assert "overdue" in overdue
    assert "sine waves alone" in average
    assert meters["tb-m2"].cautions(Function.dc_voltage, date(2026, 1, 1)) == ()
    assert meters["tb-m1"].cautions(Function.ac_voltage, today) == ()


def test_a_record_reads():
    assert read(RECORD).functions[Function.dc_voltage].ranges[0].name == "6 V"
    assert str(read(RECORD).category[0]) == "CAT II 300 V"


@pytest.mark.parametrize(
    ("old", "new", "line", "part"),
    [
        ("0.3 % + 2 counts}\n      - {to: 60", "0.3 percent}\n      - {to: 60", 10, "no part of an accuracy"),
        ("to: 6 V", "to: 6 ohm", 10, "no range of voltage"),
        ("to: 60 V", "to: 5 V", 11, "must come before"),
        ("CAT II 300 V", "CAT 2", 4, "no measurement category"),
        ("due: 2027-01-10", "due: 2025-01-10", 1, "not after its calibration"),
        ("resolution: 0.001 V", "resolution: 9 V", 10, "does not fit"),
        ("  DC voltage:", "  DC volts:", 9, "DC voltage"),
        ("title:", "titel:", 2, "title"),
        ("{to: 6 V,", "{to: 6 V, colour: red,", 10, "colour"),
    ],
)
def test_a_record_that_is_wrong_is_told_where(old, new, line, part):
    with pytest.raises(FileProblems) as caught:
        read(RECORD.replace(old, new, 1))
    told = [str(complaint) for complaint in caught.value.complaints]
    assert any(part in one for one in told), told
    assert any(one.startswith(f"trial.yaml:{line}:") for one in told), told


def test_an_insulation_function_without_a_test_voltage_is_refused():
    text = RECORD.replace("DC voltage", "insulation").replace(" V,", " Mohm,")
    text = text.replace("CAT II 300 Mohm", "CAT II 300 V")
    with pytest.raises(FileProblems, match="test voltage"):
        read(text)


def test_asking_for_a_function_that_it_lacks_names_those_it_has():
    with pytest.raises(MeterProblem, match="DC voltage"):
        read(RECORD).function(Function.power)


def test_the_record_has_a_schema_with_its_written_keys():
    schema = json_schema(MeterRecord)
    assert "input impedance" in schema["properties"]


LINES = RECORD.split("\n")
VALUES = "|nan|.inf|-1 V|6 V|1e999 V|{}|[]|CAT IX 1 V|2026-13-01|0.3 % + 2|°|&a 1|*a|!!int 5|0x1F|1_0|: :|1e999999999"


@st.composite
def spoilt_records(draw):
    """The record with a few lines dropped, doubled, moved, or given another value."""
    lines = list(LINES)
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(lines) - 1))
        key = lines[at].partition(":")[0]
        value = draw(st.sampled_from(VALUES.split("|")) | st.sampled_from(AWKWARD) | st.text(max_size=20))
        lines[at : at + 1] = draw(
            st.sampled_from([[], [lines[at]] * 2, [f"{key}: {value}"], [draw(st.sampled_from(LINES))]])
        )
        lines = lines or [""]
    return "\n".join(lines)


def test_any_meter_file_is_a_record_or_a_list_of_complaints():
    def read_and_ask(text: str) -> None:
        try:
            outcome = [read(text).meter]
        except FileProblems as problem:
            outcome = [str(one) for one in problem.complaints]
        assert all(outcome)

    hold(read_and_ask, spoilt_records() | mixed(LINES), "meter files")


FILE_OF_TROUBLE = {
    "a list of itself": "a: &a [*a]",
    "lists that grow": "\n".join(
        f"{letter}: &{letter} [*{before}, *{before}]" for before, letter in ("ab", "bc", "cd")
    ),
    "a tag that builds": "meter: !!python/object/apply:os.system [exit]",
    "a long span": "reference temperature: x" + " " * 100_000 + "t\n" + RECORD,
    "a long number": RECORD.replace("CAT II 300 V", "CAT II " + "3" * 100_000 + " V"),
    "a huge power": RECORD.replace("0.3 %", "9e999999999 %"),
    "unknown keys": RECORD + "".join(f"key{number}: 1\n" for number in range(2000)),
    "unknown functions": RECORD + "".join(f"  function{number}: 1\n" for number in range(2000)),
    "half a pair": RECORD.replace("title: ", "title: \ud800"),
    "nothing": "\x00",
}


@pytest.mark.parametrize("what", FILE_OF_TROUBLE)
def test_a_meter_file_made_to_trouble_is_refused_at_once(what):
    with pytest.raises(FileProblems):
        read(FILE_OF_TROUBLE[what])
    taken_at_once(read, FILE_OF_TROUBLE[what])


def test_a_meter_outside_its_reference_temperature_says_so_and_outside_its_working_one_even_more(meters):
    on = date(2026, 6, 1)
    assert meters["tb-m1"].cautions(Function.resistance, on, 23.0) == ()
    assert "outside 18 °C to 28 °C" in meters["tb-m1"].cautions(Function.resistance, on, 30.0)[0]
    assert "not to be used at 45 °C" in meters["tb-m1"].cautions(Function.resistance, on, 45.0)[0]
